package librarytest

import (
	"math"
	"testing"
	"time"

	"forkwear/inspect"
)

// unsorted is a photo of nobody knows which visit.
func unsorted(id inspect.ID, sum string) inspect.Photo {
	p := photo(1, id, sum)
	p.VisitID = ""
	return p
}

func mark(on, id inspect.ID, after time.Duration) inspect.Mark {
	return inspect.Mark{ID: id, PhotoID: on, Kind: inspect.MarkArrow, Points: []inspect.Spot{{X: 10.5, Y: 20}, {X: -3, Y: 1e4}},
		Text: "here \"ß\"", By: "Ada", At: noon.Add(after)}
}

func measure(on, id inspect.ID, after time.Duration) inspect.PhotoMeasure {
	return inspect.PhotoMeasure{ID: id, PhotoID: on, Kind: "area", Card: []inspect.Spot{{X: 1}, {X: 2}, {X: 3}, {Y: 4.5}},
		Known: &inspect.KnownLength{A: inspect.Spot{X: 1}, B: inspect.Spot{Y: 9}, MM: 85.6},
		Tube:  &inspect.TubeMarks{Diameter: 35, Edges: [4]inspect.Spot{{X: 1}, {X: 2}, {X: 3}, {X: 4}}},
		Line:  []inspect.Spot{{X: 5, Y: 6}}, Outline: []inspect.Spot{{X: 1, Y: 1}, {X: 2, Y: 1}, {X: 2, Y: 2}},
		Mask: []byte{0x89, 'P', 'N', 'G', 0, 255}, Window: [4]float64{1, 2, 30, 40},
		Value: 12.5, Low: 11, High: 14.25, Unit: "mm2", Method: "card, tube", Remarks: []string{"shine"}, By: "Ada", At: noon.Add(after)}
}

func unsortedPhotos(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	loose, filed := unsorted("p1", "s1"), photo(1, "p2", "s2")
	filed.Fingerprint, filed.AddedAt = "", loose.AddedAt.Add(time.Second)
	for _, p := range []inspect.Photo{loose, filed} {
		existed, err := l.AddPhoto(ctx, p)
		wantSame(t, existed, err, false)
	}
	existed, err := l.AddPhoto(ctx, unsorted("p9", "s1")) // one of these bytes among the unsorted
	wantSame(t, existed, err, true)
	for name, f := range map[string]inspect.PhotoFilter{"unsorted": {Unsorted: true}, "with a fingerprint": {Fingerprint: true}, "of these bytes": {SHA256: "s1"}} {
		got, err := l.Photos(ctx, f)
		t.Log(name)
		wantSame(t, got, err, []inspect.Photo{loose})
	}
	got, err := l.Photos(ctx, inspect.PhotoFilter{ForkID: "fork-1"})
	wantSame(t, got, err, []inspect.Photo{filed})

	// without a visit there is no check and no part
	checked, part := unsorted("p7", "s7"), unsorted("p8", "s8")
	checked.Check, part.FittingID = "stanchion", "fitting-1"
	for _, p := range []inspect.Photo{checked, part} {
		_, err := l.AddPhoto(ctx, p)
		wantCode(t, err, inspect.Invalid)
	}
	wantCode(t, l.PlacePhoto(ctx, inspect.Photo{ID: "p1", Check: "stanchion"}), inspect.Invalid)

	_, err = l.FilePhoto(ctx, "p1", "none")
	wantCode(t, err, inspect.NotFound)
	existed, err = l.FilePhoto(ctx, "p1", "visit-1")
	wantSame(t, existed, err, false)
	loose.VisitID = "visit-1"
	got, err = l.Photos(ctx, inspect.PhotoFilter{VisitID: "visit-1"})
	wantSame(t, got, err, []inspect.Photo{loose, filed})
	must(t, l.PlacePhoto(ctx, inspect.Photo{ID: "p1", Check: "stanchion", Role: "evidence"}))
	_, err = l.FilePhoto(ctx, "p1", "visit-1")
	wantCode(t, err, inspect.Conflict)
	start(t, l, 2)
	_, err = l.FilePhoto(ctx, "p1", "visit-2") // filed once, it stays
	wantCode(t, err, inspect.Conflict)
	unfiled(t, l, loose)
}

// unfiled takes the photo out of its visit again: with a size that is a reading
// it stays, without one it is as it was before.
func unfiled(t *testing.T, l inspect.Library, p inspect.Photo) {
	wantCode(t, l.UnfilePhoto(ctx, "none"), inspect.NotFound)
	must(t, l.AddReadings(ctx, Reading(1, "of-photo")))
	size := measure("p1", "read", 0)
	size.ReadingID = "of-photo"
	must(t, l.AddPhotoMeasure(ctx, size))
	wantCode(t, l.UnfilePhoto(ctx, "p1"), inspect.Conflict)
	must(t, l.TakeMeasureOff(ctx, "read"))
	must(t, l.UnfilePhoto(ctx, "p1"))
	p.VisitID = ""
	got, err := l.Photos(ctx, inspect.PhotoFilter{Unsorted: true})
	wantSame(t, got, err, []inspect.Photo{p})
	wantCode(t, l.UnfilePhoto(ctx, "p1"), inspect.Conflict)
	existed, err := l.FilePhoto(ctx, "p1", "visit-2")
	wantSame(t, existed, err, false)
	must(t, l.Collect(ctx, "visit-2", noon.AddDate(0, 0, 9), "Ada"))
	wantCode(t, l.UnfilePhoto(ctx, "p1"), inspect.Locked)
}

