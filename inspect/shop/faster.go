package shop

import (
	"context"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/verdict"
	"forkwear/inspect/wear"
)

// fasterBelow is the level at which a departure is told, over all checks of a
// visit together (Holm).
const fasterBelow = 0.05

// Faster is a check whose newest reading lies above what its fitting's earlier
// readings foretold.
type Faster struct {
	Check     catalog.Check
	Leg       inspect.Leg
	Departure wear.Departure
	Adjusted  float64 // p after Holm
}

// Faster lists the checks of this visit that wore faster than their own trend:
// wear.Fit.Faster against the earlier readings, at least one, one-sided, with
// Holm's adjustment at 0.05 over all that could be compared. Ends of a grading
// scale can't be.
func (d *Desk) Faster(ctx context.Context, c *Case) ([]Faster, error) {
	var all []Faster
	var ps []float64
	for _, k := range d.Catalog.Checks {
		if !hasTrend(k, c.Sheet) || !d.Catalog.Applies(k, c.Sheet) {
			continue
		}
		for _, leg := range c.Sheet.LegsOf(k.Legs) {
			f, ok := c.holder(k, d.Catalog, leg)
			if !ok {
				continue
			}
			if _, _, read := d.nowOf(c, k, f, leg, false); !read {
				continue
			}
			g, err := d.kin(ctx, c, k)
			if err != nil {
				return nil, err
			}
			s := d.own(c, g, f, leg, false)
			if s == nil || len(s.points) < 2 || s.points[len(s.points)-1].onVisit != c.Visit.ID || g.setAside(d.Catalog.Tongue, s, d.age(c, k, f)) != "" {
				continue
			}
			if dep, err := g.Fit.Faster(s.unit, s.observations()); err == nil {
				all, ps = append(all, Faster{k, leg, dep, 0}), append(ps, dep.P)
			}
		}
	}
	adjusted, err := wear.Holm(ps)
	if err != nil {
		return nil, err
	}
	var out []Faster
	for i, f := range all {
		if f.Adjusted = adjusted[i]; f.Adjusted <= fasterBelow {
			out = append(out, f)
		}
	}
	return out, nil
}

// whyFaster is the technical line of a finding that was flagged; "" otherwise.
func whyFaster(t inspect.Tongue, all []Faster, f verdict.Finding) string {
	if f.Reading == nil || f.Carried {
		return ""
	}
	for _, x := range all {
		if x.Check.ID == f.Check.ID && x.Leg == f.Leg {
			return t.Sayf("wear used %.2f where its earlier readings foretold %.2f ± %.2f: z = %.1f, one-sided p = %.3f over this visit (Holm)",
				x.Departure.Expected+x.Departure.Z*x.Departure.SD, x.Departure.Expected, x.Departure.SD, x.Departure.Z, x.Adjusted)
		}
	}
	return ""
}
