package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func fittingColumns(f *inspect.Fitting) columns {
	return append(columns{
		text("id", &f.ID), text("fork_id", &f.ForkID), text("part", &f.Part), text("leg", &f.Leg),
		text("fitted_visit", &f.FittedVisit), number("fitted_at", &f.FittedAt), number("fitted_u", &f.FittedU),
		flag("age_known", &f.AgeKnown), text("batch", &f.Batch), moment("fitted_on", &f.FittedOn),
	}, fittingEndColumns(f)...)
}

// fittingEndColumns are what taking a part out writes.
func fittingEndColumns(f *inspect.Fitting) columns {
	return columns{
		ref("end_visit", &f.EndVisit), number("end_hours", &f.EndHours), number("end_u", &f.EndU),
		text("end_reason", &f.End), moment("ended_on", &f.EndedOn),
	}
}

// Fittings returns fittings by part, leg and the time they were fitted, without
// those taken back.
func (db *DB) Fittings(ctx context.Context, f inspect.FittingFilter) ([]inspect.Fitting, error) {
	var w where
	w.add("end_reason <> ?", string(inspect.EndTakenBack))
	if f.ForkID != "" {
		w.add("fork_id = ?", string(f.ForkID))
	}
	if f.InOnly {
		w.add("end_reason = ''")
	}
	if f.Part != "" {
		w.add("part = ?", f.Part)
	}
	found, err := gather(ctx, db.reader, fittingColumns, "FROM fitting"+w.String()+" ORDER BY fork_id, part, leg, fitted_at, id", w.args...)
	return found, refuse(db.file, err)
}

// Refit ends fittings and starts others. Of an ended one only its end is
// written; while the visit that ended it is open it may be corrected, or taken
// back by giving no reason.
func (db *DB) Refit(ctx context.Context, ended []inspect.Fitting, started []inspect.Fitting) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		for _, f := range ended {
			if err := db.endFitting(ctx, tx, f); err != nil {
				return err
			}
		}
		for _, f := range started {
			if err := db.startFitting(ctx, tx, f); err != nil {
				return err
			}
		}
		return nil
	})
}

func (db *DB) endFitting(ctx context.Context, tx *sql.Tx, f inspect.Fitting) error {
	old, err := single(ctx, tx, fittingColumns, "fitting", f.ID, "FROM fitting WHERE id = ?")
	if err != nil {
		return err
	}
	if err := validEnd(f, old); err != nil {
		return err
	}
	if !old.In() && old.EndVisit != "" {
		if _, err := openVisit(ctx, tx, old.EndVisit); err != nil {
			return err
		}
	}
	if !f.In() {
		if err := visitOf(ctx, tx, f.EndVisit, old.ForkID); err != nil {
			return err
		}
	} else if err := placeFree(ctx, tx, old); err != nil {
		return err
	}
	return db.update(ctx, tx, "fitting", f.ID, fittingEndColumns(&f))
}

func validEnd(f, old inspect.Fitting) error {
	switch {
	case !validReason(f.End):
		return inspect.Refuse(inspect.Invalid, "the reason %q to take out %s is not known: choose one of the list", f.End, old.Part)
	case f.In() && old.In():
		return inspect.Refuse(inspect.Invalid, "%s is still in and no reason is given to take it out: choose one", old.Part)
	case f.In() && (f.EndVisit != "" || !f.EndedOn.IsZero()):
		return inspect.Refuse(inspect.Invalid, "%s is put back in, so it can't have an end", old.Part)
	case !f.In() && !old.In() && f.EndVisit != old.EndVisit:
		return inspect.Refuse(inspect.Conflict, "%s was taken out at another visit already: load the fork anew", old.Part)
	case f.End == inspect.EndTakenBack && f.EndVisit != old.FittedVisit:
		return inspect.Refuse(inspect.Invalid, "%s was fitted at another visit: it can be taken out, not taken back", old.Part)
	case old.End == inspect.EndTakenBack:
		return inspect.Refuse(inspect.Conflict, "%s was taken back already: fit it again", old.Part)
	case f.EndU < 0:
		return inspect.Refuse(inspect.Invalid, "the uncertainty of the hours of %s is below 0", old.Part)
	}
	return nil
}

// startFitting writes a new fitting; parts that were broken on arrival may come
// with their end.
func (db *DB) startFitting(ctx context.Context, tx *sql.Tx, f inspect.Fitting) error {
	switch {
	case f.Part == "":
		return inspect.Refuse(inspect.Invalid, "a fitting needs its part")
	case !f.Leg.Valid():
		return inspect.Refuse(inspect.Invalid, "leg %q of %s is neither left nor right", f.Leg, f.Part)
	case !validReason(f.End):
		return inspect.Refuse(inspect.Invalid, "the reason %q to take out %s is not known: choose one of the list", f.End, f.Part)
	case f.FittedU < 0 || f.EndU < 0:
		return inspect.Refuse(inspect.Invalid, "the uncertainty of the hours of %s is below 0", f.Part)
	}
	if err := visitOf(ctx, tx, f.FittedVisit, f.ForkID); err != nil {
		return err
	}
	if f.EndVisit != "" && f.EndVisit != f.FittedVisit {
		if err := visitOf(ctx, tx, f.EndVisit, f.ForkID); err != nil {
			return err
		}
	}
	if f.In() {
		if err := placeFree(ctx, tx, f); err != nil {
			return err
		}
	}
	return db.insert(ctx, tx, "fitting", f.ID, fittingColumns(&f))
}

// placeFree refuses two parts in one place of a fork.
func placeFree(ctx context.Context, tx *sql.Tx, f inspect.Fitting) error {
	taken, err := exists(ctx, tx, "fitting", "fork_id = ? AND part = ? AND leg = ? AND end_reason = '' AND id <> ?", string(f.ForkID), f.Part, string(f.Leg), string(f.ID))
	if err == nil && taken {
		err = inspect.Refuse(inspect.Conflict, "the fork has a %s %s in that place already: take it out first", f.Leg, f.Part)
	}
	return err
}

// visitOf answers NotFound, Locked, or Invalid where a visit is of another fork.
func visitOf(ctx context.Context, tx *sql.Tx, visit, fork inspect.ID) error {
	v, err := openVisit(ctx, tx, visit)
	if err == nil && v.ForkID != fork {
		err = inspect.Refuse(inspect.Invalid, "ticket %d is a visit of another fork: choose the visit of this one", v.Ticket)
	}
	return err
}

// fittingOf answers NotFound, or Invalid where a fitting is of another fork; no
// fitting is fine.
func fittingOf(ctx context.Context, tx *sql.Tx, fitting, fork inspect.ID) error {
	if fitting == "" {
		return nil
	}
	f, err := single(ctx, tx, fittingColumns, "fitting", fitting, "FROM fitting WHERE id = ?")
	if err == nil && f.ForkID != fork {
		err = inspect.Refuse(inspect.Invalid, "%s is a part of another fork: choose the one of this fork", f.Part)
	}
	return err
}

func validReason(r inspect.EndReason) bool {
	switch r {
	case inspect.StillIn, inspect.EndFailed, inspect.EndWorn, inspect.EndSchedule, inspect.EndCrash, inspect.EndOverride, inspect.EndArrival, inspect.EndTakenBack:
		return true
	}
	return false
}
