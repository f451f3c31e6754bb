package decide

import (
	"image/png"
	"os"
	"testing"
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/software"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/counter"
	"forkwear/ui/screens/handback"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/screens/service"
	th "forkwear/ui/theme"
)

func TestPics(t *testing.T) {
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		id := screentest.Decided(t, env)
		cc := screentest.Open(t, env, id)
		for _, a := range []shop.Answer{{Check: "crown.cracks", Stage: inspect.Received, Answer: inspect.NotFine}, {Check: "bushings.knock", Leg: "left", Stage: inspect.Received, Answer: inspect.Graded, Value: 4}, {Check: "bushings.rock", Leg: "left", Stage: inspect.Received, Answer: inspect.Measured, Value: 4}, {Check: "stanchions.coating", Leg: "left", Stage: inspect.Received, Answer: inspect.Graded, Value: 4}} {
			if _, err := env.Desk.Answer(context.Background(), cc, a); err != nil { t.Log(err) }
		}
		_ = inspect.ID("")
		suffix := "-light"
		if dark {
			suffix = "-dark"
		}
		variant := fyne.CurrentApp().Settings().Theme()
		_ = context.Background
		shot := func(name string, s place.Screen, w, h float32, do func()) {
			s.Opened()
			env.Run.Wait()
			c := software.NewCanvas()
			c.SetPadded(false)
			bg := canvas.NewRectangle(th.PaletteOf(variant, 0).Paper)
			bg.FillColor = variant.Color("background", 0)
			c.SetContent(container.NewStack(bg, s.Content()))
			c.Resize(fyne.NewSize(w, h))
			if do != nil {
				do()
				env.Run.Wait()
			}
			for range 3 { c.Capture(); s.Content().Refresh(); c.Resize(fyne.NewSize(w, h+1)); c.Resize(fyne.NewSize(w, h)) }
			f, _ := os.Create("/tmp/spine/" + name + suffix + ".png")
			png.Encode(f, c.Capture())
			f.Close()
		}
		d := New(env, place.Where{Visit: id}).(*Screen)
		shot("decide", d, 1190, 700, nil)
		shot("decide-tall", d, 1190, 3000, func() { d.folded = false; d.build() })
		shot("decide-open", d, 1190, 1000, func() { d.OpenRow(0) })
		shot("service", service.New(env, place.Where{Visit: id}), 1190, 700, nil)
		shot("handback", handback.New(env, place.Where{Visit: id}), 1190, 700, nil)
		sv := service.New(env, place.Where{Visit: id}).(*service.Screen)
		shot("service-long", sv, 1190, 2600, nil)
		hb := handback.New(env, place.Where{Visit: id}).(*handback.Screen)
		shot("counter", counter.New(env, place.Where{Visit: id}), 1190, 700, nil)
		shot("handback-done", hb, 1190, 700, func() { hb.Ready(); env.Run.Wait(); hb.Collect(); if dark { hb.Collect(); env.Run.Wait(); hb.Amend("pressure was 5.2 bar", "misread") } })
		if !dark {
			d.open = position{}
			shot("decide-narrow", d, 552, 400, nil)
			shot("counter-narrow", counter.New(env, place.Where{Visit: id}), 552, 400, nil)
			shot("service-narrow", service.New(env, place.Where{Visit: id}), 552, 400, nil)
			shot("handback-narrow", handback.New(env, place.Where{Visit: id}), 552, 400, nil)
		}
		for _, e := range screentest.Told(env).Failures { t.Log(e) }
	}
}
