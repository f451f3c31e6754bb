package sums

import (
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/ui/place"
	"forkwear/ui/screens/rows"
	"forkwear/ui/screens/screentest"
)

// TestPictures draws the place for looking at, where FORKWEAR_PICTURES names a
// folder; the widths are checked without.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_PICTURES")
	for _, dark := range []bool{false, true} {
		if dark && dir == "" {
			break
		}
		env := screentest.EnvIn(t, dark)
		s := New(env, place.Where{Name: place.Sums}).(*Screen)
		env.Window.SetContent(s.Content())
		s.Opened()
		for _, name := range []string{"Air hold", "How long parts last", "Wear of many units", "Failures against expected"} {
			at(t, s, name)
			env.Window.Resize(fyne.NewSize(1190, 700))
			if k := s.sums[s.at].table(); k != nil {
				picture(t, env, dir, fmt.Sprintf("sums-%d-empty", s.at), dark)
				s.give("rows", k.example)
				env.Run.Wait()
			}
			rows.Settle(s.right)
			picture(t, env, dir, fmt.Sprintf("sums-%d", s.at), dark)
			s.right.ScrollToBottom()
			picture(t, env, dir, fmt.Sprintf("sums-%d-end", s.at), dark)
			env.Window.Resize(fyne.NewSize(552, 400))
			rows.Settle(s.right)
			if w := env.Window.Content().MinSize().Width; w > 552 {
				t.Errorf("%s needs %g px: too wide for 640 px with the rail", name, w)
			}
			picture(t, env, dir, fmt.Sprintf("sums-%d-narrow", s.at), dark)
		}
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
