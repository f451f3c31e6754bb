package librarytest

import (
	"math"
	"testing"
	"time"

	"forkwear/inspect"
)

func readings(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	start(t, l, 2)
	full, bare := Reading(1, "r1"), inspect.Reading{ID: "r0", VisitID: "visit-1", Check: "stanchion", Stage: inspect.Received,
		Answer: inspect.NotLooked, At: noon.AddDate(0, 0, 5)}
	other := Reading(2, "r2")
	must(t, l.AddReadings(ctx))
	must(t, l.AddReadings(ctx, bare, full))
	must(t, l.AddReadings(ctx, other))
	for _, test := range []struct {
		filter inspect.ReadingFilter
		want   []inspect.Reading
	}{
		{inspect.ReadingFilter{}, []inspect.Reading{full, other, bare}},
		{inspect.ReadingFilter{VisitID: "visit-1"}, []inspect.Reading{full, bare}},
		{inspect.ReadingFilter{ForkID: "fork-2"}, []inspect.Reading{other}},
		{inspect.ReadingFilter{FittingID: "fitting-1"}, []inspect.Reading{full}},
		{inspect.ReadingFilter{Check: "stanchion", VisitID: "visit-1"}, []inspect.Reading{bare}},
	} {
		got, err := l.Readings(ctx, test.filter)
		wantSame(t, got, err, test.want)
	}
}

// corrections walks measured, corrected, undone, measured again; then makes a
// conflict of two corrections of one reading.
func corrections(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	chain := []inspect.Reading{Reading(1, "r4"), Reading(1, "r3"), Reading(1, "r2"), Reading(1, "r1")}
	for i := range chain {
		chain[i].Value = float64(i)
		if i > 0 {
			chain[i].Supersedes = chain[i-1].ID
		}
	}
	chain[2].Retracted = true
	for i, r := range chain {
		must(t, l.AddReadings(ctx, r))
		rs, err := l.Readings(ctx, inspect.ReadingFilter{VisitID: "visit-1"})
		must(t, err)
		current, conflicts := inspect.Current(rs)
		head, ok := current[r.Slot()]
		if len(rs) != i+1 || len(conflicts) != 0 || ok == r.Retracted || (ok && head.ID != r.ID) {
			t.Errorf("step %d: %d kept, head %v %v, conflicts %v", i, len(rs), head.ID, ok, conflicts)
		}
		trend, err := l.TrendRows(ctx, "bushing_play")
		must(t, err)
		if r.Retracted != (len(trend) == 0) {
			t.Errorf("step %d: %d trend rows", i, len(trend))
		}
	}
	second := Reading(1, "r9")
	second.Supersedes = "r2"
	must(t, l.AddReadings(ctx, second))
	rs, err := l.Readings(ctx, inspect.ReadingFilter{VisitID: "visit-1"})
	must(t, err)
	current, conflicts := inspect.Current(rs)
	if len(conflicts[second.Slot()]) != 2 || current[second.Slot()].ID != "r9" {
		t.Errorf("two corrections of one reading: in force %v, conflicts %v", current, conflicts)
	}
	trend, err := l.TrendRows(ctx, "bushing_play")
	must(t, err)
	if len(trend) != 1 || trend[0].Reading.ID != "r9" {
		t.Errorf("trend rows of a conflict: %v", trend)
	}
}

// unfitted takes readings off their fitting: the first by a correction, the
// second by a later head of a conflict. Neither is a point of a trend any more.
func unfitted(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	first, corrected, second, rival := Reading(1, "r1"), Reading(1, "r2"), Reading(1, "s1"), Reading(1, "s2")
	corrected.Supersedes, corrected.FittingID = "r1", ""
	second.Point, rival.Point, rival.FittingID = "lower", "lower", ""
	must(t, l.AddReadings(ctx, first, second))
	got, err := l.TrendRows(ctx, "bushing_play")
	must(t, err)
	if len(got) != 2 {
		t.Errorf("before: %d trend rows, want 2", len(got))
	}
	must(t, l.AddReadings(ctx, corrected, rival))
	got, err = l.TrendRows(ctx, "bushing_play")
	must(t, err)
	if len(got) != 0 {
		t.Errorf("after: %v", got)
	}
}

