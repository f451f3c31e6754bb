package forklife

import (
	"context"
	"os"
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
	if len(g) != 3 || g[0].Name != place.Decide || g[0].Visit != s.lines[2].visit || g[1].Name != place.Inspect || g[1].Visit != visit || g[1].Check != "seals.weep" || g[1].Leg != inspect.Left ||
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

func TestThePointedReadingStandsBesideThePlotWithItsPhoto(t *testing.T) {
	env := screentest.Env(t)
	visit := screentest.Visit(t, env)
	s := open(t, env, place.Where{Name: place.ForkLife, Fork: forkOf(t, env, visit), Check: "seals.weep", Leg: inspect.Left})
	env.Run.Wait()
	told := func() string { return s.beside.told.Segments[0].Textual() }
	// hours of screentest.Fresh; nothing is pointed at: the newest reading
	if !strings.Contains(told(), "318") || s.beside.visit != visit {
		t.Errorf("beside the plot stands %q", told())
	}
	s.plot.FocusGained()
	s.plot.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	env.Run.Wait()
	for _, want := range []string{"90\u2009h", "Found: 0", "Wear used", "k = 2"} {
		if !strings.Contains(told(), want) {
			t.Errorf("the first reading is told as %q, without %q", told(), want)
		}
	}
	if len(s.beside.seen) != 2 || !s.beside.photo.Visible() {
		t.Errorf("%d photos were read for two points", len(s.beside.seen))
	}
	s.plot.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if g := screentest.Told(env).Gone; len(g) != 1 || g[0].Name != place.Inspect || g[0].Visit != s.lines[2].visit || g[0].Check != "seals.weep" || g[0].Leg != inspect.Left {
		t.Errorf("Enter on a point went to %+v", g)
	}
	s.Closed()
	if len(s.beside.seen) != 0 {
		t.Error("a closed place keeps photos")
	}
}

func TestEarlierFittingsHaveCurvesOfTheirOwn(t *testing.T) {
	env := screentest.Env(t)
	visit := screentest.Visit(t, env)
	ctx, fork := context.Background(), forkOf(t, env, visit)
	s := open(t, env, place.Where{Name: place.ForkLife, Fork: fork, Check: "seals.weep", Leg: inspect.Left})
	k := s.life.checks[s.chosen.SelectedIndex()]
	if _, n := s.through(k); n != 1 || s.views.bar.Visible() {
		t.Errorf("%d fittings were read, one was", n)
	}
	// the left wiper is renewed at 318 h and read again
	old := k.all[0].FittingID
	for _, f := range s.life.fittings {
		if f.ID != old {
			continue
		}
		end, fresh := f, f
		end.End, end.EndHours, end.EndVisit, end.EndedOn = inspect.EndWorn, 318, visit, screentest.Now
		fresh.ID, fresh.FittedAt, fresh.FittedVisit, fresh.FittedOn = "fresh", 318, visit, screentest.Now
		if err := env.Desk.Lib.Refit(ctx, []inspect.Fitting{end}, []inspect.Fitting{fresh}); err != nil {
			t.Fatal(err)
		}
	}
	r := k.all[len(k.all)-1]
	r.ID, r.FittingID, r.Stage, r.Value, r.Supersedes = "after", "fresh", inspect.AfterWork, 0, ""
	if err := env.Desk.Lib.AddReadings(ctx, r); err != nil {
		t.Fatal(err)
	}
	s = open(t, env, place.Where{Name: place.ForkLife, Fork: fork, Check: "seals.weep", Leg: inspect.Left})
	c, n := s.through(s.life.checks[s.chosen.SelectedIndex()])
	if n != 2 || !s.views.bar.Visible() || len(c.Curves[0].Marks) != 3 || len(c.Curves[1].Marks) != 1 || c.Curves[1].Marks[0].Hours != 318 {
		t.Errorf("%d fittings are drawn: %+v", n, c.Curves)
	}
	if !c.HasLimit || c.Limit != k.check.LimitGrade {
		t.Errorf("the limit is drawn at %g", c.Limit)
	}
	s.views.show(1)
	picture(t, env, os.Getenv("FORKWEAR_PICTURES"), "forklife-fittings", false)
	for key, want := range map[fyne.KeyName]string{fyne.KeyRight: "On it: 90\u2009h", fyne.KeyDown: "On it: 0\u2009h"} {
		s.views.all.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft}) // the last one, which is the fresh wiper's
		if key == fyne.KeyRight {
			s.views.all.FocusLost()
			s.views.all.TypedKey(&fyne.KeyEvent{Name: key})
		}
		if got := s.beside.told.Segments[0].Textual(); !strings.Contains(got, want) {
			t.Errorf("a reading is told as %q, want %s", got, want)
		}
		s.views.all.FocusLost()
	}
}
