package screentest

import (
	"context"
	"math"
	"sort"

	"forkwear/inspect"
)

// AddClaim implements inspect.Library.
func (l *Library) AddClaim(_ context.Context, c inspect.Claim) error {
	defer l.lock()()
	if _, err := l.open(c.VisitID); err != nil {
		return err
	}
	l.claims = append(l.claims, c)
	return nil
}

// Claims implements inspect.Library.
func (l *Library) Claims(_ context.Context, fork inspect.ID) ([]inspect.Claim, error) {
	defer l.lock()()
	return those(l.claims, func(c inspect.Claim) bool { return c.ForkID == fork }), nil
}

// AddComplaint implements inspect.Library.
func (l *Library) AddComplaint(_ context.Context, c inspect.Complaint) error {
	defer l.lock()()
	if _, err := l.open(c.VisitID); err != nil {
		return err
	}
	l.complaints = append(l.complaints, c)
	return nil
}

// Complaints implements inspect.Library.
func (l *Library) Complaints(_ context.Context, visit inspect.ID) ([]inspect.Complaint, error) {
	defer l.lock()()
	return those(l.complaints, func(c inspect.Complaint) bool { return c.VisitID == visit }), nil
}

// PutSetting implements inspect.Library.
func (l *Library) PutSetting(_ context.Context, s inspect.Setting) error {
	defer l.lock()()
	if _, err := l.open(s.VisitID); err != nil {
		return err
	}
	l.settings = put(l.settings, s, func(o inspect.Setting) bool {
		return o.VisitID == s.VisitID && o.Moment == s.Moment && o.Key == s.Key
	})
	return nil
}

// SettingsOf implements inspect.Library.
func (l *Library) SettingsOf(_ context.Context, visit inspect.ID) ([]inspect.Setting, error) {
	defer l.lock()()
	return those(l.settings, func(s inspect.Setting) bool { return s.VisitID == visit && !s.None() }), nil
}

// PutTask implements inspect.Library.
func (l *Library) PutTask(_ context.Context, t inspect.Task) error {
	defer l.lock()()
	if _, err := l.open(t.VisitID); err != nil {
		return err
	}
	l.tasks = put(l.tasks, t, func(o inspect.Task) bool { return o.VisitID == t.VisitID && o.Key == t.Key })
	return nil
}

// Tasks implements inspect.Library.
func (l *Library) Tasks(_ context.Context, visit inspect.ID) ([]inspect.Task, error) {
	defer l.lock()()
	return those(l.tasks, func(t inspect.Task) bool { return t.VisitID == visit }), nil
}

// AddReadings implements inspect.Library.
func (l *Library) AddReadings(_ context.Context, rs ...inspect.Reading) error {
	defer l.lock()()
	for _, r := range rs {
		if err := r.Validate(); err != nil {
			return err
		}
		if _, err := l.open(r.VisitID); err != nil {
			return err
		}
	}
	l.readings = append(l.readings, rs...)
	return nil
}

// Readings implements inspect.Library.
func (l *Library) Readings(_ context.Context, f inspect.ReadingFilter) ([]inspect.Reading, error) {
	defer l.lock()()
	return those(l.readings, func(r inspect.Reading) bool {
		return (f.VisitID == "" || r.VisitID == f.VisitID) && (f.ForkID == "" || l.forkOf(r.VisitID) == f.ForkID) &&
			(f.FittingID == "" || r.FittingID == f.FittingID) && (f.Check == "" || r.Check == f.Check)
	}), nil
}

func (l *Library) forkOf(visit inspect.ID) inspect.ID {
	v, _ := l.visit(visit)
	return v.ForkID
}

