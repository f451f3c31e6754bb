package inspection

import (
	"testing"

	"fyne.io/fyne/v2/test"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
)

func at(t *testing.T, env *place.Env, where place.Where) *Screen {
	t.Helper()
	s := New(env, where).(*Screen)
	env.Window.SetContent(s.Content())
	do(env, s, s.Opened)
	return s
}

func TestOpensAtTheStageAskedFor(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "full")
	for _, st := range inspect.Stages() {
		s := at(t, env, place.Where{Visit: id, Stage: st})
		if s.stage != st || len(s.route) == 0 {
			t.Errorf("asked for %s, opened %s with %d checks", st, s.stage, len(s.route))
		}
	}
	if s := at(t, env, place.Where{Visit: id, Stage: "no stage"}); s.stage != inspect.Received {
		t.Errorf("an unknown stage opened %s", s.stage)
	}
	s := at(t, env, place.Where{Visit: id, Stage: inspect.AfterWork})
	do(env, s, s.toDecide)
	if gone := screentest.Told(env).Gone; gone[len(gone)-1].Name != place.Service {
		t.Errorf("from the checks after the work it goes to %+v, want back to the service", gone[len(gone)-1])
	}
}

// Two benches graded the left wiper at the same time: both values are keys, one
// is chosen, undo brings both back, a new answer ends both.
func TestTwoValuesAndOneIsChosen(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "look_over")
	c := screentest.Open(t, env, id)
	first, err := env.Desk.Answer(t.Context(), c, shop.Answer{Check: "seals.weep", Leg: inspect.Left, Stage: inspect.Received, Answer: inspect.Graded, Value: 1})
	if err != nil {
		t.Fatal(err)
	}
	rival := first
	rival.ID, rival.Value, rival.By = "rival", 3, "Bo"
	if err := env.Desk.Lib.AddReadings(t.Context(), rival); err != nil {
		t.Fatal(err)
	}
	s := at(t, env, place.Where{Visit: id, Check: "seals.weep", Leg: inspect.Left})
	keys := func() []*widgets.TextButton {
		var out []*widgets.TextButton
		for _, o := range s.card.conflict.Objects {
			if b, ok := o.(*widgets.TextButton); ok && s.card.conflictRoom.Visible() {
				out = append(out, b)
			}
		}
		return out
	}
	stands := func(what string, conflicts int, value float64) {
		t.Helper()
		c := screentest.Open(t, env, id)
		if got := c.Current[first.Slot()]; len(c.Conflicts) != conflicts || got.Value != value || len(keys()) != 2*conflicts {
			t.Errorf("%s: %d conflicts, in force %g, %d keys; want %d, %g", what, len(c.Conflicts), got.Value, len(keys()), conflicts, value)
		}
	}
	stands("at first", 1, 3)
	do(env, s, func() { test.Tap(keys()[0]) })
	stands("chosen", 0, 1)
	do(env, s, func() { screentest.Told(env).TakeBack() })
	stands("taken back", 1, 3)
	do(env, s, func() { s.goTo(spot{"seals.weep", inspect.Left, ""}) })
	press(env, s, "2")
	stands("answered anew", 0, 2)
	do(env, s, func() { screentest.Told(env).TakeBack() })
	stands("and taken back", 1, 3)
}

// Two answers to one check are taken back one after the other.
func TestAnswersToOneCheckAreTakenBackOneAfterTheOther(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "look_over")
	s := at(t, env, place.Where{Visit: id, Check: "seals.weep", Leg: inspect.Left})
	for _, k := range []string{"1", "3"} {
		do(env, s, func() { s.goTo(spot{"seals.weep", inspect.Left, ""}) })
		press(env, s, k)
	}
	slot := s.slot(inspect.Received, spot{"seals.weep", inspect.Left, ""})
	if r := screentest.Open(t, env, id).Current[slot]; r.Value != 3 {
		t.Fatalf("in force %g", r.Value)
	}
	do(env, s, func() { screentest.Told(env).TakeBack() })
	if r := screentest.Open(t, env, id).Current[slot]; r.Value != 1 {
		t.Errorf("after one undo %g, want 1", r.Value)
	}
	do(env, s, func() { screentest.Told(env).TakeBack() })
	if r, ok := screentest.Open(t, env, id).Current[slot]; ok {
		t.Errorf("after two undos %g, want none: %v", r.Value, screentest.Told(env).Failures)
	}
}
