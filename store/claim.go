package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

// claimOfVisit is the id of the newest claim that names the visit v.
const claimOfVisit = "(SELECT k.id FROM claim k WHERE k.visit_id = v.id ORDER BY k.at DESC, k.id DESC LIMIT 1)"

func claimColumns(c *inspect.Claim) columns {
	return columns{
		text("id", &c.ID), text("fork_id", &c.ForkID), ref("visit_id", &c.VisitID), number("hours", &c.Hours), number("u", &c.U),
		flag("at_least", &c.AtLeast), text("source", &c.Source), text("detail", &c.Detail), text("by_whom", &c.By), moment("at", &c.At),
	}
}

// AddClaim keeps one statement of riding hours beside the earlier ones.
func (db *DB) AddClaim(ctx context.Context, c inspect.Claim) error {
	return db.write(ctx, func(tx *sql.Tx) error { return db.addClaim(ctx, tx, c) })
}

func (db *DB) addClaim(ctx context.Context, tx *sql.Tx, c inspect.Claim) error {
	switch {
	case c.Hours < 0 || c.U < 0:
		return inspect.Refuse(inspect.Invalid, "riding hours of %g with an uncertainty of %g can't be: both are 0 or more", c.Hours, c.U)
	case c.At.IsZero():
		return inspect.Refuse(inspect.Invalid, "the riding hours have no time: enter when they were said")
	}
	if err := known(ctx, tx, "fork", c.ForkID); err != nil {
		return err
	}
	if c.VisitID != "" {
		v, err := openVisit(ctx, tx, c.VisitID)
		if err != nil {
			return err
		}
		if v.ForkID != c.ForkID {
			return inspect.Refuse(inspect.Invalid, "ticket %d is a visit of another fork: enter the hours with their own fork", v.Ticket)
		}
	}
	return db.insert(ctx, tx, "claim", c.ID, claimColumns(&c))
}

// Claims returns all claims of a fork, oldest first.
func (db *DB) Claims(ctx context.Context, fork inspect.ID) ([]inspect.Claim, error) {
	found, err := gather(ctx, db.reader, claimColumns, "FROM claim WHERE fork_id = ? ORDER BY at, id", string(fork))
	return found, refuse(db.file, err)
}
