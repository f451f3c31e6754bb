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

// open shows the screen of a visit and waits until it is there.
func open(t *testing.T, env *place.Env, visit inspect.ID) *Screen {
	t.Helper()
	s := New(env, place.Where{Name: place.Inspect, Visit: visit}).(*Screen)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	do(env, s, s.Opened)
	if s.kase == nil {
		t.Fatal("the visit did not load")
	}
	return s
}

// settle waits for all work, also for what work starts when it comes back.
func settle(env *place.Env) {
	env.Run.Wait()
}

// do runs f as one event of the window, with nothing coming back from workers
// meanwhile, and then waits for what it started. The test driver brings results
// on the worker's goroutine; the window never does that.
func do(env *place.Env, s *Screen, f func()) {
	s.oneAtATime.Lock()
	f()
	s.oneAtATime.Unlock()
	if !held {
		settle(env)
	}
}

// held is set while the library keeps everything waiting.
var held bool

// press types keys as the window passes them on: to what has the focus, else to
// the screen. "\n" is Enter.
func press(env *place.Env, s *Screen, keys string) {
	for _, r := range keys {
		do(env, s, func() { key(env, s, r) })
	}
}

func key(env *place.Env, s *Screen, r rune) {
	f := env.Window.Canvas().Focused()
	switch {
	case r == '\n' && f != nil:
		f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	case r == '\n':
		s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnter})
	case f != nil:
		f.TypedRune(r)
	default:
		s.TypedRune(r)
	}
}

func TestLookOverByKeys(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "look_over")
	s := open(t, env, id)
	checks, strokes := len(s.route), 0
	for n := 0; !s.ended && n < 100; n++ {
		p, ok := s.line()
		if !ok {
			t.Fatal("no check is shown")
		}
		keys := "1"
		switch p.Check.Kind {
		case catalog.Grade:
			keys = "0"
		case catalog.Number:
			keys = "12\n"
		}
		strokes += len(keys)
		press(env, s, keys)
	}
	settle(env)
	c := screentest.Open(t, env, id)
	done, of := env.Desk.Progress(c, inspect.Received, "", inspect.Whole)
	if done != of || of != checks {
		t.Errorf("%d of %d checks are saved, want all of the %d shown", done, of, checks)
	}
	if len(screentest.Told(env).Failures) > 0 {
		t.Errorf("failures: %v", screentest.Told(env).Failures)
	}
	t.Logf("%d checks with %d key strokes", checks, strokes)
	if strokes > 22 {
		t.Errorf("%d key strokes for %d checks, want 22 at most", strokes, checks)
	}
	press(env, s, "\n")
	env.Run.Wait()
	if v, err := env.Desk.Lib.Visit(t.Context(), id); err != nil || v.Step != inspect.StepDecide {
		t.Errorf("after going on the visit stands at %q (%v), want decide: the bench would still say Inspect", v.Step, err)
	}
	if gone := screentest.Told(env).Gone; len(gone) != 1 || gone[0].Name != place.Decide {
		t.Errorf("Enter after the last check went to %v, want Decide", gone)
	}
}

// How many keys a whole visit takes in Inspect: one a check, and one a digit
// and Enter where something is measured.
func TestKeysOfEachLevel(t *testing.T) {
	for _, c := range []struct {
		level string
		most  float64 // keys a check
	}{{"look_over", 1.5}, {"lowers", 1.8}, {"full", 2.2}} {
		t.Run(c.level, func(t *testing.T) {
			env := screentest.Env(t)
			s := open(t, env, screentest.Fresh(t, env, c.level))
			checks, strokes := 0, 0
			for n := 0; n < 400 && len(screentest.Told(env).Gone) == 0; n++ {
				keys := "\n" // on to the next stage, and at last to Decide
				if p, ok := s.line(); ok && !s.ended {
					checks++
					keys = map[catalog.Kind]string{catalog.Grade: "1", catalog.Fine: "1", catalog.Number: "12\n"}[p.Check.Kind]
				}
				strokes += len(keys)
				press(env, s, keys)
				settle(env)
			}
			if len(screentest.Told(env).Gone) != 1 {
				t.Fatalf("%d keys did not lead to Decide", strokes)
			}
			t.Logf("%s: %d answers (a point is one) with %d keys", c.level, checks, strokes)
			if float64(strokes) > c.most*float64(checks) {
				t.Errorf("%d keys for %d answers, want %.1f an answer at most", strokes, checks, c.most)
			}
		})
	}
}

