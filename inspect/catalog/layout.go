package catalog

import (
	"fmt"
	"slices"
	"strings"

	"forkwear/inspect"
)

// The words of a data sheet's layout.
var (
	springs = []string{"air", "coil"}
	dampers = []string{"bladder", "floating_piston", "open_bath", "closed_unit"}
	crowns  = []string{"single", "dual"}
	legSets = []string{"whole", "both", "spring", "damper"}
)

// LooseTubes reports whether the tubes come out of their crown on the bench:
// dual crown and inverted forks. Only these can be rolled for run-out.
func (s Sheet) LooseTubes() bool { return s.Crown == "dual" || s.Inverted }

// Meets reports whether the layout meets all conditions of when. What a sheet
// leaves blank is not known, and a condition on it holds: better asked than
// missed. A condition that can't be read never holds; Validate finds it.
func (s Sheet) Meets(when []string) bool {
	for _, w := range when {
		if ok, err := s.meets(w); err != nil || !ok {
			return false
		}
	}
	return true
}

func (s Sheet) meets(cond string) (bool, error) {
	switch cond {
	case "upright":
		return !s.Inverted, nil
	case "inverted":
		return s.Inverted, nil
	case "loose_tubes":
		return s.LooseTubes(), nil
	}
	key, want, found := strings.Cut(cond, "=")
	key, not := strings.CutSuffix(key, "!")
	have, words := "", []string(nil)
	switch key {
	case "spring":
		have, words = s.Spring, springs
	case "damper":
		have, words = s.Damper, dampers
	case "crown":
		have, words = s.Crown, crowns
	default:
		found = false
	}
	if !found {
		return false, fmt.Errorf("%q is no layout condition: spring=, damper=, crown=, upright, inverted or loose_tubes", cond)
	}
	alternatives := strings.Split(want, "|")
	for _, a := range alternatives {
		if !slices.Contains(words, a) {
			return false, fmt.Errorf("%q in %q is none of %s", a, cond, strings.Join(words, ", "))
		}
	}
	return have == "" || slices.Contains(alternatives, have) != not, nil
}

// LegsOf resolves "whole", "both", "spring" or "damper" by the sheet, left
// before right. A leg that the sheet leaves blank is not known: both are asked.
func (s Sheet) LegsOf(legs string) []inspect.Leg {
	one := inspect.Whole
	switch legs {
	case "whole", "":
		return []inspect.Leg{inspect.Whole}
	case "spring":
		one = s.SpringOn
	case "damper":
		one = s.DamperOn
	}
	if one == inspect.Left || one == inspect.Right {
		return []inspect.Leg{one}
	}
	return []inspect.Leg{inspect.Left, inspect.Right}
}

// Applies reports whether a check makes sense on a fork of this sheet: its own
// conditions and those of its part hold.
func (c *Catalog) Applies(k Check, sheet Sheet) bool {
	part, known := c.Part(k.Part)
	return sheet.Meets(k.When) && (!known || sheet.Meets(part.When))
}

// SoldAsFor returns the kit or assembly in which a part is bought for a fork of
// this sheet: a pressed tube comes with its crown, a loose one alone.
func (p Part) SoldAsFor(sheet Sheet) string {
	if p.SoldAsLoose != "" && sheet.LooseTubes() {
		return p.SoldAsLoose
	}
	return p.SoldAs
}

// Bounds returns the new value and the limit of a number check that are in
// force for a sheet, in the check's unit: the sheet's before the check's, a
// limit from new where only the distance is known. Nil is not known.
func (k Check) Bounds(sheet Sheet) (newValue, limit *float64) {
	newValue, limit = k.New, k.Limit
	if x, ok := sheet.New[k.ID]; ok {
		newValue = &x
	}
	if x, ok := sheet.Limits[k.ID]; ok {
		return newValue, &x
	}
	if limit == nil && k.LimitFromNew != nil && newValue != nil {
		x := *newValue + *k.LimitFromNew
		limit = &x
	}
	return newValue, limit
}

// LifeFor returns the expected life of a check in hours (months where it grows
// by months), the sheet's before the check's; 0 not known.
func (k Check) LifeFor(sheet Sheet) float64 {
	if x, ok := sheet.Lives[k.ID]; ok {
		return x
	}
	return k.Life
}
