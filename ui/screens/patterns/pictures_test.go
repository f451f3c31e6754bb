package patterns

import (
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

// TestPictures draws the place for looking at, where FORKWEAR_PICTURES names a
// folder; the width is checked without.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_PICTURES")
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		seals(t, env)
		s := open(t, env)
		picture(t, env, dir, "patterns", dark)
		for i, r := range s.shown {
			if r.Sheet == screentest.Sheet && r.Failures > 0 {
				s.onOpen(i)
				break
			}
		}
		picture(t, env, dir, "patterns-forks", dark)
		s.turnTo(1)
		s.plot.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
		picture(t, env, dir, "patterns-curve", dark)
		env.Window.Resize(fyne.NewSize(552, 400))
		picture(t, env, dir, "patterns-curve-narrow", dark)
		if w := env.Window.Content().MinSize().Width; w > 552 {
			t.Errorf("the page needs %g px: too wide for 640 px with the rail", w)
		}
		env.Window.Resize(fyne.NewSize(1190, 700))
	}
}

func picture(t *testing.T, env *place.Env, dir, name string, dark bool) {
	t.Helper()
	if dir == "" {
		return
	}
	out, err := os.Create(filepath.Join(dir, name+map[bool]string{true: "-dark", false: ""}[dark]+".png"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = out.Close() }()
	if err := png.Encode(out, env.Window.Canvas().Capture()); err != nil {
		t.Fatal(err)
	}
}
