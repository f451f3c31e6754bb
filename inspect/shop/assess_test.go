package shop

import (
	"context"
	"math"
	"slices"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/verdict"
	"forkwear/inspect/wear"
)

var ctx = context.Background()

// Domain rule: a part takes the worst of its checks; one asked of the whole
// fork speaks of both legs, and its trend is seen from both.
func TestWholeForkCheckCountsForBothLegs(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 100)
	r := b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 1)
	if r.FittingID == "" {
		t.Fatal("the reading lies on no fitting, so it has no trend")
	}
	c = b.days(100).visit("look_over", 300)
	b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 2)
	as := b.assess(c)
	left, right := as[position{"bushings", inspect.Left}], as[position{"bushings", inspect.Right}]
	if left.LeadCheck != "bushings.feel" || left.WearUsed == nil || right.WearUsed == nil || *left.WearUsed != *right.WearUsed || left.PThen != right.PThen {
		t.Errorf("left %+v right %+v: want the same wear on both", left, right)
	}
	k, _ := cat.Check("bushings.feel")
	for _, leg := range []inspect.Leg{inspect.Left, inspect.Right, inspect.Whole} {
		tr, err := b.desk.Trend(ctx, c, k, leg)
		if err != nil || tr == nil || len(tr.Points) != 2 {
			t.Errorf("trend at %q: %+v, %v; want two points", leg, tr, err)
		}
	}
	b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 3) // limit grade 3 in the catalog
	as = b.assess(c)
	for _, leg := range []inspect.Leg{inspect.Left, inspect.Right} {
		if a := as[position{"bushings", leg}]; a.Verdict != inspect.Replace || decided(a).Rule != 3 {
			t.Errorf("%s: %s by rule %d, want replace by rule 3", leg, a.Verdict, decided(a).Rule)
		}
	}
	// One leg renewed: the check still finds the worse, older one.
	b.must(b.desk.Renew(ctx, c, []Renewal{{Part: "bushings", Leg: inspect.Left}}))
	c = b.days(10).visit("look_over", 310)
	if r2 := b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 3); c.legOf(r2.FittingID) != inspect.Right {
		t.Errorf("after the left was renewed the reading lies on the %s one, want right", c.legOf(r2.FittingID))
	}
}

// Which fitting holds a whole-fork check does not hang on the library's order.
func TestHolderIsTheOldest(t *testing.T) {
	for _, leg := range []inspect.Leg{inspect.Left, inspect.Right} {
		b := newBench(t)
		c := b.visit("look_over", 100)
		b.must(b.desk.Renew(ctx, c, []Renewal{{Part: "bushings", Leg: leg}}))
		c = b.days(10).visit("look_over", 200)
		k, _ := cat.Check("bushings.feel")
		for i := 0; i < 2; i++ {
			f, ok := c.holder(k, cat, inspect.Whole)
			if !ok || f.Leg == leg {
				t.Errorf("%s renewed: the check lies on the %s one, want the older", leg, f.Leg)
			}
			slices.Reverse(c.Fittings)
		}
	}
}

// After the work is no evidence on what came in: neither for its verdict nor
// for its forecast.
func TestAfterWorkIsNoEvidence(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 100)
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.CannotSee, 0)
	b.say(c, "seals.weep", inspect.Left, inspect.AfterWork, inspect.Graded, 4)
	if a := b.assess(c)[position{"wiper", inspect.Left}]; a.WearUsed != nil && a.LeadCheck == "seals.weep" {
		t.Errorf("wear used %g from a reading after the work", *a.WearUsed)
	}
}