// sameBytes: a photo waits without a visit while the same bytes come to their
// visit another way.
func sameBytes(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	loose, filed := unsorted("p1", "s1"), photo(1, "p2", "s1")
	for _, p := range []inspect.Photo{loose, filed} {
		_, err := l.AddPhoto(ctx, p)
		must(t, err)
	}
	on, size := mark("p1", "m1", 0), measure("p1", "x1", 0)
	clock := inspect.CameraClock{ID: "c1", Camera: "M C 9", Add: time.Hour, PhotoID: "p1", At: noon}
	must(t, l.AddMark(ctx, on))
	must(t, l.AddPhotoMeasure(ctx, size))
	must(t, l.AddClock(ctx, clock))
	existed, err := l.FilePhoto(ctx, "p1", "visit-1")
	wantSame(t, existed, err, true)
	got, err := l.Photos(ctx, inspect.PhotoFilter{})
	wantSame(t, got, err, []inspect.Photo{filed})
	on.PhotoID, size.PhotoID, clock.PhotoID = "p2", "p2", "p2"
	ms, err := l.Marks(ctx, "p1", "p2")
	wantSame(t, ms, err, []inspect.Mark{on})
	ss, err := l.PhotoMeasures(ctx, "p1", "p2")
	wantSame(t, ss, err, []inspect.PhotoMeasure{size})
	cs, err := l.Clocks(ctx)
	wantSame(t, cs, err, []inspect.CameraClock{clock})
}

