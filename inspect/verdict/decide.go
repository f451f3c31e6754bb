package verdict

import (
	"fmt"
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

// Decide applies the rules in their order to one part. The part takes the
// worst of its checks; among the reasons that say so the first rule decides.
// Ids, times and hashes of the assessment are the caller's to fill.
func Decide(in Input, rules Rules) inspect.Assessment {
	rules = rules.filled()
	a := inspect.Assessment{Part: in.Part.ID, Leg: in.Leg, Engine: Engine, Horizon: in.Horizon,
		NextLevel: in.NextDoor, Threshold: threshold(in, rules), NotOpened: !in.Opened}
	var outs []outcome
	for _, f := range in.Findings {
		outs = append(outs, finding(in, f, rules)...)
		a.ReadingIDs = append(a.ReadingIDs, f.IDs...)
		if f.Check.DoNotRide && f.Reading != nil && failed(f) {
			a.DoNotRide = true
		}
		if f.Check.Photo && f.Reading != nil && !f.Photo && looked(*f.Reading) {
			a.NoPhoto = true
		}
		a.Baseline = a.Baseline || f.Baseline
	}
	outs = append(outs, schedule(in)...)
	lead(&a, in)
	settle(&a, in, outs)
	return a
}

func threshold(in Input, r Rules) float64 {
	if in.Part.Safety {
		return r.SafetyLimit
	}
	for _, f := range in.Findings {
		if f.Check.Safety {
			return r.SafetyLimit
		}
	}
	return r.Threshold
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
		a.Reasons = append(a.Reasons, inspect.Reason{Rule: 8, Leg: in.Leg, Plain: reusePlain(a, in), Why: "no rule fired", Decide: true})
	}
}

func reusePlain(a *inspect.Assessment, in Input) string {
	switch {
	case a.NotOpened:
		return fmt.Sprintf("Not opened this time. It is next seen at: %s.", in.NextDoor)
	case a.HoursLeft != nil && a.PriorOnly:
		return "Nothing found. How long it lasts is from typical life alone so far."
	case a.Baseline:
		return "Nothing found. Baseline taken: next time we see how fast it goes."
	case a.HoursLeft != nil && !math.IsInf(a.HoursLeft.P50, 0):
		return fmt.Sprintf("Wear is inside the limit and lasts beyond the next %.0f h.", in.Horizon)
	}
	return "Nothing found that speaks against it."
}

// lead picks the check whose wear is shown: the one most likely not to last,
// then the one with most wear used.
func lead(a *inspect.Assessment, in Input) {
	var best *Wear
	independent := 1.0
	for i := range in.Findings {
		w := in.Findings[i].Wear
		if w == nil {
			continue
		}
		independent *= 1 - w.PThen
		if best == nil || w.PThen > best.PThen || w.PThen == best.PThen && w.Used > best.Used {
			best = w
			a.LeadCheck = in.Findings[i].Check.ID
		}
	}
	if best == nil {
		return
	}
	used, u := best.Used, best.U
	a.WearUsed, a.WearU = &used, &u
	a.Mu, a.S, a.PNow, a.PThen = best.Mu, best.S, best.POver, best.PThen
	a.NoTrend, a.PriorOnly = best.NoTrend, best.PriorOnly
	if !in.Part.NoLife {
		a.HoursLeft = best.Left
	}
	if many := 1 - independent; many > best.PThen+0.01 {
		a.Reasons = append(a.Reasons, inspect.Reason{Rule: 8, Leg: in.Leg,
			Plain: "Several things wear here at once.",
			Why:   fmt.Sprintf("chance not to last between %.2f (greatest) and %.2f (independent)", best.PThen, many)})
	}
}

// schedule is rule 4.
func schedule(in Input) []outcome {
	var outs []outcome
	if in.Renewed {
		outs = append(outs, outcome{rule: 4, verdict: inspect.Replace, remedy: "renew_kit", leg: in.Leg,
			plain: fmt.Sprintf("%s: always renewed at this service.", in.Part.Name), why: "service level renews this part (catalog)"})
	}
	if in.DueYears != "" {
		outs = append(outs, outcome{rule: 4, verdict: inspect.Replace, remedy: "renew_kit", leg: in.Leg,
			plain: in.Part.Name + ": " + in.DueYears, why: "age limit (catalog)"})
	}
	return outs
}

