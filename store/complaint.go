package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func complaintColumns(c *inspect.Complaint) columns {
	return columns{
		text("id", &c.ID), text("visit_id", &c.VisitID), text("symptom", &c.Symptom), text("leg", &c.Leg),
		text("since", &c.Since), text("note", &c.Note),
	}
}

// AddComplaint keeps one thing that bothers the customer.
func (db *DB) AddComplaint(ctx context.Context, c inspect.Complaint) error {
	return db.write(ctx, func(tx *sql.Tx) error { return db.addComplaint(ctx, tx, c) })
}

func (db *DB) addComplaint(ctx context.Context, tx *sql.Tx, c inspect.Complaint) error {
	if _, err := openVisit(ctx, tx, c.VisitID); err != nil {
		return err
	}
	if !c.Leg.Valid() {
		return inspect.Refuse(inspect.Invalid, "leg %q of the complaint is neither left nor right", c.Leg)
	}
	return db.insert(ctx, tx, "complaint", c.ID, complaintColumns(&c))
}

// Complaints returns the complaints of a visit in the order they were made.
func (db *DB) Complaints(ctx context.Context, visit inspect.ID) ([]inspect.Complaint, error) {
	found, err := gather(ctx, db.reader, complaintColumns, "FROM complaint WHERE visit_id = ? ORDER BY id", string(visit))
	return found, refuse(db.file, err)
}
