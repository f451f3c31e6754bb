package shop

import (
	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// fittedHere is the batch of a part that a visit fitted without naming one.
const fittedHere = "fitted here"

// Fitting returns the part in the fork at a position while this visit began,
// whatever became of it since.
func (c *Case) Fitting(part string, leg inspect.Leg) (inspect.Fitting, bool) {
	for _, f := range c.Fittings {
		if f.Part == part && f.Leg == leg && c.cameIn(f) {
			return f, true
		}
	}
	return inspect.Fitting{}, false
}

// cameIn tells whether a part was in the fork when this visit began: fitted at
// an earlier visit, or first seen now, and not taken out before.
func (c *Case) cameIn(f inspect.Fitting) bool {
	if c.earlier(f.EndVisit) {
		return false
	}
	return c.earlier(f.FittedVisit) || f.FittedVisit == c.Visit.ID && !c.startedNow(f)
}

func (c *Case) earlier(visit inspect.ID) bool {
	for _, e := range c.Earlier {
		if e.Row.Visit.ID == visit {
			return true
		}
	}
	return false
}

// startedNow tells a part fitted during this visit from one that the fork
// brought along at its first visit: only the latter ends or goes on from here.
func (c *Case) startedNow(f inspect.Fitting) bool {
	return f.FittedVisit == c.Visit.ID && (len(c.Earlier) > 0 || f.Batch != "" || f.FittedOn.After(c.Visit.DroppedOff))
}

// Renewed tells whether a position got a new part during this visit.
func (c *Case) Renewed(part string, leg inspect.Leg) bool {
	for _, f := range c.Fittings {
		if f.Part == part && f.Leg == leg && (f.EndVisit == c.Visit.ID && !f.In() || c.startedNow(f)) {
			return true
		}
	}
	return false
}

// fittingAt is the part that a reading belongs to: after the work it is the
// new one where one was fitted. A check asked of one leg for a part of the
// whole fork lies on that part. A check asked of the whole fork for a part of
// each leg lies on the one that has been in longest, the left one where they
// are equally old: the worse of the two is what such a check finds, and so its
// trend goes on while one leg only is renewed.
func (c *Case) fittingAt(part string, leg inspect.Leg, stage inspect.Stage) (inspect.Fitting, bool) {
	in := c.cameIn
	if stage == inspect.AfterWork {
		in = func(f inspect.Fitting) bool {
			return f.EndVisit != c.Visit.ID && (c.cameIn(f) || f.FittedVisit == c.Visit.ID)
		}
	}
	var best inspect.Fitting
	found := false
	for _, f := range c.Fittings {
		if f.Part != part || !in(f) {
			continue
		}
		if f.Leg == leg {
			return f, true
		}
		fits := leg == inspect.Whole || f.Leg == inspect.Whole
		if fits && (!found || f.FittedAt < best.FittedAt || f.FittedAt == best.FittedAt && f.Leg < best.Leg) {
			best, found = f, true
		}
	}
	return best, found
}

// holder is the fitting on which a check's trend lies, asked for at a leg: the
// part's leg or the check's.
func (c *Case) holder(k catalog.Check, cat *catalog.Catalog, leg inspect.Leg) (inspect.Fitting, bool) {
	return c.fittingAt(k.Part, askedAt(k, c.Sheet, leg), inspect.Stripped)
}

// askedAt is the leg under which a check's readings stand when a part's leg is
// in view: the whole fork for checks asked of the whole.
func askedAt(k catalog.Check, sheet catalog.Sheet, leg inspect.Leg) inspect.Leg {
	for _, l := range sheet.LegsOf(k.Legs) {
		if l == leg {
			return leg
		}
	}
	if legs := sheet.LegsOf(k.Legs); len(legs) == 1 {
		return legs[0]
	}
	return leg
}
