package catalog

import (
	"slices"

	"forkwear/inspect"
)

// Evidence is what is known of one visit of one fork: complaints, the readings
// in force of that visit (inspect.Current), riding hours since new, riding
// conditions as the visit words them.
type Evidence struct {
	Symptoms   []inspect.Complaint
	Readings   map[inspect.Slot]inspect.Reading
	Hours      float64
	Conditions []string
}

// view is the evidence of one fork, laid out for many questions.
type view struct {
	cat      *Catalog
	sheet    Sheet
	ev       Evidence
	readings map[string][]inspect.Reading // by check
}

func (c *Catalog) view(sheet Sheet, ev Evidence) *view {
	v := &view{c, sheet, ev, map[string][]inspect.Reading{}}
	for slot, r := range ev.Readings {
		r.Check, r.Leg, r.Stage = slot.Check, slot.Leg, slot.Stage
		v.readings[slot.Check] = append(v.readings[slot.Check], r)
	}
	return v
}

// hit is a term that holds: at which leg (Whole: at the fork as such) and in
// which words.
type hit struct {
	leg  inspect.Leg
	both bool // found at both legs: it speaks of the fork as such
	says string
}

// finding is what one check says at one leg and stage, its points reduced.
type finding struct {
	leg    inspect.Leg
	answer inspect.Answer
	value  float64
	limit  *float64
	stage  inspect.Stage
}

// at returns the hit of a condition that counts for a leg, or false. With leg
// Whole a hit anywhere counts. At a leg, what was found at that leg goes before
// what was found at the fork as such.
func (c Condition) at(leg inspect.Leg, v *view) (hit, bool) {
	var best hit
	found := false
	for _, t := range c.Terms {
		for _, h := range t.hits(v) {
			fits := leg == inspect.Whole || h.leg == inspect.Whole || h.leg == leg
			if fits && (!found || best.leg == inspect.Whole && h.leg != inspect.Whole) {
				best, found = h, true
			}
		}
	}
	return best, found
}

// hits returns every leg at which the term holds, in a fixed order.
func (t Term) hits(v *view) []hit {
	var hs []hit
	switch t.Kind {
	case OfHours:
		if compare(v.ev.Hours, t.Op, t.Value) {
			hs = append(hs, hit{leg: inspect.Whole, says: v.cat.Tongue.Sayf("%.0f riding hours", v.ev.Hours)})
		}
	case OfCondition:
		if slices.Contains(v.ev.Conditions, t.ID) {
			hs = append(hs, hit{leg: inspect.Whole, says: v.cat.Tongue.Sayf("ridden in: %s", v.cat.Tongue.Say(t.ID))})
		}
	case OfSymptom:
		name := t.ID
		if s, ok := v.cat.Symptom(t.ID); ok {
			name = s.Name
		}
		for _, c := range v.ev.Symptoms {
			if c.Symptom == t.ID {
				hs = append(hs, hit{leg: c.Leg, says: v.withLeg(v.cat.Tongue.Sayf("complaint: %s", name), c.Leg)})
			}
		}
	case OfCheck:
		hs = t.checkHits(v)
	}
	return hs
}

func (t Term) checkHits(v *view) []hit {
	k, ok := v.cat.Check(t.ID)
	if !ok || len(v.readings[t.ID]) == 0 {
		return nil
	}
	var hs []hit
	seen := map[inspect.Leg]bool{}
	for _, leg := range []inspect.Leg{inspect.Whole, inspect.Left, inspect.Right} {
		for _, f := range findings(k, leg, v) {
			if !seen[leg] && t.holds(k, f) {
				seen[leg] = true
				hs = append(hs, hit{leg: leg, says: v.withLeg(k.Name+": "+k.said(f), leg)})
			}
		}
	}
	if t.Both {
		if !seen[inspect.Left] || !seen[inspect.Right] {
			return nil
		}
		return []hit{{inspect.Whole, true, hs[len(hs)-2].says + "; " + hs[len(hs)-1].says}}
	}
	return hs
}

// holds tests one finding. Only an answer counts: "not looked at", "zone seen"
// and their like say nothing about this check.
func (t Term) holds(k Check, f finding) bool {
	switch t.Word {
	case "fine":
		return f.answer == inspect.Fine
	case "not_fine":
		return f.answer == inspect.NotFine
	case "over":
		return k.over(f)
	}
	return (f.answer == inspect.Graded || f.answer == inspect.Measured) && compare(f.value, t.Op, t.Value)
}

// over reports whether a finding is beyond the check's limit, plainly compared:
// no guard band, that is the verdict's business.
func (k Check) over(f finding) bool {
	switch {
	case f.answer == inspect.NotFine:
		return true
	case f.answer == inspect.Graded:
		return k.LimitGrade > 0 && f.value >= k.LimitGrade
	case f.answer != inspect.Measured || f.limit == nil:
		return false
	case k.Sense == "falls":
		return f.value <= *f.limit
	}
	return f.value >= *f.limit
}

// findings returns what a check says at one leg, stage by stage in the order of
// work, with the readings of its points reduced to one.
func findings(k Check, leg inspect.Leg, v *view) []finding {
	var out []finding
	for _, stage := range inspect.Stages() {
		var values []float64
		var last inspect.Reading
		f := finding{leg: leg, stage: stage}
		for _, r := range v.readings[k.ID] {
			if r.Leg != leg || r.Stage != stage {
				continue
			}
			switch r.Answer {
			case inspect.Graded, inspect.Measured:
				values = append(values, r.Value)
				last, f.answer = r, r.Answer
			case inspect.NotFine:
				f.answer = r.Answer
			case inspect.Fine:
				if f.answer == "" {
					f.answer = r.Answer
				}
			}
		}
		if f.answer == "" {
			continue
		}
		if len(values) > 0 {
			f.value = Reduced(k.Reduce, values)
			f.limit = k.limitOf(last, v.sheet)
		}
		out = append(out, f)
	}
	return out
}

// limitOf is the limit of a reading: what was in force when it was made goes
// before what sheet and check say now.
func (k Check) limitOf(r inspect.Reading, sheet Sheet) *float64 {
	if r.Limit != nil {
		return r.Limit
	}
	if r.New != nil {
		sheet.New = map[string]float64{k.ID: *r.New}
	}
	_, limit := k.Bounds(sheet)
	return limit
}

// Reduced applies a check's reduction ("least", "greatest", "mean", "range") to
// the values of its points; without a rule it is the greatest, since a grade
// counts by its worst place. 0 for no values. The reduced value of k noisy
// points is biased; what corrects that is package wear, not this.
func Reduced(rule string, values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	low, high := sorted[0], sorted[len(sorted)-1]
	switch rule {
	case "least":
		return low
	case "range":
		return high - low
	case "mean":
		sum := 0.0
		for _, x := range sorted {
			sum += x
		}
		return sum / float64(len(sorted))
	}
	return high
}

func (v *view) withLeg(s string, leg inspect.Leg) string {
	if leg == inspect.Whole {
		return s
	}
	switch leg {
	case inspect.Left:
		return v.cat.Tongue.Sayf("%s (left leg)", s)
	}
	return v.cat.Tongue.Sayf("%s (right leg)", s)
}
