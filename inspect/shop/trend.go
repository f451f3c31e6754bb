package shop

import (
	"context"
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
	baseline bool // readings without new value and limit: nothing to reckon yet
}

// Group is one check over all fittings of the library, fitted.
type Group struct {
	Check  catalog.Check
	Fit    wear.Fit
	series map[inspect.ID]*series
}

// Group loads and fits one check. It is nil for checks without a trend.
func (d *Desk) Group(ctx context.Context, k catalog.Check, sheet catalog.Sheet) (*Group, error) {
	life := k.LifeFor(sheet)
	if k.Grows != catalog.ByHours && k.Grows != catalog.ByMonths || life <= 0 {
		return nil, nil
	}
	rows, err := d.Lib.TrendRows(ctx, k.ID)
	if err != nil {
		return nil, err
	}
	g := &Group{Check: k, series: d.seriesOf(k, rows)}
	data := wear.Data{Units: map[string]wear.Unit{}}
	for _, id := range g.ids() {
		s := g.series[id]
		data.Units[s.unit.ID] = s.unit
		data.Observations = append(data.Observations, s.observations()...)
	}
	prior := wear.DefaultPrior(life)
	if k.LifeCv > 0 {
		prior.CvL = k.LifeCv
	}
	if k.Exponent > 0 {
		prior.TimePower = k.Exponent
	}
	g.Fit, err = wear.FitPenalised(data, prior)
	return g, err
}