func TestZoneSeenAndFastKeysKeepTheirOrder(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "look_over")
	s := open(t, env, id)
	lib := screentest.Lib(env)
	lib.Hold()
	held = true // nothing is saved while the keys are pressed
	first := s.at
	press(env, s, "1-0-.") // the first check three times over
	if s.Waiting() != 3 {
		t.Fatalf("%d entries wait, want 3", s.Waiting())
	}
	r, _ := s.reading(s.slot(inspect.Received, first))
	if r.Answer != inspect.NotLooked {
		t.Errorf("shown before it is saved: %s, want not_looked_at", r.Answer)
	}
	held = false
	lib.Release()
	settle(env)
	c := screentest.Open(t, env, id)
	var said []string
	for _, r := range c.Readings {
		said = append(said, string(r.Answer))
	}
	if strings.Join(said, " ") != "fine not_fine not_looked_at" || len(c.Conflicts) != 0 {
		t.Errorf("kept %v with %d conflicts, want fine not_fine not_looked_at and none", said, len(c.Conflicts))
	}
	press(env, s, "*")
	settle(env)
	zone := s.env.Desk
	c = screentest.Open(t, env, id)
	zoneSeen := 0
	for _, p := range zone.Positions(c, inspect.Received) {
		if p.Check.Zone == "stanchions" && p.Leg == inspect.Left && p.Check.Kind != catalog.Number && p.Base {
			zoneSeen++
			if r, ok := c.At(p); !ok || (r.Answer != inspect.ZoneSeen) != (p.Check.ID == first.check) {
				t.Errorf("%s is %q after '*', want zone_seen", p.Check.ID, r.Answer)
			}
		}
	}
	if zoneSeen < 2 {
		t.Fatalf("%d checks in the zone, want 2 at least", zoneSeen)
	}
	do(env, s, func() { screentest.Told(env).Undo() })
	settle(env)
	if n := len(screentest.Open(t, env, id).Current); n != 1 {
		t.Errorf("%d answers after '*' is taken back, want the one from before", n)
	}
}

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

func TestWrongNumberKeepsWhatWasTyped(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Fresh(t, env, "look_over"))
	i := indexOfKind(s, catalog.Number)
	do(env, s, func() { s.goTo(s.start(s.route[i])) })
	at := s.at
	press(env, s, "1.2.3\n")
	settle(env)
	if s.at != at || !strings.Contains(s.card.told.Text, "1.2.3") || !s.card.told.Visible() {
		t.Errorf("line %q at %v; want a line that names what was typed, at %v", s.card.told.Text, s.at, at)
	}
	if e, ok := env.Window.Canvas().Focused().(interface{ SelectedText() string }); !ok || e == nil {
		t.Error("the entry lost the focus: what was typed can't be mended")
	}
	if s.Waiting() != 0 || len(s.kase.Readings) != 0 {
		t.Error("a number that is none was saved")
	}
	do(env, s, s.next)
	if s.at != at {
		t.Error("'next' left a number that is none behind")
	}
}

func TestRepeatsMakeOneReading(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "look_over")
	s := open(t, env, id)
	do(env, s, func() { s.goTo(s.start(s.route[indexOfKind(s, catalog.Number)])) })
	slot := s.slot(s.stage, s.at)
	press(env, s, "10 11+12\n")
	settle(env)
	r := screentest.Open(t, env, id).Current[slot]
	if r.Value != 11 || len(r.Raw) != 3 { // (10+11+12)/3, by hand
		t.Errorf("kept %g of %v, want 11 of three", r.Value, r.Raw)
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

func indexOfKind(s *Screen, kind catalog.Kind) int {
	for i, p := range s.route {
		if p.Check.Kind == kind {
			return i
		}
	}
	return -1
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
