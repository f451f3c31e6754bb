package inspection

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

func TestUndoTakesBackAndReturns(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Fresh(t, env, "look_over"))
	first := s.at
	press(env, s, "0")
	settle(env)
	if s.at == first {
		t.Fatal("the next check did not follow")
	}
	do(env, s, func() {
		if !screentest.Told(env).Undo() {
			t.Error("the save has no undo")
		}
	})
	settle(env)
	if _, ok := s.kase.Current[s.slot(inspect.Received, first)]; ok || s.at != first {
		t.Errorf("after undo: answered %v, at %v; want open, at %v", ok, s.at, first)
	}
}

func TestCollectedIsReadOnly(t *testing.T) {
	env := screentest.Env(t)
	c := screentest.Open(t, env, screentest.Fresh(t, env, "look_over"))
	s := open(t, env, c.Earlier[0].Row.Visit.ID)
	n := len(s.kase.Readings)
	press(env, s, "10*+.")
	settle(env)
	if len(s.kase.Readings) != n || s.Waiting() != 0 || !s.locked.Visible() {
		t.Errorf("%d new readings, words shown %v; want none, and the words", len(s.kase.Readings)-n, s.locked.Visible())
	}
}

func TestFailedSaveWaitsAndGoesOn(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "look_over")
	s := open(t, env, id)
	screentest.Lib(env).Refuse = inspect.Refuse(inspect.Full, "the disk is full: make room, then try again")
	press(env, s, "11")
	settle(env)
	if s.Waiting() != 2 || !s.unsaved.Visible() || !strings.Contains(s.unsaved.Text, "disk is full") {
		t.Fatalf("%d wait, told %q; want 2 and the reason", s.Waiting(), s.unsaved.Text)
	}
	screentest.Lib(env).Refuse = nil
	do(env, s, s.tryAgain)
	settle(env)
	if n := len(screentest.Open(t, env, id).Readings); n != 2 || s.unsaved.Visible() {
		t.Errorf("%d kept after trying again, want 2", n)
	}
}

func TestCheckOpenedByHandStays(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "look_over")
	s := open(t, env, id)
	press(env, s, "/")
	press(env, s, "breakaway\n")
	if s.at.check != "seals.breakaway" {
		t.Fatalf("at %v, want the breakaway force", s.at)
	}
	press(env, s, "40\n\n")
	settle(env)
	again := open(t, env, id)
	if find(again.route, spot{check: "seals.breakaway"}) < 0 {
		t.Error("the answered check is not on the route of the visit opened again")
	}
}

func TestNoteIsKeptWithItsAnswer(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "look_over")
	s := open(t, env, id)
	slot := s.slot(s.stage, s.at)
	s.card.note.SetText("below the crown")
	s.next() // no answer yet: a draft
	do(env, s, s.back)
	if s.card.note.Text != "below the crown" {
		t.Fatalf("the note is %q on return", s.card.note.Text)
	}
	press(env, s, "0")
	settle(env)
	if r := screentest.Open(t, env, id).Current[slot]; r.Note != "below the crown" || r.Answer != inspect.NotFine {
		t.Errorf("kept %q with %q, want not_fine with the note", r.Answer, r.Note)
	}
}

func TestOtherGaugeIsKept(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "full")
	s := open(t, env, id)
	do(env, s, s.openSearch)
	s.search.found = slices.DeleteFunc(s.search.found, func(p catalog.Position) bool {
		return p.Check.Kind != catalog.Number || len(p.Check.Instruments) < 2
	})
	do(env, s, func() { s.openFound(0) })
	p, ok := s.line()
	if !ok || p.Check.Kind != catalog.Number {
		t.Fatal("no number with two gauges was opened")
	}
	slot := s.slot(s.stage, s.at)
	press(env, s, "9 ")
	if r := s.kase.Current[slot]; r.Instrument != p.Check.Instruments[0] {
		t.Fatalf("the gauge is %q, want the first, %q", r.Instrument, p.Check.Instruments[0])
	}
	do(env, s, func() { s.card.instrument.SetSelectedIndex(1) })
	settle(env)
	if r := s.kase.Current[slot]; r.Instrument != p.Check.Instruments[1] || r.Value != 9 {
		t.Errorf("kept %g by %q, want 9 by %q", r.Value, r.Instrument, p.Check.Instruments[1])
	}
}

