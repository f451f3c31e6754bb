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
	leg = askedAt(k, c.Sheet, leg)
	f, ok := c.holder(k, d.Catalog, leg)
	if !ok {
		return nil, nil
	}
	g, err := d.kin(ctx, c, k)
	if g == nil || err != nil {
		return nil, err
	}
	t, err := d.trendOf(c, g, f, leg)
	if t != nil && len(t.Band) > 0 {
		t.Told += d.shape(g)
	}
	return t, err
}

func (d *Desk) trendOf(c *Case, g *Group, f inspect.Fitting, leg inspect.Leg) (*Trend, error) {
	t := &Trend{Check: g.Check, Fitting: f.ID, Now: d.age(c, g.Check, f), Horizon: ownHorizon(g.Check, d.horizon(c, g.Check.Part), d.door(c, g.Check.Part)), Told: g.Fit.ToldIn(d.Catalog.Tongue, d.Catalog.Tongue.Say(axisUnit(g.Check)))}
	s := d.own(c, g, f, leg, true)
	if s == nil {
		return nil, nil
	}
	t.Baseline = s.baseline && len(s.points) == 0
	for _, p := range s.points {
		t.Points = append(t.Points, TrendPoint{Visit: p.onVisit, Hours: p.hours, Used: p.obs.Value, U: p.obs.U, On: p.on, Raw: p.reading.Value, Unit: p.reading.Unit})
	}
	t.PriorOnly = len(s.points) < 2
	t.Told += direction(d.Catalog.Tongue, t.Points, d.Catalog.Tongue.Say(axisUnit(g.Check)))
	if why := g.setAside(d.Catalog.Tongue, s, t.Now); why != "" {
		t.NoTrend, t.Told = true, d.Catalog.Tongue.Sayf("No line through these readings: %s", why)
		return t, nil
	}
	post, err := g.Fit.PosteriorOf(s.unit, s.observations())
	if err != nil {
		return t, nil // nothing to draw a line from: the points are shown
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
		return math.Max(0, months(f.FittedOn, c.Visit.DroppedOff))
	}
	return math.Max(0, c.Claim.Hours-f.FittedAt)
}

// months between two moments, of 30.44 days (365.25/12).
func months(from, to time.Time) float64 { return to.Sub(from).Hours() / (24 * 30.44) }

// own is the series of one fitting as a case knows it: what the history has of
// earlier visits, and this visit's own reading in force. With after, a part
// that was read only after the work counts too: that is the start of the new
// part, and no evidence on what came in. Nil where there is no reading at all.
func (d *Desk) own(c *Case, g *Group, f inspect.Fitting, leg inspect.Leg, after bool) *series {
	key := seriesKey{f.ID, leg}
	if known := g.series[key]; known != nil {
		s := known.upTo(c.Visit.DroppedOff)
		if row, ids, ok := d.nowOf(c, g.Check, f, leg, after); ok {
			s.add(d, g.Check, row, ids)
		}
		return s
	}
	row, ids, ok := d.nowOf(c, g.Check, f, leg, after)
	if !ok {
		return nil
	}
	s := &series{unit: wear.Unit{ID: key.unit(), AgeUnknown: !row.AgeKnown, Fork: string(c.Fork.ID)}, forkID: c.Fork.ID, atNew: g.atNew}
	s.add(d, g.Check, row, ids)
	return s
}

// nowOf is this visit's reading of one check on a fitting, its points reduced.
func (d *Desk) nowOf(c *Case, k catalog.Check, f inspect.Fitting, leg inspect.Leg, after bool) (inspect.TrendRow, []inspect.ID, bool) {
	var rows []inspect.TrendRow
	for slot, r := range c.Current {
		if slot.Check != k.ID || slot.Leg != leg || slot.Stage == inspect.AfterWork && (!after || r.FittingID != f.ID) {
			continue
		}
		if r.Answer != inspect.Graded && r.Answer != inspect.Measured {
			continue
		}
		if slot.Stage != inspect.AfterWork && r.FittingID != "" && r.FittingID != f.ID {
			continue
		}
		r.FittingID = f.ID
		rows = append(rows, inspect.TrendRow{Reading: r, ForkID: c.Fork.ID, Sheet: c.Sheet.ID, Part: k.Part,
			AgeKnown: f.AgeKnown && (k.Grows != catalog.ByMonths || !cameWithFork(f)),
			Hours:    c.Claim.Hours - f.FittedAt, HoursU: math.Hypot(c.Claim.U, f.FittedU), On: c.Visit.DroppedOff, FittedOn: f.FittedOn})
	}
	if len(rows) == 0 || c.Claim.ID == "" && k.Grows == catalog.ByHours {
		return inspect.TrendRow{}, nil, false
	}
	sort.Slice(rows, func(i, j int) bool { return rows[i].Reading.Slot().Point < rows[j].Reading.Slot().Point })
	return d.oneOf(k, beforeWork(rows))
}

// setAside says why no line is drawn through a series: the history's own
// reason, or hours that drop from the last reading to now by more than their
// uncertainty allows (the history's rule, wear.FitPenalised).
func (g *Group) setAside(t inspect.Tongue, s *series, now float64) string {
	if why := g.aside[s.unit.ID]; why != "" {
		return why
	}
	for i := 1; i < len(s.points); i++ {
		a, b := s.points[i-1].obs, s.points[i].obs
		if a.Hours-b.Hours > 1e-9+2*math.Hypot(a.HoursU, b.HoursU) {
			return t.Sayf("its hours drop from %.0f to %.0f between two readings: correct them, or start a new fitting", a.Hours, b.Hours)
		}
	}
	return ""
}

// axisUnit names the axis on which a check grows.
func axisUnit(k catalog.Check) string {
	if k.Grows == catalog.ByMonths {
		return "months"
	}
	return "h"
}
