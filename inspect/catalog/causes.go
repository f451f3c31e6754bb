package catalog

import "forkwear/inspect"

// FoundCause is a cause whose findings are all there. Leg is Whole where they
// do not point at one leg. Evidence is one plain line for each finding.
type FoundCause struct {
	Cause    Cause
	Leg      inspect.Leg
	Evidence []string
}

// Causes returns the causes that the evidence of one visit supports, strong
// before medium before weak, else in catalog order. A cause of one leg needs
// all its findings at that leg or at the fork as such; what speaks against it
// (unless) counts at that leg too. It tells likely causes and condemns nothing.
func Causes(c *Catalog, sheet Sheet, ev Evidence) []FoundCause {
	byCertainty := map[string][]FoundCause{}
	v := c.view(sheet, ev)
	for _, cause := range c.Causes {
		byCertainty[cause.Certainty] = append(byCertainty[cause.Certainty], v.foundAt(cause)...)
	}
	var out []FoundCause
	for _, certainty := range certainties {
		out = append(out, byCertainty[certainty]...)
	}
	return out
}

func (v *view) foundAt(cause Cause) []FoundCause {
	if !cause.SameLeg {
		if f, _, ok := v.found(cause, inspect.Whole); ok {
			return []FoundCause{f}
		}
		return nil
	}
	legs := cause.Legs
	if legs == "" {
		legs = "both"
	}
	var out []FoundCause
	for _, leg := range v.sheet.LegsOf(legs) {
		f, pointed, ok := v.found(cause, leg)
		if !ok {
			continue
		}
		if !pointed && legs == "both" { // nothing names a leg: one cause of the whole fork
			f.Leg = inspect.Whole
			return []FoundCause{f}
		}
		out = append(out, f)
	}
	return out
}

// found tests one cause at one leg. pointed reports that a finding names the leg.
func (v *view) found(cause Cause, leg inspect.Leg) (f FoundCause, pointed, ok bool) {
	f = FoundCause{Cause: cause, Leg: leg}
	legs, both := map[inspect.Leg]bool{}, false
	for _, text := range cause.Findings {
		cond, err := ParseCondition(text)
		if err != nil {
			return f, false, false
		}
		h, holds := cond.at(leg, v)
		if !holds {
			return f, false, false
		}
		if h.leg != inspect.Whole {
			legs[h.leg] = true
		}
		both = both || h.both
		f.Evidence = append(f.Evidence, h.says)
	}
	for _, text := range cause.Unless {
		if cond, err := ParseCondition(text); err == nil {
			if _, holds := cond.at(leg, v); holds {
				return f, false, false
			}
		}
	}
	if leg == inspect.Whole && len(legs) == 1 && !both {
		for l := range legs {
			f.Leg = l
		}
	}
	return f, len(legs) > 0, len(cause.Findings) > 0
}