// finding gives what the rules say of one check.
func finding(in Input, f Finding, r Rules) []outcome {
	if f.Reading == nil || f.Reading.Answer == inspect.NotLooked {
		return missing(in, f)
	}
	o := outcome{check: f.Check.ID, leg: f.Leg}
	if failed(f) {
		return []outcome{failure(f, o)}
	}
	if f.Wear == nil {
		return nil
	}
	return worn(in, f, r, o)
}

// missing is rule 7. A check that can't be seen or measured here never blocks.
func missing(in Input, f Finding) []outcome {
	if !f.Required || !in.Opened {
		return nil
	}
	return []outcome{{rule: 7, verdict: inspect.Measure, remedy: "look", check: f.Check.ID, leg: f.Leg,
		plain: fmt.Sprintf("Not looked at yet: %s.", lower(f.Check.Name)), why: "required by the service level or opened by a finding, no reading in force"}}
}

// failure is rules 1, 2 and, for grades, 3.
func failure(f Finding, o outcome) outcome {
	c := f.Check
	o.remedy, o.verdict = c.Remedy, remedyVerdict(c.Remedy)
	o.why = "not fine"
	if f.Reading.Answer == inspect.Graded {
		o.why = fmt.Sprintf("grade %g, goes out from grade %g (%s)", f.Reading.Value, c.LimitGrade, c.Source)
	}
	o.plain = c.Fails
	switch {
	case c.DoNotRide:
		o.rule = 1
		o.plain = c.Fails + " Do not ride."
		if o.verdict == inspect.Reuse {
			o.verdict = inspect.Replace
		}
	case c.Kind == catalog.Grade && c.Grows != catalog.Sudden:
		o.rule = 3
	default:
		o.rule = 2
	}
	return o
}

func remedyVerdict(remedy string) inspect.Verdict {
	switch remedy {
	case "replace", "renew_kit", "renew_assembly":
		return inspect.Replace
	case "look":
		return inspect.Measure
	}
	return inspect.Reuse
}

// worn is rules 3, 5 and 6 for a check with a trend or a limit.
func worn(in Input, f Finding, r Rules, o outcome) []outcome {
	w, limit := f.Wear, threshold(in, r)
	if !in.Part.Safety && !f.Check.Safety {
		limit = r.Threshold
	}
	goes := remedyVerdict(f.Check.Remedy)
	var outs []outcome
	if w.POver > r.Sure {
		outs = append(outs, outcome{rule: 3, verdict: goes, remedy: f.Check.Remedy, check: o.check, leg: o.leg, plain: f.Check.Fails,
			why: fmt.Sprintf("wear used %.2f ± %.2f, chance over the limit %.2f > %.2f (JCGM 106; ISO 14253-1)", w.Used, w.U, w.POver, r.Sure)})
		return outs
	}
	if goes != inspect.Replace {
		return outs
	}
	if w.PThen > limit {
		outs = append(outs, notLast(in, f, r, limit, o))
	}
	if again, ok := measureAgain(in, f, r, o); ok {
		outs = append(outs, again)
	}
	return outs
}

// notLast is rule 5 with its cost rule: a dear part below p* goes back in.
func notLast(in Input, f Finding, r Rules, limit float64, o outcome) outcome {
	w := f.Wear
	o.rule, o.verdict, o.remedy = 5, inspect.Replace, f.Check.Remedy
	o.plain = fmt.Sprintf("%s that it is worn out before the next service in %.0f h.", Chance(w.PThen), in.Horizon)
	if w.SafeFor > 0 {
		o.plain += fmt.Sprintf(" Good if back within %.0f h.", w.SafeFor)
	}
	o.why = fmt.Sprintf("P(over within %.0f h) = %.2f > %.2f", in.Horizon, w.PThen, limit)
	if p := costThreshold(in, r); p > limit && w.PThen < p && !in.Part.Safety && !f.Check.Safety {
		o.verdict, o.remedy = inspect.Reuse, "nothing"
		o.plain = fmt.Sprintf("%s that it does not last until the next service. It is dear, so look again in %.0f h.", Chance(w.PThen), math.Max(1, w.SafeFor))
		o.why += fmt.Sprintf("; below p* = price·(H/L)/(opening again) = %.2f", p)
	}
	return o
}

// costThreshold is p* = price (H / L_new) / (cost of opening again and
// goodwill); 0 where a figure is not known.
func costThreshold(in Input, r Rules) float64 {
	if in.Price <= 0 || in.LifeNew <= 0 || r.ReopenCost <= 0 || in.Horizon <= 0 {
		return 0
	}
	return math.Min(1, float64(in.Price)*(in.Horizon/in.LifeNew)/float64(r.ReopenCost))
}
