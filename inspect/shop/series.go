package shop

import (
	"math"
	"sort"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/wear"
)

// point is one visit's wear used of one fitting.
type point struct {
	reading inspect.Reading
	ids     []inspect.ID
	obs     wear.Observation
	onVisit inspect.ID
	on      time.Time
	hours   float64
}

// series is the points of one fitting of one check, oldest first.
type series struct {
	unit     wear.Unit
	forkID   inspect.ID
	points   []point
	baseline bool                // readings without new value and limit: nothing to reckon yet
	datum    *inspect.Reading    // the first reading, where it serves as the new value
	atNew    map[string]newValue // by data sheet: the group mean of new parts, in place of a datum
}

// seriesKey names one series: a fitting, and the leg that was asked for. The
// two differ where a check is asked of the whole fork for a part of each leg
// (the reading then lies on the fitting that has been in longest and counts for
// both legs), or of each leg for a part of the whole fork.
type seriesKey struct {
	fitting inspect.ID
	leg     inspect.Leg
}

func (k seriesKey) unit() string { return string(k.fitting) + "/" + string(k.leg) }

// Group is one check over all fittings of the library, fitted.
type Group struct {
	Check  catalog.Check
	Fit    wear.Fit
	series map[seriesKey]*series
	aside  map[string]string // units that the fit set aside, and why
	atNew  map[string]newValue
	data   wear.Data // what was fitted, with key and prior, for the profile of the power of time
	prior  wear.Prior
	key    fitKey
}

func (g *Group) ids() []seriesKey {
	ids := make([]seriesKey, 0, len(g.series))
	for id := range g.series {
		ids = append(ids, id)
	}
	sort.Slice(ids, func(i, j int) bool { return ids[i].unit() < ids[j].unit() })
	return ids
}

func (s *series) observations() []wear.Observation {
	var os []wear.Observation
	for _, p := range s.points {
		os = append(os, p.obs)
	}
	return os
}

// seriesOf groups readings by fitting and visit. Of one visit counts what was
// seen before the work; what was read after it is the start of the new part.
func (d *Desk) seriesOf(k catalog.Check, rows []inspect.TrendRow) map[seriesKey]*series {
	type key struct {
		at    seriesKey
		visit inspect.ID
	}
	byVisit := map[key][]inspect.TrendRow{}
	var order []key
	for _, r := range rows {
		if r.Reading.FittingID == "" || r.Reading.Answer != inspect.Graded && r.Reading.Answer != inspect.Measured {
			continue
		}
		id := key{seriesKey{r.Reading.FittingID, r.Reading.Leg}, r.Reading.VisitID}
		if byVisit[id] == nil {
			order = append(order, id)
		}
		byVisit[id] = append(byVisit[id], r)
	}
	sort.SliceStable(order, func(i, j int) bool { // two visits that began at one moment: by their ids, which go by time
		a, b := byVisit[order[i]][0].On, byVisit[order[j]][0].On
		return a.Before(b) || a.Equal(b) && order[i].visit < order[j].visit
	})
	out := map[seriesKey]*series{}
	atNew := d.newValues(k, rows)
	for _, id := range order {
		row, ids, ok := d.oneOf(k, beforeWork(byVisit[id]))
		if !ok {
			continue
		}
		s := out[id.at]
		if s == nil {
			s = &series{unit: wear.Unit{ID: id.at.unit(), AgeUnknown: !row.AgeKnown, Fork: string(row.ForkID)}, forkID: row.ForkID, atNew: atNew}
			out[id.at] = s
		}
		s.add(d, k, row, ids)
	}
	return out
}

func (s *series) add(d *Desk, k catalog.Check, row inspect.TrendRow, ids []inspect.ID) {
	if p, ok := d.point(k, row, ids, s); ok {
		s.points = append(s.points, p)
		return
	}
	s.baseline = true
}

// upTo is a copy of the series with the visits up to a moment only.
func (s *series) upTo(t time.Time) *series {
	out := *s
	out.points = nil
	for _, p := range s.points {
		if !p.on.After(t) {
			out.points = append(out.points, p)
		}
	}
	return &out
}

