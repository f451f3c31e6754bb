package tray

import (
	"fmt"
	"image/png"
	"os"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"

	"forkwear/ui/screens/screentest"
)

// TestPictures writes the screen to look at into the folder that
// FORKWEAR_SHEET names.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		t.Skip("set FORKWEAR_SHEET to a folder to get the pictures")
	}
	for _, dark := range []bool{false, true} {
		env := shopWith(t, 9, dark)
		screentest.First(t, env, "full")
		screentest.Fresh(t, env, "full")
		s := open(t, env)
		shot := func(name string, w, h float32) {
			do(env, s, func() { env.Window.Resize(fyne.NewSize(w, h)) })
			img := software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())
			f, err := os.Create(fmt.Sprintf("%s/tray-%s-dark=%v.png", dir, name, dark))
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if err := png.Encode(f, img); err != nil {
				t.Fatal(err)
			}
		}
		add(t, env, "IMG_0700-blurred.JPG", screentest.Now.Add(-25*time.Hour))
		add(t, env, "IMG_0701.JPG", screentest.Now.Add(48*time.Hour))
		add(t, env, "IMG_0702-undated.JPG", screentest.Now)
		for i := range 9 {
			add(t, env, fmt.Sprintf("IMG_08%02d.JPG", i), screentest.Now.AddDate(0, 0, -1).Add(-time.Duration(i)*time.Minute))
		}
		do(env, s, s.load)
		shot("none", 1190, 700)
		press(env, s, 2, 0)
		press(env, s, 4, fyne.KeyModifierShift)
		shot("chosen", 1190, 700)
		press(env, s, 0, 0)
		shot("doubt", 1190, 700)
		shot("narrow", 552, 400)
		do(env, s, func() { s.grid.choice.all(); s.grid.mark(); s.setAside() })
		shot("empty", 1190, 700)
	}
}
