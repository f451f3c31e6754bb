package counter

import (
	"context"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/inspect/verdict"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
)

// TestPictures draws the pages for looking at, where FORKWEAR_PICTURES names a folder.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_PICTURES")
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		id := screentest.Decided(t, env)
		s := newPlain(env, place.Where{Visit: id})
		env.Window.SetContent(s.Content())
		s.Opened()
		env.Run.Wait()
		picture(t, env, dir, dark, "card", 1280, 800)
		picture(t, env, dir, dark, "card-small", 1190, 700)
		picture(t, env, dir, dark, "card-large", 1920, 1080)
		picture(t, env, dir, dark, "card-narrow", 640, 400)
		if w := env.Window.Content().MinSize().Width; w > 640 {
			t.Errorf("a card needs %g px: too wide for 640", w)
		}
		s.onBeside()
		env.Run.Wait()
		picture(t, env, dir, dark, "beside", 1280, 800)
		s.Answer(true)
		env.Run.Wait()
		picture(t, env, dir, dark, "second", 1280, 800)
		s.Show(1000)
		s.sign.Set(widgets.Signed{By: "First Customer", Strokes: sampleHand()})
		picture(t, env, dir, dark, "end", 1280, 800)
		picture(t, env, dir, dark, "end-large", 1920, 1080)
		picture(t, env, dir, dark, "end-narrow", 640, 400)
		if w := env.Window.Content().MinSize().Width; w > 640 {
			t.Errorf("the end page needs %g px: too wide for 640", w)
		}
		s.ask()
		picture(t, env, dir, dark, "pad", 1280, 800)
	}
	env := screentest.Env(t)
	id := screentest.First(t, env, "full")
	c := screentest.Open(t, env, id)
	if err := screentest.AnswerAll(env.Desk, c, 4); err != nil {
		t.Fatal(err)
	}
	if err := env.Desk.Decide(context.Background(), c, verdict.Rules{}); err != nil {
		t.Fatal(err)
	}
	s := newPlain(env, place.Where{Visit: id})
	env.Window.SetContent(s.Content())
	s.Opened()
	env.Run.Wait()
	picture(t, env, dir, false, "first", 1280, 800)
}

// sampleHand is a hand that signs.
func sampleHand() inspect.Signature {
	var out inspect.Signature
	for _, s := range [][][2]float64{
		{{.08, .7}, {.12, .4}, {.16, .2}, {.2, .5}, {.22, .75}}, {{.1, .55}, {.2, .52}},
		{{.3, .6}, {.34, .45}, {.37, .62}, {.42, .44}, {.45, .66}, {.52, .4}, {.56, .64}, {.7, .5}, {.9, .48}},
	} {
		var line []inspect.Spot
		for _, p := range s {
			line = append(line, inspect.Spot{X: p[0], Y: p[1]})
		}
		out = append(out, line)
	}
	return out
}

func picture(t *testing.T, env *place.Env, dir string, dark bool, name string, w, h float32) {
	t.Helper()
	env.Window.Resize(fyne.NewSize(w, h))
	if dir == "" {
		return
	}
	img := env.Window.Canvas().Capture()
	file := filepath.Join(dir, "counter-"+name+map[bool]string{true: "-dark", false: ""}[dark]+".png")
	out, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	if err := png.Encode(out, img); err != nil {
		t.Fatal(err)
	}
}