func beforeWork(rows []inspect.TrendRow) []inspect.TrendRow {
	for _, st := range []inspect.Stage{inspect.Stripped, inspect.Received, inspect.AfterWork} {
		var at []inspect.TrendRow
		for _, r := range rows {
			if r.Reading.Stage == st {
				at = append(at, r)
			}
		}
		if len(at) > 0 {
			return at
		}
	}
	return rows
}

// oneOf reduces the points of one check at one visit and stage to one reading:
// the worst grade, or the check's rule for numbers; false where the points are
// too few for the rule (a range of one).
func (d *Desk) oneOf(k catalog.Check, rows []inspect.TrendRow) (inspect.TrendRow, []inspect.ID, bool) {
	first := rows[0]
	var ids []inspect.ID
	var pts []wear.Point
	shared := 0.0
	if g, ok := d.Catalog.Instrument(first.Reading.Instrument); ok {
		shared = g.Calibration / math.Sqrt(3)
	}
	for _, r := range rows {
		ids = append(ids, r.Reading.ID)
		u := r.Reading.U
		if u > shared {
			u = math.Sqrt(u*u - shared*shared)
		}
		pts = append(pts, wear.Point{Value: r.Reading.Value, U: u})
	}
	if first.Reading.Answer == inspect.Graded {
		for _, r := range rows {
			first.Reading.Value = math.Max(first.Reading.Value, r.Reading.Value)
		}
		return first, ids, true
	}
	rule := wear.Rule(k.Reduce)
	if len(rows) == 1 && rule != wear.Range {
		return first, ids, true
	}
	if rule == "" {
		rule = wear.Mean
	}
	red, err := wear.Reduce(pts, rule, shared)
	first.Reading.Value, first.Reading.U = red.Value, red.U
	return first, ids, err == nil
}

// point turns a reading into wear used; false where there is nothing to measure
// it against yet. A reading that serves as the new value is no datum.
func (d *Desk) point(k catalog.Check, row inspect.TrendRow, ids []inspect.ID, s *series) (point, bool) {
	t, ut := row.Hours, row.HoursU
	if k.Grows == catalog.ByMonths {
		t, ut = months(row.FittedOn, row.On), 0.1
	}
	t = math.Max(t, 0)
	p := point{reading: row.Reading, ids: ids, onVisit: row.Reading.VisitID, on: row.On, hours: t}
	unit := s.unit.ID
	if row.Reading.Answer == inspect.Graded {
		step := 1.0
		if k.HalfSteps {
			step = 0.5
		}
		g, err := wear.Grade(row.Reading.Value, k.LimitGrade, step, 0)
		if err != nil {
			return p, false
		}
		p.obs = g.Observation(unit, t, ut)
		return p, true
	}
	sheet, _ := d.Catalog.Sheet(row.Sheet)
	xNew, xLimit, uNew := row.Reading.New, row.Reading.Limit, k.NewU
	if xNew == nil && xLimit == nil {
		xNew, xLimit = k.Bounds(sheet)
	}
	u := row.Reading.U
	if mean, ok := s.atNew[row.Sheet]; ok && xNew == nil && k.LimitFromNew != nil && s.datum == nil && !whenNew(row) {
		limit := mean.value + *k.LimitFromNew
		xNew, xLimit, uNew = &mean.value, &limit, 0
		u = math.Hypot(u, mean.u) // new and limit move together: du_w/du_new is 1 over the allowed wear, not 1 - w of it
	} else if xNew == nil && k.LimitFromNew != nil {
		if s.datum == nil {
			first := row.Reading
			s.datum = &first
			return p, false
		}
		first := *s.datum
		xNew, uNew = &first.Value, first.U
		limit := first.Value + *k.LimitFromNew
		xLimit = &limit
	}
	if xNew == nil || xLimit == nil {
		return p, false
	}
	w, uw, err := wear.Used(row.Reading.Value, u, *xNew, uNew, *xLimit, k.LimitU)
	if err != nil {
		return p, false
	}
	p.reading.New, p.reading.Limit = xNew, xLimit
	p.obs = wear.Observation{Unit: unit, Hours: t, HoursU: ut, Value: w, U: uw}
	return p, true
}