// The hours for which a part is good come from the threshold of its own mark.
func TestSafeForOfSafetyMarked(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 40)
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 1)
	k, _ := cat.Check("seals.weep")
	part, _ := cat.Part(k.Part)
	safeFor := func(safety bool) float64 {
		k.Safety = safety
		k.Life = 400
		f := verdict.Finding{Check: k, Leg: inspect.Left, Reading: &inspect.Reading{Answer: inspect.Graded, Value: 1}}
		c.history = nil
		c.Sheet.Lives = nil
		b.must(b.desk.wearOf(ctx, c, catalog.PartAt{Part: part, Leg: inspect.Left}, &f, verdict.Rules{Threshold: 0.5, SafetyLimit: 0.001}))
		return f.Wear.SafeFor
	}
	if plain, safe := safeFor(false), safeFor(true); !(safe < plain) {
		t.Errorf("good for %g h safety-marked and %g h plain", safe, plain)
	}
}

func (c *Case) legOf(id inspect.ID) inspect.Leg {
	for _, f := range c.Fittings {
		if f.ID == id {
			return f.Leg
		}
	}
	return "none"
}

// A check of each leg on a part of the whole fork: each leg has a series of its own.
func TestLegCheckOfWholePart(t *testing.T) {
	b := newBench(t)
	c := b.visit("full", 100)
	l := b.say(c, "lowers.inside", inspect.Left, inspect.Stripped, inspect.Graded, 1)
	r := b.say(c, "lowers.inside", inspect.Right, inspect.Stripped, inspect.Graded, 4)
	if l.FittingID == "" || l.FittingID != r.FittingID {
		t.Fatalf("fittings %q and %q, want the lowers for both", l.FittingID, r.FittingID)
	}
	a := b.assess(c)[position{"lowers", inspect.Whole}]
	if d := decided(a); d.Leg != inspect.Right && a.Remedy == "clean" {
		t.Errorf("decided by %+v, want the right leg", d)
	}
	k, _ := cat.Check("lowers.inside")
	tr, err := b.desk.Trend(ctx, c, k, inspect.Left)
	if err != nil || tr == nil || len(tr.Points) != 1 || tr.Points[0].Raw != 1 {
		t.Errorf("left trend %+v %v, want its own grade 1", tr, err)
	}
}

// Ends of the grading scale enter as bounds (domain 1): grade 0 at or below
// s/2/(G - s/2) = 0.5/2.5 with step 1 and G = 3.
func TestEndsOfScaleAreBounds(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 50)
	b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 0)
	k, _ := cat.Check("bushings.feel")
	g, err := b.desk.Group(ctx, k, c.Sheet)
	b.must(err)
	for _, s := range g.series {
		o := s.points[0].obs
		want := 0.5 / 2.5
		if k.HalfSteps {
			want = 0.25 / 2.75
		}
		if !o.Left || math.Abs(o.Value-want) > 1e-12 {
			t.Errorf("observation %+v, want left-censored at %g", o, want)
		}
	}
}

// Domain 4: stripped before received; an answer before 'cannot be seen', 'not
// looked at' and 'zone seen'; after the work is not what came in.
func TestWhichReadingCounts(t *testing.T) {
	type said struct {
		stage inspect.Stage
		a     inspect.Answer
		v     float64
	}
	for name, tc := range map[string]struct {
		check string
		said  []said
		want  inspect.Verdict
		rule  int
	}{
		"stripped good over received bad": {"seals.lower_seal", []said{{inspect.Received, inspect.Graded, 4}, {inspect.Stripped, inspect.Graded, 0}}, inspect.Reuse, 8},
		"stripped bad over received good": {"seals.lower_seal", []said{{inspect.Received, inspect.Graded, 0}, {inspect.Stripped, inspect.Graded, 4}}, inspect.Replace, 3},
		"cannot see hides nothing":        {"seals.lower_seal", []said{{inspect.Received, inspect.Graded, 4}, {inspect.Stripped, inspect.CannotSee, 0}}, inspect.Replace, 3},
		"not looked hides nothing":        {"seals.lower_seal", []said{{inspect.Received, inspect.Graded, 4}, {inspect.Stripped, inspect.NotLooked, 0}}, inspect.Replace, 3},
		"zone seen hides nothing":         {"seals.lower_seal", []said{{inspect.Received, inspect.Graded, 4}, {inspect.Stripped, inspect.ZoneSeen, 0}}, inspect.Replace, 3},
		"after work only":                 {"seals.weep", []said{{inspect.Received, inspect.Graded, 0}, {inspect.AfterWork, inspect.Graded, 4}}, inspect.Reuse, 8},
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			c := b.visit("look_over", 20, func(in *Intake) {
				if tc.check == "seals.lower_seal" {
					in.Fork.Sheet = "generic_36_coil_closed_unit_inverted"
				}
			})
			k, _ := cat.Check(tc.check)
			for _, s := range tc.said {
				b.say(c, tc.check, inspect.Left, s.stage, s.a, s.v)
			}
			in := verdict.Input{Opened: true}
			in.Part, _ = cat.Part(k.Part)
			f, err := b.desk.finding(ctx, c, catalog.PartAt{Part: in.Part, Leg: inspect.Left}, catalog.Position{Check: k, Leg: inspect.Left}, verdict.Rules{})
			b.must(err)
			in.Findings = []verdict.Finding{f}
			in.Horizon = 10
			a := verdict.Decide(in, verdict.Rules{})
			if a.Verdict != tc.want || decided(a).Rule != tc.rule {
				t.Errorf("%s by rule %d (%s), want %s by %d", a.Verdict, decided(a).Rule, decided(a).Why, tc.want, tc.rule)
			}
		})
	}
}

