package dropoff

import (
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
)

// TestPictures draws the page for looking at, where FORKWEAR_PICTURES names a folder.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_PICTURES")
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		screentest.Fresh(t, env, "full")
		s := open(t, env, place.Where{Name: place.DropOff})
		picture(t, env, dir, dark, "empty", 1190, 700)
		s.Fill(sample())
		for i, name := range []string{"left.jpg", "right.jpg", "damage-blurred.jpg"} {
			s.dropOn(t, []int{0, 1, 3}[i], name)
		}
		s.sign.Set(widgets.Signed{By: "New Customer", Strokes: inspect.Signature{{{X: .1, Y: .7}, {X: .2, Y: .2}, {X: .3, Y: .7}, {X: .6, Y: .4}, {X: .9, Y: .5}}}})
		s.onSigned()
		env.Run.Wait()
		picture(t, env, dir, dark, "filled", 1190, 700)
		s.scroll.ScrollToBottom()
		picture(t, env, dir, dark, "filled-end", 1190, 700)
		s.scroll.ScrollToTop()
		picture(t, env, dir, dark, "narrow", 552, 400)
		if w := env.Window.Content().MinSize().Width; w > 552 {
			t.Errorf("the page needs %g px: too wide for 640 px with the rail", w)
		}
	}
	env := screentest.Env(t)
	v := screentest.Fresh(t, env, "full")
	s := open(t, env, place.Where{Name: place.DropOff, Fork: screentest.Open(t, env, v).Fork.ID})
	s.texts["name"].SetText("")
	s.Submit()
	picture(t, env, dir, false, "known", 1190, 700)
	s.form.Customer.ID = ""
	s.typed(t, "name", "Fi")
	s.Submit()
	open(t, env, place.Where{Name: place.DropOff})
	picture(t, env, dir, false, "offer", 1190, 700)
}

func picture(t *testing.T, env *place.Env, dir string, dark bool, name string, w, h float32) {
	t.Helper()
	env.Window.Resize(fyne.NewSize(w, h))
	if dir == "" {
		return
	}
	img := env.Window.Canvas().Capture()
	file := filepath.Join(dir, "dropoff-"+name+map[bool]string{true: "-dark", false: ""}[dark]+".png")
	out, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	if err := png.Encode(out, img); err != nil {
		t.Fatal(err)
	}
}
