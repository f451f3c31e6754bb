package shop

import (
	"context"
	"sort"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/verdict"
	"forkwear/inspect/wear"
)

// finding is what a line of the checklist says of one part: the reading of what
// came in, its photo, and its wear.
func (d *Desk) finding(ctx context.Context, c *Case, at catalog.PartAt, p catalog.Position, rules verdict.Rules) (verdict.Finding, error) {
	f := verdict.Finding{Check: p.Check, Leg: p.Leg, Required: true}
	for _, ph := range c.Photos {
		f.Photo = f.Photo || ph.Check == p.Check.ID && (ph.Leg == p.Leg || ph.Leg == inspect.Whole)
	}
	f.Reading, f.IDs = d.asCame(c, p.Check, p.Leg)
	if r, ok := c.standing(p.Check, at, p.Leg); ok && (f.Reading == nil || !answered(*f.Reading)) {
		f.Reading, f.IDs, f.Carried = &r, []inspect.ID{r.ID}, true
	}
	if f.Reading == nil {
		return f, nil
	}
	f.Doubt = doubted(*f.Reading)
	if f.Carried {
		return f, nil
	}
	return f, d.wearOf(ctx, c, at, &f, rules)
}

// answered tells a reading that says how it is from one that only says why it
// says nothing.
func answered(r inspect.Reading) bool {
	switch r.Answer {
	case inspect.Graded, inspect.Measured, inspect.Fine, inspect.NotFine:
		return true
	}
	return false
}

// doubted tells a finding that the inspector is not sure of.
func doubted(r inspect.Reading) bool {
	return r.Answer == inspect.NotFine && strings.Contains(strings.ToLower(r.Fields), "doubt")
}

// asCame is the reading in force of what came in, its points made one: what the
// stripped part said before what was seen from outside, and an answer before
// 'zone seen', 'cannot be seen' and 'not looked at'. Readings after the work
// are not part of it. A point that is not fine counts before all others.
func (d *Desk) asCame(c *Case, k catalog.Check, leg inspect.Leg) (*inspect.Reading, []inspect.ID) {
	var best []inspect.Reading
	for _, stage := range []inspect.Stage{inspect.Stripped, inspect.Received} {
		var at []inspect.Reading
		for slot, r := range c.Current {
			if slot.Check == k.ID && slot.Leg == leg && slot.Stage == stage {
				at = append(at, r)
			}
		}
		sort.Slice(at, func(i, j int) bool {
			a, b := weight(at[i]), weight(at[j])
			return a > b || a == b && at[i].Point < at[j].Point
		})
		if len(at) > 0 && (len(best) == 0 || weight(at[0])/10 > weight(best[0])/10) {
			best = at
		}
	}
	if len(best) == 0 {
		return nil, nil
	}
	first := best[0]
	if first.Answer != inspect.Graded && first.Answer != inspect.Measured {
		return &first, []inspect.ID{first.ID}
	}
	var rows []inspect.TrendRow
	for _, r := range best {
		if r.Answer == first.Answer {
			rows = append(rows, inspect.TrendRow{Reading: r})
		}
	}
	row, ids, ok := d.oneOf(k, rows)
	if !ok { // too few points for the rule: as good as not measured
		row.Reading.Answer = inspect.NotLooked
	}
	return &row.Reading, ids
}

// weight orders answers of one check: tens tell a better kind of knowledge.
func weight(r inspect.Reading) int {
	switch r.Answer {
	case inspect.NotFine:
		return 33
	case inspect.Graded, inspect.Measured:
		return 32
	case inspect.Fine:
		return 31
	case inspect.ZoneSeen:
		return 20
	case inspect.CannotSee, inspect.CannotGauge, inspect.DoesNotApply:
		return 10
	}
	return 0
}

// standing is a do-not-ride finding of an earlier visit on the part that is
// still in: the newest answer to the check there, where it failed. Looking over
// the zone does not clear it, only an answer to the check itself does.
func (c *Case) standing(k catalog.Check, at catalog.PartAt, leg inspect.Leg) (inspect.Reading, bool) {
	if !k.DoNotRide {
		return inspect.Reading{}, false
	}
	fit, ok := c.Fitting(at.Part.ID, at.Leg)
	if !ok {
		return inspect.Reading{}, false
	}
	for _, e := range c.Earlier {
		for i := len(inspect.Stages()) - 1; i >= 0; i-- {
			for slot, r := range e.Current {
				if slot.Check != k.ID || slot.Leg != leg || slot.Stage != inspect.Stages()[i] || !answered(r) {
					continue
				}
				if fit.FittedVisit == e.Row.Visit.ID && fit.Batch != "" && slot.Stage != inspect.AfterWork {
					return r, false // said of the part before this one
				}
				return r, bad(k, r)
			}
		}
		if fit.FittedVisit == e.Row.Visit.ID {
			break
		}
	}
	return inspect.Reading{}, false
}

