package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func taskColumns(t *inspect.Task) columns {
	return columns{
		text("visit_id", &t.VisitID), text("key", &t.Key), flag("done", &t.Done), number("value", &t.Value), text("unit", &t.Unit),
		text("tool", &t.Tool), text("note", &t.Note), text("by_whom", &t.By), moment("at", &t.At),
	}
}

// PutTask keeps one line of the work sheet; there is one of each key.
func (db *DB) PutTask(ctx context.Context, t inspect.Task) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		if _, err := openVisit(ctx, tx, t.VisitID); err != nil {
			return err
		}
		if t.Key == "" {
			return inspect.Refuse(inspect.Invalid, "a line of the work sheet needs the name of its task")
		}
		return db.upsert(ctx, tx, "task", t.VisitID+"/"+inspect.ID(t.Key), []string{"visit_id", "key"}, taskColumns(&t))
	})
}

// Tasks returns the lines of a visit's work sheet by key.
func (db *DB) Tasks(ctx context.Context, visit inspect.ID) ([]inspect.Task, error) {
	found, err := gather(ctx, db.reader, taskColumns, "FROM task WHERE visit_id = ? ORDER BY key", string(visit))
	return found, refuse(db.file, err)
}
