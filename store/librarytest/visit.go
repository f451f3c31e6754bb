package librarytest

import (
	"testing"
	"time"

	"forkwear/inspect"
)

func visits(t *testing.T, l inspect.Library) {
	one, two := start(t, l, 1), start(t, l, 2)
	bare := DropOff(3)
	bare.Claim = inspect.Claim{}
	_, err := l.StartVisit(ctx, bare)
	must(t, err)
	must(t, l.Collect(ctx, two.Visit.ID, two.Visit.DroppedOff.Add(time.Hour), "Ada"))
	// the newest claim of the visit counts, also when it was entered first
	newer, older := one.Claim, one.Claim
	newer.ID, newer.Hours, newer.U, newer.At = "a", 130, 3, noon.AddDate(0, 0, 9)
	older.ID, older.Hours, older.At = "z", 90, noon.AddDate(0, 0, -9)
	must(t, l.AddClaim(ctx, newer))
	must(t, l.AddClaim(ctx, older))

	rows, err := l.Visits(ctx, inspect.VisitFilter{})
	must(t, err)
	wantIDs(t, rows, "visit-3", "visit-2", "visit-1")
	if h := rows[2]; h.Hours != 130 || h.HoursU != 3 || h.Fork.ID != one.Fork.ID || h.Customer.Name != one.Customer.Name {
		t.Errorf("row of visit 1: %v", h)
	}
	if h := rows[0]; h.Hours != 0 || h.HoursU != 0 {
		t.Errorf("a visit without a claim has %g hours", h.Hours)
	}
	rows, err = l.Visits(ctx, inspect.VisitFilter{OpenOnly: true, Limit: 5})
	must(t, err)
	wantIDs(t, rows, "visit-3", "visit-1")
	rows, err = l.Visits(ctx, inspect.VisitFilter{ForkID: two.Fork.ID})
	must(t, err)
	wantIDs(t, rows, "visit-2")
	rows, err = l.Visits(ctx, inspect.VisitFilter{Limit: 1})
	must(t, err)
	wantIDs(t, rows, "visit-3")
}

func wantIDs(t *testing.T, rows []inspect.VisitRow, ids ...inspect.ID) {
	t.Helper()
	var got []inspect.ID
	for _, r := range rows {
		got = append(got, r.Visit.ID)
	}
	wantSame(t, got, nil, ids)
}

func visitChanges(t *testing.T, l inspect.Library) {
	d := start(t, l, 1)
	start(t, l, 2)
	v := d.Visit
	v.Step, v.WaitsFor, v.WaitsSince, v.Ready, v.CameWith = inspect.StepDecide, "", time.Time{}, noon.AddDate(0, 0, 2), []string{}
	must(t, l.SaveVisit(ctx, v))
	got, err := l.Visit(ctx, v.ID)
	wantSame(t, got, err, v)
	unticketed := v
	unticketed.Ticket = 0 // as the caller had it before drop-off
	must(t, l.SaveVisit(ctx, unticketed))
	got, err = l.Visit(ctx, v.ID)
	wantSame(t, got, err, v)
	for name, spoil := range map[string]func(v *inspect.Visit){
		"other ticket":    func(v *inspect.Visit) { v.Ticket = 9 },
		"other fork":      func(v *inspect.Visit) { v.ForkID = "fork-2" },
		"collected":       func(v *inspect.Visit) { v.Collected = noon },
		"step collected":  func(v *inspect.Visit) { v.Step = inspect.StepDone },
		"signed outside":  func(v *inspect.Visit) { v.Signature = inspect.Signature{{{X: 0.5, Y: -1}}} },
		"unknown earlier": func(v *inspect.Visit) { v.FromVisit = "none" },
	} {
		spoilt := v
		spoil(&spoilt)
		if err := l.SaveVisit(ctx, spoilt); inspect.CodeOf(err) != inspect.Invalid {
			t.Errorf("%s: got %v", name, err)
		}
	}
	wantCode(t, l.Collect(ctx, v.ID, v.DroppedOff.Add(-time.Hour), "Ada"), inspect.Invalid)
	at := v.DroppedOff.Add(time.Hour)
	must(t, l.Collect(ctx, v.ID, at, "Ada"))
	v.Collected, v.Step = at, inspect.StepDone
	got, err = l.Visit(ctx, v.ID)
	wantSame(t, got, err, v)
}

