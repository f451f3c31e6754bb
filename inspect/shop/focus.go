package shop

import (
	"context"
	"time"

	"forkwear/inspect"
)

const (
	focusLasts  = 2 * time.Hour    // a photo is of what came in front so long before it at most
	focusRenews = 30 * time.Minute // what stays in front is written again after so long
)

// FocusOn keeps that a check of a case came in front at the bench, so that a
// photo taken now finds it; check "" when the case is left. What is in front
// already is not written again, and leaving a case that is not in front is
// nothing. A collected case and a library that can't be written are no errors
// here: the bench goes on without.
func (d *Desk) FocusOn(ctx context.Context, c *Case, check string, leg inspect.Leg, stage inspect.Stage) error {
	if c == nil || c.Visit.Closed() {
		return nil
	}
	f := inspect.Focus{VisitID: c.Visit.ID, Check: check, Leg: leg, Stage: stage, By: d.Who(), At: d.Clock()}
	if check == "" {
		f.Leg, f.Stage = inspect.Whole, ""
	}
	d.mu.Lock()
	was := d.front
	d.mu.Unlock()
	same := was.VisitID == f.VisitID && was.Check == f.Check && was.Leg == f.Leg && was.Stage == f.Stage && was.By == f.By
	if same && (check == "" || f.At.Sub(was.At).Abs() < focusRenews) || check == "" && was.VisitID != f.VisitID {
		return nil
	}
	f.ID = d.NewID()
	if err := d.Lib.AddFocus(ctx, f); err != nil {
		if code := inspect.CodeOf(err); code == inspect.Locked || code == inspect.ReadOnly {
			return nil
		}
		return err
	}
	d.mu.Lock()
	d.front = f
	d.mu.Unlock()
	return nil
}

// inFront is the newest focus not after t and within two hours of it; false
// where there is none or its case had been left.
func (d *Desk) inFront(ctx context.Context, t time.Time) (inspect.Focus, bool, error) {
	fs, err := d.Lib.Focuses(ctx, t.Add(-focusLasts), t.Add(1)) // until before: t itself is in
	if err != nil || len(fs) == 0 {
		return inspect.Focus{}, false, err
	}
	f := fs[len(fs)-1]
	return f, f.Check != "", nil
}
