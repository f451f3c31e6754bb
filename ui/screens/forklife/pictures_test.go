package forklife

import (
	"context"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/screens/rows"
	"forkwear/ui/screens/screentest"
)

// TestPictures draws the place for looking at, where FORKWEAR_PICTURES names a
// folder; the width is checked without.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_PICTURES")
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		visit := screentest.Visit(t, env)
		adjust(t, env, visit)
		s := open(t, env, place.Where{Name: place.ForkLife, Fork: forkOf(t, env, visit), Check: "seals.weep", Leg: inspect.Left})
		env.Run.Wait()
		rows.Settle(s.page)
		picture(t, env, dir, "forklife", dark)
		s.plot.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
		env.Run.Wait()
		picture(t, env, dir, "forklife-pointed", dark)
		s.page.ScrollToBottom()
		picture(t, env, dir, "forklife-end", dark)
		s.page.ScrollToTop()
		env.Window.Resize(fyne.NewSize(552, 400))
		rows.Settle(s.page)
		picture(t, env, dir, "forklife-narrow", dark)
		if w := env.Window.Content().MinSize().Width; w > 552 {
			t.Errorf("the page needs %g px: too wide for 640 px with the rail", w)
		}
	}
}

func adjust(t *testing.T, env *place.Env, visit inspect.ID) {
	t.Helper()
	for _, x := range []inspect.Setting{
		{Key: "air_pressure", Value: 5.9, Unit: "bar", Text: "85 psi", Moment: "found"},
		{Key: "air_pressure", Value: 6.2, Unit: "bar", Text: "90 psi", Moment: "left"},
		{Key: "rebound_clicks", Value: 6, Unit: "clicks", Text: "6", Moment: "found"},
		{Key: "rebound_clicks", Value: 6, Unit: "clicks", Text: "6", Moment: "left"},
		{Key: "spacers", Value: 2, Text: "2", Moment: "found"},
	} {
		x.VisitID = visit
		if err := env.Desk.Lib.PutSetting(context.Background(), x); err != nil {
			t.Fatal(err)
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