func focuses(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	first := inspect.Focus{ID: "f9", VisitID: "visit-1", Check: "stanchion", Leg: inspect.Right, Stage: inspect.Stripped, By: "Ada", At: noon}
	left := inspect.Focus{ID: "f1", VisitID: "visit-1", At: noon.Add(time.Minute)}
	late := inspect.Focus{ID: "f5", VisitID: "visit-1", Check: "seal", At: noon.Add(time.Hour)}
	for _, f := range []inspect.Focus{late, first, left} {
		must(t, l.AddFocus(ctx, f))
	}
	got, err := l.Focuses(ctx, noon, noon.Add(time.Hour)) // from is in, to is not
	wantSame(t, got, err, []inspect.Focus{first, left})
	got, err = l.Focuses(ctx, noon.Add(1), noon.Add(2*time.Hour).UTC())
	wantSame(t, got, err, []inspect.Focus{left, late})
	got, err = l.Focuses(ctx, noon.Add(time.Hour), noon)
	must(t, err)
	if len(got) != 0 {
		t.Errorf("from after to gives %v", got)
	}
	for name, spoil := range map[string]func(f *inspect.Focus){
		"leg": func(f *inspect.Focus) { f.Leg = "middle" }, "stage": func(f *inspect.Focus) { f.Stage = "later" },
		"time": func(f *inspect.Focus) { f.At = time.Time{} }, "id": func(f *inspect.Focus) { f.ID = "" },
	} {
		bad := late
		bad.ID = "bad"
		spoil(&bad)
		if err := l.AddFocus(ctx, bad); inspect.CodeOf(err) != inspect.Invalid {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func cameraClocks(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	_, err := l.AddPhoto(ctx, photo(1, "p1", "s1"))
	must(t, err)
	newest := inspect.CameraClock{ID: "c1", Camera: "M C 9", Add: -8760*time.Hour + 1, Source: "clock photo", PhotoID: "p1", By: "Ada", At: noon}
	older := inspect.CameraClock{ID: "c2", Camera: "M C 9", Add: time.Second, Source: "typed", By: "Bo", At: noon.Add(-1)}
	other := inspect.CameraClock{ID: "c3", Camera: "A", Add: 0, Source: "typed", At: noon.AddDate(-1, 0, 0)}
	for _, c := range []inspect.CameraClock{newest, older, other} {
		must(t, l.AddClock(ctx, c))
	}
	got, err := l.Clocks(ctx)
	wantSame(t, got, err, []inspect.CameraClock{other, newest})
	for name, spoil := range map[string]func(c *inspect.CameraClock){
		"camera": func(c *inspect.CameraClock) { c.Camera = "" }, "time": func(c *inspect.CameraClock) { c.At = time.Time{} },
		"more than 20 years": func(c *inspect.CameraClock) { c.Add = 21 * 365 * 24 * time.Hour }, "id": func(c *inspect.CameraClock) { c.ID = "" },
	} {
		bad := older
		bad.ID = "bad"
		spoil(&bad)
		if err := l.AddClock(ctx, bad); inspect.CodeOf(err) != inspect.Invalid {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func marks(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	for _, p := range []inspect.Photo{photo(1, "p1", "s1"), unsorted("p2", "s2")} {
		_, err := l.AddPhoto(ctx, p)
		must(t, err)
	}
	late, early, elsewhere := mark("p1", "m1", time.Hour), mark("p1", "m2", 0), mark("p2", "m3", time.Minute)
	for _, m := range []inspect.Mark{late, early, elsewhere} {
		must(t, l.AddMark(ctx, m))
	}
	got, err := l.Marks(ctx, "p1")
	wantSame(t, got, err, []inspect.Mark{early, late})
	got, err = l.Marks(ctx, "p2", "p1", "none", "p1")
	wantSame(t, got, err, []inspect.Mark{early, elsewhere, late})
	got, err = l.Marks(ctx)
	must(t, err)
	if len(got) != 0 {
		t.Errorf("marks of no photo: %v", got)
	}
	for range 2 { // taken off twice it is off
		must(t, l.TakeMarkOff(ctx, "m2"))
	}
	got, err = l.Marks(ctx, "p1")
	wantSame(t, got, err, []inspect.Mark{late})
	for range 2 {
		must(t, l.PutMarkBack(ctx, "m2"))
	}
	got, err = l.Marks(ctx, "p1")
	wantSame(t, got, err, []inspect.Mark{early, late})
	for name, spoil := range map[string]func(m *inspect.Mark){
		"kind": func(m *inspect.Mark) { m.Kind = "star" }, "one point": func(m *inspect.Mark) { m.Points = m.Points[:1] },
		"no number": func(m *inspect.Mark) { m.Points = []inspect.Spot{{X: math.NaN()}, {}} }, "time": func(m *inspect.Mark) { m.At = time.Time{} },
		"no words": func(m *inspect.Mark) { m.Kind, m.Points, m.Text = inspect.MarkText, m.Points[:1], "" },
	} {
		bad := mark("p1", "bad", 0)
		spoil(&bad)
		if err := l.AddMark(ctx, bad); inspect.CodeOf(err) != inspect.Invalid {
			t.Errorf("%s: got %v", name, err)
		}
	}
}

func photoMeasures(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	start(t, l, 2)
	must(t, l.AddReadings(ctx, Reading(1, "r1"), Reading(2, "r2")))
	for _, p := range []inspect.Photo{photo(1, "p1", "s1"), unsorted("p2", "s2")} {
		_, err := l.AddPhoto(ctx, p)
		must(t, err)
	}
	full, bare := measure("p1", "x2", time.Hour), inspect.PhotoMeasure{ID: "x1", PhotoID: "p2", Kind: "length",
		Line: []inspect.Spot{{}, {X: 1}}, Value: 1, High: 2, Unit: "mm", At: noon}
	full.ReadingID = "r1"
	must(t, l.AddPhotoMeasure(ctx, full))
	must(t, l.AddPhotoMeasure(ctx, bare))
	got, err := l.PhotoMeasures(ctx, "p1", "p2")
	wantSame(t, got, err, []inspect.PhotoMeasure{bare, full})
	for name, spoil := range map[string]func(m *inspect.PhotoMeasure){
		"reading of another visit": func(m *inspect.PhotoMeasure) { m.ReadingID = "r2" },
		"kind":                     func(m *inspect.PhotoMeasure) { m.Kind = "volume" },
		"unit":                     func(m *inspect.PhotoMeasure) { m.Unit = "mm" },
		"outside its range":        func(m *inspect.PhotoMeasure) { m.Value = 15 },
		"no number":                func(m *inspect.PhotoMeasure) { m.High = math.Inf(1) },
		"three corners":            func(m *inspect.PhotoMeasure) { m.Card = m.Card[:3] },
		"nothing marked":           func(m *inspect.PhotoMeasure) { m.Outline, m.Mask = nil, nil },
		"flat tube":                func(m *inspect.PhotoMeasure) { m.Tube = &inspect.TubeMarks{} },
		"no distance":              func(m *inspect.PhotoMeasure) { m.Known = &inspect.KnownLength{MM: -1} },
	} {
		bad := measure("p1", "bad", 0)
		spoil(&bad)
		if err := l.AddPhotoMeasure(ctx, bad); inspect.CodeOf(err) != inspect.Invalid {
			t.Errorf("%s: got %v", name, err)
		}
	}
	unknown := measure("p1", "bad", 0)
	unknown.ReadingID = "none"
	wantCode(t, l.AddPhotoMeasure(ctx, unknown), inspect.NotFound)
	must(t, l.TakeMeasureOff(ctx, "x2"))
	got, err = l.PhotoMeasures(ctx, "p1", "p2")
	wantSame(t, got, err, []inspect.PhotoMeasure{bare})
}
