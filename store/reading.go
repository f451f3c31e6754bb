package store

import (
	"context"
	"database/sql"
	"math"
	"sort"
	"time"

	"forkwear/inspect"
)

func readingColumns(r *inspect.Reading) columns {
	return columns{
		text("id", &r.ID), text("visit_id", &r.VisitID), ref("fitting_id", &r.FittingID), text("check_id", &r.Check),
		text("leg", &r.Leg), text("point", &r.Point), text("stage", &r.Stage), text("answer", &r.Answer),
		number("value", &r.Value), number("u", &r.U), text("unit", &r.Unit), text("typed", &r.Typed), document("raw", &r.Raw),
		text("instrument", &r.Instrument), maybe("value_new", &r.New), maybe("value_limit", &r.Limit), text("fields", &r.Fields),
		text("note", &r.Note), text("by_whom", &r.By), moment("at", &r.At), ref("supersedes", &r.Supersedes), flag("retracted", &r.Retracted),
	}
}

// AddReadings keeps all of rs or none. A reading is never changed: a correction
// names the one it supersedes, in the same slot, which must be kept already or
// come earlier in rs. Two corrections of one reading are kept both: they are a
// conflict, which inspect.Current and Verify show.
func (db *DB) AddReadings(ctx context.Context, rs ...inspect.Reading) error {
	if len(rs) == 0 {
		return nil
	}
	return db.write(ctx, func(tx *sql.Tx) error {
		for _, r := range rs {
			if err := db.addReading(ctx, tx, r); err != nil {
				return err
			}
		}
		return nil
	})
}

func (db *DB) addReading(ctx context.Context, tx *sql.Tx, r inspect.Reading) error {
	if err := r.Validate(); err != nil {
		return err
	}
	v, err := openVisit(ctx, tx, r.VisitID)
	if err != nil {
		return err
	}
	if err := fittingOf(ctx, tx, r.FittingID, v.ForkID); err != nil {
		return err
	}
	if r.Retracted && r.Supersedes == "" {
		return inspect.Refuse(inspect.Invalid, "an undo of check %s must name the reading it takes back", r.Check)
	}
	if r.Supersedes != "" {
		old, err := single(ctx, tx, readingColumns, "reading", r.Supersedes, "FROM reading WHERE id = ?")
		if err != nil {
			return err
		}
		if old.Slot() != r.Slot() {
			return inspect.Refuse(inspect.Invalid, "a correction of check %s must stay at its visit, stage, leg and point: enter it as a reading of its own", r.Check)
		}
	}
	return db.insert(ctx, tx, "reading", r.ID, readingColumns(&r))
}

// Readings returns readings, superseded ones included, oldest first.
func (db *DB) Readings(ctx context.Context, f inspect.ReadingFilter) ([]inspect.Reading, error) {
	var w where
	if f.VisitID != "" {
		w.add("r.visit_id = ?", string(f.VisitID))
	}
	if f.ForkID != "" {
		w.add("r.visit_id IN (SELECT id FROM visit WHERE fork_id = ?)", string(f.ForkID))
	}
	if f.FittingID != "" {
		w.add("r.fitting_id = ?", string(f.FittingID))
	}
	if f.Check != "" {
		w.add("r.check_id = ?", f.Check)
	}
	found, err := gather(ctx, db.reader, func(r *inspect.Reading) columns { return readingColumns(r).of("r") },
		"FROM reading r"+w.String()+" ORDER BY r.at, r.id", w.args...)
	return found, refuse(db.file, err)
}

type trendRow struct {
	inspect.TrendRow
	claimed, claimedU, fittedAt, fittedU float64
}

func trendColumns(r *trendRow) columns {
	cs := readingColumns(&r.Reading).of("r")
	return append(cs,
		text("v.fork_id", &r.ForkID), text("f.sheet", &r.Sheet), text("coalesce(t.part, '')", &r.Part), flag("coalesce(t.age_known, 0)", &r.AgeKnown),
		number("h.hours", &r.claimed), number("h.u", &r.claimedU), number("coalesce(t.fitted_at, 0)", &r.fittedAt), number("coalesce(t.fitted_u, 0)", &r.fittedU),
		columns{moment("dropped_off", &r.On)}.of("v")[0], columns{moment("fitted_on", &r.FittedOn)}.of("t")[0])
}

// TrendRows returns every reading in force of one check on a fitting, by the
// start of its visit. Hours on the fitting are the newest claim of the visit
// less the hours of the fork when it was fitted, h = claim - fitted; u² =
// u(claim)² + u(fitted)², which takes the two as independent and so is on the
// safe side. Visits without a claim are left out: nothing places them in time.
func (db *DB) TrendRows(ctx context.Context, check string) ([]inspect.TrendRow, error) {
	// Only heads leave the database; inspect.Current decides between them. Heads
	// on no fitting take part in that: one may be in force instead of another.
	rows, err := gather(ctx, db.reader, trendColumns, `FROM reading r
		LEFT JOIN fitting t ON t.id = r.fitting_id
		JOIN visit v ON v.id = r.visit_id
		JOIN fork f ON f.id = v.fork_id
		JOIN claim h ON h.id = `+claimOfVisit+`
		WHERE r.check_id = ? AND NOT EXISTS (SELECT 1 FROM reading n WHERE n.supersedes = r.id)`, check)
	if err != nil {
		return nil, refuse(db.file, err)
	}
	heads := make([]inspect.Reading, len(rows))
	for i, r := range rows {
		heads[i] = r.Reading
	}
	current, _ := inspect.Current(heads)
	var out []inspect.TrendRow
	for _, r := range rows {
		if c, ok := current[r.Reading.Slot()]; !ok || c.ID != r.Reading.ID || c.FittingID == "" {
			continue
		}
		r.Hours, r.HoursU = r.claimed-r.fittedAt, math.Hypot(r.claimedU, r.fittedU)
		out = append(out, r.TrendRow)
	}
	sort.Slice(out, func(i, j int) bool { return earlier(out[i].On, out[i].Reading.ID, out[j].On, out[j].Reading.ID) })
	return out, nil
}

func earlier(a time.Time, aID inspect.ID, b time.Time, bID inspect.ID) bool {
	if a.Equal(b) {
		return aID < bID
	}
	return a.Before(b)
}
