package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func consentColumns(c *inspect.Consent) columns {
	return columns{
		text("id", &c.ID), text("visit_id", &c.VisitID), ref("assessment_id", &c.AssessmentID), flag("accepted", &c.Accepted),
		text("by_whom", &c.By), text("how", &c.How), text("shown", &c.Shown), document("signature", &c.Signature), moment("at", &c.At),
	}
}

// AddConsents keeps the customer's answers, all or none; a later answer stands
// beside an earlier one.
func (db *DB) AddConsents(ctx context.Context, cs ...inspect.Consent) error {
	if len(cs) == 0 {
		return nil
	}
	return db.write(ctx, func(tx *sql.Tx) error {
		for _, c := range cs {
			if err := db.addConsent(ctx, tx, c); err != nil {
				return err
			}
		}
		return nil
	})
}

func (db *DB) addConsent(ctx context.Context, tx *sql.Tx, c inspect.Consent) error {
	v, err := openVisit(ctx, tx, c.VisitID)
	if err != nil {
		return err
	}
	if c.At.IsZero() {
		return inspect.Refuse(inspect.Invalid, "the customer's answer has no time: enter when it was given")
	}
	if err := c.Signature.Validate(); err != nil {
		return err
	}
	if c.AssessmentID != "" {
		if err := assessmentOf(ctx, tx, c.AssessmentID, v); err != nil {
			return err
		}
	}
	return db.insert(ctx, tx, "consent", c.ID, consentColumns(&c))
}

// Consents returns the customer's answers of a visit, oldest first.
func (db *DB) Consents(ctx context.Context, visit inspect.ID) ([]inspect.Consent, error) {
	found, err := gather(ctx, db.reader, consentColumns, "FROM consent WHERE visit_id = ? ORDER BY at, id", string(visit))
	return found, refuse(db.file, err)
}
