package settings

import (
	"context"
	"image/png"
	"os"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"

	"forkwear/ui/screens/cardprint"
	"forkwear/ui/screens/screentest"
)

// A check line of 98.5 mm is kept as 0.985 (arithmetic); one that can't be right
// is told under the field and not kept; empty is a true print again.
func TestCheckLine(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env)
	kept := func() string {
		v, err := env.Desk.Lib.Preference(context.Background(), cardprint.Key)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	leave(env, s, cardprint.Key, "98,5")
	if kept() != "0.985" {
		t.Fatalf("kept %q", kept())
	}
	leave(env, s, cardprint.Key, "9.85")
	e := s.entries[cardprint.Key]
	if kept() != "0.985" || !e.refused.Visible() || !strings.Contains(e.refused.String(), "printed 100 mm long") {
		t.Errorf("kept %q, told %q", kept(), e.refused.String())
	}
	if dir := os.Getenv("FORKWEAR_PICTURES"); dir != "" {
		env.Window.Resize(fyne.NewSize(1190, 700))
		s.page.ScrollToOffset(fyne.NewPos(0, e.Position().Y+1000))
		f, err := os.Create(dir + "/checkline.png")
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if err := png.Encode(f, software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())); err != nil {
			t.Fatal(err)
		}
	}
	leave(env, s, cardprint.Key, "")
	if kept() != "" || e.refused.Visible() {
		t.Errorf("kept %q", kept())
	}
}
