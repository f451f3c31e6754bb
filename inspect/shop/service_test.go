package shop

import (
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/verdict"
)

// Undo: what stood before stands again; undoing the undo brings the entry back;
// a slot never gets two heads; nothing is erased.
func TestUndoChain(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 100)
	slot := inspect.Slot{VisitID: c.Visit.ID, Stage: inspect.Received, Check: "seals.weep", Leg: inspect.Left}
	stands := func(what string, want float64, there bool) {
		t.Helper()
		r, ok := c.Current[slot]
		if ok != there || ok && r.Value != want || len(c.Conflicts) != 0 {
			t.Errorf("%s: %v %g with %d conflicts, want %v %g and none", what, ok, r.Value, len(c.Conflicts), there, want)
		}
	}
	newest := func() inspect.ID { r, _ := c.head(slot); return r.ID }
	first := b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 1)
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 3)
	stands("corrected", 3, true)
	if err := b.desk.Undo(ctx, c, first.ID); inspect.CodeOf(err) != inspect.Conflict {
		t.Errorf("undo of a corrected entry: %v, want a conflict", err)
	}
	b.must(b.desk.Undo(ctx, c, newest()))
	stands("undo", 1, true)
	b.must(b.desk.Undo(ctx, c, newest()))
	stands("undo of the undo", 3, true)
	b.must(b.desk.Undo(ctx, c, newest()))
	stands("and back", 1, true)

	// step by step down to where it began: what was brought back is undone by
	// the id of the entry itself
	second := b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 2)
	b.must(b.desk.Undo(ctx, c, second.ID))
	stands("the second taken back", 1, true)
	b.must(b.desk.Undo(ctx, c, first.ID))
	stands("then the first", 0, false)

	c = b.days(1).visit("look_over", 110)
	slot.VisitID = c.Visit.ID
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 2)
	b.must(b.desk.Undo(ctx, c, newest()))
	stands("undo of the only entry", 0, false)
	if a := b.assess(c)[position{"wiper", inspect.Left}]; len(a.ReadingIDs) != 0 {
		t.Errorf("the verdict stands on %v, all taken back", a.ReadingIDs)
	}
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 4)
	stands("answered again after the undo", 4, true)
	b.must(b.desk.Undo(ctx, c, newest()))
	stands("undone to the empty slot", 0, false)
	b.must(b.desk.Undo(ctx, c, newest()))
	stands("brought back", 4, true)
	if len(c.Readings) != 5 {
		t.Errorf("%d entries kept, want all 5", len(c.Readings))
	}
	if err := b.desk.Undo(ctx, c, "none"); inspect.CodeOf(err) != inspect.NotFound {
		t.Errorf("undo of an unknown entry: %v", err)
	}
}

// Domain 4 and 6: a renewal inside the visit changes neither the verdict on what
// came in nor its series; what is read after the work starts the new part's,
// whether it was read before or after the renewal was entered.
func TestNewPartStartsItsSeries(t *testing.T) {
	b := newBench(t)
	b.visit("look_over", 10)
	c := b.days(60).visit("look_over", 200)
	old := b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 4).FittingID
	early := b.say(c, "seals.weep", inspect.Left, inspect.AfterWork, inspect.Graded, 0)
	if early.FittingID != old {
		t.Fatalf("before the renewal there is the old part only")
	}
	before := b.assess(c)[position{"wiper", inspect.Left}]
	b.must(b.desk.Decide(ctx, c, verdict.Rules{}))
	if n, err := b.desk.RenewDecided(ctx, c); err != nil || n == 0 {
		t.Fatalf("%d renewed, %v", n, err)
	}
	if n, err := b.desk.RenewDecided(ctx, c); err != nil || n != 0 {
		t.Errorf("asked twice it renews %d more, %v", n, err)
	}
	after := b.assess(c)[position{"wiper", inspect.Left}]
	if after.Verdict != before.Verdict || after.FittingID != old || after.PThen != before.PThen {
		t.Errorf("the renewal changed the verdict on what came in: %+v, was %+v", after, before)
	}
	moved := c.Current[early.Slot()]
	if moved.FittingID == old || moved.Value != 0 {
		t.Errorf("the reading after the work lies on %q, want the new part", moved.FittingID)
	}
	c = b.days(60).visit("look_over", 300)
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 1)
	k, _ := cat.Check("seals.weep")
	tr, err := b.desk.Trend(ctx, c, k, inspect.Left)
	if err != nil || tr == nil || len(tr.Points) != 2 || tr.Points[0].Hours != 0 || tr.Points[1].Hours != 100 {
		t.Errorf("%+v, %v: want the new part's readings at 0 and 100 h", tr, err)
	}
	if was := b.open(before.VisitID); b.assess(was)[position{"wiper", inspect.Left}].FittingID != old {
		t.Error("the earlier visit no longer sees the part that came in")
	}
}