// locked tries every write on a collected visit.
func locked(t *testing.T, l inspect.Library) {
	d := start(t, l, 1)
	must(t, l.AddReadings(ctx, Reading(1, "r1")))
	_, err := l.AddPhoto(ctx, photo(1, "p1", "s1"))
	must(t, err)
	loose := unsorted("p0", "s0")
	_, err = l.AddPhoto(ctx, loose)
	must(t, err)
	must(t, l.AddMark(ctx, mark("p1", "m1", 0)))
	must(t, l.AddPhotoMeasure(ctx, measure("p1", "s1", 0)))
	must(t, l.AddAssessments(ctx, assessment(1, "a1", time.Hour)))
	at := d.Visit.DroppedOff.Add(3 * time.Hour)
	must(t, l.Collect(ctx, d.Visit.ID, at, "Ada"))

	claim, ended, started := d.Claim, d.Fittings[0], d.Fittings[0]
	claim.ID, started.ID, started.Leg = "claim-x", "fitting-x", inspect.Right
	ended.End, ended.EndVisit = inspect.EndWorn, d.Visit.ID
	_, addPhoto := l.AddPhoto(ctx, photo(1, "p2", "s2"))
	_, samePhoto := l.AddPhoto(ctx, photo(1, "p3", "s1"))
	_, file := l.FilePhoto(ctx, "p0", d.Visit.ID)
	for name, err := range map[string]error{
		"FilePhoto":       file,
		"AddFocus":        l.AddFocus(ctx, inspect.Focus{ID: "f", VisitID: d.Visit.ID, At: at}),
		"AddMark":         l.AddMark(ctx, mark("p1", "m2", 0)),
		"TakeMarkOff":     l.TakeMarkOff(ctx, "m1"),
		"PutMarkBack":     l.PutMarkBack(ctx, "m1"),
		"AddPhotoMeasure": l.AddPhotoMeasure(ctx, measure("p1", "s2", 0)),
		"TakeMeasureOff":  l.TakeMeasureOff(ctx, "s1"),
		"SaveVisit":       l.SaveVisit(ctx, d.Visit),
		"Collect":         l.Collect(ctx, d.Visit.ID, at, "Ada"),
		"AddClaim":        l.AddClaim(ctx, claim),
		"AddComplaint":    l.AddComplaint(ctx, inspect.Complaint{ID: "x", VisitID: d.Visit.ID, Symptom: "other"}),
		"PutSetting":      l.PutSetting(ctx, d.Settings[0]),
		"PutTask":         l.PutTask(ctx, inspect.Task{VisitID: d.Visit.ID, Key: "bolts"}),
		"AddReadings":     l.AddReadings(ctx, Reading(1, "r2")),
		"Refit end":       l.Refit(ctx, []inspect.Fitting{ended}, nil),
		"Refit start":     l.Refit(ctx, nil, []inspect.Fitting{started}),
		"AddPhoto":        addPhoto,
		"AddPhoto again":  samePhoto,
		"PlacePhoto":      l.PlacePhoto(ctx, photo(1, "p1", "s1")),
		"AddAssessments":  l.AddAssessments(ctx, assessment(1, "a2", 2*time.Hour)),
		"AddOverride":     l.AddOverride(ctx, d.Visit.ID, inspect.Override{ID: "o", AssessmentID: "a1", Verdict: inspect.Replace, Reason: "x", At: at}),
		"AddConsents":     l.AddConsents(ctx, inspect.Consent{ID: "c", VisitID: d.Visit.ID, At: at}),
	} {
		if inspect.CodeOf(err) != inspect.Locked {
			t.Errorf("%s on a collected visit: got %v", name, err)
		}
	}
	must(t, l.Amend(ctx, inspect.Amendment{ID: "am", VisitID: d.Visit.ID, What: "serial misread", Why: "dirt", By: "Ada", At: at}))
	claim.VisitID = "" // hours said later belong to the fork
	must(t, l.AddClaim(ctx, claim))
	must(t, l.SaveFork(ctx, d.Fork))
	rs, err := l.Readings(ctx, inspect.ReadingFilter{VisitID: d.Visit.ID})
	wantSame(t, rs, err, []inspect.Reading{Reading(1, "r1")})
}

