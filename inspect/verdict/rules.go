package verdict

import (
	"math"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// schedule is rule 4.
func schedule(in Input) []outcome {
	var outs []outcome
	if in.Renewed {
		outs = append(outs, outcome{rule: 4, verdict: inspect.Replace, remedy: "renew_kit", leg: in.Leg,
			plain: in.Tongue.Sayf("%s: always renewed at this service.", in.Part.Name), why: in.Tongue.Say("service level renews this part (catalog)")})
	}
	if in.DueYears != "" {
		outs = append(outs, outcome{rule: 4, verdict: inspect.Replace, remedy: "renew_kit", leg: in.Leg,
			plain: in.Part.Name + ": " + in.DueYears, why: in.Tongue.Say("age limit (catalog)")})
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
		return []outcome{failure(in, f, o)}
	}
	if f.Wear == nil || f.Reading.Answer != inspect.Graded && f.Reading.Answer != inspect.Measured {
		return nil // a forecast alone, or a zone that was looked over, condemns nothing
	}
	return worn(in, f, r, o)
}

// missing is rule 7. A check that can't be seen or measured here never blocks.
func missing(in Input, f Finding) []outcome {
	if !f.Required || !in.Opened {
		return nil
	}
	return []outcome{{rule: 7, verdict: inspect.Measure, remedy: "look", check: f.Check.ID, leg: f.Leg,
		plain: in.Tongue.Sayf("Not looked at yet: %s.", in.inside(f.Check.Name)), why: in.Tongue.Say("required by the service level or opened by a finding, no reading in force")}}
}

// failure is rules 1, 2 and, for grades, 3.
func failure(in Input, f Finding, o outcome) outcome {
	c := f.Check
	o.remedy, o.verdict = c.Remedy, remedyVerdict(c.Remedy)
	o.why = in.Tongue.Sayf("%s: %s; a yes or no by definition, without a guard band (%s)", f.Check.Name, f.Check.AnswerWord(inspect.NotFine), in.Tongue.Say(f.Check.Source))
	if f.Reading.Answer == inspect.Graded {
		o.why = in.Tongue.Sayf("grade %g, goes out from grade %g (%s)", f.Reading.Value, c.LimitGrade, in.Tongue.Say(c.Source))
	}
	o.plain = c.Fails
	switch {
	case c.DoNotRide:
		return doNotRide(in, f, o)
	case c.Kind == catalog.Grade && c.Grows != catalog.Sudden:
		o.rule = 3
	default:
		o.rule = 2
	}
	return o
}

// doNotRide is rule 1. A part that must not be ridden never comes out as
// reuse, whatever the remedy; a doubt is looked at by a second person first.
func doNotRide(in Input, f Finding, o outcome) outcome {
	o.rule = 1
	switch {
	case f.Doubt:
		o.verdict, o.remedy = inspect.Measure, "look"
		o.plain = in.Tongue.Sayf("%s: in doubt. A second person looks at it. Do not ride until then.", f.Check.Name)
	default:
		if o.verdict == inspect.Reuse {
			o.verdict = inspect.Replace
		}
		o.plain = f.Check.Fails + " " + in.Tongue.Say("Do not ride.")
	}
	if f.Carried {
		o.why += in.Tongue.Say(", found at an earlier visit and not cleared by a reading since")
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

// worn is rules 3, 5 and 6 for a check with a trend or a limit. Sudden damage
// has no trend, so rule 5 is not for it.
func worn(in Input, f Finding, r Rules, o outcome) []outcome {
	w, limit := f.Wear, r.LimitFor(in.Part, f.Check)
	goes := remedyVerdict(f.Check.Remedy)
	if w.POver > r.Sure {
		o.rule, o.verdict, o.remedy, o.plain = 3, goes, f.Check.Remedy, f.Check.Fails
		o.why = in.Tongue.Sayf("wear used %.2f ± %.2f, chance over the limit %.2f > %.2f (JCGM 106; ISO 14253-1)", w.Used, w.U, w.POver, r.Sure)
		if f.Check.DoNotRide {
			return []outcome{doNotRide(in, f, o)}
		}
		return []outcome{o}
	}
	if goes != inspect.Replace {
		return nil
	}
	var outs []outcome
	if grows(f.Check) && w.PThen > limit {
		outs = append(outs, notLast(in, f, r, limit, o))
	}
	if again, ok := measureAgain(in, f, r, o); ok {
		outs = append(outs, again)
	}
	return outs
}

func grows(k catalog.Check) bool { return k.Grows == catalog.ByHours || k.Grows == catalog.ByMonths }

// notLast is rule 5 with its cost rule: a dear part below p* goes back in. A
// part more likely over the limit than not does not, whatever it costs.
func notLast(in Input, f Finding, r Rules, limit float64, o outcome) outcome {
	w, unit, ahead := f.Wear, "h", in.Tongue.Sayf("in %.0f h", in.Horizon)
	if w.Months {
		unit, ahead = in.Tongue.Say("months"), in.Tongue.Say("is due")
	}
	o.rule, o.verdict, o.remedy = 5, inspect.Replace, f.Check.Remedy
	o.plain = in.Tongue.Sayf("%s that it is worn out before the next service %s.", ChanceIn(in.Tongue, w.PThen), ahead)
	if w.SafeFor > 0 {
		o.plain += in.Tongue.Sayf(" Good if back within %.0f %s.", w.SafeFor, unit)
	}
	o.why = in.Tongue.Sayf("P(over before the next service %s) = %.2f > %.2f", ahead, w.PThen, limit)
	if p := costThreshold(in, r); p > limit && w.PThen < p && w.POver < 0.5 && !in.Part.Safety && !f.Check.Safety {
		o.verdict, o.remedy = inspect.Reuse, "nothing"
		o.plain = in.Tongue.Sayf("%s that it does not last until the next service. It is dear, so look again in %.0f %s.", ChanceIn(in.Tongue, w.PThen), math.Max(1, w.SafeFor), unit)
		o.why += in.Tongue.Sayf("; below p* = price·(H/L)/(opening again) = %.2f", p)
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
