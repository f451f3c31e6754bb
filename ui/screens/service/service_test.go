package service

import (
	"math"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

func opened(t *testing.T) (*place.Env, inspect.ID, *Screen) {
	t.Helper()
	env := screentest.Env(t)
	id := screentest.Decided(t, env)
	s := New(env, place.Where{Visit: id}).(*Screen)
	env.Window.SetContent(s.Content())
	s.Opened()
	env.Run.Wait()
	if len(s.lines) == 0 {
		t.Fatalf("no lines: %v", screentest.Told(env).Failures)
	}
	return env, id, s
}

func kept(t *testing.T, env *place.Env, id inspect.ID, key string) inspect.Task {
	t.Helper()
	for _, k := range screentest.Open(t, env, id).Tasks {
		if k.Key == key {
			return k
		}
	}
	return inspect.Task{}
}

func task(t *testing.T, s *Screen, unit string) catalog.Task {
	t.Helper()
	for _, k := range catalog.TasksFor(s.env.Desk.Catalog, s.c.Sheet, s.c.Visit.Level, "") {
		if k.Unit == unit && s.lines[k.ID] != nil {
			return k
		}
	}
	t.Fatalf("no line in %q", unit)
	return catalog.Task{}
}

func TestTickIsKeptAndTakenBack(t *testing.T) {
	env, id, s := opened(t)
	k := task(t, s, "")
	s.lines[k.ID].tick.Tapped(nil)
	env.Run.Wait()
	if got := kept(t, env, id, k.ID); !got.Done || got.By != "bench" || got.At.IsZero() {
		t.Fatalf("kept %+v", got)
	}
	if !screentest.Told(env).Undo() {
		t.Fatal("no undo")
	}
	env.Run.Wait()
	if kept(t, env, id, k.ID).Done || s.lines[k.ID].tick.On() {
		t.Fatal("undo left the tick")
	}
}

// 1 ft·lbf = 1.355 818 N·m (NIST Special Publication 811, appendix B.8).
func TestValueIsReadWithItsUnit(t *testing.T) {
	env, id, s := opened(t)
	k := task(t, s, "N·m")
	f := s.lines[k.ID].value
	f.SetText("5 ft·lbf")
	f.Keep()
	env.Run.Wait()
	got := kept(t, env, id, k.ID)
	if math.Abs(got.Value-5*1.355818) > 1e-5 || got.Unit != "N·m" || !got.Done {
		t.Fatalf("kept %+v, want 6.77909 N·m", got)
	}
	s.Tool(k, "wrench 2")
	env.Run.Wait()
	f.SetText("much")
	f.Keep()
	env.Run.Wait()
	if got := kept(t, env, id, k.ID); got.Tool != "wrench 2" || math.Abs(got.Value-5*1.355818) > 1e-5 {
		t.Fatalf("a refused text changed the record: %+v", got)
	}
	if f := screentest.Told(env).Failures; len(f) != 1 || inspect.CodeOf(f[0]) != inspect.Invalid {
		t.Fatalf("failures %v", f)
	}
}

func TestReadTakesNumbersAndNothingElse(t *testing.T) {
	for _, tc := range []struct {
		text, unit string
		want       float64
		bad        bool
	}{
		{"70", "mL", 70, false}, {"70cc", "mL", 70, false}, {"2,5 mm", "mm", 2.5, false}, {"3", "pieces", 3, false},
		{"three", "pieces", 0, true}, {"", "mL", 0, true}, {"NaN", "mL", 0, true}, {"5 mm", "mL", 0, true},
	} {
		got, err := read(tc.text, catalog.Task{Name: "line", Unit: tc.unit})
		if (err != nil) != tc.bad || got != tc.want {
			t.Errorf("%q in %s: %v, %v; want %v", tc.text, tc.unit, got, err, tc.want)
		}
	}
}

func TestTargetIsBlankWithoutTheMakersSheet(t *testing.T) {
	k := catalog.Task{Unit: "mL", Sheet: "fluid.left"}
	if got := target(k, catalog.Sheet{}); got != "type it from the maker's sheet" {
		t.Errorf("target %q", got)
	}
	if got := target(k, catalog.Sheet{Targets: map[string]float64{"fluid.left": 15}}); got != "sheet: 15\u2009mL" {
		t.Errorf("target %q", got)
	}
}

func TestFitNewEndsTheOldPart(t *testing.T) {
	env, id, s := opened(t)
	as, states := toFit(s.c)
	if len(as) == 0 || states[0] != waits {
		t.Fatalf("to fit %v %v", as, states)
	}
	a := as[0]
	s.FitNew(a, " L-77 ")
	env.Run.Wait()
	ended, batch := false, ""
	for _, f := range screentest.Open(t, env, id).Fittings {
		if f.Part == a.Part && f.Leg == a.Leg {
			if f.EndVisit == id && !f.In() {
				ended = true
			}
			if f.FittedVisit == id && f.In() {
				batch = f.Batch
			}
		}
	}
	if !ended || batch != "L-77" {
		t.Fatalf("old ended %v, batch of the new %q", ended, batch)
	}
	s.FitAll()
	env.Run.Wait()
	_, states = toFit(s.c)
	for i, st := range states {
		if st != fitted {
			t.Errorf("%d is in state %v after all were fitted", i, st)
		}
	}
}

// Fitting all gives each part the reason of its own deciding rule; what only goes
// out with its kit ends by schedule.
func TestEndIsTheOneOfTheDesk(t *testing.T) {
	env, id, s := opened(t)
	want := map[string]inspect.EndReason{}
	as, _ := toFit(s.c)
	for _, a := range as {
		want[a.Part+string(a.Leg)] = env.Desk.EndOf(s.c, a)
	}
	for _, j := range env.Desk.Jobs(s.c, s.c.Assessments, shop.Prices{}) {
		for _, p := range j.Parts {
			if p.WithKit {
				want[p.Part.ID+string(p.Assessment.Leg)] = inspect.EndSchedule
			}
		}
	}
	s.FitAll()
	env.Run.Wait()
	n := 0
	for _, f := range screentest.Open(t, env, id).Fittings {
		if f.EndVisit == id && !f.In() {
			n++
			if w := want[f.Part+string(f.Leg)]; f.End != w {
				t.Errorf("%s %s ended as %q, want %q", f.Part, f.Leg, f.End, w)
			}
		}
	}
	if n == 0 {
		t.Fatal("nothing was fitted")
	}
}

func TestGoOnIsNotReady(t *testing.T) {
	env, id, s := opened(t)
	s.GoOn()
	env.Run.Wait()
	if v := screentest.Open(t, env, id).Visit; v.Step != inspect.StepHandBack || !v.Ready.IsZero() {
		t.Fatalf("step %s, ready %v: want hand-back, not ready", v.Step, v.Ready)
	}
}
