package librarytest

import (
	"testing"
	"time"

	"forkwear/inspect"
)

func refit(t *testing.T, l inspect.Library) {
	d := start(t, l, 1)
	start(t, l, 2)
	old, fresh := d.Fittings[0], d.Fittings[0]
	old.EndVisit, old.EndHours, old.EndU, old.End, old.EndedOn = d.Visit.ID, 120.5, 12, inspect.EndWorn, noon
	fresh.ID, fresh.FittedAt, fresh.Batch = "fitting-1b", 120.5, "B8"
	wantCode(t, l.Refit(ctx, nil, []inspect.Fitting{fresh}), inspect.Conflict) // two parts in one place
	must(t, l.Refit(ctx, []inspect.Fitting{old}, []inspect.Fitting{fresh}))
	got, err := l.Fittings(ctx, inspect.FittingFilter{ForkID: d.Fork.ID})
	wantSame(t, got, err, []inspect.Fitting{old, fresh})
	got, err = l.Fittings(ctx, inspect.FittingFilter{ForkID: d.Fork.ID, InOnly: true})
	wantSame(t, got, err, []inspect.Fitting{fresh})
	got, err = l.Fittings(ctx, inspect.FittingFilter{Part: "bushing_upper", InOnly: true})
	wantSame(t, got, err, []inspect.Fitting{fresh, DropOff(2).Fittings[0]})
	wantCode(t, l.Refit(ctx, []inspect.Fitting{d.Fittings[0]}, nil), inspect.Conflict) // its place is taken

	second := old
	second.EndVisit = "visit-2"
	wantCode(t, l.Refit(ctx, []inspect.Fitting{second}, nil), inspect.Conflict)
	foreign := fresh
	foreign.End, foreign.EndVisit = inspect.EndCrash, "visit-2"
	wantCode(t, l.Refit(ctx, []inspect.Fitting{foreign}, nil), inspect.Invalid)
	unknown := fresh
	unknown.End, unknown.EndVisit = "bored", "visit-1"
	wantCode(t, l.Refit(ctx, []inspect.Fitting{unknown}, nil), inspect.Invalid)
	missing := fresh
	missing.ID, missing.End, missing.EndVisit = "none", inspect.EndCrash, "visit-1"
	wantCode(t, l.Refit(ctx, []inspect.Fitting{missing}, nil), inspect.NotFound)

	// what was taken back is in no list, and not before nor after its visit
	wrong := fresh
	wrong.ID, wrong.Part = "fitting-w", "bushing_lower"
	must(t, l.Refit(ctx, nil, []inspect.Fitting{wrong}))
	wrong.End, wrong.EndVisit = inspect.EndTakenBack, wrong.FittedVisit
	must(t, l.Refit(ctx, []inspect.Fitting{wrong}, nil))
	got, err = l.Fittings(ctx, inspect.FittingFilter{ForkID: d.Fork.ID})
	wantSame(t, got, err, []inspect.Fitting{old, fresh})

	// one transaction: the good half of a refused refit is not kept
	out := fresh
	out.End, out.EndVisit = inspect.EndFailed, d.Visit.ID
	bad := fresh
	bad.ID, bad.Leg = "bad", "middle"
	wantCode(t, l.Refit(ctx, []inspect.Fitting{out}, []inspect.Fitting{bad}), inspect.Invalid)
	got, err = l.Fittings(ctx, inspect.FittingFilter{ForkID: d.Fork.ID, InOnly: true})
	wantSame(t, got, err, []inspect.Fitting{fresh})

	// a wrong reason is put right, and taking out is taken back, while the visit is open
	must(t, l.Refit(ctx, []inspect.Fitting{out}, nil))
	out.End = inspect.EndSchedule
	must(t, l.Refit(ctx, []inspect.Fitting{out}, nil))
	must(t, l.Refit(ctx, []inspect.Fitting{fresh}, nil))
	got, err = l.Fittings(ctx, inspect.FittingFilter{ForkID: d.Fork.ID, InOnly: true})
	wantSame(t, got, err, []inspect.Fitting{fresh})
}

