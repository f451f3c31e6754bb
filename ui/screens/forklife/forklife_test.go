package forklife

import (
	"context"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

func open(t *testing.T, env *place.Env, where place.Where) *Screen {
	t.Helper()
	s := New(env, where).(*Screen)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	s.Opened()
	env.Run.Wait()
	env.Run.Wait()
	return s
}

func forkOf(t *testing.T, env *place.Env, visit inspect.ID) inspect.ID {
	t.Helper()
	v, err := env.Desk.Lib.Visit(context.Background(), visit)
	if err != nil {
		t.Fatal(err)
	}
	return v.ForkID
}

func TestLifeOfAForkThatCameThreeTimes(t *testing.T) {
	env := screentest.Env(t)
	visit := screentest.Visit(t, env)
	fork := forkOf(t, env, visit)
	s := open(t, env, place.Where{Name: place.ForkLife, Fork: fork, Check: "seals.weep", Leg: inspect.Left})
	if len(s.lines) != 3 {
		t.Fatalf("%d visits are shown, the fork was here 3 times", len(s.lines))
	}
	// hours and levels of screentest.Fresh: 90, 212 and 318 h
	for i, want := range []string{"318", "212", "90"} {
		if got := s.lines[i].press.Text(); !strings.Contains(got, want) {
			t.Errorf("visit %d is told as %q, want %s h", i, got, want)
		}
	}
	k := s.life.checks[s.chosen.SelectedIndex()]
	if k.check.ID != "seals.weep" || k.leg != inspect.Left {
		t.Errorf("the check asked for is not shown but %s %s", k.check.ID, k.leg)
	}
	if k.times != 3 {
		t.Errorf("the left wiper was read at %d visits, it was at 3", k.times)
	}
	if len(s.cells) != 3 { // one photo of the left wiper at each visit
		t.Errorf("%d photos of the left wiper, there are 3", len(s.cells))
	}
	s.lines[2].press.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	s.plot.OnTapped(string(visit))
	s.onDropOff()
	g := screentest.Told(env).Gone
	if len(g) != 3 || g[0].Name != place.Decide || g[0].Visit != s.lines[2].visit || g[1].Name != place.Inspect || g[1].Visit != visit ||
		g[2].Name != place.DropOff || g[2].Fork != fork {
		t.Errorf("visit, point and drop-off went to %+v", g)
	}
}

func TestPlotIsInPercentOfTheLimit(t *testing.T) {
	env := screentest.Env(t)
	visit := screentest.Visit(t, env)
	s := open(t, env, place.Where{Name: place.ForkLife, Fork: forkOf(t, env, visit), Check: "seals.weep", Leg: inspect.Left})
	k := s.life.checks[s.chosen.SelectedIndex()]
	tr, err := env.Desk.Trend(context.Background(), s.life.newest, k.check, k.leg)
	if err != nil || tr == nil {
		t.Fatalf("no trend: %v", err)
	}
	p := s.plotOf(k.check, tr)
	if len(p.Readings) != len(tr.Points) || !p.HasLimit || p.Limit != 100 {
		t.Fatalf("%d points are drawn of %d, limit %g", len(p.Readings), len(tr.Points), p.Limit)
	}
	for i, r := range p.Readings {
		if r.Value != 100*tr.Points[i].Used || r.ID != string(tr.Points[i].Visit) {
			t.Errorf("point %d is drawn at %g of visit %s", i, r.Value, r.ID)
		}
	}
	if text := told(tr, k.check); text == "" || strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
		t.Errorf("told as %q", text)
	}
}

func TestPhotoOpensLargeAndCloses(t *testing.T) {
	env := screentest.Env(t)
	visit := screentest.Visit(t, env)
	s := open(t, env, place.Where{Name: place.ForkLife, Fork: forkOf(t, env, visit), Check: "seals.weep", Leg: inspect.Left})
	s.cells[0].Tapped(nil)
	env.Run.Wait()
	if !s.large.Visible() {
		t.Error("a pressed photo is not shown large")
	}
	s.cells[0].Tapped(nil)
	if s.large.Visible() {
		t.Error("pressed again it stays")
	}
}

func TestStepsThroughAllChecksBothWays(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, place.Where{Name: place.ForkLife, Fork: forkOf(t, env, screentest.Visit(t, env))})
	step := func(by int) { // the answer waits until the select is done, as in the window
		screentest.Lib(env).Hold()
		s.step(by)
		screentest.Lib(env).Release()
		env.Run.Wait()
	}
	for range s.life.checks {
		step(1)
	}
	step(-1)
	if got := s.chosen.SelectedIndex(); got != len(s.life.checks)-1 {
		t.Errorf("one step back from the first stands at %d of %d", got, len(s.life.checks))
	}
	if f := screentest.Told(env).Failures; len(f) > 0 {
		t.Errorf("a trend failed: %v", f)
	}
}

func TestUnknownForkIsTold(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, place.Where{Name: place.ForkLife, Fork: "no such fork"})
	if len(screentest.Told(env).Failures) != 1 || len(s.state.Box.Objects) != 1 {
		t.Errorf("told %v", screentest.Told(env).Failures)
	}
}
