package inspection

import (
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

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
