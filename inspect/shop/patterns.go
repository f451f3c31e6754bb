package shop

import (
	"context"
	"math"

	"forkwear/inspect"
	"forkwear/inspect/life"
)

// Lives collects every fitting of the library with the hours on it: at its end,
// or at the last visit of its fork while it is still in.
func (d *Desk) Lives(ctx context.Context) ([]life.Fitting, error) {
	fits, err := d.Lib.Fittings(ctx, inspect.FittingFilter{})
	if err != nil {
		return nil, err
	}
	visits, err := d.Lib.Visits(ctx, inspect.VisitFilter{})
	if err != nil {
		return nil, err
	}
	last, sheets := map[inspect.ID]float64{}, map[inspect.ID]string{}
	for _, v := range visits {
		last[v.Fork.ID] = math.Max(last[v.Fork.ID], v.Hours)
		sheets[v.Fork.ID] = v.Fork.Sheet
	}
	out := make([]life.Fitting, 0, len(fits))
	for _, f := range fits {
		p, _ := d.Catalog.Part(f.Part)
		l := life.Fitting{ID: string(f.ID), Part: f.Part, PartName: p.Name, Sheet: sheets[f.ForkID], ForkID: string(f.ForkID),
			HoursKnown: f.AgeKnown, End: f.End, Hours: f.EndHours - f.FittedAt}
		if f.In() {
			l.Hours = last[f.ForkID] - f.FittedAt
		}
		out = append(out, l)
	}
	return out, nil
}

// Patterns is the owner's view: by part and data sheet, how many fittings,
// hours and failures, against what the same part does on the other forks.
func (d *Desk) Patterns(ctx context.Context) ([]life.PatternRow, error) {
	fits, err := d.Lives(ctx)
	if err != nil {
		return nil, err
	}
	return life.PatternsIn(d.Catalog.Tongue, fits), nil
}
