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

// AddConsent keeps the customer's answer; a later answer stands beside it.
func (db *DB) AddConsent(ctx context.Context, c inspect.Consent) error {
	return db.write(ctx, func(tx *sql.Tx) error {
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
	})
}

// Consents returns the customer's answers of a visit, oldest first.
func (db *DB) Consents(ctx context.Context, visit inspect.ID) ([]inspect.Consent, error) {
	found, err := gather(ctx, db.reader, consentColumns, "FROM consent WHERE visit_id = ? ORDER BY at, id", string(visit))
	return found, refuse(db.file, err)
}