// What the customer declined is not renewed; the newest answer counts.
func TestDeclinedIsNotRenewed(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 200)
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 4)
	b.say(c, "seals.weep", inspect.Right, inspect.Received, inspect.Graded, 4)
	b.must(b.desk.Decide(ctx, c, verdict.Rules{}))
	for _, a := range c.Assessments {
		if a.Part == "wiper" {
			b.must(b.desk.Consent(ctx, c, a, a.Leg == inspect.Left, "A. Rider", "phone", ""))
			b.must(b.desk.Consent(ctx, c, a, a.Leg == inspect.Right, "A. Rider", "phone", ""))
		}
	}
	_, err := b.desk.RenewDecided(ctx, c)
	b.must(err)
	if c.Renewed("wiper", inspect.Left) || !c.Renewed("wiper", inspect.Right) {
		t.Errorf("renewed left %v right %v: want only the right, agreed to last", c.Renewed("wiper", inspect.Left), c.Renewed("wiper", inspect.Right))
	}
}

// Domain 6: F failed in use, W for wear by our verdict, S by schedule, C crash,
// X override, and what was bad at a fork's first visit is state on arrival.
func TestEndOf(t *testing.T) {
	for name, tc := range map[string]struct {
		rule     int
		check    string
		first    bool
		level    string
		verdict  inspect.Verdict
		override bool
		want     inspect.EndReason
	}{
		"failed":              {2, "seals.fitting_damage", false, "full", inspect.Replace, false, inspect.EndFailed},
		"do not ride":         {1, "crown.cracks", false, "look_over", inspect.Replace, false, inspect.EndFailed},
		"crash":               {1, "crown.cracks", false, "crash", inspect.Replace, false, inspect.EndCrash},
		"failed, crash visit": {2, "seals.fitting_damage", false, "crash", inspect.Replace, false, inspect.EndFailed},
		"over":                {3, "seals.weep", false, "full", inspect.Replace, false, inspect.EndWorn},
		"will not last":       {5, "seals.weep", false, "full", inspect.Replace, false, inspect.EndWorn},
		"uncertain":           {6, "bushings.rock", false, "full", inspect.Replace, false, inspect.EndWorn},
		"schedule":            {4, "", false, "full", inspect.Replace, false, inspect.EndSchedule},
		"schedule at first":   {4, "", true, "full", inspect.Replace, false, inspect.EndSchedule},
		"override":            {8, "", false, "full", inspect.Reuse, true, inspect.EndOverride},
		"override at first":   {8, "", true, "full", inspect.Reuse, true, inspect.EndOverride},
		"agreeing override":   {3, "seals.weep", false, "full", inspect.Replace, true, inspect.EndWorn},
		"arrival, broken":     {2, "seals.fitting_damage", true, "full", inspect.Replace, false, inspect.EndArrival},
		"arrival, worn":       {3, "seals.weep", true, "full", inspect.Replace, false, inspect.EndArrival},
	} {
		t.Run(name, func(t *testing.T) {
			c := &Case{Visit: inspect.Visit{ID: "v", Level: tc.level}}
			if !tc.first {
				c.Earlier = []Earlier{{}}
			}
			a := inspect.Assessment{Verdict: tc.verdict, Reasons: []inspect.Reason{{Rule: 7}, {Rule: tc.rule, Check: tc.check, Decide: true}}}
			if tc.override {
				a.Override = &inspect.Override{Verdict: inspect.Replace}
			}
			if got := (&Desk{Catalog: cat}).EndOf(c, a); got != tc.want {
				t.Errorf("%q, want %q", got, tc.want)
			}
		})
	}
}

