package shop

import (
	"context"
	"math"
	"slices"
	"sync"
	"testing"

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
	b.say(c, "seals.weep", inspect.Left, inspect.Received, inspect.Graded, 2)
	k, _ := cat.Check("seals.weep")
	part, _ := cat.Part(k.Part)
	safeFor := func(safety bool) float64 {
		k.Safety = safety
		k.Life = 120
		f := verdict.Finding{Check: k, Leg: inspect.Left, Reading: &inspect.Reading{Answer: inspect.Graded, Value: 2}}
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
	// So is a correction that changes neither count nor end of scale.
	b.say(o, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 1)
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
