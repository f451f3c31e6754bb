package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func amendmentColumns(a *inspect.Amendment) columns {
	return columns{
		text("id", &a.ID), text("visit_id", &a.VisitID), text("what", &a.What), text("why", &a.Why),
		text("by_whom", &a.By), moment("at", &a.At),
	}
}

// Amend adds a later word to a visit: the one thing a locked visit still takes.
func (db *DB) Amend(ctx context.Context, a inspect.Amendment) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		if err := known(ctx, tx, "visit", a.VisitID); err != nil {
			return err
		}
		if a.What == "" || a.At.IsZero() {
			return inspect.Refuse(inspect.Invalid, "an amendment needs its words and its time")
		}
		return db.insert(ctx, tx, "amendment", a.ID, amendmentColumns(&a))
	})
}

// Amendments returns the amendments of a visit, oldest first.
func (db *DB) Amendments(ctx context.Context, visit inspect.ID) ([]inspect.Amendment, error) {
	found, err := gather(ctx, db.reader, amendmentColumns, "FROM amendment WHERE visit_id = ? ORDER BY at, id", string(visit))
	return found, refuse(db.file, err)
}