// A fork whose data sheet is not in the catalog is refused with the way out.
func TestUnknownSheet(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 10)
	f := b.lib.forks[c.Fork.ID]
	f.Sheet = "gone"
	b.lib.forks[c.Fork.ID] = f
	if _, err := b.desk.Open(ctx, c.Visit.ID); inspect.CodeOf(err) != inspect.NotFound {
		t.Errorf("%v, want not found", err)
	}
}

// 'Zone seen' answers every open line of the zone and blocks nothing; 'cannot
// be seen' neither (domain rule 7).
func TestZoneSeenAnswersItsLines(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 10)
	missing := func() (n int) {
		for _, a := range b.assess(c) {
			for _, r := range a.Reasons {
				if r.Rule == 7 && r.Check == "crown.cracks" {
					n++
				}
			}
		}
		return n
	}
	if missing() != 1 {
		t.Fatalf("%d lines miss the crown's cracks at first, want 1", missing())
	}
	k, _ := cat.Check("crown.cracks")
	n, err := b.desk.ZoneSeen(ctx, c, k.Zone, inspect.Whole, inspect.Received)
	if err != nil || n == 0 || missing() != 0 {
		t.Errorf("%d answered, %v, %d still missing", n, err, missing())
	}
	b.say(c, "crown.cracks", inspect.Whole, inspect.Received, inspect.NotLooked, 0)
	if missing() != 1 {
		t.Error("'not looked at' counts as looked at")
	}
	b.say(c, "crown.cracks", inspect.Whole, inspect.Received, inspect.CannotSee, 0)
	if missing() != 0 {
		t.Error("'cannot be seen' blocks")
	}
}

// A decision that nothing changed for keeps its id, and so its override and the
// customer's answer; a no outlives new grounds for the same replacement.
func TestDecideAgainKeepsAnswers(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 200)
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 3)
	b.must(b.desk.Decide(ctx, c, verdict.Rules{}))
	wiper := func() inspect.Assessment {
		for _, a := range c.Assessments {
			if a.Part == "wiper" && a.Leg == inspect.Left {
				return a
			}
		}
		return inspect.Assessment{}
	}
	first := wiper()
	b.must(b.desk.Consent(ctx, c, first, false, "A. Rider", "phone", ""))
	b.must(b.desk.Decide(ctx, c, verdict.Rules{}))
	if wiper().ID != first.ID {
		t.Error("an unchanged decision was made anew: its answers are lost")
	}
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 4)
	b.must(b.desk.Decide(ctx, c, verdict.Rules{}))
	_, err := b.desk.RenewDecided(ctx, c)
	b.must(err)
	if wiper().ID == first.ID || c.Renewed("wiper", inspect.Left) {
		t.Errorf("new grounds: same decision %v, renewed against the customer's no %v", wiper().ID == first.ID, c.Renewed("wiper", inspect.Left))
	}
}

// Domain 3: the newest reading against the earlier ones, one-sided. Grade 1 at
// 100 and 200 h, then 4 at 220 h of an expected 600 is a departure; 1 is none.
func TestFaster(t *testing.T) {
	for value, want := range map[float64]int{1: 0, 4: 1} {
		b := newBench(t)
		for _, h := range []float64{100, 200} {
			c := b.days(50).visit("look_over", h)
			b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 1)
		}
		c := b.days(10).visit("look_over", 220)
		b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, value)
		got, err := b.desk.Faster(ctx, c)
		if err != nil || len(got) != want {
			t.Errorf("grade %g: %+v, %v; want %d", value, got, err, want)
		}
	}
}
