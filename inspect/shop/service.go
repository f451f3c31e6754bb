package shop

import (
	"context"
	"time"

	"forkwear/inspect"
)

// Renewal is one part to fit new.
type Renewal struct {
	Part  string
	Leg   inspect.Leg
	End   inspect.EndReason // why the old one goes; EndWorn where empty
	Batch string
}

// Renew ends the fitting at each position and starts a new one, in one
// transaction. A position without a fitting only gets the new one.
func (d *Desk) Renew(ctx context.Context, c *Case, renewals []Renewal) error {
	now := d.Clock()
	var ended, started []inspect.Fitting
	for _, r := range renewals {
		if _, ok := d.Catalog.Part(r.Part); !ok {
			return inspect.Refuse(inspect.NotFound, "the part %q is not in the catalog", r.Part)
		}
		if c.Renewed(r.Part, r.Leg) {
			continue
		}
		if old, ok := c.Fitting(r.Part, r.Leg); ok && old.In() {
			old.End, old.EndVisit, old.EndedOn = r.End, c.Visit.ID, now
			if old.End == inspect.StillIn {
				old.End = inspect.EndWorn
			}
			old.EndHours, old.EndU = c.Claim.Hours, c.Claim.U
			ended = append(ended, old)
		}
		batch := r.Batch
		if batch == "" {
			batch = fittedHere
		}
		started = append(started, inspect.Fitting{ID: d.NewID(), ForkID: c.Fork.ID, Part: r.Part, Leg: r.Leg,
			FittedVisit: c.Visit.ID, FittedAt: c.Claim.Hours, FittedU: c.Claim.U, AgeKnown: true, Batch: batch, FittedOn: now})
	}
	if len(started) == 0 {
		return nil
	}
	if err := d.Lib.Refit(ctx, ended, started); err != nil {
		return err
	}
	var err error
	c.Fittings, err = d.Lib.Fittings(ctx, inspect.FittingFilter{ForkID: c.Fork.ID})
	return err
}

// Renewed tells whether a position got a new part during this visit.
func (c *Case) Renewed(part string, leg inspect.Leg) bool {
	for _, f := range c.Fittings {
		if f.Part == part && f.Leg == leg && f.EndVisit == c.Visit.ID && !f.In() {
			return true
		}
	}
	return false
}

// RenewDecided fits new every part whose verdict in force is replace, with the
// reason that the deciding rule gives. Declined lines stay as they are.
func (d *Desk) RenewDecided(ctx context.Context, c *Case) (int, error) {
	declined := map[inspect.ID]bool{}
	for _, k := range c.Consents {
		declined[k.AssessmentID] = !k.Accepted
	}
	var rs []Renewal
	for _, a := range c.Assessments {
		if a.InForce() != inspect.Replace || a.NotOpened || declined[a.ID] {
			continue
		}
		rs = append(rs, Renewal{Part: a.Part, Leg: a.Leg, End: d.endOf(c, a)})
	}
	return len(rs), d.Renew(ctx, c, rs)
}

// endOf reads the reason that a part goes out from its assessment.
func (d *Desk) endOf(c *Case, a inspect.Assessment) inspect.EndReason {
	if a.Override != nil && a.Verdict != inspect.Replace {
		return inspect.EndOverride
	}
	end := inspect.EndWorn
	for _, r := range a.Reasons {
		if !r.Decide {
			continue
		}
		switch r.Rule {
		case 1, 2:
			end = inspect.EndFailed
		case 4:
			end = inspect.EndSchedule
		}
	}
	if len(c.Earlier) == 0 && end != inspect.EndSchedule {
		end = inspect.EndArrival // worn or broken when the fork first came: no event of ours
	}
	return end
}

// Move sets where a visit stands. Ready is stamped when it comes to hand-back.
func (d *Desk) Move(ctx context.Context, c *Case, step inspect.Step) error {
	v := c.Visit
	v.Step = step
	if step == inspect.StepHandBack && v.Ready.IsZero() {
		v.Ready = d.Clock()
	}
	if err := d.Lib.SaveVisit(ctx, v); err != nil {
		return err
	}
	c.Visit = v
	return nil
}

// Next says when a fork should come again: by the interval of the level that
// opens next, in hours since new, and by date, whichever is first.
func (d *Desk) Next(c *Case) (hours float64, date time.Time) {
	h, months := c.Level.Hours, c.Level.Months
	if low, ok := d.Catalog.Level("lowers"); ok && h == 0 {
		h, months = low.Hours, low.Months
	}
	if h > 0 {
		hours = c.Claim.Hours + h
	}
	if months > 0 {
		date = c.Visit.DroppedOff.AddDate(0, int(months), 0)
	}
	return hours, date
}

// Collect gives the fork back and locks the record.
func (d *Desk) Collect(ctx context.Context, c *Case) error {
	v := c.Visit
	if v.NextHours == 0 && v.NextDate.IsZero() {
		v.NextHours, v.NextDate = d.Next(c)
	}
	if v.Ready.IsZero() {
		v.Ready = d.Clock()
	}
	if err := d.Lib.SaveVisit(ctx, v); err != nil {
		return err
	}
	at := d.Clock()
	if err := d.Lib.Collect(ctx, v.ID, at, d.By); err != nil {
		return err
	}
	var err error
	c.Visit, err = d.Lib.Visit(ctx, v.ID)
	return err
}

// Override changes a verdict with a reason; the engine's stays on record.
func (d *Desk) Override(ctx context.Context, c *Case, a inspect.Assessment, v inspect.Verdict, reason string) error {
	if reason == "" {
		return inspect.Refuse(inspect.Invalid, "say why the verdict is changed: both stay on record")
	}
	o := inspect.Override{ID: d.NewID(), AssessmentID: a.ID, Verdict: v, Reason: reason, By: d.By, At: d.Clock()}
	if err := d.Lib.AddOverride(ctx, c.Visit.ID, o); err != nil {
		return err
	}
	var err error
	c.Assessments, err = d.Lib.LatestAssessments(ctx, c.Visit.ID)
	return err
}

// Consent keeps the customer's answer on one line.
func (d *Desk) Consent(ctx context.Context, c *Case, a inspect.Assessment, yes bool, by, how, shown string) error {
	k := inspect.Consent{ID: d.NewID(), VisitID: c.Visit.ID, AssessmentID: a.ID, Accepted: yes, By: by, How: how, Shown: shown, At: d.Clock()}
	if err := d.Lib.AddConsent(ctx, k); err != nil {
		return err
	}
	c.Consents = append(c.Consents, k)
	return nil
}
