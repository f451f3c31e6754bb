package shop

import (
	"context"
	"fmt"
	"math"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/verdict"
	"forkwear/inspect/wear"
)

// fallbackHorizon is the interval of a lowers service where a level names none
// (common practice, no source).
const fallbackHorizon = 100

// Assess decides every part of the fork on what is known now, without keeping
// it. Parts that no check of this visit looks at and that the level does not
// open come out as 'not opened'.
func (d *Desk) Assess(ctx context.Context, c *Case, rules verdict.Rules) ([]inspect.Assessment, error) {
	groups := map[string]*Group{}
	byPart := d.positionsByPart(c)
	var as []inspect.Assessment
	for _, p := range catalog.PartPositions(d.Catalog, c.Sheet) {
		in, err := d.input(ctx, c, p, byPart[position{p.Part.ID, p.Leg}], groups)
		if err != nil {
			return nil, err
		}
		a := verdict.Decide(in, rules)
		a.ID, a.VisitID, a.By, a.At = d.NewID(), c.Visit.ID, d.By, d.Clock()
		a.Sheet, a.Catalog, a.SheetHash = c.Sheet.ID, d.Catalog.Hash, d.Catalog.Hash
		if f, ok := c.Fitting(p.Part.ID, p.Leg); ok {
			a.FittingID = f.ID
			a.TNow = math.Max(0, c.Claim.Hours-f.FittedAt)
		}
		as = append(as, a)
	}
	return as, nil
}

// Decide assesses and keeps the decisions; older rounds stay on record.
func (d *Desk) Decide(ctx context.Context, c *Case, rules verdict.Rules) error {
	as, err := d.Assess(ctx, c, rules)
	if err != nil {
		return err
	}
	if err := d.Lib.AddAssessments(ctx, as...); err != nil {
		return err
	}
	c.Assessments, err = d.Lib.LatestAssessments(ctx, c.Visit.ID)
	return err
}

// Causes ties the findings of one leg together.
func (d *Desk) Causes(c *Case) []catalog.FoundCause {
	return catalog.Causes(d.Catalog, c.Sheet, c.Evidence())
}

type position struct {
	part string
	leg  inspect.Leg
}

func (d *Desk) positionsByPart(c *Case) map[position][]catalog.Position {
	lines := map[string][]catalog.Position{}
	seen := map[string]bool{}
	add := func(ps []catalog.Position, need bool) {
		for _, p := range ps {
			if need && !c.Answered(p) {
				continue
			}
			id := p.Check.ID + "|" + string(p.Leg) + "|" + string(p.Stage)
			if seen[id] {
				continue
			}
			seen[id] = true
			lines[p.Check.Part] = append(lines[p.Check.Part], p)
		}
	}
	for _, st := range []inspect.Stage{inspect.Received, inspect.Stripped} {
		add(d.Positions(c, st), false)
		add(catalog.AllPositions(d.Catalog, c.Sheet, st), true)
	}
	out := map[position][]catalog.Position{}
	for _, at := range catalog.PartPositions(d.Catalog, c.Sheet) {
		for _, p := range lines[at.Part.ID] {
			if p.Leg == at.Leg || p.Leg == inspect.Whole || at.Leg == inspect.Whole {
				id := position{at.Part.ID, at.Leg}
				out[id] = append(out[id], p)
			}
		}
	}
	return out
}

func (d *Desk) input(ctx context.Context, c *Case, at catalog.PartAt, lines []catalog.Position, groups map[string]*Group) (verdict.Input, error) {
	in := verdict.Input{Part: at.Part, Leg: at.Leg, Horizon: d.horizon(c, at.Part.ID), Gauges: d.Catalog.Instruments}
	if door, ok := d.Catalog.Level(at.Part.Door); ok {
		in.NextDoor = door.Name
	}
	in.Opened = len(lines) > 0
	for _, id := range d.Catalog.Renewed(c.Visit.Level) {
		in.Renewed = in.Renewed || id == at.Part.ID
	}
	in.Opened = in.Opened || in.Renewed
	if k, ok := d.Catalog.Kit(at.Part.SoldAsFor(c.Sheet)); ok {
		in.Price = k.Price
		if j, ok := d.Catalog.Job(k.Job); ok {
			in.Minutes = j.Minutes
		}
	}
	done := map[string]bool{}
	for _, p := range lines {
		id := p.Check.ID + string(p.Leg)
		if done[id] {
			continue
		}
		f, err := d.finding(ctx, c, p, groups)
		if err != nil {
			return in, err
		}
		if f.Reading == nil && hasLater(c, p, lines) {
			continue
		}
		done[id] = true
		if life := p.Check.LifeFor(c.Sheet); p.Check.Grows == catalog.ByHours && (in.LifeNew == 0 || life < in.LifeNew) {
			in.LifeNew = life
		}
		in.Findings = append(in.Findings, f)
	}
	return in, nil
}

