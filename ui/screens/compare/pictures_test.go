package compare

import (
	"context"
	"fmt"
	"image/png"
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
)

// TestPictures writes the screen to look at into the folder that
// FORKWEAR_SHEET names.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		t.Skip("set FORKWEAR_SHEET to a folder to get the pictures")
	}
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		s := opened(t, env, true)
		id := s.data.strip[2].Photo.ID
		if _, err := env.Desk.Mark(context.Background(), inspect.Mark{PhotoID: id, Kind: inspect.MarkCircle, Points: []inspect.Spot{poses[2].At(0, 0), poses[2].At(9, 0)}, Text: "grown"}); err != nil {
			t.Fatal(err)
		}
		s.load()
		shot := func(name string, w, h float32) { picture(t, env, fmt.Sprintf("%s-dark=%v", name, dark), w, h) }
		shot("side", 1190, 700)
		s.SetAligned(true)
		shot("aligned", 1190, 700)
		s.SetMode(Slider)
		s.looked(widgets.Look{Zoom: 3, X: 0.4, Y: 0.5})
		shot("slider", 1190, 700)
		s.looked(widgets.Whole)
		s.SetAligned(false)
		s.startPoints()
		for _, q := range [][2]float64{{-40, -30}, {40, -20}} {
			s.left.OnPoint(poses[1].At(q[0], q[1]))
			s.right.OnPoint(poses[2].At(q[0], q[1]))
		}
		shot("points", 1190, 700)
		s.endPoints()
		s.SetMode(Blink)
		shotAt := func(w, h float32) { env.Window.Resize(fyne.NewSize(w, h)) }
		shotAt(1190, 700)
		s.SetMode(SideBySide)
		shot("narrow", 552, 400)
	}
}

// picture writes what is shown into the folder that FORKWEAR_SHEET names.
func picture(t *testing.T, env *place.Env, name string, w, h float32) {
	t.Helper()
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		return
	}
	env.Run.Wait()
	software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme()) // texts get their sizes
	env.Window.Resize(fyne.NewSize(w, h-1))
	env.Window.Resize(fyne.NewSize(w, h))
	f, err := os.Create(fmt.Sprintf("%s/compare-%s.png", dir, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())); err != nil {
		t.Fatal(err)
	}
}
