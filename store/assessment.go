package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func assessmentColumns(a *inspect.Assessment) columns {
	return columns{
		text("id", &a.ID), text("visit_id", &a.VisitID), ref("fitting_id", &a.FittingID), text("part", &a.Part), text("leg", &a.Leg),
		text("verdict", &a.Verdict), text("remedy", &a.Remedy), flag("do_not_ride", &a.DoNotRide), flag("evidence_missing", &a.NoPhoto),
		flag("not_opened", &a.NotOpened), flag("baseline", &a.Baseline), flag("prior_only", &a.PriorOnly),
		document("reasons", &a.Reasons), document("reading_ids", &a.ReadingIDs), text("lead_check", &a.LeadCheck),
		maybe("wear_used", &a.WearUsed), maybe("wear_u", &a.WearU), document("hours_left", &a.HoursLeft), flag("no_trend", &a.NoTrend),
		number("horizon", &a.Horizon), number("horizon_u", &a.HorizonU), number("t_now", &a.TNow),
		document("mu", &a.Mu), document("s", &a.S), number("p_now", &a.PNow), number("p_then", &a.PThen), number("threshold", &a.Threshold),
		text("next_level", &a.NextLevel), text("sheet", &a.Sheet), text("sheet_hash", &a.SheetHash), text("catalog_hash", &a.Catalog),
		text("engine", &a.Engine), text("by_whom", &a.By), moment("at", &a.At),
	}
}

// AddAssessments keeps the decisions of one moment, all or none. An override
// that an assessment carries is kept beside it.
func (db *DB) AddAssessments(ctx context.Context, as ...inspect.Assessment) error {
	if len(as) == 0 {
		return nil
	}
	return db.write(ctx, func(tx *sql.Tx) error {
		for _, a := range as {
			if err := db.addAssessment(ctx, tx, a); err != nil {
				return err
			}
		}
		return nil
	})
}

func (db *DB) addAssessment(ctx context.Context, tx *sql.Tx, a inspect.Assessment) error {
	v, err := openVisit(ctx, tx, a.VisitID)
	if err != nil {
		return err
	}
	switch {
	case a.Part == "" || a.At.IsZero():
		return inspect.Refuse(inspect.Invalid, "a decision needs its part and its time")
	case !a.Leg.Valid():
		return inspect.Refuse(inspect.Invalid, "leg %q of %s is neither left nor right", a.Leg, a.Part)
	}
	if err := fittingOf(ctx, tx, a.FittingID, v.ForkID); err != nil {
		return err
	}
	if err := db.insert(ctx, tx, "assessment", a.ID, assessmentColumns(&a)); err != nil {
		return err
	}
	if a.Override == nil {
		return nil
	}
	o := *a.Override
	if o.AssessmentID == "" {
		o.AssessmentID = a.ID
	}
	if o.AssessmentID != a.ID {
		return inspect.Refuse(inspect.Invalid, "the override of %s belongs to an earlier decision: enter it anew for this one", a.Part)
	}
	return db.addOverride(ctx, tx, o)
}

// LatestAssessments returns the newest decision on each part and leg of a
// visit, by part and leg, each with the override in force.
func (db *DB) LatestAssessments(ctx context.Context, visit inspect.ID) ([]inspect.Assessment, error) {
	as, err := gather(ctx, db.reader, func(a *inspect.Assessment) columns { return assessmentColumns(a).of("a") },
		`FROM assessment a WHERE a.visit_id = ? AND a.id = (SELECT b.id FROM assessment b
			WHERE b.visit_id = a.visit_id AND b.part = a.part AND b.leg = a.leg ORDER BY b.at DESC, b.id DESC LIMIT 1)
		ORDER BY a.part, a.leg`, string(visit))
	if err != nil {
		return nil, refuse(db.file, err)
	}
	os, err := gather(ctx, db.reader, func(o *inspect.Override) columns { return overrideColumns(o).of("o") },
		"FROM override o JOIN assessment a ON a.id = o.assessment_id WHERE a.visit_id = ? ORDER BY o.at, o.id", string(visit))
	if err != nil {
		return nil, refuse(db.file, err)
	}
	of := map[inspect.ID][]inspect.Override{}
	for _, o := range os {
		of[o.AssessmentID] = append(of[o.AssessmentID], o)
	}
	for i := range as {
		as[i].Override = inspect.OverrideInForce(of[as[i].ID])
	}
	return as, nil
}
