package store

import (
	"context"
	"database/sql"
	"time"

	"forkwear/inspect"
)

func visitColumns(v *inspect.Visit) columns {
	return columns{
		text("id", &v.ID), text("fork_id", &v.ForkID), text("customer_id", &v.CustomerID), whole("ticket", &v.Ticket),
		text("level", &v.Level), text("purpose", &v.Purpose), ref("from_visit", &v.FromVisit), text("from_cause", &v.FromCause),
		text("step", &v.Step), text("waits_for", &v.WaitsFor), moment("waits_since", &v.WaitsSince),
		moment("dropped_off", &v.DroppedOff), moment("promised", &v.Promised), moment("ready", &v.Ready),
		moment("collected", &v.Collected), document("conditions", &v.Conditions), document("came_with", &v.CameWith),
		whole("package_minor", &v.Package.Minor), text("package_currency", &v.Package.Currency),
		whole("go_ahead_minor", &v.GoAhead.Minor), text("go_ahead_currency", &v.GoAhead.Currency),
		number("next_hours", &v.NextHours), moment("next_date", &v.NextDate),
		text("taken_in_by", &v.TakenInBy), text("note", &v.Note),
		text("signed_by", &v.SignedBy), document("signature", &v.Signature),
	}
}

// validVisit says why a visit can't be written as it is, or nil.
func validVisit(v inspect.Visit) error {
	switch {
	case v.ID == "":
		return inspect.Refuse(inspect.Invalid, "a visit needs an id of its own")
	case v.DroppedOff.IsZero():
		return inspect.Refuse(inspect.Invalid, "the visit has no time of drop-off: enter when the fork came in")
	case v.Closed() || v.Step == inspect.StepDone:
		return inspect.Refuse(inspect.Invalid, "a visit is closed by collecting it, not by saving it as collected")
	}
	if err := v.Signature.Validate(); err != nil {
		return err
	}
	for name, m := range map[string]inspect.Money{"package price": v.Package, "go ahead up to": v.GoAhead} {
		if m.Minor != 0 && m.Currency == "" {
			return inspect.Refuse(inspect.Invalid, "the amount %q of the visit has no currency: choose one", name)
		}
	}
	return nil
}

// SaveVisit changes an open visit. Its ticket and its fork stay.
func (db *DB) SaveVisit(ctx context.Context, v inspect.Visit) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		old, err := openVisit(ctx, tx, v.ID)
		if err != nil {
			return err
		}
		if err := validVisit(v); err != nil {
			return err
		}
		if v.Ticket != 0 && v.Ticket != old.Ticket {
			return inspect.Refuse(inspect.Invalid, "ticket %d can't become ticket %d: a ticket number stays", old.Ticket, v.Ticket)
		}
		if v.ForkID != old.ForkID {
			return inspect.Refuse(inspect.Invalid, "ticket %d belongs to another fork: start a new visit for this one", old.Ticket)
		}
		v.Ticket = old.Ticket
		if err := db.update(ctx, tx, "visit", v.ID, visitColumns(&v)); err != nil {
			return err
		}
		return indexFork(ctx, tx, v.ForkID)
	})
}

// openVisit returns a visit that may still be written to, NotFound or Locked.
func openVisit(ctx context.Context, tx *sql.Tx, id inspect.ID) (inspect.Visit, error) {
	v, err := single(ctx, tx, visitColumns, "visit", id, "FROM visit WHERE id = ?")
	if err == nil && v.Closed() {
		err = inspect.Refuse(inspect.Locked, "ticket %d was collected on %s and its record is locked: add an amendment instead", v.Ticket, v.Collected.Format("2006-01-02"))
	}
	return v, err
}

// Visit returns one visit.
func (db *DB) Visit(ctx context.Context, id inspect.ID) (inspect.Visit, error) {
	v, err := single(ctx, db.reader, visitColumns, "visit", id, "FROM visit WHERE id = ?")
	return v, refuse(db.file, err)
}

// VisitByTicket returns the visit with this ticket number.
func (db *DB) VisitByTicket(ctx context.Context, ticket int) (inspect.Visit, error) {
	v, err := single(ctx, db.reader, visitColumns, "ticket", ticket, "FROM visit WHERE ticket = ?")
	return v, refuse(db.file, err)
}

func visitRowColumns(r *inspect.VisitRow) columns {
	cs := visitColumns(&r.Visit).of("v")
	cs = append(cs, forkColumns(&r.Fork).of("f")...)
	cs = append(cs, customerColumns(&r.Customer).of("c")...)
	return append(cs, number("coalesce(h.hours, 0)", &r.Hours), number("coalesce(h.u, 0)", &r.HoursU))
}

// Visits returns visits, newest drop-off first, with the newest claim of each.
func (db *DB) Visits(ctx context.Context, f inspect.VisitFilter) ([]inspect.VisitRow, error) {
	var w where
	if f.ForkID != "" {
		w.add("v.fork_id = ?", string(f.ForkID))
	}
	if f.OpenOnly {
		w.add("v.collected IS NULL")
	}
	w.args = append(w.args, limited(f.Limit))
	rows, err := gather(ctx, db.reader, visitRowColumns, `FROM visit v
		JOIN fork f ON f.id = v.fork_id JOIN customer c ON c.id = v.customer_id
		LEFT JOIN claim h ON h.id = `+claimOfVisit+w.String()+`
		ORDER BY v.dropped_off DESC, v.id DESC LIMIT ?`, w.args...)
	return rows, refuse(db.file, err)
}

// Collect closes a visit: from then on its record takes amendments only.
func (db *DB) Collect(ctx context.Context, id inspect.ID, at time.Time, by string) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		v, err := openVisit(ctx, tx, id)
		if err != nil {
			return err
		}
		if at.IsZero() || at.Before(v.DroppedOff) {
			return inspect.Refuse(inspect.Invalid, "ticket %d can't be collected before it was dropped off on %s: correct the date", v.Ticket, v.DroppedOff.Format("2006-01-02"))
		}
		done := inspect.StepDone
		return db.update(ctx, tx, "visit", id, columns{moment("collected", &at), text("collected_by", &by), text("step", &done)})
	})
}