func refusedReadings(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	start(t, l, 2)
	must(t, l.AddReadings(ctx, Reading(1, "r1")))
	for name, test := range map[string]struct {
		spoil func(r *inspect.Reading)
		code  inspect.Code
	}{
		"same id":             {func(r *inspect.Reading) { r.ID = "r1" }, inspect.Conflict},
		"no id":               {func(r *inspect.Reading) { r.ID = "" }, inspect.Invalid},
		"not a number":        {func(r *inspect.Reading) { r.Value = math.NaN() }, inspect.Invalid},
		"endless uncertainty": {func(r *inspect.Reading) { r.U = math.Inf(1) }, inspect.Invalid},
		"limit not a number":  {func(r *inspect.Reading) { x := math.NaN(); r.Limit = &x }, inspect.Invalid},
		"repeat not a number": {func(r *inspect.Reading) { r.Raw = []float64{math.Inf(-1)} }, inspect.Invalid},
		"stage":               {func(r *inspect.Reading) { r.Stage = "later" }, inspect.Invalid},
		"no time":             {func(r *inspect.Reading) { r.At = time.Time{} }, inspect.Invalid},
		"year 12026":          {func(r *inspect.Reading) { r.At = noon.AddDate(10000, 0, 0) }, inspect.Invalid},
		"unknown fitting":     {func(r *inspect.Reading) { r.FittingID = "none" }, inspect.NotFound},
		"foreign fitting":     {func(r *inspect.Reading) { r.FittingID = "fitting-2" }, inspect.Invalid},
		"unknown superseded":  {func(r *inspect.Reading) { r.Supersedes = "none" }, inspect.NotFound},
		"supersedes itself":   {func(r *inspect.Reading) { r.Supersedes = "bad" }, inspect.NotFound},
		"other stage":         {func(r *inspect.Reading) { r.Supersedes, r.Stage = "r1", inspect.AfterWork }, inspect.Invalid},
		"undo of nothing":     {func(r *inspect.Reading) { r.Retracted = true }, inspect.Invalid},
	} {
		good, bad := Reading(1, "good"), Reading(1, "bad")
		good.Point = "lower"
		test.spoil(&bad)
		if err := l.AddReadings(ctx, good, bad); inspect.CodeOf(err) != test.code {
			t.Errorf("%s: got %v, want %s", name, err, test.code)
		}
	}
	got, err := l.Readings(ctx, inspect.ReadingFilter{})
	wantSame(t, got, err, []inspect.Reading{Reading(1, "r1")}) // all or none: no "good" either
}

func trendRows(t *testing.T, l inspect.Library) {
	one := start(t, l, 1)
	start(t, l, 2)
	bare := DropOff(3)
	bare.Claim = inspect.Claim{}
	_, err := l.StartVisit(ctx, bare)
	must(t, err)
	loose := Reading(1, "loose")
	loose.FittingID, loose.Point = "", "lower"
	other := Reading(1, "other")
	other.Check = "stanchion"
	// the claim of the visit is replaced by a newer one: 130 h, u 12
	claim := one.Claim
	claim.ID, claim.Hours, claim.At = "newer", 130, claim.At.Add(time.Hour)
	must(t, l.AddClaim(ctx, claim))
	must(t, l.AddReadings(ctx, Reading(2, "r2"), Reading(1, "r1"), Reading(3, "r3"), loose, other))
	got, err := l.TrendRows(ctx, "bushing_play")
	row := func(n int, id inspect.ID, hours float64) inspect.TrendRow {
		d := DropOff(n)
		return inspect.TrendRow{Reading: Reading(n, id), ForkID: d.Fork.ID, Sheet: d.Fork.Sheet, Part: "bushing_upper", AgeKnown: true,
			Hours: hours, HoursU: 13, On: d.Visit.DroppedOff, FittedOn: d.Fittings[0].FittedOn}
	}
	// 130 - 100.5 and 120.5 - 100.5 hours; u = sqrt(12² + 5²) = 13, by hand.
	// Visit 3 has no claim and so no place on the axis of hours.
	wantSame(t, got, err, []inspect.TrendRow{row(1, "r1", 29.5), row(2, "r2", 20)})
	none, err := l.TrendRows(ctx, "nothing")
	must(t, err)
	if len(none) != 0 {
		t.Errorf("trend rows of no check: %v", none)
	}
}
