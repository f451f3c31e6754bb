package verdict

import (
	"math"

	"forkwear/inspect"
	"forkwear/inspect/catalog"

	"gonum.org/v1/gonum/stat/distuv"
)

// measureAgain is rule 6: only for a measured check in doubt (chance over the
// limit between 1 - Sure and Sure), only where a better reading could change
// the verdict with a chance of WorthAsking, and only where the part is worth
// it. After such a reading it decides although uncertain.
//
// A reading of uncertainty u' moves the mean of N(m, v) by N(0, v²/(v + u'²))
// (normal updating; JCGM 106 for the decision).
func measureAgain(in Input, f Finding, r Rules, o outcome) (outcome, bool) {
	w := f.Wear
	if f.Reading.Answer != inspect.Measured || w.POver <= 1-r.Sure || w.POver >= r.Sure || w.U <= 0 {
		return o, false
	}
	safety := f.Check.Safety || in.Part.Safety
	best, u, ok := bestGauge(f, in.Gauges, r.RepeatsAsked)
	chance := 0.0
	if ok {
		chance = changeChance(w.Used, w.U, u, safety, r)
	}
	enough := f.Reading.Instrument == best.ID && len(f.Reading.Raw) >= r.RepeatsAsked
	worth := in.Price == 0 || in.Price+int64(in.Minutes)*r.MinuteRate > r.NotWorth
	if ok && !enough && worth && chance >= r.WorthAsking {
		o.rule, o.verdict, o.remedy = 6, inspect.Measure, "look"
		o.plain = in.Tongue.Sayf("Too close to the limit to say. Measure again with the %s, %d times.", in.inside(best.Name), r.RepeatsAsked)
		o.why = in.Tongue.Sayf("chance over the limit %.2f; measuring again (u %.3f of the allowed wear) changes the verdict with a chance of %.2f", w.POver, u, chance)
		return o, true
	}
	o.rule, o.remedy = 6, f.Check.Remedy
	o.why = in.Tongue.Sayf("decided although uncertain: chance over the limit %.2f", w.POver)
	if safety || w.POver >= 0.5 {
		o.verdict, o.plain = inspect.Replace, f.Check.Fails
	} else {
		o.verdict, o.remedy, o.plain = inspect.Reuse, "nothing", in.Tongue.Say("Close to the limit, more likely inside than outside.")
	}
	return o, true
}

// changeChance is the chance that a reading of uncertainty u2 turns the
// decision that would be taken now.
func changeChance(m, u, u2 float64, safety bool, r Rules) float64 {
	v, v2 := u*u, u2*u2
	after := v * v2 / (v + v2)
	move := math.Sqrt(v - after)
	edge := 1.0 // at P = 0.5
	if safety {
		edge = 1 - distuv.UnitNormal.Quantile(r.Sure)*math.Sqrt(after)
	}
	if move == 0 {
		return 0
	}
	z := (edge - m) / move
	if m >= edge {
		return distuv.UnitNormal.CDF(z)
	}
	return 1 - distuv.UnitNormal.CDF(z)
}

// bestGauge returns the check's instrument with the least uncertainty after n
// repeats, as a share of the allowed wear. Repeats shrink the method's part
// only, never resolution and calibration (JCGM 100).
func bestGauge(f Finding, gauges []catalog.Instrument, n int) (best catalog.Instrument, u float64, ok bool) {
	if f.New == nil || f.Limit == nil || *f.New == *f.Limit {
		return best, 0, false
	}
	for _, id := range f.Check.Instruments {
		for _, g := range gauges {
			if g.ID != id {
				continue
			}
			x := math.Hypot(g.CommonU(), g.Method/math.Sqrt(float64(n)))
			x /= math.Abs(*f.Limit - *f.New)
			if !ok || x < u {
				best, u, ok = g, x, true
			}
		}
	}
	return best, u, ok
}