// TrendRows implements inspect.Library.
func (l *Library) TrendRows(_ context.Context, check string) ([]inspect.TrendRow, error) {
	defer l.lock()()
	current, _ := inspect.Current(l.readings)
	var out []inspect.TrendRow
	for _, r := range current {
		if r.Check != check || r.FittingID == "" {
			continue
		}
		f, err := one(l.fittings, "fitting", func(f inspect.Fitting) bool { return f.ID == r.FittingID })
		c, ok := l.claimOf(r.VisitID)
		if err != nil || !ok {
			continue
		}
		v, _ := l.visit(r.VisitID)
		fork, _ := l.fork(v.ForkID)
		out = append(out, inspect.TrendRow{Reading: r, ForkID: v.ForkID, Sheet: fork.Sheet, Part: f.Part, AgeKnown: f.AgeKnown,
			Hours: c.Hours - f.FittedAt, HoursU: math.Hypot(c.U, f.FittedU), On: v.DroppedOff, FittedOn: f.FittedOn})
	}
	sort.Slice(out, func(i, j int) bool {
		if !out[i].On.Equal(out[j].On) {
			return out[i].On.Before(out[j].On)
		}
		return out[i].Reading.ID < out[j].Reading.ID
	})
	return out, nil
}

// Fittings implements inspect.Library.
func (l *Library) Fittings(_ context.Context, f inspect.FittingFilter) ([]inspect.Fitting, error) {
	defer l.lock()()
	return those(l.fittings, func(x inspect.Fitting) bool {
		return x.End != inspect.EndTakenBack && (f.ForkID == "" || x.ForkID == f.ForkID) && (!f.InOnly || x.In()) && (f.Part == "" || x.Part == f.Part)
	}), nil
}

// Refit implements inspect.Library.
func (l *Library) Refit(_ context.Context, ended, started []inspect.Fitting) error {
	defer l.lock()()
	if l.Refuse != nil {
		return l.Refuse
	}
	for _, f := range ended {
		l.fittings = put(l.fittings, f, func(o inspect.Fitting) bool { return o.ID == f.ID })
	}
	l.fittings = append(l.fittings, started...)
	return nil
}

// AddAssessments implements inspect.Library.
func (l *Library) AddAssessments(_ context.Context, as ...inspect.Assessment) error {
	defer l.lock()()
	for _, a := range as {
		if _, err := l.open(a.VisitID); err != nil {
			return err
		}
	}
	l.assessments = append(l.assessments, as...)
	return nil
}

// LatestAssessments implements inspect.Library.
func (l *Library) LatestAssessments(_ context.Context, visit inspect.ID) ([]inspect.Assessment, error) {
	defer l.lock()()
	var out []inspect.Assessment
	for _, a := range l.assessments {
		if a.VisitID != visit {
			continue
		}
		a.Override = inspect.OverrideInForce(those(l.overrides, func(o inspect.Override) bool { return o.AssessmentID == a.ID }))
		out = put(out, a, func(o inspect.Assessment) bool { return o.Part == a.Part && o.Leg == a.Leg })
	}
	sort.SliceStable(out, func(i, j int) bool {
		return out[i].Part < out[j].Part || out[i].Part == out[j].Part && out[i].Leg < out[j].Leg
	})
	return out, nil
}

// AddOverride implements inspect.Library.
func (l *Library) AddOverride(_ context.Context, visit inspect.ID, o inspect.Override) error {
	defer l.lock()()
	if _, err := l.open(visit); err != nil {
		return err
	}
	l.overrides = append(l.overrides, o)
	return nil
}

// AddConsents implements inspect.Library.
func (l *Library) AddConsents(_ context.Context, cs ...inspect.Consent) error {
	defer l.lock()()
	for _, c := range cs {
		if _, err := l.open(c.VisitID); err != nil {
			return err
		}
	}
	l.consents = append(l.consents, cs...)
	return nil
}

// Consents implements inspect.Library.
func (l *Library) Consents(_ context.Context, visit inspect.ID) ([]inspect.Consent, error) {
	defer l.lock()()
	return those(l.consents, func(c inspect.Consent) bool { return c.VisitID == visit }), nil
}

// Preference implements inspect.Library.
func (l *Library) Preference(_ context.Context, key string) (string, error) {
	defer l.lock()()
	return l.preferences[key], nil
}

// PutPreference implements inspect.Library.
func (l *Library) PutPreference(_ context.Context, key, value string) error {
	defer l.lock()()
	if l.Refuse != nil {
		return l.Refuse
	}
	l.preferences[key] = value
	return nil
}