func (g *Group) ids() []inspect.ID {
	ids := make([]inspect.ID, 0, len(g.series))
	for id := range g.series {
		ids = append(ids, id)
	}
	sort.Slice(ids, func(i, j int) bool { return ids[i] < ids[j] })
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
func (d *Desk) seriesOf(k catalog.Check, rows []inspect.TrendRow) map[inspect.ID]*series {
	type key struct{ fitting, visit inspect.ID }
	byVisit := map[key][]inspect.TrendRow{}
	var order []key
	for _, r := range rows {
		if r.Reading.FittingID == "" || r.Reading.Answer != inspect.Graded && r.Reading.Answer != inspect.Measured {
			continue
		}
		id := key{r.Reading.FittingID, r.Reading.VisitID}
		if byVisit[id] == nil {
			order = append(order, id)
		}
		byVisit[id] = append(byVisit[id], r)
	}
	sort.SliceStable(order, func(i, j int) bool { return byVisit[order[i]][0].On.Before(byVisit[order[j]][0].On) })
	out := map[inspect.ID]*series{}
	datum := map[inspect.ID]inspect.Reading{}
	for _, id := range order {
		row, ids := d.oneOf(k, beforeWork(byVisit[id]))
		s := out[id.fitting]
		if s == nil {
			s = &series{unit: wear.Unit{ID: string(id.fitting), AgeUnknown: !row.AgeKnown}, forkID: row.ForkID}
			out[id.fitting] = s
		}
		p, ok := d.point(k, row, ids, datum)
		if !ok {
			s.baseline = true
			continue
		}
		s.points = append(s.points, p)
	}
	return out
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

// oneOf reduces the points of one check at one visit to one reading.
func (d *Desk) oneOf(k catalog.Check, rows []inspect.TrendRow) (inspect.TrendRow, []inspect.ID) {
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
	if len(rows) == 1 {
		return first, ids
	}
	if first.Reading.Answer == inspect.Graded {
		for _, r := range rows {
			first.Reading.Value = math.Max(first.Reading.Value, r.Reading.Value)
		}
		return first, ids
	}
	rule := wear.Rule(k.Reduce)
	if rule == "" {
		rule = wear.Mean
	}
	if red, err := wear.Reduce(pts, rule, shared); err == nil {
		first.Reading.Value, first.Reading.U = red.Value, red.U
	}
	return first, ids
}

// point turns a reading into wear used; false where there is nothing to measure
// it against yet. A reading that serves as the new value is no datum.
func (d *Desk) point(k catalog.Check, row inspect.TrendRow, ids []inspect.ID, datum map[inspect.ID]inspect.Reading) (point, bool) {
	t, ut := row.Hours, row.HoursU
	if k.Grows == catalog.ByMonths {
		t, ut = row.On.Sub(row.FittedOn).Hours()/(24*30.44), 0.1
	}
	p := point{reading: row.Reading, ids: ids, onVisit: row.Reading.VisitID, on: row.On, hours: t}
	if t < 0 {
		t = 0
	}
	unit := string(row.Reading.FittingID)
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
	if xNew == nil && k.LimitFromNew != nil {
		first, had := datum[row.Reading.FittingID]
		if !had {
			datum[row.Reading.FittingID] = row.Reading
			return p, false
		}
		xNew, uNew = &first.Value, first.U
		limit := first.Value + *k.LimitFromNew
		xLimit = &limit
	}
	if xNew == nil || xLimit == nil {
		return p, false
	}
	w, u, err := wear.Used(row.Reading.Value, row.Reading.U, *xNew, uNew, *xLimit, k.LimitU)
	if err != nil {
		return p, false
	}
	p.reading.New, p.reading.Limit = xNew, xLimit
	p.obs = wear.Observation{Unit: unit, Hours: t, HoursU: ut, Value: w, U: u}
	return p, true
}

// TrendPoint is one reading as wear used, for a plot.
type TrendPoint struct {
	Visit inspect.ID
	Hours float64 // on the fitting (months where the check grows by months)
	Used  float64
	U     float64
	On    time.Time
	Raw   float64
	Unit  string
}

// Trend is one check of one fitting through its visits.
type Trend struct {
	Check     catalog.Check
	Fitting   inspect.ID
	Points    []TrendPoint
	Band      []wear.BandPoint
	Now       float64 // hours on the fitting now
	Horizon   float64
	Left      *inspect.HoursLeft
	NoTrend   bool
	PriorOnly bool
	Baseline  bool
	Told      string // how far the figures come from readings
}

// Trend gives the life of one check on the fitting of a case; nil where the
// check has no trend or the part was never read.
func (d *Desk) Trend(ctx context.Context, c *Case, k catalog.Check, leg inspect.Leg) (*Trend, error) {
	f, ok := c.Fitting(k.Part, leg)
	if !ok {
		return nil, nil
	}
	g, err := d.Group(ctx, k, c.Sheet)
	if g == nil || err != nil {
		return nil, err
	}
	return d.trendOf(c, g, f)
}

func (d *Desk) trendOf(c *Case, g *Group, f inspect.Fitting) (*Trend, error) {
	t := &Trend{Check: g.Check, Fitting: f.ID, Now: d.age(c, g.Check, f), Horizon: d.horizon(c, g.Check.Part), Told: g.Fit.Told()}
	s := g.series[f.ID]
	if s == nil {
		return nil, nil
	}
	t.Baseline = s.baseline && len(s.points) == 0
	for _, p := range s.points {
		t.Points = append(t.Points, TrendPoint{Visit: p.onVisit, Hours: p.hours, Used: p.obs.Value, U: p.obs.U, On: p.on, Raw: p.reading.Value, Unit: p.reading.Unit})
	}
	t.PriorOnly = len(s.points) < 2
	post, err := g.Fit.PosteriorOf(s.unit, s.observations())
	if err != nil {
		return t, nil // set aside: the points are shown, no line through them
	}
	if left, err := post.HoursLeft(t.Now); err == nil {
		t.NoTrend = left.NoTrend
		t.Left = hoursLeft(left)
	}
	if !t.Baseline {
		t.Band = wear.Band(post, steps(t.Now+t.Horizon))
	}
	return t, nil
}

func steps(end float64) []float64 {
	const n = 40
	ts := make([]float64, n+1)
	for i := range ts {
		ts[i] = end * float64(i) / n
	}
	return ts
}

// hoursLeft drops what has no end in sight.
func hoursLeft(l wear.HoursLeft) *inspect.HoursLeft {
	if l.NoTrend || math.IsInf(l.P50, 0) || math.IsInf(l.P95, 0) || math.IsNaN(l.P50) {
		return nil
	}
	return &inspect.HoursLeft{P05: l.P05, P50: l.P50, P95: l.P95}
}

// age is the time on a fitting now, hours or months as the check grows.
func (d *Desk) age(c *Case, k catalog.Check, f inspect.Fitting) float64 {
	if k.Grows == catalog.ByMonths {
		return math.Max(0, c.Visit.DroppedOff.Sub(f.FittedOn).Hours()/(24*30.44))
	}
	return math.Max(0, c.Claim.Hours-f.FittedAt)
}
