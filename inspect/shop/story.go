package shop

import (
	"context"
	"sort"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// Line is one part of the decision with its evidence.
type Line struct {
	Assessment inspect.Assessment
	Part       catalog.Part
	Kit        catalog.Kit // what it is sold as; empty where it is sold alone
	Sentence   string      // the deciding reason, for the customer
	Lead       catalog.Check
	Trend      *Trend // nil where there is none
	Then, Now  *inspect.Photo
	ThenVisit  *inspect.VisitRow
	Consent    *inspect.Consent
	Renewed    bool
}

// Story is a visit as it is told to the customer.
type Story struct {
	Case      *Case
	Lines     []Line // what was decided: replace, then measure again, then reuse
	Unopened  []Line // parts that were not opened this time
	Causes    []catalog.FoundCause
	DoNotRide bool
	NextHours float64
	NextDate  time.Time
}

// Story joins the decisions of a visit with their photos and trends.
func (d *Desk) Story(ctx context.Context, c *Case) (*Story, error) {
	s := &Story{Case: c, Causes: d.Causes(c), NextHours: c.Visit.NextHours, NextDate: c.Visit.NextDate}
	if s.NextHours == 0 && s.NextDate.IsZero() {
		s.NextHours, s.NextDate = d.Next(c)
	}
	for _, a := range c.Assessments {
		l, err := d.line(ctx, c, a)
		if err != nil {
			return nil, err
		}
		s.DoNotRide = s.DoNotRide || a.DoNotRide && !l.Renewed && !d.cleared(c, a)
		if a.NotOpened {
			s.Unopened = append(s.Unopened, l)
			continue
		}
		s.Lines = append(s.Lines, l)
	}
	sort.SliceStable(s.Lines, func(i, j int) bool {
		return order(s.Lines[i].Assessment.InForce()) < order(s.Lines[j].Assessment.InForce())
	})
	return s, nil
}

func order(v inspect.Verdict) int {
	switch v {
	case inspect.Replace:
		return 0
	case inspect.Measure:
		return 1
	}
	return 2
}

func (d *Desk) line(ctx context.Context, c *Case, a inspect.Assessment) (Line, error) {
	l := Line{Assessment: a, Renewed: c.Renewed(a.Part, a.Leg)}
	l.Part, _ = d.Catalog.Part(a.Part)
	l.Kit, _ = d.Catalog.Kit(l.Part.SoldAsFor(c.Sheet))
	for _, r := range a.Reasons {
		if r.Decide {
			l.Sentence = r.Plain
			l.Lead, _ = d.Catalog.Check(r.Check)
		}
	}
	if a.Override != nil {
		l.Sentence = d.Catalog.Tongue.Sayf("Changed by hand: %s", a.Override.Reason)
	}
	if k, ok := d.Catalog.Check(a.LeadCheck); ok && l.Lead.ID == "" {
		l.Lead = k
	}
	if k, ok := c.AnswerOn(a.ID); ok {
		l.Consent = &k
	}
	d.evidence(c, &l)
	k, ok := d.Catalog.Check(a.LeadCheck)
	if !ok {
		return l, nil
	}
	leg := askedAt(k, c.Sheet, a.Leg)
	f, had := c.holder(k, d.Catalog, leg)
	if !had {
		return l, nil
	}
	g, err := d.kin(ctx, c, k)
	if g == nil || err != nil {
		return l, err
	}
	l.Trend, err = d.trendOf(c, g, f, leg)
	return l, err
}

// cleared tells whether a reading after the work has cleared every do-not-ride
// finding of a decision: reworked, looked at again and fine. Until then the
// mark stays.
func (d *Desk) cleared(c *Case, a inspect.Assessment) bool {
	found := false
	for _, r := range a.Reasons {
		if r.Rule != 1 {
			continue
		}
		found = true
		k, ok := d.Catalog.Check(r.Check)
		if !ok {
			return false
		}
		again, ok := c.At(catalog.Position{Check: k, Leg: r.Leg, Stage: inspect.AfterWork})
		if !ok || !answered(again) || again.Answer == inspect.Measured || bad(k, again) {
			return false
		}
	}
	return found
}

// evidence finds the then and now pictures: of the leading check, else of any
// check of the part.
func (d *Desk) evidence(c *Case, l *Line) {
	checks := []catalog.Check{l.Lead}
	checks = append(checks, d.Catalog.ChecksOf(l.Part.ID)...)
	for _, k := range checks {
		if k.ID == "" {
			continue
		}
		then, now, visit, hasThen, hasNow := c.ThenAndNow(k.ID, l.Assessment.Leg)
		if hasNow && l.Now == nil {
			l.Now = &now
			if hasThen {
				l.Then, l.ThenVisit = &then, &visit
			}
		}
		if l.Now == nil && hasThen && l.Then == nil {
			l.Then, l.ThenVisit = &then, &visit
		}
	}
}
