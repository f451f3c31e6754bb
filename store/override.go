package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func overrideColumns(o *inspect.Override) columns {
	return columns{
		text("id", &o.ID), text("assessment_id", &o.AssessmentID), text("verdict", &o.Verdict), text("reason", &o.Reason),
		text("by_whom", &o.By), moment("at", &o.At),
	}
}

// AddOverride keeps a person's change of a verdict beside the verdict.
func (db *DB) AddOverride(ctx context.Context, visit inspect.ID, o inspect.Override) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		v, err := openVisit(ctx, tx, visit)
		if err != nil {
			return err
		}
		if err := assessmentOf(ctx, tx, o.AssessmentID, v); err != nil {
			return err
		}
		return db.addOverride(ctx, tx, o)
	})
}

func (db *DB) addOverride(ctx context.Context, tx *sql.Tx, o inspect.Override) error {
	if o.Reason == "" || o.Verdict == "" || o.At.IsZero() {
		return inspect.Refuse(inspect.Invalid, "an override needs its verdict, its reason and its time: say why")
	}
	return db.insert(ctx, tx, "override", o.ID, overrideColumns(&o))
}

// assessmentOf answers NotFound where a decision is not there or of another visit.
func assessmentOf(ctx context.Context, tx *sql.Tx, id inspect.ID, v inspect.Visit) error {
	yes, err := exists(ctx, tx, "assessment", "id = ? AND visit_id = ?", string(id), string(v.ID))
	if err == nil && !yes {
		err = inspect.Refuse(inspect.NotFound, "ticket %d has no decision %q: assess the visit first", v.Ticket, id)
	}
	return err
}
