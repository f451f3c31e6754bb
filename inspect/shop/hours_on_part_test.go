package shop

import (
	"math"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// Hours that drop between visits set the fitting aside and tell it; a number is
// still judged by its limit, and a grade by its limit grade.
func TestHoursThatDrop(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 400)
	b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 1)
	c = b.days(40).visit("look_over", 100)
	b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 3)
	a := b.assess(c)[position{"bushings", inspect.Right}]
	told := false
	for _, r := range a.Reasons {
		told = told || r.Rule == 8 && r.Check == "bushings.feel"
	}
	if a.Verdict != inspect.Replace || !a.NoTrend || a.HoursLeft != nil || !told {
		t.Errorf("%+v: want replace, no trend, and the reason told", a)
	}
}

// Two visits at one moment keep their order; a visit without hours borrows those
// of the last one and shows no younger part.
func TestTwoVisitsOnOneDayAndNoClaim(t *testing.T) {
	b := newBench(t)
	c1 := b.visit("look_over", 200)
	b.say(c1, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 1)
	c2 := b.visit("look_over", 201)
	if len(c2.Earlier) != 1 || len(b.open(c1.Visit.ID).Earlier) != 0 {
		t.Errorf("earlier visits %d and %d, want 1 and 0", len(c2.Earlier), len(b.open(c1.Visit.ID).Earlier))
	}
	c3 := b.days(20).visit("look_over", 0, func(in *Intake) { in.HoursFrom = "none" })
	if c3.Claim.Hours != 201 || !c3.Claim.AtLeast {
		t.Errorf("claim %+v, want 201 h at least", c3.Claim)
	}
	b.say(c3, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 2)
	if a := b.assess(c3)[position{"bushings", inspect.Left}]; a.TNow != 201 || a.WearUsed == nil {
		t.Errorf("%+v: want 201 h on the part and its wear", a)
	}
}

// A fork of 'at least' hours: the part's own clock starts at its first reading.
func TestUnknownAge(t *testing.T) {
	b := newBench(t)
	old := func(in *Intake) { in.AtLeast = true }
	c := b.visit("look_over", 300, old)
	b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 2)
	k, _ := cat.Check("bushings.feel")
	g, err := b.desk.Group(ctx, k, c.Sheet)
	b.must(err)
	for _, s := range g.series {
		if !s.unit.AgeUnknown || s.points[0].hours != 0 {
			t.Errorf("unit %+v at %g h, want age unknown at 0", s.unit, s.points[0].hours)
		}
	}
	if a := b.assess(c)[position{"bushings", inspect.Left}]; a.TNow != 0 || a.WearUsed == nil {
		t.Errorf("%+v: want 0 h on the part as far as known", a)
	}
}

// A check that grows by months counts calendar months; parts that came with the
// fork are of unknown age in months, and months are never told as hours.
func TestMonths(t *testing.T) {
	b := newBench(t)
	c := b.visit("full", 300)
	b.say(c, "seals.old", inspect.Left, inspect.Stripped, inspect.Graded, 1)
	b.must(b.desk.Renew(ctx, c, []Renewal{{Part: "wiper", Leg: inspect.Right}}))
	c = b.days(365).visit("full", 400)
	b.say(c, "seals.old", inspect.Left, inspect.Stripped, inspect.Graded, 2)
	b.say(c, "seals.old", inspect.Right, inspect.Stripped, inspect.Graded, 1)
	k, _ := cat.Check("seals.old")
	g, err := b.desk.Group(ctx, k, c.Sheet)
	b.must(err)
	known, unknown := 0, 0
	for _, s := range g.series {
		if s.unit.AgeUnknown {
			unknown++
			continue
		}
		known++
		if m := s.points[0].hours; math.Abs(m-12) > 0.1 { // 365 days are 12 months
			t.Errorf("the new wiper is %g months old, want 12", m)
		}
	}
	if known != 1 || unknown != 1 {
		t.Errorf("%d of known and %d of unknown age, want 1 and 1", known, unknown)
	}
	as := b.assess(c)
	a := as[position{"wiper", inspect.Left}]
	if a.LeadCheck == "seals.old" && a.HoursLeft != nil {
		t.Error("months left are told as hours left")
	}
}

// Points of a check are one finding: one point that is over counts.
func TestPointsAreReduced(t *testing.T) {
	b := newBench(t)
	c := b.visit("crash", 100)
	k, _ := cat.Check("stanchions.straight")
	for i, v := range []float64{*k.New, *k.Limit + 50*math.Abs(*k.Limit-*k.New)} {
		_, err := b.desk.Answer(ctx, c, Answer{Check: k.ID, Leg: inspect.Left, Stage: inspect.Stripped, Point: k.Points[i], Answer: inspect.Measured, Value: v})
		b.must(err)
	}
	a := b.assess(c)[position{"stanchion", inspect.Left}]
	if len(a.ReadingIDs) < 2 || a.Verdict != inspect.Replace || decided(a).Check != k.ID {
		t.Errorf("%s by %+v on %v: want replace by the worse of two points", a.Verdict, decided(a), a.ReadingIDs)
	}
	one, _ := b.desk.asCame(c, catalog.Check{ID: "x"}, inspect.Left)
	if one != nil {
		t.Error("a check without readings has one")
	}
}
