package handback

import (
	"context"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/screens/screentest"
)

func TestStepsAreTakenBackOneAfterTheOther(t *testing.T) {
	env, id, s := opened(t)
	told := screentest.Told(env)
	p, k := pair{key: "air_pressure", unit: "bar"}, s.safety()[0]
	type state struct {
		left, next string
		ticked     bool
		ready      time.Time
	}
	now := func() state {
		st := s.leftOf(p)
		hours, date := s.nextTyped()
		v := screentest.Open(t, env, id)
		if got := s.left["air_pressure"]; got.Text != written(&st) {
			return state{left: "the field shows " + got.Text}
		}
		if v.Visit.NextHours != s.c.Visit.NextHours || len(v.Settings) != len(s.c.Settings) {
			return state{left: "the screen shows what is not on record"}
		}
		return state{written(&st), hours + " " + date, s.tasks[k.ID].Done, v.Visit.Ready}
	}
	type1 := func(text string) func() {
		return func() { f := s.left["air_pressure"]; f.SetText(text); f.Keep() }
	}
	states := []state{now()}
	for _, do := range []func(){type1("5 bar"), type1("5.5 bar"), type1(""), func() { s.Tick(k, true) },
		func() { s.Next("420", "2026-11-30") }, func() { s.Next("500", "") }, s.Ready} {
		do()
		env.Run.Wait()
		env.Run.Wait() // ready loads the visit anew
		states = append(states, now())
	}
	if states[1] == states[0] || states[6] == states[5] || states[7].ready.IsZero() {
		t.Fatalf("the steps did nothing: %+v", states)
	}
	for i := len(states) - 2; i >= 0; i-- {
		if !told.TakeBack() {
			t.Fatalf("step %d has no undo", i)
		}
		env.Run.Wait()
		env.Run.Wait()
		if got := now(); got != states[i] {
			t.Errorf("after undo %d: %+v, want %+v", i, got, states[i])
		}
	}
	if told.TakeBack() {
		t.Error("an undo of an undo is left")
	}
	if c := screentest.Open(t, env, id); len(c.Settings) != 0 {
		t.Errorf("settings on record %+v, want none", c.Settings)
	}
}

func TestCollectedIsFinal(t *testing.T) {
	env, id, s := opened(t)
	s.Collect()
	s.Collect()
	env.Run.Wait()
	told := screentest.Told(env)
	if !screentest.Open(t, env, id).Visit.Closed() || len(told.Finals) != 1 || !strings.Contains(told.Finals[0], "for good") {
		t.Errorf("said for good: %v", told.Finals)
	}
}

func TestTorquesOfTheServiceAreShown(t *testing.T) {
	env, id, s := opened(t)
	ts := shop.Torques(env.Desk.Catalog, s.c)
	if len(ts) < 2 || ts[0].Typed() {
		t.Fatalf("torques %+v", ts)
	}
	if err := env.Desk.Lib.PutTask(context.Background(), inspect.Task{VisitID: id, Key: ts[0].Task.ID, Done: true, Value: 12.5, Unit: "N·m", Tool: "wrench 2", By: "Bo"}); err != nil {
		t.Fatal(err)
	}
	s.Opened()
	env.Run.Wait()
	env.Window.Resize(fyne.NewSize(1190, 3000))
	var all []string
	for _, o := range test.LaidOutObjects(env.Window.Content()) {
		if x, ok := o.(*canvas.Text); ok {
			all = append(all, x.Text)
		}
	}
	page := strings.Join(all, "|")
	for _, want := range []string{ts[0].Task.Name, "12.5\u2009N·m", "wrench 2, Bo", "not written down"} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the page: %s", want, page)
		}
	}
}