// bad tells a finding that is on the wrong side by definition.
func bad(k catalog.Check, r inspect.Reading) bool {
	return r.Answer == inspect.NotFine || r.Answer == inspect.Graded && k.LimitGrade > 0 && wear.Over(r.Value, k.LimitGrade)
}

// limitOnly judges a number without a trend by its limit alone.
func (d *Desk) limitOnly(c *Case, f *verdict.Finding) {
	if f.Reading == nil || f.Reading.Answer != inspect.Measured {
		return
	}
	if f.Reading.New != nil || f.Reading.Limit != nil { // as it was in force then
		f.New, f.Limit = f.Reading.New, f.Reading.Limit
	} else {
		f.New, f.Limit = f.Check.Bounds(c.Sheet)
	}
	if f.New == nil || f.Limit == nil {
		return
	}
	w, u, err := wear.Used(f.Reading.Value, f.Reading.U, *f.New, f.Check.NewU, *f.Limit, f.Check.LimitU)
	if err != nil {
		return
	}
	over, err := wear.POver(w, u)
	if err != nil {
		return
	}
	f.Wear = &verdict.Wear{Used: w, U: u, POver: over, PThen: over}
}

// wearOf fills in what the trend says of this visit's reading, and for a
// finding without a reading what it forecasts. A number without a trend is
// judged by its limit; so is one whose fitting is set aside.
func (d *Desk) wearOf(ctx context.Context, c *Case, at catalog.PartAt, f *verdict.Finding, rules verdict.Rules) error {
	g, err := d.kin(ctx, c, f.Check)
	if err != nil {
		return err
	}
	if g == nil {
		d.limitOnly(c, f)
		return nil
	}
	fit, ok := c.holder(f.Check, d.Catalog, f.Leg)
	if !ok {
		d.limitOnly(c, f)
		return nil
	}
	s := d.own(c, g, fit, f.Leg, false)
	if s == nil {
		d.limitOnly(c, f)
		return nil
	}
	judged := f.Reading != nil && (f.Reading.Answer == inspect.Graded || f.Reading.Answer == inspect.Measured)
	if len(s.points) == 0 {
		f.Baseline = s.baseline && judged
		return nil
	}
	last := s.points[len(s.points)-1]
	if judged && last.onVisit != c.Visit.ID { // this reading has no wear used of its own
		d.limitOnly(c, f)
		return nil
	}
	if judged {
		f.New, f.Limit = last.reading.New, last.reading.Limit
	}
	d.trendWear(c, g, s, fit, at, f, rules)
	return nil
}

func (d *Desk) trendWear(c *Case, g *Group, s *series, fit inspect.Fitting, at catalog.PartAt, f *verdict.Finding, rules verdict.Rules) {
	last := s.points[len(s.points)-1]
	now := d.age(c, f.Check, fit)
	h := ownHorizon(f.Check, d.horizon(c, at.Part.ID), d.door(c, at.Part.ID))
	w := &verdict.Wear{Used: last.obs.Value, U: last.obs.U, PriorOnly: len(s.points) < 2, Months: f.Check.Grows == catalog.ByMonths}
	f.Wear = w
	if f.Reading != nil && f.Reading.Answer == inspect.Measured {
		w.POver, _ = wear.POver(w.Used, w.U)
		w.PThen = w.POver
	}
	if w.Aside = g.setAside(d.Catalog.Tongue, s, now); w.Aside != "" {
		w.NoTrend = true
		return
	}
	post, err := g.Fit.PosteriorOf(s.unit, s.observations())
	if err != nil {
		w.NoTrend, w.Aside = true, err.Error()
		return
	}
	w.Mu, w.S = post.Mu, [3]float64{post.S[0][0], post.S[0][1], post.S[1][1]}
	if p, err := wear.PExceed(post, now, h, horizonShare*h); err == nil {
		w.PThen = p
	}
	if left, err := post.HoursLeft(now); err == nil {
		w.NoTrend, w.Left = left.NoTrend, hoursLeft(left)
	}
	step := 10.0
	if w.Months {
		step = 1
	}
	w.SafeFor = safeFor(post, now, h, rules.LimitFor(at.Part, f.Check), step)
}
