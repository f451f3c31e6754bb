package rows_test

import (
	"context"
	"fmt"
	"image/png"
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/container"

	"forkwear/inspect"
	"forkwear/cmd/forkwear/sample"
	"forkwear/ui/place"
	"forkwear/ui/screens/due"
	"forkwear/ui/screens/forklife"
	"forkwear/ui/screens/forks"
	"forkwear/ui/screens/patterns"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/screens/settings"
	"forkwear/ui/screens/sums"
)

var _ = sample.Filler{}

func TestPics(t *testing.T) {
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		env.Demo = func(ctx context.Context, p func(a, b int)) error { return nil }
		f := &sample.Filler{Lib: screentest.Lib(env), Catalog: env.Desk.Catalog, Keep: func(_ context.Context, b []byte, name string) (inspect.Photo, error) { p := screentest.Photo(name); p.SHA256 = fmt.Sprintf("%x", len(b)*7919); return p, nil }, Seed: 3, Forks: 7, Until: screentest.Now}
		if os.Getenv("EMPTY") == "" {
			if err := f.Fill(context.Background(), nil); err != nil {
				t.Fatal(err)
			}
		}
		rs, _ := env.Desk.Lib.FindForks(context.Background(), "", 100)
		var fork inspect.ID
		n := 0
		for _, r := range rs {
			if r.Visits > n { n, fork = r.Visits, r.Fork.ID }
		}
		for name, open := range map[string]func(*place.Env, place.Where) place.Screen{"forks": forks.New, "due": due.New, "patterns": patterns.New, "sums": sums.New, "settings": settings.New, "forklife": forklife.New} {
			if only := os.Getenv("ONLY"); only != "" && only != name { continue }
			for _, size := range []fyne.Size{{Width: 1190, Height: 700}, {Width: 540, Height: 300}} {
				s := open(env, place.Where{Fork: fork})
				w := test.NewWindow(container.NewPadded(s.Content()))
				w.SetPadded(false)
				w.Resize(size)
				s.Opened()
				for range 4 { env.Run.Wait() }
				if min := s.Content().MinSize(); min.Width > size.Width || min.Height > size.Height { t.Errorf("%s is at least %v", name, min) }
				w.Resize(size.AddWidthHeight(1, 1)); w.Resize(size)
				img := w.Canvas().Capture()
				o, _ := os.Create(fmt.Sprintf("/tmp/pics6/%s-%v-%d%s.png", name, dark, int(size.Width), os.Getenv("EMPTY")))
				png.Encode(o, img); o.Close()
				s.Closed()
				w.Close()
			}
		}
	}
}