func photos(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	start(t, l, 2)
	first, second, elsewhere := photo(1, "p2", "s1"), photo(1, "p1", "s2"), photo(2, "p3", "s1")
	second.AddedAt = second.AddedAt.Add(time.Second)
	for _, p := range []inspect.Photo{second, first, elsewhere} {
		existed, err := l.AddPhoto(ctx, p)
		wantSame(t, existed, err, false)
	}
	again := photo(1, "p9", "s1")
	existed, err := l.AddPhoto(ctx, again)
	wantSame(t, existed, err, true)
	got, err := l.Photos(ctx, inspect.PhotoFilter{VisitID: "visit-1"})
	wantSame(t, got, err, []inspect.Photo{first, second})

	place := inspect.Photo{ID: "p2", Check: "stanchion", Leg: inspect.Left, Stage: inspect.Stripped, FittingID: "fitting-1", Role: "evidence"}
	must(t, l.PlacePhoto(ctx, place))
	first.Check, first.Leg, first.Stage, first.FittingID, first.Role = place.Check, place.Leg, place.Stage, place.FittingID, place.Role
	got, err = l.Photos(ctx, inspect.PhotoFilter{ForkID: "fork-1", Check: "stanchion"})
	wantSame(t, got, err, []inspect.Photo{first})
	got, err = l.Photos(ctx, inspect.PhotoFilter{VisitID: "visit-1", Tray: true})
	wantSame(t, got, err, []inspect.Photo{second})
	place.FittingID = "fitting-2"
	wantCode(t, l.PlacePhoto(ctx, place), inspect.Invalid)
	place.FittingID, place.Stage = "", "later"
	wantCode(t, l.PlacePhoto(ctx, place), inspect.Invalid)
	_, err = l.AddPhoto(ctx, photo(1, "p7", ""))
	wantCode(t, err, inspect.Invalid)
}

func assessments(t *testing.T, l inspect.Library) {
	d := start(t, l, 1)
	first, newer := assessment(1, "a9", time.Hour), assessment(1, "a1", 2*time.Hour)
	other := inspect.Assessment{ID: "a5", VisitID: d.Visit.ID, Part: "air_seal", Verdict: inspect.Measure, At: noon}
	must(t, l.AddAssessments(ctx))
	must(t, l.AddAssessments(ctx, newer, other))
	must(t, l.AddAssessments(ctx, first)) // entered later, made earlier
	got, err := l.LatestAssessments(ctx, d.Visit.ID)
	wantSame(t, got, err, []inspect.Assessment{other, newer})

	early := inspect.Override{ID: "o2", AssessmentID: "a1", Verdict: inspect.Measure, Reason: "doubt", By: "Bo", At: noon}
	late := inspect.Override{ID: "o1", AssessmentID: "a1", Verdict: inspect.Replace, Reason: "customer rides hard", By: "Ada", At: noon.Add(time.Hour)}
	must(t, l.AddOverride(ctx, d.Visit.ID, late))
	must(t, l.AddOverride(ctx, d.Visit.ID, early))
	newer.Override = &late
	got, err = l.LatestAssessments(ctx, d.Visit.ID)
	wantSame(t, got, err, []inspect.Assessment{other, newer})
	if v := got[1].InForce(); v != inspect.Replace {
		t.Errorf("in force: %s", v)
	}

	// taken back, the one before stands again; then none
	back := inspect.Override{ID: "o5", AssessmentID: "a1", Verdict: inspect.NoOverride, Reason: "taken back", By: "Ada", At: noon.Add(2 * time.Hour)}
	must(t, l.AddOverride(ctx, d.Visit.ID, back))
	newer.Override = &early
	got, err = l.LatestAssessments(ctx, d.Visit.ID)
	wantSame(t, got, err, []inspect.Assessment{other, newer})
	back.ID, back.At = "o6", noon.Add(3*time.Hour)
	must(t, l.AddOverride(ctx, d.Visit.ID, back))
	newer.Override = nil
	got, err = l.LatestAssessments(ctx, d.Visit.ID)
	wantSame(t, got, err, []inspect.Assessment{other, newer})

	carried := assessment(1, "b1", 3*time.Hour)
	carried.Override = &inspect.Override{ID: "o3", AssessmentID: "b1", Verdict: inspect.Reuse, Reason: "seen again", At: noon}
	must(t, l.AddAssessments(ctx, carried))
	got, err = l.LatestAssessments(ctx, d.Visit.ID)
	wantSame(t, got, err, []inspect.Assessment{other, carried})

	wantCode(t, l.AddAssessments(ctx, first), inspect.Conflict)
	wantCode(t, l.AddOverride(ctx, d.Visit.ID, inspect.Override{ID: "o4", AssessmentID: "none", Verdict: inspect.Reuse, Reason: "x", At: noon}), inspect.NotFound)
	wantCode(t, l.AddOverride(ctx, d.Visit.ID, inspect.Override{ID: "o4", AssessmentID: "a1", Verdict: inspect.Reuse, At: noon}), inspect.Invalid)
}
