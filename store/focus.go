package store

import (
	"context"
	"database/sql"
	"time"

	"forkwear/inspect"
)

func focusColumns(f *inspect.Focus) columns {
	return columns{
		text("id", &f.ID), text("visit_id", &f.VisitID), text("check_id", &f.Check), text("leg", &f.Leg), text("stage", &f.Stage),
		text("by_whom", &f.By), moment("at", &f.At),
	}
}

// AddFocus keeps that a check came in front at the bench.
func (db *DB) AddFocus(ctx context.Context, f inspect.Focus) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		if err := f.Validate(); err != nil {
			return err
		}
		if _, err := openVisit(ctx, tx, f.VisitID); err != nil {
			return err
		}
		return db.insert(ctx, tx, "focus", f.ID, focusColumns(&f))
	})
}

// Focuses returns what came in front from 'from' until before 'to', oldest first.
func (db *DB) Focuses(ctx context.Context, from, to time.Time) ([]inspect.Focus, error) {
	start, err := momentValues("the time to look from", from)
	if err != nil {
		return nil, err
	}
	end, err := momentValues("the time to look to", to)
	if err != nil {
		return nil, err
	}
	found, err := gather(ctx, db.reader, focusColumns, "FROM focus WHERE at >= coalesce(?, '') AND at < coalesce(?, '') ORDER BY at, id", start[0], end[0])
	return found, refuse(db.file, err)
}
