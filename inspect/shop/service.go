package shop

import (
	"context"
	"slices"
	"sort"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
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
	_, err := d.renew(ctx, c, renewals)
	return err
}

func (d *Desk) renew(ctx context.Context, c *Case, renewals []Renewal) ([]inspect.Fitting, error) {
	now := d.Clock()
	var ended, started []inspect.Fitting
	for _, r := range renewals {
		if _, ok := d.Catalog.Part(r.Part); !ok {
			return nil, inspect.Refuse(inspect.NotFound, "the part %q is not in the catalog", r.Part)
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
		return nil, nil
	}
	return started, d.refit(ctx, c, ended, started)
}

func (d *Desk) refit(ctx context.Context, c *Case, ended, started []inspect.Fitting) error {
	if err := d.Lib.Refit(ctx, ended, started); err != nil {
		return err
	}
	var err error
	if c.Fittings, err = d.Lib.Fittings(ctx, inspect.FittingFilter{ForkID: c.Fork.ID}); err != nil {
		return err
	}
	return d.moveOn(ctx, c)
}

// moveOn puts readings that were made after the work but before the new part
// was entered onto the new part: they start its series. Where the new part was
// taken back they go back onto the one that is in, or onto none.
func (d *Desk) moveOn(ctx context.Context, c *Case) error {
	var moved []inspect.Reading
	for slot, r := range c.Current {
		k, ok := d.Catalog.Check(slot.Check)
		if slot.Stage != inspect.AfterWork || !ok {
			continue
		}
		f, in := c.fittingAt(k.Part, slot.Leg, slot.Stage)
		gone := r.FittingID != "" && !slices.ContainsFunc(c.Fittings, func(f inspect.Fitting) bool { return f.ID == r.FittingID })
		if (in || gone) && f.ID != r.FittingID {
			r.Supersedes, r.FittingID, r.ID, r.At = r.ID, f.ID, d.NewID(), d.Clock()
			moved = append(moved, r)
		}
	}
	if len(moved) == 0 {
		return nil
	}
	sort.Slice(moved, func(i, j int) bool { return moved[i].ID < moved[j].ID })
	if err := d.Lib.AddReadings(ctx, moved...); err != nil {
		return err
	}
	return d.reloadReadings(ctx, c)
}

// RenewDecided fits new every part whose verdict in force is replace, with the
// reason that the deciding rule gives, and what goes out with its kit, and
// returns how many. Lines that the
// customer declined stay as they are, and so do parts that are reworked or
// adjusted rather than exchanged: those are renewed by hand (Renew) if at all.
func (d *Desk) RenewDecided(ctx context.Context, c *Case) (int, error) {
	fitted, err := d.FitDecided(ctx, c)
	return len(fitted), err
}

// FitDecided is RenewDecided; what it returns can be given to TakeFittedBack.
func (d *Desk) FitDecided(ctx context.Context, c *Case) ([]inspect.Fitting, error) {
	var rs []Renewal
	for _, a := range c.Assessments {
		if a.InForce() != inspect.Replace || a.NotOpened && a.Override == nil || c.Renewed(a.Part, a.Leg) {
			continue
		}
		if k, ok := c.answerOn(a.ID); ok && !k.Accepted {
			continue
		}
		if a.Override == nil && !exchanges(a.Remedy) {
			continue
		}
		rs = append(rs, Renewal{Part: a.Part, Leg: a.Leg, End: d.EndOf(c, a)})
	}
	return d.renew(ctx, c, append(rs, d.withKit(c)...))
}

// exchanges tells the remedies that put a new part in.
func exchanges(remedy string) bool {
	switch remedy {
	case "replace", "renew_kit", "renew_assembly":
		return true
	}
	return false
}

// levelCrash and symptomCrash are the catalog's ids for what came of a blow.
const (
	levelCrash   = "crash"
	symptomCrash = "crash"
)

// EndOf reads the reason that a part goes out from its assessment: by a
// person's word against ours (X), on arrival, failed (F), by a crash (C), by
// schedule (S), else worn (W). What is broken or worn when the fork first comes
// is its state on arrival, no event of ours.
func (d *Desk) EndOf(c *Case, a inspect.Assessment) inspect.EndReason {
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
			if k, ok := d.Catalog.Check(r.Check); ok && k.Grows == catalog.Sudden && k.DoNotRide && c.crashed() {
				end = inspect.EndCrash
			}
		case 4:
			end = inspect.EndSchedule
		}
	}
	if len(c.Earlier) == 0 && end != inspect.EndSchedule {
		end = inspect.EndArrival
	}
	return end
}

// crashed tells a fork that came because of a blow.
func (c *Case) crashed() bool {
	for _, s := range c.Complaints {
		if s.Symptom == symptomCrash {
			return true
		}
	}
	return c.Visit.Level == levelCrash
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
	if err := d.Lib.Collect(ctx, v.ID, at, d.Who()); err != nil {
		return err
	}
	var err error
	c.Visit, err = d.Lib.Visit(ctx, v.ID)
	return err
}

// Consent keeps the customer's answer on one line.
func (d *Desk) Consent(ctx context.Context, c *Case, a inspect.Assessment, yes bool, by, how, shown string) error {
	return d.keepAnswers(ctx, c, []inspect.Consent{{ID: d.NewID(), VisitID: c.Visit.ID, AssessmentID: a.ID, Accepted: yes, By: by, How: how, Shown: shown, At: d.Clock()}})
}
