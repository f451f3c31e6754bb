package shop

import (
	"context"
	"slices"
	"sort"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// Case is all that is known of one visit.
type Case struct {
	Visit       inspect.Visit
	Fork        inspect.Fork
	Customer    inspect.Customer
	Sheet       catalog.Sheet
	Level       catalog.Level
	Claim       inspect.Claim // riding hours at this visit
	Complaints  []inspect.Complaint
	Settings    []inspect.Setting
	Tasks       []inspect.Task
	Readings    []inspect.Reading // of this visit, all
	Current     map[inspect.Slot]inspect.Reading
	Conflicts   map[inspect.Slot][]inspect.Reading
	Fittings    []inspect.Fitting // of the fork, ended ones too
	Photos      []inspect.Photo   // of this visit
	Assessments []inspect.Assessment
	Consents    []inspect.Consent
	Amendments  []inspect.Amendment
	Earlier     []Earlier // earlier visits of the fork, newest first

	history *history
	taken   func(inspect.Photo) (time.Time, bool)
}

// TakenAt is when a photo was taken, in the shop's zone and by the corrected
// clock of its camera; ok is false where nobody can tell.
func (c *Case) TakenAt(p inspect.Photo) (t time.Time, ok bool) {
	if c.taken == nil {
		return time.Time{}, false
	}
	return c.taken(p)
}

// Earlier is one earlier visit of the same fork.
type Earlier struct {
	Row     inspect.VisitRow
	Current map[inspect.Slot]inspect.Reading
	Photos  []inspect.Photo
}

// Last is the newest earlier reading of a check.
type Last struct {
	Reading inspect.Reading
	Visit   inspect.VisitRow
}

// Open loads a case.
func (d *Desk) Open(ctx context.Context, visit inspect.ID) (*Case, error) {
	c := &Case{history: &history{}}
	var err error
	if c.Visit, err = d.Lib.Visit(ctx, visit); err != nil {
		return nil, err
	}
	if c.Fork, err = d.Lib.Fork(ctx, c.Visit.ForkID); err != nil {
		return nil, err
	}
	if c.Customer, err = d.Lib.Customer(ctx, c.Visit.CustomerID); err != nil {
		return nil, err
	}
	var ok bool
	if c.Sheet, ok = d.Catalog.Sheet(c.Fork.Sheet); !ok {
		return nil, inspect.Refuse(inspect.NotFound, "the data sheet %q of fork %s is not in the catalog: put it back into the shop's own data sheets", c.Fork.Sheet, c.Fork.Label())
	}
	if c.Level, ok = d.Catalog.Level(c.Visit.Level); !ok {
		return nil, inspect.Refuse(inspect.NotFound, "the service level %q of visit %d is not in the catalog", c.Visit.Level, c.Visit.Ticket)
	}
	if err := d.loadRecords(ctx, c); err != nil {
		return nil, err
	}
	return c, d.loadEarlier(ctx, c)
}

func (d *Desk) loadRecords(ctx context.Context, c *Case) error {
	id := c.Visit.ID
	claims, err := d.Lib.Claims(ctx, c.Fork.ID)
	if err != nil {
		return err
	}
	for _, cl := range claims {
		if cl.VisitID == id && !cl.At.Before(c.Claim.At) {
			c.Claim = cl
		}
	}
	if c.Claim.ID == "" {
		c.Claim = carried(claims, c.Visit)
	}
	if c.Complaints, err = d.Lib.Complaints(ctx, id); err != nil {
		return err
	}
	if c.Settings, err = d.Lib.SettingsOf(ctx, id); err != nil {
		return err
	}
	c.Settings = slices.DeleteFunc(c.Settings, inspect.Setting.None)
	if c.Tasks, err = d.Lib.Tasks(ctx, id); err != nil {
		return err
	}
	if c.Photos, err = d.Lib.Photos(ctx, inspect.PhotoFilter{VisitID: id}); err != nil {
		return err
	}
	clocks, err := d.Lib.Clocks(ctx)
	if err != nil {
		return err
	}
	c.taken = func(p inspect.Photo) (time.Time, bool) { return d.TakenHere(p, clocks) }
	if c.Fittings, err = d.Lib.Fittings(ctx, inspect.FittingFilter{ForkID: c.Fork.ID}); err != nil {
		return err
	}
	if c.Assessments, err = d.Lib.LatestAssessments(ctx, id); err != nil {
		return err
	}
	if c.Consents, err = d.Lib.Consents(ctx, id); err != nil {
		return err
	}
	if c.Amendments, err = d.Lib.Amendments(ctx, id); err != nil {
		return err
	}
	return d.reloadReadings(ctx, c)
}

func (d *Desk) reloadReadings(ctx context.Context, c *Case) (err error) {
	if c.Readings, err = d.Lib.Readings(ctx, inspect.ReadingFilter{VisitID: c.Visit.ID}); err != nil {
		return err
	}
	c.Current, c.Conflicts = inspect.Current(c.Readings)
	return nil
}

func (d *Desk) loadEarlier(ctx context.Context, c *Case) error {
	rows, err := d.Lib.Visits(ctx, inspect.VisitFilter{ForkID: c.Fork.ID})
	if err != nil {
		return err
	}
	all, err := d.Lib.Readings(ctx, inspect.ReadingFilter{ForkID: c.Fork.ID})
	if err != nil {
		return err
	}
	photos, err := d.Lib.Photos(ctx, inspect.PhotoFilter{ForkID: c.Fork.ID})
	if err != nil {
		return err
	}
	current, _ := inspect.Current(all)
	for _, row := range rows {
		if !before(row.Visit, c.Visit) {
			continue
		}
		e := Earlier{Row: row, Current: map[inspect.Slot]inspect.Reading{}}
		for slot, r := range current {
			if slot.VisitID == row.Visit.ID {
				e.Current[slot] = r
			}
		}
		for _, p := range photos {
			if p.VisitID == row.Visit.ID {
				e.Photos = append(e.Photos, p)
			}
		}
		c.Earlier = append(c.Earlier, e)
	}
	sort.SliceStable(c.Earlier, func(i, j int) bool {
		return before(c.Earlier[j].Row.Visit, c.Earlier[i].Row.Visit)
	})
	return nil
}

// TasksByKey are the lines of the work sheet and the hand-back list that have a
// record, by their key.
func (c *Case) TasksByKey() map[string]inspect.Task {
	out := make(map[string]inspect.Task, len(c.Tasks))
	for _, t := range c.Tasks {
		out[t.Key] = t
	}
	return out
}

// Evidence is what the checklist and the causes look at.
func (c *Case) Evidence() catalog.Evidence {
	return catalog.Evidence{Symptoms: c.Complaints, Readings: c.Current, Hours: c.Claim.Hours, Conditions: c.Visit.Conditions}
}

// Positions is the checklist of one stage in the order of work.
func (d *Desk) Positions(c *Case, stage inspect.Stage) []catalog.Position {
	return catalog.Positions(d.Catalog, c.Sheet, c.Visit.Level, stage, c.Evidence())
}

// LastOf returns the newest earlier reading of a check at a leg and point.
func (c *Case) LastOf(check string, leg inspect.Leg, point string) (Last, bool) {
	for _, e := range c.Earlier {
		for i := len(inspect.Stages()) - 1; i >= 0; i-- {
			slot := inspect.Slot{VisitID: e.Row.Visit.ID, Stage: inspect.Stages()[i], Check: check, Leg: leg, Point: point}
			if r, ok := e.Current[slot]; ok && r.Answer != inspect.NotLooked && r.Answer != inspect.ZoneSeen {
				return Last{r, e.Row}, true
			}
		}
	}
	return Last{}, false
}

// ThenAndNow returns the newest photo of a check at an earlier visit and at
// this one; ok tells which exist.
func (c *Case) ThenAndNow(check string, leg inspect.Leg) (then, now inspect.Photo, thenVisit inspect.VisitRow, hasThen, hasNow bool) {
	match := func(p inspect.Photo) bool { return p.Check == check && (p.Leg == leg || p.Leg == inspect.Whole) }
	for i := len(c.Photos) - 1; i >= 0; i-- {
		if match(c.Photos[i]) {
			now, hasNow = c.Photos[i], true
			break
		}
	}
	for _, e := range c.Earlier {
		for i := len(e.Photos) - 1; i >= 0; i-- {
			if match(e.Photos[i]) {
				return e.Photos[i], now, e.Row, true, hasNow
			}
		}
	}
	return then, now, thenVisit, false, hasNow
}

// before orders the visits of a fork, also those of one moment.
func before(a, b inspect.Visit) bool {
	switch {
	case !a.DroppedOff.Equal(b.DroppedOff):
		return a.DroppedOff.Before(b.DroppedOff)
	case a.Ticket != b.Ticket:
		return a.Ticket < b.Ticket
	}
	return a.ID < b.ID
}

// carried stands in for the claim of a visit at which nobody told the hours:
// the newest one before it, as 'at least'. Zero where there is none.
func carried(claims []inspect.Claim, v inspect.Visit) inspect.Claim {
	var out inspect.Claim
	for _, cl := range claims {
		if !cl.At.After(v.DroppedOff) && !cl.At.Before(out.At) {
			out = cl
		}
	}
	if out.ID != "" {
		out.AtLeast, out.Source, out.Detail = true, "estimated", "no hours were told at this visit: those of an earlier one stand in"
	}
	return out
}