func claims(t *testing.T, l inspect.Library) {
	d := start(t, l, 1)
	start(t, l, 2)
	later := d.Claim
	later.ID, later.VisitID, later.AtLeast, later.At = "claim-0", "", false, d.Claim.At.Add(time.Second)
	must(t, l.AddClaim(ctx, later))
	got, err := l.Claims(ctx, d.Fork.ID)
	wantSame(t, got, err, []inspect.Claim{d.Claim, later})
	wantCode(t, l.AddClaim(ctx, later), inspect.Conflict)
	foreign := later
	foreign.ID, foreign.VisitID = "claim-f", "visit-2"
	wantCode(t, l.AddClaim(ctx, foreign), inspect.Invalid)
	foreign.ForkID = "none"
	wantCode(t, l.AddClaim(ctx, foreign), inspect.NotFound)
}

func settingsAndTasks(t *testing.T, l inspect.Library) {
	d := start(t, l, 1)
	found, left := d.Settings[0], d.Settings[0]
	left.Moment, left.Value, left.Text = "left", 75, "75 psi"
	must(t, l.PutSetting(ctx, left))
	left.Value, left.Text = 76, "76 psi"
	must(t, l.PutSetting(ctx, left))
	ss, err := l.SettingsOf(ctx, d.Visit.ID)
	wantSame(t, ss, err, []inspect.Setting{found, left})

	gone := left
	gone.Value, gone.Text = 0, ""
	must(t, l.PutSetting(ctx, gone))
	ss, err = l.SettingsOf(ctx, d.Visit.ID)
	wantSame(t, ss, err, []inspect.Setting{found})

	task := inspect.Task{VisitID: d.Visit.ID, Key: "axle", Done: true, Value: 12.5, Unit: "N m", Tool: "wrench 2", Note: "ok", By: "Ada", At: noon}
	open := inspect.Task{VisitID: d.Visit.ID, Key: "bolts"} // no time yet
	must(t, l.PutTask(ctx, open))
	must(t, l.PutTask(ctx, inspect.Task{VisitID: d.Visit.ID, Key: "axle"}))
	must(t, l.PutTask(ctx, task))
	ts, err := l.Tasks(ctx, d.Visit.ID)
	wantSame(t, ts, err, []inspect.Task{task, open})
	wantCode(t, l.PutTask(ctx, inspect.Task{VisitID: d.Visit.ID}), inspect.Invalid)

	again := inspect.Complaint{ID: "complaint-2", VisitID: d.Visit.ID, Symptom: "other"}
	must(t, l.AddComplaint(ctx, again))
	cs, err := l.Complaints(ctx, d.Visit.ID)
	wantSame(t, cs, err, append(d.Complaints, again))
}

func consentsAndAmendments(t *testing.T, l inspect.Library) {
	d := start(t, l, 1)
	must(t, l.AddAssessments(ctx, assessment(1, "a1", time.Hour)))
	yes := inspect.Consent{ID: "c2", VisitID: d.Visit.ID, AssessmentID: "a1", Accepted: true, By: "Jördis", How: "phone", Shown: "bushings",
		Signature: inspect.Signature{{{X: 0, Y: 0.5}, {X: 0.125, Y: 1}}}, At: noon}
	no := inspect.Consent{ID: "c1", VisitID: d.Visit.ID, By: "Jördis", How: "signed here", At: noon.Add(time.Minute)}
	wantCode(t, l.AddConsents(ctx, yes, inspect.Consent{ID: "c3", VisitID: d.Visit.ID, AssessmentID: "none", At: noon}), inspect.NotFound)
	must(t, l.AddConsents(ctx)) // nothing of the refused pair is kept
	must(t, l.AddConsents(ctx, no, yes))
	cs, err := l.Consents(ctx, d.Visit.ID)
	wantSame(t, cs, err, []inspect.Consent{yes, no})
	wantCode(t, l.AddConsents(ctx, inspect.Consent{ID: "c3", VisitID: d.Visit.ID, AssessmentID: "none", At: noon}), inspect.NotFound)

	outside := yes
	outside.ID, outside.Signature = "c4", inspect.Signature{{{X: 1.5}}}
	wantCode(t, l.AddConsents(ctx, outside), inspect.Invalid)

	first := inspect.Amendment{ID: "z", VisitID: d.Visit.ID, What: "one", Why: "because", By: "Ada", At: noon}
	second := inspect.Amendment{ID: "a", VisitID: d.Visit.ID, What: "two", By: "Ada", At: noon.Add(time.Second)}
	must(t, l.Amend(ctx, second))
	must(t, l.Amend(ctx, first))
	as, err := l.Amendments(ctx, d.Visit.ID)
	wantSame(t, as, err, []inspect.Amendment{first, second})
	wantCode(t, l.Amend(ctx, inspect.Amendment{ID: "e", VisitID: d.Visit.ID, At: noon}), inspect.Invalid)
}