// hasLater tells whether the same check is asked at a later stage too: then the
// earlier line alone is not missing.
func hasLater(c *Case, p catalog.Position, lines []catalog.Position) bool {
	for _, q := range lines {
		if q.Check.ID == p.Check.ID && q.Leg == p.Leg && q.Stage != p.Stage && c.Answered(q) {
			return true
		}
	}
	return false
}

func (d *Desk) finding(ctx context.Context, c *Case, p catalog.Position, groups map[string]*Group) (verdict.Finding, error) {
	f := verdict.Finding{Check: p.Check, Leg: p.Leg, Required: true}
	for _, ph := range c.Photos {
		f.Photo = f.Photo || ph.Check == p.Check.ID && (ph.Leg == p.Leg || ph.Leg == inspect.Whole)
	}
	for i := len(inspect.Stages()) - 2; i >= 0 && f.Reading == nil; i-- { // stripped before received
		q := p
		q.Stage = inspect.Stages()[i]
		if r, ok := c.At(q); ok {
			r := r
			f.Reading = &r
		}
	}
	if f.Reading == nil {
		return f, nil
	}
	f.IDs = []inspect.ID{f.Reading.ID}
	g, ok := groups[p.Check.ID]
	if !ok {
		var err error
		if g, err = d.Group(ctx, p.Check, c.Sheet); err != nil {
			return f, fmt.Errorf("trend of %s: %w", p.Check.Name, err)
		}
		groups[p.Check.ID] = g
	}
	if g == nil {
		d.limitOnly(c, p, &f)
		return f, nil
	}
	d.wearOf(c, p, g, &f)
	return f, nil
}

// limitOnly judges a number without a trend by its limit alone.
func (d *Desk) limitOnly(c *Case, p catalog.Position, f *verdict.Finding) {
	if f.Reading.Answer != inspect.Measured {
		return
	}
	xNew, xLimit := p.Check.Bounds(c.Sheet)
	f.New, f.Limit = xNew, xLimit
	if xNew == nil || xLimit == nil {
		return
	}
	w, u, err := wear.Used(f.Reading.Value, f.Reading.U, *xNew, p.Check.NewU, *xLimit, p.Check.LimitU)
	if err != nil {
		return
	}
	over, err := wear.POver(w, u)
	if err != nil {
		return
	}
	f.Wear = &verdict.Wear{Used: w, U: u, POver: over, PThen: over}
}

// wearOf fills what the trend of one fitting says of this visit's reading.
func (d *Desk) wearOf(c *Case, p catalog.Position, g *Group, f *verdict.Finding) {
	fit, ok := c.Fitting(p.Check.Part, p.Leg)
	if !ok {
		return
	}
	s := g.series[fit.ID]
	if s == nil {
		return
	}
	if len(s.points) == 0 {
		f.Baseline = s.baseline
		return
	}
	last := s.points[len(s.points)-1]
	if last.onVisit != c.Visit.ID {
		return
	}
	f.IDs, f.New, f.Limit = last.ids, last.reading.New, last.reading.Limit
	r := last.reading
	f.Reading = &r
	post, err := g.Fit.PosteriorOf(s.unit, s.observations())
	if err != nil {
		return
	}
	now := d.age(c, p.Check, fit)
	h := ownHorizon(p.Check, d.horizon(c, p.Check.Part), c.Level)
	w := &verdict.Wear{Used: last.obs.Value, U: last.obs.U, PriorOnly: len(s.points) < 2, Mu: post.Mu,
		S: [3]float64{post.S[0][0], post.S[0][1], post.S[1][1]}}
	if r.Answer == inspect.Measured {
		w.POver, _ = wear.POver(w.Used, w.U)
	}
	if w.PThen, err = wear.PExceed(post, now, h, 0.2*h); err != nil {
		return
	}
	if left, err := post.HoursLeft(now); err == nil {
		w.NoTrend, w.Left = left.NoTrend, hoursLeft(left)
	}
	w.SafeFor = safeFor(post, now, h, 0.20)
	f.Wear = w
}

// ownHorizon gives the horizon on the check's own axis.
func ownHorizon(k catalog.Check, hours float64, l catalog.Level) float64 {
	if k.Grows == catalog.ByMonths {
		return math.Max(l.Months, 12)
	}
	return hours
}

// safeFor is the hours, in tens, for which the chance stays at or below p.
func safeFor(post wear.Posterior, now, h, p float64) float64 {
	lo, hi := 0.0, h
	for i := 0; i < 12; i++ {
		mid := (lo + hi) / 2
		if q, err := wear.PExceed(post, now, mid, 0.2*mid); err == nil && q <= p {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Floor(lo/10) * 10
}

// horizon is the riding hours until a part's door is next opened: the interval
// of its door's level.
func (d *Desk) horizon(c *Case, part string) float64 {
	if p, ok := d.Catalog.Part(part); ok {
		if l, ok := d.Catalog.Level(p.Door); ok && l.Hours > 0 {
			return l.Hours
		}
	}
	if c.Level.Hours > 0 {
		return c.Level.Hours
	}
	return fallbackHorizon
}