func TestReceivedValueIsShownWhileStripped(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	for _, at := range []spot{{"stanchions.scratch", inspect.Left, ""}} {
		do(env, s, func() { s.goTo(at) })
		press(env, s, "0")
		do(env, s, func() { s.toStage(inspect.Stripped) })
		do(env, s, func() { s.goTo(at) })
		if !strings.Contains(s.card.facts.Text, "As received: the nail catches") {
			t.Errorf("facts %q, want the answer as received", s.card.facts.Text)
		}
	}
}

// TestCardMarkup guards what stands on a card and where.
func TestCardMarkup(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	do(env, s, func() { s.goTo(spot{"seals.weep", inspect.Left, ""}) })
	settle(env)
	test.AssertObjectRendersToMarkup(t, "card.xml", s.card.frame)
}

func TestDecideWaitsForWhatIsNotSaved(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Fresh(t, env, "look_over"))
	screentest.Lib(env).Hold()
	held = true
	press(env, s, "1")
	do(env, s, s.toDecide)
	early := len(screentest.Told(env).Gone)
	held = false
	screentest.Lib(env).Release()
	settle(env)
	if gone := screentest.Told(env).Gone; early != 0 || len(gone) != 1 || gone[0].Name != place.Decide {
		t.Errorf("went %d times before all was saved, then %v; want none, then Decide", early, gone)
	}
}

func TestFirstReadingIsABaseline(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.First(t, env, "full"))
	do(env, s, func() { s.toStage(inspect.Stripped) })
	do(env, s, s.openSearch)
	s.search.found = slices.DeleteFunc(s.search.found, func(p catalog.Position) bool {
		fresh, _ := p.Check.Bounds(s.kase.Sheet)
		_, fitted := s.kase.Fitting(p.Check.Part, p.Leg)
		return p.Check.LimitFromNew == nil || fresh != nil || !fitted || p.Check.Grows != catalog.ByHours || p.Check.LifeFor(s.kase.Sheet) == 0
	})
	if len(s.search.found) == 0 {
		t.Skip("the catalog has no check that is measured against its own first value")
	}
	do(env, s, func() { s.openFound(0) })
	press(env, s, "12\n")
	p, _ := s.line()
	tr, err := env.Desk.Trend(t.Context(), s.kase, p.Check, p.Leg)
	if err != nil || tr == nil || plotOf(tr).EmptyWord != "Baseline taken" {
		t.Errorf("first reading of %s: %+v, %v; want 'Baseline taken'", p.Check.ID, tr, err)
	}
}

func TestUnknownVisitSaysSo(t *testing.T) {
	env := screentest.Env(t)
	s := New(env, place.Where{Visit: "none"}).(*Screen)
	env.Window.SetContent(s.Content())
	do(env, s, s.Opened)
	if len(screentest.Told(env).Failures) != 1 {
		t.Error("a visit that is not there was not told")
	}
	press(env, s, "1+*/-\n") // must not fall over
}

// TestTrendIsSeenWithoutScrolling: what is needed to grade (the last value, the
// limit, the trend) is in the picture in the smallest usual window, 1280 by 800,
// which leaves the screen about 1167 by 645.
func TestTrendIsSeenWithoutScrolling(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	env.Window.Resize(fyne.NewSize(1167+8, 645+8)) // the window's own padding
	where := fyne.CurrentApp().Driver().AbsolutePositionForObject
	seen := 0
	for _, p := range s.route {
		if p.Check.Kind != catalog.Grade {
			continue
		}
		do(env, s, func() { s.goTo(s.start(p)) })
		settle(env)
		edge := where(s.card.frame).Y + s.card.frame.Size().Height
		for name, o := range map[string]fyne.CanvasObject{"facts": s.card.facts, "trend": s.card.plot} {
			if !o.Visible() {
				continue
			}
			seen++
			if end := where(o).Y + o.Size().Height; end > edge {
				t.Errorf("%s: the %s end at %.0f, the card at %.0f", p.Check.ID, name, end, edge)
			}
		}
	}
	if seen == 0 {
		t.Error("no grade of the route has facts")
	}
}
