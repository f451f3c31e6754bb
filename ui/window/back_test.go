package window_test

import (
	"context"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/theme"
	"forkwear/ui/window"
)

// A screen's way back leads through the places as they were left, and says
// where there is none before.
func TestEnvBack(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(theme.New())
	open := func(_ *place.Env, where place.Where) place.Screen { return &spy{where: where} }
	env := &place.Env{Desk: &shop.Desk{Clock: time.Now}, Run: run.New(context.Background())}
	t.Cleanup(env.Run.Close)
	f := window.New(test.NewTempWindow(t, widget.NewLabel("")), env, map[place.Name]window.Opener{place.Inspect: open, place.Compare: open, place.Measure: open})
	inspecting := place.Where{Name: place.Inspect, Visit: "v1", Check: "seals.weep"}
	comparing := place.Where{Name: place.Compare, Visit: "v1", Check: "seals.weep", Photo: "p2"}
	f.Go(inspecting)
	f.Go(comparing)
	f.Go(place.Where{Name: place.Measure, Visit: "v1", Photo: "p2"})
	for _, want := range []place.Where{comparing, inspecting} {
		if !env.Back() || f.Where() != want {
			t.Fatalf("at %+v, %+v is wanted", f.Where(), want)
		}
	}
	if env.Back() || f.Where() != inspecting {
		t.Errorf("back from the first place leads to %+v", f.Where())
	}
}
