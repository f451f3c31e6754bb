package forklife

import (
	"context"
	"sort"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/words"
)

// life is all that the place shows of one fork.
type life struct {
	fork     inspect.Fork
	customer inspect.Customer
	sheet    catalog.Sheet
	visits   []inspect.VisitRow // newest first
	newest   *shop.Case         // nil without a visit
	fittings []inspect.Fitting
	settings map[inspect.ID][]inspect.Setting
	photos   []inspect.Photo
	checks   []check
}

// check is one check at one side that was ever read and grows with use.
type check struct {
	check catalog.Check
	leg   inspect.Leg
	last  inspect.Reading
	all   []inspect.Reading // in force, the oldest first, of every part that was in its place
	times int
}

func (k check) name(cat *catalog.Catalog) string {
	p, _ := cat.Part(k.check.Part)
	return words.PartAt(p.Name, k.leg) + " · " + k.check.Name
}

// read runs in a worker.
func read(ctx context.Context, d *shop.Desk, fork inspect.ID) (*life, error) {
	l := &life{settings: map[inspect.ID][]inspect.Setting{}}
	var err error
	if l.fork, err = d.Lib.Fork(ctx, fork); err != nil {
		return nil, err
	}
	if l.customer, err = d.Lib.Customer(ctx, l.fork.CustomerID); err != nil {
		return nil, err
	}
	l.sheet, _ = d.Catalog.Sheet(l.fork.Sheet)
	if l.visits, err = d.Lib.Visits(ctx, inspect.VisitFilter{ForkID: fork}); err != nil {
		return nil, err
	}
	if l.fittings, err = d.Lib.Fittings(ctx, inspect.FittingFilter{ForkID: fork}); err != nil {
		return nil, err
	}
	if len(l.visits) == 0 {
		return l, nil
	}
	if l.newest, err = d.Open(ctx, l.visits[0].Visit.ID); err != nil {
		return nil, err
	}
	for _, v := range l.visits {
		if l.settings[v.Visit.ID], err = d.Lib.SettingsOf(ctx, v.Visit.ID); err != nil {
			return nil, err
		}
	}
	if l.photos, err = d.Lib.Photos(ctx, inspect.PhotoFilter{ForkID: fork}); err != nil {
		return nil, err
	}
	l.checks, err = readChecks(ctx, d, fork, l.sheet)
	return l, err
}

func readChecks(ctx context.Context, d *shop.Desk, fork inspect.ID, sheet catalog.Sheet) ([]check, error) {
	all, err := d.Lib.Readings(ctx, inspect.ReadingFilter{ForkID: fork})
	if err != nil {
		return nil, err
	}
	type at struct {
		check string
		leg   inspect.Leg
	}
	found := map[at]*check{}
	visits := map[at]map[inspect.ID]bool{}
	current, _ := inspect.Current(all)
	for _, r := range current {
		k, ok := d.Catalog.Check(r.Check)
		if !ok || k.Grows != catalog.ByHours && k.Grows != catalog.ByMonths || k.LifeFor(sheet) <= 0 ||
			r.Answer != inspect.Graded && r.Answer != inspect.Measured {
			continue
		}
		key := at{r.Check, r.Leg}
		if found[key] == nil {
			found[key], visits[key] = &check{check: k, leg: r.Leg}, map[inspect.ID]bool{}
		}
		visits[key][r.VisitID] = true
		found[key].all = append(found[key].all, r)
		if f := found[key]; !r.At.Before(f.last.At) {
			f.last = r
		}
	}
	order := map[string]int{}
	for i, k := range d.Catalog.Checks {
		order[k.ID] = i
	}
	var out []check
	for key, f := range found {
		f.times = len(visits[key])
		sort.SliceStable(f.all, func(i, j int) bool { return f.all[i].At.Before(f.all[j].At) })
		out = append(out, *f)
	}
	sort.Slice(out, func(i, j int) bool { // most often read first, then in catalog order
		a, b := out[i], out[j]
		if a.times != b.times {
			return a.times > b.times
		}
		if a.check.ID != b.check.ID {
			return order[a.check.ID] < order[b.check.ID]
		}
		return a.leg < b.leg
	})
	return out, nil
}

// hours is what a fork was said to have ridden at a visit.
func (l *life) hours(visit inspect.ID) (float64, bool) {
	for _, v := range l.visits {
		if v.Visit.ID == visit {
			return v.Hours, true
		}
	}
	return 0, false
}

// now is the hours of the fork at its newest visit.
func (l *life) now() float64 {
	if len(l.visits) == 0 {
		return 0
	}
	return l.visits[0].Hours
}

// renewed names the parts that were fitted at a visit; at the first one the
// parts came with the fork.
func (l *life) renewed(visit inspect.ID, cat *catalog.Catalog) []string {
	seen := map[string]bool{}
	var out []string
	for _, f := range l.fittings {
		if f.EndVisit != visit {
			continue
		}
		p, _ := cat.Part(f.Part)
		if n := words.PartAt(p.Name, f.Leg); !seen[n] {
			seen[n] = true
			out = append(out, n)
		}
	}
	sort.Strings(out)
	return out
}
