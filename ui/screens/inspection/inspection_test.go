package inspection

import (
	"fmt"
	"image/png"
	"os"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"
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
	s.Opened()
	settle(env)
	if s.kase == nil {
		t.Fatal("the visit did not load")
	}
	return s
}

// settle waits for all work, also for what work starts when it comes back.
func settle(env *place.Env) {
	env.Run.Wait()
}

// press types keys as the window passes them on: to what has the focus, else to
// the screen. "\n" is Enter.
func press(env *place.Env, s *Screen, keys string) {
	for _, r := range keys {
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
		if !held {
			settle(env)
		}
	}
}

// held is set while the library keeps everything waiting. In tests what comes
// back from a worker runs beside the test, so otherwise each key waits for it.
var held bool

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
			keys = "12\n\n"
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
	if strokes > 45 {
		t.Errorf("%d key strokes for %d checks, want 45 at most", strokes, checks)
	}
	press(env, s, "\n")
	if gone := screentest.Told(env).Gone; len(gone) != 1 || gone[0].Name != place.Decide {
		t.Errorf("Enter after the last check went to %v, want Decide", gone)
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
	press(env, s, "1-0-1") // the first check three times over
	if s.Waiting() != 3 {
		t.Fatalf("%d entries wait, want 3", s.Waiting())
	}
	r, _ := s.reading(s.slot(inspect.Received, first))
	if r.Answer != inspect.Fine {
		t.Errorf("shown before it is saved: %s, want fine", r.Answer)
	}
	held = false
	lib.Release()
	settle(env)
	c := screentest.Open(t, env, id)
	var said []string
	for _, r := range c.Readings {
		said = append(said, string(r.Answer))
	}
	if strings.Join(said, " ") != "fine not_fine fine" || len(c.Conflicts) != 0 {
		t.Errorf("kept %v with %d conflicts, want fine not_fine fine and none", said, len(c.Conflicts))
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
	screentest.Told(env).Undo()
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
	if !screentest.Told(env).Undo() {
		t.Fatal("the save has no undo")
	}
	settle(env)
	if _, ok := s.kase.Current[s.slot(inspect.Received, first)]; ok || s.at != first {
		t.Errorf("after undo: answered %v, at %v; want open, at %v", ok, s.at, first)
	}
}

func TestWrongNumberKeepsWhatWasTyped(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Fresh(t, env, "look_over"))
	i := indexOfKind(s, catalog.Number)
	s.goTo(s.start(s.route[i]))
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
	s.next()
	if s.at != at {
		t.Error("'next' left a number that is none behind")
	}
}

func TestRepeatsMakeOneReading(t *testing.T) {
	env := screentest.Env(t)
	id := screentest.Fresh(t, env, "look_over")
	s := open(t, env, id)
	s.goTo(s.start(s.route[indexOfKind(s, catalog.Number)]))
	slot := s.slot(s.stage, s.at)
	press(env, s, "10\n11\n12\n\n")
	settle(env)
	r := screentest.Open(t, env, id).Current[slot]
	if r.Value != 11 || len(r.Raw) != 3 { // (10+11+12)/3, by hand
		t.Errorf("kept %g of %v, want 11 of three", r.Value, r.Raw)
	}
}

func TestPhotoAttachedAndTakenBack(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	newest := s.kase.Tray()[0]
	at := s.at
	press(env, s, "+")
	settle(env)
	if len(s.kase.Tray()) != 1 {
		t.Fatalf("the tray holds %d, want 1", len(s.kase.Tray()))
	}
	here := s.photosHere()
	if len(here) != 1 || here[0].ID != newest.ID || here[0].Check != at.check || here[0].Leg != at.leg {
		t.Errorf("photos of the check: %v, want %s", here, newest.FileName)
	}
	screentest.Told(env).Undo()
	settle(env)
	if len(s.kase.Tray()) != 2 {
		t.Errorf("the tray holds %d after undo, want 2", len(s.kase.Tray()))
	}
}

