package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

// StartVisit keeps all that drop-off took in and gives the visit the next
// ticket number. Records of the drop-off that name no visit or fork are given
// this one; those that name another are refused. A claim without an id and
// without hours is left out: the hours may come later.
func (db *DB) StartVisit(ctx context.Context, d inspect.DropOff) (ticket int, err error) {
	if err := validDropOff(&d); err != nil {
		return 0, err
	}
	err = db.write(ctx, func(tx *sql.Tx) error {
		const next = "SELECT coalesce(max(ticket), 0) + 1 FROM visit"
		if err := tx.QueryRowContext(ctx, next).Scan(&ticket); err != nil {
			return err
		}
		d.Visit.Ticket = ticket
		return db.startVisit(ctx, tx, d)
	})
	if err != nil {
		return 0, err
	}
	return ticket, nil
}

func (db *DB) startVisit(ctx context.Context, tx *sql.Tx, d inspect.DropOff) error {
	if err := db.saveCustomer(ctx, tx, d.Customer); err != nil {
		return err
	}
	if err := db.saveFork(ctx, tx, d.Fork); err != nil {
		return err
	}
	if err := db.insert(ctx, tx, "visit", d.Visit.ID, visitColumns(&d.Visit)); err != nil {
		return err
	}
	if d.Claim != (inspect.Claim{}) {
		if err := db.addClaim(ctx, tx, d.Claim); err != nil {
			return err
		}
	}
	for _, c := range d.Complaints {
		if err := db.addComplaint(ctx, tx, c); err != nil {
			return err
		}
	}
	for _, s := range d.Settings {
		if err := db.putSetting(ctx, tx, s); err != nil {
			return err
		}
	}
	for _, f := range d.Fittings {
		if err := db.startFitting(ctx, tx, f); err != nil {
			return err
		}
	}
	return indexFork(ctx, tx, d.Fork.ID)
}

// validDropOff refuses a drop-off whose records do not belong together, and
// fills in the references that were left empty.
func validDropOff(d *inspect.DropOff) error {
	if d.Customer.ID == "" || d.Fork.ID == "" || d.Visit.ID == "" {
		return inspect.Refuse(inspect.Invalid, "a drop-off needs ids for its customer, its fork and its visit")
	}
	if err := validVisit(d.Visit); err != nil {
		return err
	}
	links := []link{{&d.Fork.CustomerID, d.Customer.ID}, {&d.Visit.CustomerID, d.Customer.ID}, {&d.Visit.ForkID, d.Fork.ID}}
	if d.Claim != (inspect.Claim{}) {
		links = append(links, link{&d.Claim.ForkID, d.Fork.ID}, link{&d.Claim.VisitID, d.Visit.ID})
	}
	d.Complaints = append([]inspect.Complaint(nil), d.Complaints...) // the caller's slices stay as they are
	for i := range d.Complaints {
		links = append(links, link{&d.Complaints[i].VisitID, d.Visit.ID})
	}
	d.Settings = append([]inspect.Setting(nil), d.Settings...)
	for i := range d.Settings {
		links = append(links, link{&d.Settings[i].VisitID, d.Visit.ID})
	}
	d.Fittings = append([]inspect.Fitting(nil), d.Fittings...)
	for i := range d.Fittings {
		links = append(links, link{&d.Fittings[i].ForkID, d.Fork.ID}, link{&d.Fittings[i].FittedVisit, d.Visit.ID})
	}
	for _, l := range links {
		if *l.from == "" {
			*l.from = l.to
		}
		if *l.from != l.to {
			return inspect.Refuse(inspect.Invalid, "a record of the drop-off belongs to %q, not to %q: enter it with its own visit", *l.from, l.to)
		}
	}
	return nil
}

// link is a reference and what it must name.
type link struct {
	from *inspect.ID
	to   inspect.ID
}
