package due

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/rows"
	"forkwear/ui/screens/screentest"
	"forkwear/ui/widgets"
)

func TestTold(t *testing.T) {
	now := time.Date(2026, 5, 12, 14, 0, 0, 0, time.UTC)
	// counted on a calendar by hand; a month is 30.44 days
	for on, want := range map[string]string{
		"2026-05-12T01": "today", "2026-05-12T23": "today", "2026-05-13T01": "in 1 day", "2026-05-11T23": "overdue by 1 day",
		"2026-05-25T14": "in 13 days", "2026-05-26T14": "in 2 weeks", "2026-04-21T14": "overdue by 3 weeks", "2025-11-12T14": "overdue by 6 months",
	} {
		at, err := time.Parse("2006-01-02T15", on)
		if err != nil {
			t.Fatal(err)
		}
		if got := Told(at, now); got != want {
			t.Errorf("%s is %q, want %q", on, got, want)
		}
	}
}

func TestRowsAreToldAndOpen(t *testing.T) {
	env := screentest.Env(t)
	env.Window.Resize(fyne.NewSize(1190, 700))
	s := New(env, place.Where{Name: place.Due}).(*Screen)
	env.Window.SetContent(s.Content())
	s.Opened()
	env.Run.Wait()
	if s.state.Box.Objects[0] == s.filled {
		t.Error("nobody is due, but a list is shown")
	}
	id := screentest.First(t, env, "full")
	v, _ := env.Desk.Lib.Visit(context.Background(), id)
	v.NextDate = screentest.Now.AddDate(0, 0, -21)
	if err := env.Desk.Lib.SaveVisit(context.Background(), v); err != nil {
		t.Fatal(err)
	}
	if err := env.Desk.Lib.Collect(context.Background(), id, screentest.Now.AddDate(0, 0, -40), "bench"); err != nil {
		t.Fatal(err)
	}
	s.Opened()
	env.Run.Wait()
	if len(s.due) != 1 {
		t.Fatalf("%d forks are due, one is", len(s.due))
	}
	l := rows.NewLine(make([]rows.Column, 5))
	s.fill(0, l)
	for _, want := range []string{"21 Apr 2026", "overdue by 3 weeks", "Sample Cross 100", "Second Customer", "date"} {
		if !strings.Contains(l.Text(), want) {
			t.Errorf("the line %q does not say %q", l.Text(), want)
		}
	}
	s.onOpen(0)
	if g := screentest.Told(env).Gone; len(g) != 1 || g[0].Name != place.ForkLife || g[0].Fork != v.ForkID {
		t.Errorf("a press went to %+v", g)
	}
}

func TestBecauseOfHours(t *testing.T) {
	c := because(shop.DueRow{By: "hours", NextHours: 250, HoursNow: 262, Row: inspect.VisitRow{}})
	if c.Text != "riding hours" || !strings.Contains(c.Under, "250") || !strings.Contains(c.Under, "262") {
		t.Errorf("by hours is told as %+v", c)
	}
}

func TestAFailureIsToldInPlaceWithAWayOut(t *testing.T) {
	env := screentest.Env(t)
	s := New(env, place.Where{Name: place.Due}).(*Screen)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	s.onLoaded(nil, errors.New("the disk is gone"))
	if f := screentest.Told(env).Failures; len(f) != 1 {
		t.Errorf("told %v", f)
	}
	var again *widgets.TextButton
	for _, o := range test.LaidOutObjects(s.state.Box) {
		if b, ok := o.(*widgets.TextButton); ok {
			again = b
		}
	}
	if again == nil {
		t.Fatal("there is no way to try again")
	}
	test.Tap(again)
	env.Run.Wait()
	if s.state.Box.Objects[0] == s.filled || len(screentest.Told(env).Failures) != 1 {
		t.Error("trying again does not lead to the empty place")
	}
}