func TestImportTellsWhatCameOfEachFile(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	before := len(s.kase.Tray())
	s.Dropped([]string{"/in/IMG_1.JPG", "/in/IMG_2-undated.JPG", "/in/IMG_3-blurred.JPG", "/in/IMG_4-broken.JPG", "/in/IMG_0311.JPG"}, fyne.Position{})
	settle(env)
	if n := len(s.kase.Tray()) - before; n != 3 {
		t.Errorf("%d photos came in, want 3", n)
	}
	for _, want := range []string{"3 photos added", "IMG_2-undated.JPG: no camera date", "IMG_3-blurred.JPG: blurred, take it again", "IMG_4-broken.JPG can't be read", "IMG_0311.JPG: the same photo was here already"} {
		if !strings.Contains(s.photos.report.Text, want) {
			t.Errorf("the report lacks %q:\n%s", want, s.photos.report.Text)
		}
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
	s.tryAgain()
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
	s.back()
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
	s.openSearch()
	s.search.found = slices.DeleteFunc(s.search.found, func(p catalog.Position) bool {
		return p.Check.Kind != catalog.Number || len(p.Check.Instruments) < 2
	})
	s.openFound(0)
	p, ok := s.line()
	if !ok || p.Check.Kind != catalog.Number {
		t.Fatal("no number with two gauges was opened")
	}
	slot := s.slot(s.stage, s.at)
	press(env, s, "9\n")
	if r := s.kase.Current[slot]; r.Instrument != p.Check.Instruments[0] {
		t.Fatalf("the gauge is %q, want the first, %q", r.Instrument, p.Check.Instruments[0])
	}
	s.card.instrument.SetSelectedIndex(1)
	settle(env)
	if r := s.kase.Current[slot]; r.Instrument != p.Check.Instruments[1] || r.Value != 9 {
		t.Errorf("kept %g by %q, want 9 by %q", r.Value, r.Instrument, p.Check.Instruments[1])
	}
}

func TestDraggedOntoTheCardAttaches(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	g := newGrip(s, s.photos.cells[1].photo) // the older of two
	older := s.kase.Tray()[1].ID
	drag := func(x, y float32) {
		g.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: fyne.NewPos(x, y)}})
		g.DragEnd()
		settle(env)
	}
	drag(1180, 690)
	if len(s.kase.Tray()) != 2 {
		t.Fatal("let go over the tray, a photo left it")
	}
	drag(560, 300)
	if here := s.photosHere(); len(here) != 1 || here[0].ID != older {
		t.Errorf("let go over the card: %d photos there, want the one that was dragged", len(here))
	}
}

func TestReceivedValueIsShownWhileStripped(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	for _, at := range []spot{{"stanchions.scratch", inspect.Left, ""}} {
		s.goTo(at)
		press(env, s, "0")
		s.toStage(inspect.Stripped)
		s.goTo(at)
		if !strings.Contains(s.card.facts.Text, "As received: the nail catches") {
			t.Errorf("facts %q, want the answer as received", s.card.facts.Text)
		}
	}
}

// TestCardMarkup guards what stands on a card and where.
func TestCardMarkup(t *testing.T) {
	env := screentest.Env(t)
	s := open(t, env, screentest.Visit(t, env))
	s.goTo(spot{"seals.weep", inspect.Left, ""})
	settle(env)
	test.AssertObjectRendersToMarkup(t, "card.xml", s.card.frame)
}

func TestUnknownVisitSaysSo(t *testing.T) {
	env := screentest.Env(t)
	s := New(env, place.Where{Visit: "none"}).(*Screen)
	env.Window.SetContent(s.Content())
	s.Opened()
	settle(env)
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

// TestPictures writes the screen to look at into the folder that
// FORKWEAR_SHEET names.
func TestPictures(t *testing.T) {
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		t.Skip("set FORKWEAR_SHEET to a folder to get the pictures")
	}
	for _, dark := range []bool{false, true} {
		env := screentest.EnvIn(t, dark)
		s := open(t, env, screentest.Visit(t, env))
		shot := func(name string, w, h float32) {
			env.Window.Resize(fyne.NewSize(w, h))
			settle(env)
			picture(t, env, fmt.Sprintf("%s/inspect-%s-dark=%v.png", dir, name, dark))
		}
		s.goTo(spot{"seals.weep", inspect.Left, ""})
		settle(env)
		shot("grade", 1190, 700)
		s.next()
		shot("fine", 1190, 700)
		s.goTo(s.start(s.route[indexOfKind(s, catalog.Number)]))
		press(env, s, "1.2.3\n")
		shot("number", 1190, 700)
		s.card.number.SetText("")
		s.toStage(inspect.Stripped)
		shot("stripped", 1190, 700)
		for i, p := range s.route {
			if len(p.Check.Points) > 0 {
				s.goTo(s.start(s.route[i]))
				break
			}
		}
		shot("points", 1190, 700)
		s.openSearch()
		shot("search", 1190, 700)
		s.closeSearch()
		shot("narrow", 552, 400)
	}
}

func picture(t *testing.T, env *place.Env, file string) {
	t.Helper()
	img := software.RenderCanvas(env.Window.Canvas(), fyne.CurrentApp().Settings().Theme())
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}