// Domain rule 1: the mark stays until a new reading of that check clears it,
// over visits too; looking over the zone does not.
func TestDoNotRideStaysUntilCleared(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 100)
	b.say(c, "lowers.axle", inspect.Whole, inspect.Received, inspect.NotFine, 0)
	b.must(b.desk.Decide(ctx, c, verdict.Rules{}))
	s, err := b.desk.Story(ctx, c)
	b.must(err)
	if !s.DoNotRide {
		t.Fatal("a stripped axle thread is no do-not-ride")
	}
	if n, err := b.desk.RenewDecided(ctx, c); err != nil || c.Renewed("axle", inspect.Whole) {
		t.Errorf("%d renewed, %v: the remedy is rework, so no new part goes in by itself", n, err)
	}
	c2 := b.days(30).visit("look_over", 120)
	b.say(c2, "lowers.axle", inspect.Whole, inspect.Received, inspect.ZoneSeen, 0)
	if a := b.assess(c2)[position{"axle", inspect.Whole}]; !a.DoNotRide || decided(a).Rule != 1 {
		t.Errorf("next visit: %+v, want the mark to stand", a)
	}
	b.must(b.desk.Decide(ctx, c2, verdict.Rules{}))
	b.say(c2, "lowers.axle", inspect.Whole, inspect.AfterWork, inspect.Fine, 0)
	if s, err = b.desk.Story(ctx, c2); err != nil || s.DoNotRide {
		t.Errorf("after the rework was read as fine: do not ride %v, %v", s.DoNotRide, err)
	}
	c3 := b.days(30).visit("look_over", 140)
	if a := b.assess(c3)[position{"axle", inspect.Whole}]; a.DoNotRide {
		t.Error("the mark is back although a reading cleared it")
	}
}

// A part that nothing opened gets a forecast and no verdict.
func TestNotOpenedIsAForecast(t *testing.T) {
	b := newBench(t)
	c := b.visit("lowers", 20)
	b.say(c, "seals.foam", inspect.Left, inspect.Stripped, inspect.Graded, 1)
	c = b.days(60).visit("look_over", 120)
	a := b.assess(c)[position{"foam_ring", inspect.Left}]
	if !a.NotOpened || a.Verdict != inspect.Reuse || a.PThen < 0.5 || a.NextLevel == "" {
		t.Errorf("foam ring of a 100 h life unseen at 120 h: %+v; want not opened, no verdict, a forecast and the level of the next look", a)
	}
}

