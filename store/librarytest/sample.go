package librarytest

import (
	"context"
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"forkwear/inspect"
)

// noon is a time on a day of the invented shop, two hours east of Greenwich.
var noon = time.Date(2026, 5, 4, 12, 0, 0, 123456789, time.FixedZone("", 2*3600))

// DropOff returns a whole drop-off of an invented customer, number n. Its ids
// end in n, so that several fit into one library.
func DropOff(n int) inspect.DropOff {
	id := func(kind string) inspect.ID { return inspect.ID(fmt.Sprintf("%s-%d", kind, n)) }
	at := noon.AddDate(0, 0, n)
	return inspect.DropOff{
		Customer: inspect.Customer{ID: id("customer"), Name: fmt.Sprintf("Jördis Beispiel %d", n), Phone: fmt.Sprintf("+49 (0)170 55%05d", n),
			Email: "jo@example.org", ReachBy: "message", Note: "rings twice", Created: at},
		Fork: inspect.Fork{ID: id("fork"), CustomerID: id("customer"), Maker: "Nordwind", Model: "Trail 140", Year: 2019,
			Serial: fmt.Sprintf("NW-%06d", 777000+n), Tag: fmt.Sprintf("T%d", n), Sheet: "generic_air_35", Note: "black", Created: at},
		Visit: inspect.Visit{ID: id("visit"), ForkID: id("fork"), CustomerID: id("customer"), Level: "full", Purpose: "paid",
			Step: inspect.StepDropOff, WaitsFor: "part", WaitsSince: at.Add(time.Hour), DroppedOff: at, Promised: at.AddDate(0, 0, 3),
			Conditions: []string{"mud", "wet"}, CameWith: []string{"axle"},
			Package: inspect.Money{Minor: 12990, Currency: "EUR"}, GoAhead: inspect.Money{Minor: 20000, Currency: "EUR"},
			NextHours: 50, NextDate: at.AddDate(1, 0, 0), TakenInBy: "Ada", Note: "creaks",
			SignedBy: "Jördis", Signature: inspect.Signature{{{X: 0.1, Y: 0.5}, {X: 0.25, Y: 0}}, {{X: 1, Y: 1}}}},
		Claim: inspect.Claim{ID: id("claim"), ForkID: id("fork"), VisitID: id("visit"), Hours: 120.5, U: 12, AtLeast: true,
			Source: "weekly use", Detail: "4 h a week", By: "Ada", At: at},
		Complaints: []inspect.Complaint{{ID: id("complaint"), VisitID: id("visit"), Symptom: "knock", Leg: inspect.Left, Since: "two weeks", Note: "on stairs"}},
		Settings:   []inspect.Setting{{VisitID: id("visit"), Moment: "found", Key: "air_pressure", Value: 72.5, Unit: "psi", Text: "72.5 psi"}},
		Fittings: []inspect.Fitting{{ID: id("fitting"), ForkID: id("fork"), Part: "bushing_upper", Leg: inspect.Left, FittedVisit: id("visit"),
			FittedAt: 100.5, FittedU: 5, AgeKnown: true, Batch: "B7", FittedOn: at}},
	}
}

// Reading returns a measured reading of the fitting of DropOff(n).
func Reading(n int, id inspect.ID) inspect.Reading {
	fresh, limit := 0.05, 0.25
	d := DropOff(n)
	return inspect.Reading{ID: id, VisitID: d.Visit.ID, FittingID: d.Fittings[0].ID, Check: "bushing_play", Leg: inspect.Left, Point: "upper/front",
		Stage: inspect.Stripped, Answer: inspect.Measured, Value: 0.12, U: 0.01, Unit: "mm", Typed: "0.12 mm", Raw: []float64{0.11, 0.12, 0.13},
		Instrument: "gauge 3", New: &fresh, Limit: &limit, Fields: "burr", Note: "dry", By: "Ada", At: d.Visit.DroppedOff.Add(time.Hour)}
}

func assessment(n int, id inspect.ID, after time.Duration) inspect.Assessment {
	d, wear, u := DropOff(n), 0.42, 0.05
	return inspect.Assessment{ID: id, VisitID: d.Visit.ID, FittingID: d.Fittings[0].ID, Part: "bushing_upper", Leg: inspect.Left,
		Verdict: inspect.Reuse, Remedy: "clean", DoNotRide: true, NoPhoto: true, NotOpened: true, Baseline: true, PriorOnly: true,
		Reasons:    []inspect.Reason{{Rule: 3, Check: "bushing_play", Leg: inspect.Left, Plain: "fine", Why: "0.12 < 0.25", Decide: true}},
		ReadingIDs: []inspect.ID{"r1", "r2"}, LeadCheck: "bushing_play", WearUsed: &wear, WearU: &u,
		HoursLeft: &inspect.HoursLeft{P05: 10, P50: 40, P95: 130.25}, NoTrend: true, Horizon: 50, HorizonU: 5, TNow: 20,
		Mu: [2]float64{0.12, 0.001}, S: [3]float64{1e-4, -1e-7, 1e-9}, PNow: 0.01, PThen: 0.08, Threshold: 0.1, NextLevel: "full",
		Sheet: "generic_air_35", SheetHash: "ab", Catalog: "cd", Engine: "1", By: "Ada", At: d.Visit.DroppedOff.Add(after)}
}

func photo(n int, id inspect.ID, sum string) inspect.Photo {
	d := DropOff(n)
	return inspect.Photo{ID: id, SHA256: sum, Format: "jpeg", Bytes: 123456, Width: 4000, Height: 3000, Orientation: 6,
		WallTime: "2026-05-04T12:01:02", Offset: "+02:00", OffsetSource: "exif", DateSource: "exif", SubSec: "57", Make: "M", Model: "C",
		BodySerial: "9", HasPosition: true, Sharpness: 0.75, Usable: true, Remarks: []string{"a little dark"},
		FocalLength35: 26, GPSTime: "2026-05-04T10:01:00Z", Fingerprint: "f0e1d2c3b4a59687", CardCode: "FW:visit-1",
		Card: []inspect.Spot{{X: 1.5, Y: 2}, {X: 90, Y: 2}, {X: 90, Y: 60}, {X: 1, Y: 60}}, Drawn: true, FileName: "a b.jpg",
		VisitID: d.Visit.ID, AddedBy: "Ada", AddedAt: d.Visit.DroppedOff.Add(2 * time.Hour)}
}

// start keeps DropOff(n) and fails the test where it can't.
func start(t *testing.T, l inspect.Library, n int) inspect.DropOff {
	t.Helper()
	d := DropOff(n)
	ticket, err := l.StartVisit(context.Background(), d)
	must(t, err)
	d.Visit.Ticket = ticket
	return d
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func wantCode(t *testing.T, err error, code inspect.Code) {
	t.Helper()
	if inspect.CodeOf(err) != code {
		t.Errorf("got %v (code %q), want code %q", err, inspect.CodeOf(err), code)
	}
}

// wantSame compares by the JSON text of both: it shows instants with their
// offsets, follows pointers, and tells an empty list from none.
func wantSame(t *testing.T, got any, err error, want any) {
	t.Helper()
	must(t, err)
	a, errA := json.MarshalIndent(got, "", " ")
	b, errB := json.MarshalIndent(want, "", " ")
	must(t, errA)
	must(t, errB)
	if string(a) != string(b) {
		t.Errorf("got  %s\nwant %s", a, b)
	}
}
