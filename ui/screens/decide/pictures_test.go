package decide

import (
	"context"
	"fmt"
	"image/png"
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/inspect/verdict"
	"forkwear/ui/screens/screentest"
)

// TestPictures writes the screen to look at into the folder that
// FORKWEAR_PICTURES names.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_PICTURES")
	if dir == "" {
		t.Skip("set FORKWEAR_PICTURES to a folder to get the pictures")
	}
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		id := pricedVisit(t, env, 25000)
		c := screentest.Open(t, env, id)
		found := []shop.Answer{{Check: "bushings.feel", Leg: inspect.Right, Answer: inspect.Graded, Value: 4}, {Check: "lowers.axle", Answer: inspect.NotFine},
			{Check: "bushings.feel", Leg: inspect.Whole, Answer: inspect.Graded, Value: 4}}
		for _, a := range found {
			a.Stage = inspect.Received
			if _, err := env.Desk.Answer(context.Background(), c, a); err != nil {
				t.Log(err)
			}
		}
		if err := env.Desk.Decide(context.Background(), c, verdict.Rules{}); err != nil {
			t.Fatal(err)
		}
		s := shown(t, env, id)
		for _, r := range s.rows {
			if r.job.Key == "kit:axle_part" || r.job.Key == "kit:axle_part|" || r.job.DoNotRide {
				s.Answer(r.job, false, "First Customer", "phone")
				env.Run.Wait()
				break
			}
		}
		shot := func(name string, w, h float32) {
			env.Window.Resize(fyne.NewSize(w, h))
			env.Run.Wait()
			img := software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())
			f, err := os.Create(fmt.Sprintf("%s/decide-%s-dark=%v.png", dir, name, dark))
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if err := png.Encode(f, img); err != nil {
				t.Fatal(err)
			}
		}
		shot("rows", 1190, 700)
		shot("all", 1190, 3600)
		s.OpenRow(2)
		shot("open", 1190, 700)
		shot("openall", 1190, 2000)
		s.OpenRow(2)
		shot("narrow", 552, 400)
	}
}
