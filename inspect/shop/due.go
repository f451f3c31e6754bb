package shop

import (
	"context"
	"sort"
	"time"

	"forkwear/inspect"
)

// DueRow is one fork that should come again.
type DueRow struct {
	Row       inspect.VisitRow // its last visit
	PerWeek   float64          // riding hours a week, shrunk to the shop's mean
	HoursNow  float64          // estimated riding hours today
	NextHours float64          // 0 not set
	NextDate  time.Time        // by date; zero not set
	On        time.Time        // whichever comes first
	By        string           // "hours" or "date"
}

// weeksOfPrior is how many weeks of its own riding weigh as much as the shop's
// mean (common practice, no source).
const weeksOfPrior = 12.0

const defaultPerWeek = 3.0

// Due lists the forks that are not here by the day they should come again:
// riding hours or date, whichever is first.
func (d *Desk) Due(ctx context.Context) ([]DueRow, error) {
	visits, err := d.Lib.Visits(ctx, inspect.VisitFilter{})
	if err != nil {
		return nil, err
	}
	byFork := map[inspect.ID][]inspect.VisitRow{}
	for _, v := range visits {
		byFork[v.Fork.ID] = append(byFork[v.Fork.ID], v)
	}
	mean := shopMean(byFork)
	now := d.Clock()
	var out []DueRow
	for _, vs := range byFork {
		sort.Slice(vs, func(i, j int) bool { return vs[i].Visit.DroppedOff.After(vs[j].Visit.DroppedOff) })
		last := vs[0]
		if !last.Visit.Closed() || last.Visit.NextHours == 0 && last.Visit.NextDate.IsZero() {
			continue
		}
		out = append(out, dueOf(last, perWeek(vs, mean), now))
	}
	sort.Slice(out, func(i, j int) bool { return out[i].On.Before(out[j].On) })
	return out, nil
}

func dueOf(last inspect.VisitRow, rate float64, now time.Time) DueRow {
	r := DueRow{Row: last, PerWeek: rate, NextHours: last.Visit.NextHours, NextDate: last.Visit.NextDate}
	weeks := now.Sub(last.Visit.Collected).Hours() / (24 * 7)
	if weeks < 0 {
		weeks = 0
	}
	r.HoursNow = last.Hours + rate*weeks
	r.On, r.By = r.NextDate, "date"
	if r.NextHours > 0 && rate > 0 {
		left := (r.NextHours - last.Hours) / rate
		at := last.Visit.Collected.Add(time.Duration(left * 7 * 24 * float64(time.Hour)))
		if r.On.IsZero() || at.Before(r.On) {
			r.On, r.By = at, "hours"
		}
	}
	return r
}

// perWeek is a fork's own riding between its first and last visit, shrunk to
// the shop's mean by weeksOfPrior.
func perWeek(vs []inspect.VisitRow, mean float64) float64 {
	hours, weeks := ridden(vs)
	return (hours + mean*weeksOfPrior) / (weeks + weeksOfPrior)
}

func ridden(newestFirst []inspect.VisitRow) (hours, weeks float64) {
	if len(newestFirst) < 2 {
		return 0, 0
	}
	last, first := newestFirst[0], newestFirst[len(newestFirst)-1]
	hours = last.Hours - first.Hours
	weeks = last.Visit.DroppedOff.Sub(first.Visit.DroppedOff).Hours() / (24 * 7)
	if hours < 0 || weeks <= 0 {
		return 0, 0
	}
	return hours, weeks
}

func shopMean(byFork map[inspect.ID][]inspect.VisitRow) float64 {
	hours, weeks := 0.0, 0.0
	for _, vs := range byFork {
		sort.Slice(vs, func(i, j int) bool { return vs[i].Visit.DroppedOff.After(vs[j].Visit.DroppedOff) })
		h, w := ridden(vs)
		hours, weeks = hours+h, weeks+w
	}
	if weeks == 0 {
		return defaultPerWeek
	}
	return hours / weeks
}
