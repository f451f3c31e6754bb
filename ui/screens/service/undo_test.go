package service

import (
	"reflect"
	"slices"
	"sort"
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

// Value, tool and tick of one line, and a fitting, are taken back one after the
// other, and the fields follow.
func TestStepsAreTakenBackOneAfterTheOther(t *testing.T) {
	env, id, s := opened(t)
	k := task(t, s, "N·m")
	told := screentest.Told(env)
	type state struct {
		done bool
		text string
		tool string
	}
	now := func() state {
		l, t := s.lines[k.ID], s.tasks[k.ID]
		if l.tick.On() != t.Done {
			return state{tool: "the tick is not what is on record"}
		}
		return state{t.Done, l.value.Text, l.tool.Text}
	}
	states := []state{now()}
	for _, do := range []func(){
		func() { f := s.lines[k.ID].value; f.SetText("5"); f.Keep() },
		func() { f := s.lines[k.ID].tool; f.SetText("wrench 2"); f.Keep() },
		func() { f := s.lines[k.ID].value; f.SetText("6"); f.Keep() },
		func() { s.lines[k.ID].tick.Tapped(nil) },
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
	if got := kept(t, env, id, k.ID); got.Done || got.Value != 0 || got.Tool != "" {
		t.Errorf("on record %+v, want the line as it was", got)
	}
}

func parts(t *testing.T, env *place.Env, id inspect.ID) []inspect.Fitting {
	t.Helper()
	fs := slices.Clone(screentest.Open(t, env, id).Fittings)
	sort.Slice(fs, func(i, j int) bool { return fs[i].ID < fs[j].ID })
	return fs
}

func TestFittingSaysItsKitMatesAndIsTakenBack(t *testing.T) {
	env, id, s := opened(t)
	told := screentest.Told(env)
	as, _ := toFit(s.c)
	i := slices.IndexFunc(as, func(a inspect.Assessment) bool { return s.matesOf(a) != "" })
	if i < 0 {
		t.Skip("no part of the sample has mates that only go out with it")
	}
	mates, before := s.matesOf(as[i]), parts(t, env, id)
	s.FitNew(as[i], "L-7")
	env.Run.Wait()
	if said := told.Saves[len(told.Saves)-1]; !strings.HasSuffix(said, ": "+mates) {
		t.Errorf("said %q, want the mates %q", said, mates)
	}
	fitted := parts(t, env, id)
	if len(fitted) < len(before)+2 {
		t.Fatalf("%d parts of %d before: want the part and its mates new", len(fitted), len(before))
	}
	s.FitAll()
	env.Run.Wait()
	told.TakeBack()
	env.Run.Wait()
	if got := parts(t, env, id); !reflect.DeepEqual(got, fitted) {
		t.Error("the undo of 'all' did not give the parts as they were before it")
	}
	told.TakeBack()
	env.Run.Wait()
	if got := parts(t, env, id); !reflect.DeepEqual(got, before) {
		t.Errorf("parts\n%+v\nwant those before the work\n%+v", got, before)
	}
	if _, states := toFit(s.c); states[i] != waits {
		t.Errorf("the screen shows state %v, want it to wait again", states[i])
	}
}

func TestChecksAfterTheWorkOpenAtTheirStage(t *testing.T) {
	env, id, s := opened(t)
	s.CheckAfter()
	if gone := screentest.Told(env).Gone; len(gone) != 1 || gone[0] != (place.Where{Name: place.Inspect, Visit: id, Stage: inspect.AfterWork}) {
		t.Errorf("went to %+v", gone)
	}
}

// What is kept while the place is left has no undo: it would act out of sight.
func TestWhatIsKeptInLeavingHasNoUndo(t *testing.T) {
	env, _, s := opened(t)
	f := s.lines[task(t, s, "N·m").ID].value
	f.SetText("5")
	s.Closed()
	env.Run.Wait()
	if told := screentest.Told(env); len(told.Saves) != 1 || told.Undos[0] != nil {
		t.Errorf("saves %v, undo %v", told.Saves, told.Undos[0] != nil)
	}
}
