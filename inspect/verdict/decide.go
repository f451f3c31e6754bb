package verdict

import (
	"math"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// Engine names the rules' version in every assessment.
const Engine = "rules 1"

// outcome is what one rule says about one check.
type outcome struct {
	rule    int
	verdict inspect.Verdict
	remedy  string
	check   string
	leg     inspect.Leg
	plain   string
	why     string
	told    bool // a later rule of the same check: told, never deciding
}

func rank(v inspect.Verdict) int {
	switch v {
	case inspect.Replace:
		return 2
	case inspect.Measure:
		return 1
	}
	return 0
}

// Decide applies the rules in their order to one part. Of one check the first
// rule that fires counts; the part takes the worst of its checks, and among
// those that say so the first rule decides. Every rule that fired is told. Ids, times and hashes of the assessment are the caller's to fill.
func Decide(in Input, rules Rules) inspect.Assessment {
	rules = rules.filled()
	a := inspect.Assessment{Part: in.Part.ID, Leg: in.Leg, Engine: Engine, Horizon: in.Horizon, HorizonU: in.HorizonU,
		NextLevel: in.NextDoor, Threshold: rules.LimitFor(in.Part, catalog.Check{}), NotOpened: !in.Opened}
	var outs []outcome
	for _, f := range in.Findings {
		for n, o := range finding(in, f, rules) {
			o.told = n > 0
			outs = append(outs, o)
		}
		a.ReadingIDs = append(a.ReadingIDs, f.IDs...)
		if f.Check.DoNotRide && f.Reading != nil && (failed(f) || f.Wear != nil && f.Wear.POver > rules.Sure) {
			a.DoNotRide = true
		}
		if f.Check.Photo && f.Reading != nil && !f.Photo && !f.Carried && looked(*f.Reading) {
			a.NoPhoto = true
		}
		a.Baseline = a.Baseline || f.Baseline
		if f.Faster != "" { // told, never deciding: the chance not to last has it already
			a.Reasons = append(a.Reasons, inspect.Reason{Rule: 8, Check: f.Check.ID, Leg: f.Leg, Plain: in.Tongue.Say("Wearing faster than before."), Why: f.Faster})
		}
	}
	outs = append(outs, schedule(in)...)
	lead(&a, in, rules)
	settle(&a, in, outs)
	return a
}

func looked(r inspect.Reading) bool {
	switch r.Answer {
	case inspect.Graded, inspect.Measured, inspect.Fine, inspect.NotFine:
		return true
	}
	return false
}

// failed tells whether a finding is on the wrong side by definition: not fine,
// or a grade at or above its limit grade. Numbers are judged by their chance.
func failed(f Finding) bool {
	switch f.Reading.Answer {
	case inspect.NotFine:
		return true
	case inspect.Graded:
		return f.Check.LimitGrade > 0 && f.Reading.Value >= f.Check.LimitGrade
	}
	return false
}

// settle chooses the deciding reason and fills verdict, remedy and reasons.
func settle(a *inspect.Assessment, in Input, outs []outcome) {
	a.Verdict, a.Remedy = inspect.Reuse, "nothing"
	best := -1
	for i, o := range outs {
		if o.told {
			continue
		}
		if best < 0 || rank(o.verdict) > rank(outs[best].verdict) ||
			rank(o.verdict) == rank(outs[best].verdict) && o.rule < outs[best].rule {
			best = i
		}
	}
	if best >= 0 {
		a.Verdict = outs[best].verdict
		if outs[best].remedy != "" {
			a.Remedy = outs[best].remedy
		}
	}
	for i, o := range outs {
		a.Reasons = append(a.Reasons, inspect.Reason{Rule: o.rule, Check: o.check, Leg: o.leg, Plain: o.plain, Why: o.why, Decide: i == best})
	}
	if best < 0 {
		a.Reasons = append(a.Reasons, inspect.Reason{Rule: 8, Leg: in.Leg, Plain: reusePlain(a, in), Why: in.Tongue.Say("no rule fired"), Decide: true})
	}
}

func reusePlain(a *inspect.Assessment, in Input) string {
	switch {
	case a.NotOpened:
		return in.Tongue.Sayf("Not opened this time. It is next seen at: %s.", in.NextDoor)
	case a.HoursLeft != nil && a.PriorOnly:
		return in.Tongue.Say("Nothing found. How long it lasts is from typical life alone so far.")
	case a.Baseline:
		return in.Tongue.Say("Nothing found. Baseline taken: next time we see how fast it goes.")
	case a.HoursLeft != nil && !math.IsInf(a.HoursLeft.P50, 0):
		return in.Tongue.Sayf("Wear is inside the limit and lasts beyond the next %.0f h.", in.Horizon)
	}
	return in.Tongue.Say("Nothing found that speaks against it.")
}

// lead picks the check whose wear is shown: the one most likely not to last,
// then the one with most wear used.
func lead(a *inspect.Assessment, in Input, r Rules) {
	var best *Wear
	independent := 1.0
	for i := range in.Findings {
		w := in.Findings[i].Wear
		if w == nil {
			continue
		}
		if w.Aside != "" {
			a.Reasons = append(a.Reasons, inspect.Reason{Rule: 8, Check: in.Findings[i].Check.ID, Leg: in.Findings[i].Leg,
				Plain: in.Tongue.Say("No trend can be drawn through these readings."), Why: w.Aside})
		}
		independent *= 1 - w.PThen
		if best == nil || w.PThen > best.PThen || w.PThen == best.PThen && w.Used > best.Used {
			best = w
			a.LeadCheck, a.Threshold = in.Findings[i].Check.ID, r.LimitFor(in.Part, in.Findings[i].Check)
		}
	}
	if best == nil {
		return
	}
	used, u := best.Used, best.U
	a.WearUsed, a.WearU = &used, &u
	a.Mu, a.S, a.PNow, a.PThen = best.Mu, best.S, best.POver, best.PThen
	a.NoTrend, a.PriorOnly = best.NoTrend, best.PriorOnly
	if !in.Part.NoLife && !best.Months {
		a.HoursLeft = best.Left
	}
	if many := 1 - independent; many > best.PThen+0.01 {
		a.Reasons = append(a.Reasons, inspect.Reason{Rule: 8, Leg: in.Leg,
			Plain: in.Tongue.Say("Several things wear here at once."),
			Why:   in.Tongue.Sayf("chance not to last between %.2f (greatest) and %.2f (independent)", best.PThen, many)})
	}
}