// Safety-marked parts: the same threshold for the verdict and for the hours for
// which the part is good (0.05 against 0.20).
func TestSafeForTakesTheThreshold(t *testing.T) {
	post := wear.Posterior{Mu: [2]float64{0.5, 0.002}, S: [2][2]float64{{0.01, 0}, {0, 1e-7}}}
	plain, safe := safeFor(post, 0, 200, 0.20, 10), safeFor(post, 0, 200, 0.05, 10)
	if !(safe < plain) || safe <= 0 {
		t.Errorf("good for %g h at 0.05 and %g h at 0.20: want the first smaller", safe, plain)
	}
	for _, x := range []struct{ h, p float64 }{{plain, 0.20}, {safe, 0.05}} {
		in, _ := wear.PExceed(post, 0, x.h, 0.2*x.h)
		out, _ := wear.PExceed(post, 0, x.h+10, 0.2*(x.h+10))
		if in > x.p || out <= x.p {
			t.Errorf("chance %.3f at %g h and %.3f ten hours on, want %g between", in, x.h, out, x.p)
		}
	}
}

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

// A desk may be asked from several goroutines, and fits a history once.
func TestDeskIsSafeAndRemembers(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 100)
	b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 1)
	var wg sync.WaitGroup
	for i := 0; i < 4; i++ {
		wg.Add(1)
		go func() {
			defer wg.Done()
			own, err := b.desk.Open(ctx, c.Visit.ID)
			if err == nil {
				_, err = b.desk.Assess(ctx, own, verdict.Rules{})
			}
			if err != nil {
				t.Error(err)
			}
		}()
	}
	wg.Wait()
	before, fits := b.assess(c), len(b.desk.fits)
	fetched := b.lib.fetched
	b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 2)
	after := b.assess(c)
	if b.lib.fetched != fetched || len(b.desk.fits) != fits {
		t.Errorf("an answer cost %d fetches and %d fits, want none", b.lib.fetched-fetched, len(b.desk.fits)-fits)
	}
	at := position{"bushings", inspect.Left}
	if !(after[at].PThen > before[at].PThen) {
		t.Errorf("chance %.3f at grade 1 and %.3f at grade 2: the new reading is not seen", before[at].PThen, after[at].PThen)
	}
	// Another visit's reading is seen when the case is opened anew.
	b.fork = ""
	o := b.visit("look_over", 400)
	b.say(o, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 0)
	if again := b.assess(b.open(c.Visit.ID)); again[at].PThen == after[at].PThen {
		t.Error("a reading of another fork is not seen after opening anew")
	}
	// So is a correction that changes no count.
	was := b.assess(b.open(c.Visit.ID))[at].PThen
	b.say(o, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 2)
	if b.assess(b.open(c.Visit.ID))[at].PThen == was {
		t.Error("a corrected reading of another fork is not seen after opening anew")
	}
	for i := 0; i < mostFits+5; i++ {
		_, err := b.desk.fit("x", wear.Data{}, nil, wear.DefaultPrior(float64(100+i)))
		b.must(err)
	}
	if len(b.desk.fits) != mostFits || len(b.desk.order) != mostFits {
		t.Errorf("%d fits remembered, want at most %d", len(b.desk.fits), mostFits)
	}
}

// The horizon is the interval, or the 0.8 quantile about the mean of interval
// and own gaps: (50 + 150 + 250)/3 * (1 + 0.8416*0.2) for a fork of a 50 h
// interval that came at 100, 250 and 500 h. 0.8416: standard normal quantile.
func TestHorizonByOwnUse(t *testing.T) {
	b := newBench(t)
	c := b.visit("lowers", 100)
	if h := b.desk.horizon(c, "wiper"); h != 50 {
		t.Errorf("horizon %g at the first visit, want the level's 50", h)
	}
	b.days(100).visit("lowers", 250)
	c = b.days(100).visit("lowers", 500)
	if h, want := b.desk.horizon(c, "wiper"), 150*(1+0.8416*0.2); math.Abs(h-want) > 1e-9 {
		t.Errorf("horizon %g, want %g", h, want)
	}
}

