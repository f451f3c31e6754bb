package shop

import (
	"math"

	"forkwear/inspect"
	"forkwear/inspect/catalog"

	"gonum.org/v1/gonum/stat"
)

// leastNew is how many new parts must have been read before their mean stands
// in for a new value that nobody knows.
const leastNew = 3

// newValue is what a new part of one data sheet measures, for one of them that
// was not read when new.
type newValue struct {
	value float64 // mean of n new parts, in the check's unit
	u     float64 // s sqrt(1 + 1/n): the mean's standard error and the scatter of one part
	n     int
}

// whenNew tells a reading of a part of known age that had not been ridden yet.
// Half an hour is a ride round the yard.
func whenNew(r inspect.TrendRow) bool { return r.AgeKnown && r.Hours <= 0.5 && r.Hours >= 0 }

// newValues gives for each data sheet the mean of a check on new parts: one
// reading a fitting and leg, its points reduced, made on a part of known age 0.
// Only for checks whose limit is a distance from new; sheets with fewer than
// three new parts are left out. The part's own new value is this mean within
// u = s sqrt(1 + 1/n), s the sample standard deviation (JCGM 100, 4.2, for the
// mean; the scatter of one part comes on top).
//
// A part that was itself read when new keeps that reading: no reading is both
// reference and datum.
func (d *Desk) newValues(k catalog.Check, rows []inspect.TrendRow) map[string]newValue {
	if k.LimitFromNew == nil {
		return nil
	}
	type key struct {
		at    seriesKey
		visit inspect.ID
		stage inspect.Stage
	}
	at := map[key][]inspect.TrendRow{}
	var order []key
	for _, r := range rows {
		if r.Reading.Answer != inspect.Measured || r.Reading.FittingID == "" || !whenNew(r) {
			continue
		}
		id := key{seriesKey{r.Reading.FittingID, r.Reading.Leg}, r.Reading.VisitID, r.Reading.Stage}
		if at[id] == nil {
			order = append(order, id)
		}
		at[id] = append(at[id], r)
	}
	values, done := map[string][]float64{}, map[seriesKey]bool{}
	for _, id := range order {
		row, _, ok := d.oneOf(k, at[id])
		if x := row.Reading.Value; ok && !done[id.at] && !math.IsNaN(x) && !math.IsInf(x, 0) {
			values[row.Sheet] = append(values[row.Sheet], x)
			done[id.at] = true
		}
	}
	out := map[string]newValue{}
	for sheet, xs := range values {
		if n := float64(len(xs)); len(xs) >= leastNew {
			mean, sd := stat.MeanStdDev(xs, nil)
			out[sheet] = newValue{mean, sd * math.Sqrt(1+1/n), len(xs)}
		}
	}
	return out
}
