package decide

import (
	"context"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
)

// An answer, another one, and a changed verdict are taken back one after the
// other; all of them stay on record.
func TestStepsAreTakenBackOneAfterTheOther(t *testing.T) {
	env, id, s := opened(t)
	told := screentest.Told(env)
	key, p := s.rows[0].job.Key, s.rows[0].job.Parts[0]
	type state struct {
		answered, yes bool
		by            string
		force         inspect.Verdict
	}
	now := func() state {
		st := state{force: s.partAt(t, p.Part.ID, p.Assessment.Leg).Assessment.InForce()}
		for _, j := range s.data.jobs {
			if j.Key == key && j.Answer != nil {
				st.yes, st.answered = j.Answered()
				st.by = j.Answer.By
			}
		}
		return st
	}
	states := []state{now()}
	for _, do := range []func(){
		func() { s.Answer(s.rows[0].job, true, "First Customer", "phone") },
		func() { s.Answer(s.rows[0].job, false, "Her brother", "here") },
		func() { s.Override(p, inspect.Measure, "look at it again") },
		func() { s.Override(p, inspect.Replace, "seen enough") },
	} {
		do()
		env.Run.Wait()
		states = append(states, now())
	}
	for i := len(states) - 2; i >= 0; i-- {
		if !told.TakeBack() {
			t.Fatalf("step %d has no undo", i)
		}
		env.Run.Wait()
		if got := now(); got != states[i] {
			t.Errorf("after undo %d: %+v, want %+v", i, got, states[i])
		}
		if n := len(told.Saves); !strings.HasPrefix(told.Saves[n-1], "Taken back: ") {
			t.Errorf("said %q", told.Saves[n-1])
		}
	}
	s.Opened() // the record says the same when it is read anew
	env.Run.Wait()
	if got := now(); got != states[0] {
		t.Errorf("read anew %+v, want %+v", got, states[0])
	}
	back := 0
	for _, k := range screentest.Open(t, env, id).Consents {
		if k.How == inspect.TakenBack {
			back++
		}
	}
	if back == 0 || len(told.Failures) != 0 {
		t.Errorf("%d records say 'taken back', failures %v", back, told.Failures)
	}
}

func page(env *place.Env) string {
	env.Window.Resize(fyne.NewSize(1190, 3000))
	var all []string
	for _, o := range test.LaidOutObjects(env.Window.Content()) {
		if x, ok := o.(*canvas.Text); ok && x.Visible() {
			all = append(all, x.Text)
		}
	}
	return strings.Join(all, " ")
}

func TestTwoValuesAreSaidAndLeadToTheirCheck(t *testing.T) {
	env, id, s := opened(t)
	if strings.Contains(page(env), "Two values") {
		t.Fatal("a conflict is told where there is none")
	}
	slot := inspect.Slot{VisitID: id, Stage: inspect.Received, Check: "seals.weep", Leg: inspect.Left}
	other := screentest.Open(t, env, id).Current[slot]
	other.ID, other.Value, other.By, other.Supersedes = "rival", 1, "Bo", ""
	if err := env.Desk.Lib.AddReadings(context.Background(), other); err != nil {
		t.Fatal(err)
	}
	s.Opened()
	env.Run.Wait()
	for _, want := range []string{"Two values stand against each other", "by Bo", "by bench"} {
		if all := page(env); !strings.Contains(all, want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	for _, o := range test.LaidOutObjects(env.Window.Content()) {
		if b, ok := o.(*widgets.TextButton); ok && b.Says() == "Choose one" {
			test.Tap(b)
		}
	}
	want := place.Where{Name: place.Inspect, Visit: id, Check: "seals.weep", Leg: inspect.Left, Stage: inspect.Received}
	if gone := screentest.Told(env).Gone; len(gone) != 1 || gone[0] != want {
		t.Errorf("went to %+v, want %+v", gone, want)
	}
}

// A small photo opens its pair large; the counter has its own key.
func TestSmallPhotoOpensThePair(t *testing.T) {
	env, id, _ := opened(t)
	env.Window.Resize(fyne.NewSize(1190, 3000))
	for _, o := range test.LaidOutObjects(env.Window.Content()) {
		if c, ok := o.(*widgets.PhotoCell); ok {
			test.Tap(c)
			gone := screentest.Told(env).Gone
			if len(gone) != 1 || gone[0].Name != place.Compare || gone[0].Visit != id || gone[0].Check != "seals.weep" || gone[0].Leg != inspect.Left || gone[0].Photo == "" {
				t.Errorf("went to %+v, want the photos of the left wiper", gone)
			}
			return
		}
	}
	t.Fatal("no photo on the page")
}