// More wear in the newest reading never turns replace into reuse (domain 4).
func TestMoreWearNeverLooksBetter(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 150)
	b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 1)
	c = b.days(90).visit("look_over", 350)
	at, worst, p := position{"bushings", inspect.Right}, 0, 0.0
	for g := 0.0; g <= 5; g++ {
		b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, g)
		a := b.assess(c)[at]
		r := map[inspect.Verdict]int{inspect.Reuse: 0, inspect.Measure: 1, inspect.Replace: 2}[a.Verdict]
		if r < worst || a.PThen < p-1e-6 {
			t.Errorf("grade %g: %s with chance %.4f after %.4f", g, a.Verdict, a.PThen, p)
		}
		worst, p = r, a.PThen
	}
	if worst != 2 {
		t.Error("grade 5 is not replaced")
	}
}

// The same over drawn histories of a number with its own uncertainty, and of
// hours: the chance not to last never falls with the newest reading.
func TestMoreWearNeverLooksBetterDrawn(t *testing.T) {
	k, _ := cat.Check("bushings.rock")
	rapid.Check(t, func(r *rapid.T) {
		b := newBench(t)
		hours, value := 0.0, 0.0
		for n := rapid.IntRange(0, 3).Draw(r, "visits"); n > 0; n-- {
			hours += rapid.Float64Range(0, 200).Draw(r, "hours")
			value = rapid.Float64Range(0, 0.2).Draw(r, "rock")
			b.say(b.days(30).visit("look_over", hours), k.ID, inspect.Whole, inspect.Received, inspect.Measured, value)
		}
		hours += rapid.Float64Range(0, 300).Draw(r, "now")
		c := b.days(30).visit("look_over", hours)
		low := rapid.Float64Range(0, 0.3).Draw(r, "low")
		high := low + rapid.Float64Range(0, 0.2).Draw(r, "more")
		at := position{"bushings", inspect.Right}
		b.say(c, k.ID, inspect.Whole, inspect.Received, inspect.Measured, low)
		was := b.assess(c)[at]
		b.say(c, k.ID, inspect.Whole, inspect.Received, inspect.Measured, high)
		is := b.assess(c)[at]
		if is.PThen < was.PThen-1e-6 || was.Verdict == inspect.Replace && is.Verdict == inspect.Reuse {
			r.Fatalf("%g: %s %.4f; %g: %s %.4f", low, was.Verdict, was.PThen, high, is.Verdict, is.PThen)
		}
	})
}

func benchAssess(b *testing.B, visits int, cold bool) {
	w := newBench(b)
	grades := map[string]func(h float64) float64{"bushings.feel": func(h float64) float64 { return math.Min(5, math.Floor(h/250)) },
		"seals.weep": func(h float64) float64 { return math.Min(5, math.Floor(h/90)) }}
	var c *Case
	for n := 0; n < visits; n += 3 {
		w.fork = ""
		for v := 1; v <= 3; v++ {
			c = w.days(1).visit("look_over", float64(100*v+n%70))
			for check, of := range grades {
				k, _ := cat.Check(check)
				for _, leg := range c.Sheet.LegsOf(k.Legs) {
					r, err := w.desk.reading(c, Answer{Check: check, Leg: leg, Stage: inspect.Received, Answer: inspect.Graded, Value: of(c.Claim.Hours)})
					w.must(err)
					w.must(w.lib.AddReadings(ctx, r))
				}
			}
			w.lib.visits[len(w.lib.visits)-1].Collected = time.Now()
		}
	}
	c = w.open(c.Visit.ID)
	w.assess(c)
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		if cold {
			w.desk.fits, w.desk.order = nil, nil
			c = w.open(c.Visit.ID)
		} else {
			w.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, float64(1+i%3))
		}
		w.assess(c)
	}
}

func BenchmarkAnswerAndAssess100(b *testing.B)  { benchAssess(b, 100, false) }
func BenchmarkAnswerAndAssess2000(b *testing.B) { benchAssess(b, 2000, false) }
func BenchmarkOpenAndFit100(b *testing.B)       { benchAssess(b, 100, true) }
func BenchmarkOpenAndFit2000(b *testing.B)      { benchAssess(b, 2000, true) }
