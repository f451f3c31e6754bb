package screens

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
	"forkwear/ui/screens/counter"
	"forkwear/ui/screens/decide"
	"forkwear/ui/screens/handback"
	"forkwear/ui/screens/inspection"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/screens/service"
	"forkwear/ui/window"
)

func TestZZPics(t *testing.T) {
	for _, code := range []string{"en", "de"} {
		for _, dark := range []bool{false, true} {
			env := screentest.EnvIn(t, dark)
			if _, err := window.UseLanguage(code); err != nil {
				t.Fatal(err)
			}
			id := screentest.Decided(t, env)
			slot := inspect.Slot{VisitID: id, Stage: inspect.Received, Check: "seals.weep", Leg: inspect.Left}
			other := screentest.Open(t, env, id).Current[slot]
			other.ID, other.Value, other.By, other.Supersedes = "zrival", 1, "Bo", ""
			_ = env.Desk.Lib.AddReadings(context.Background(), other)
			_ = env.Desk.Lib.PutTask(context.Background(), inspect.Task{VisitID: id, Key: "sv.torque_foot_left", Done: true, Value: 7.5, Unit: "N·m", Tool: "wrench 2", By: "Bo"})
			shot := func(name string, w place.Where, mk func(*place.Env, place.Where) place.Screen, sizes ...fyne.Size) place.Screen {
				w.Visit = id
				s := mk(env, w)
				env.Window.SetContent(s.Content())
				env.Window.Resize(fyne.NewSize(1190, 700))
				s.Opened()
				env.Run.Wait()
				env.Run.Wait()
				for _, z := range sizes {
					env.Window.Resize(z)
					env.Run.Wait()
					img := software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())
					f, _ := os.Create(fmt.Sprintf("/tmp/pics/%s-%s-dark=%v-%v.png", name, code, dark, z.Height))
					_ = png.Encode(f, img)
					f.Close()
				}
				return s
			}
			std, tall := fyne.NewSize(1190, 700), fyne.NewSize(1190, 1500)
			shot("inspect", place.Where{Check: "seals.weep", Leg: inspect.Left, Stage: inspect.Received}, inspection.New, std)
			shot("decide", place.Where{}, decide.New, std)
			sv := shot("service", place.Where{}, service.New, std)
			_ = sv
			shot("handback", place.Where{}, handback.New, std, tall)
			c := shot("counter", place.Where{}, counter.New, std).(*counter.Screen)
			c.Answer(true)
			env.Run.Wait()
			c.Show(0)
			env.Run.Wait()
			img := software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())
			f, _ := os.Create(fmt.Sprintf("/tmp/pics/counter-answered-%s-dark=%v.png", code, dark))
			_ = png.Encode(f, img)
			f.Close()
			env.Run.Close()
		}
	}
}
