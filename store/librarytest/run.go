package librarytest

import (
	"context"
	"testing"
	"time"

	"forkwear/inspect"
)

// Run runs the suite; open gives a new, empty library for each test.
func Run(t *testing.T, open func(t *testing.T) inspect.Library) {
	for _, test := range []struct {
		name string
		run  func(*testing.T, inspect.Library)
	}{
		{"customers and forks", customersAndForks},
		{"search", search},
		{"drop-off round trip", dropOff},
		{"drop-off is all or nothing", dropOffWhole},
		{"visits", visits},
		{"visit changes", visitChanges},
		{"collected is locked", locked},
		{"claims", claims},
		{"settings and tasks", settingsAndTasks},
		{"readings", readings},
		{"correction chains", corrections},
		{"refused readings", refusedReadings},
		{"trend rows", trendRows},
		{"taken off the fitting", unfitted},
		{"refit", refit},
		{"photos", photos},
		{"photos without a visit", unsortedPhotos},
		{"the same bytes twice", sameBytes},
		{"focus", focuses},
		{"camera clocks", cameraClocks},
		{"marks", marks},
		{"sizes on photos", photoMeasures},
		{"assessments", assessments},
		{"consents and amendments", consentsAndAmendments},
		{"preferences", preferences},
		{"not found", notFound},
	} {
		t.Run(test.name, func(t *testing.T) { test.run(t, open(t)) })
	}
}

var ctx = context.Background()

func customersAndForks(t *testing.T, l inspect.Library) {
	d := DropOff(1)
	wantCode(t, l.SaveFork(ctx, d.Fork), inspect.NotFound) // its customer is not there yet
	must(t, l.SaveCustomer(ctx, d.Customer))
	must(t, l.SaveFork(ctx, d.Fork))
	c, err := l.Customer(ctx, d.Customer.ID)
	wantSame(t, c, err, d.Customer)
	f, err := l.Fork(ctx, d.Fork.ID)
	wantSame(t, f, err, d.Fork)
	d.Customer.Phone, d.Fork.Tag = "", "other"
	must(t, l.SaveCustomer(ctx, d.Customer))
	must(t, l.SaveFork(ctx, d.Fork))
	c, err = l.Customer(ctx, d.Customer.ID)
	wantSame(t, c, err, d.Customer)
	f, err = l.Fork(ctx, d.Fork.ID)
	wantSame(t, f, err, d.Fork)
	wantCode(t, l.SaveCustomer(ctx, inspect.Customer{Name: "no id"}), inspect.Invalid)
	wantCode(t, l.SaveFork(ctx, inspect.Fork{CustomerID: d.Customer.ID}), inspect.Invalid)
}

func search(t *testing.T, l inspect.Library) {
	start(t, l, 1)
	start(t, l, 2)
	must(t, l.SaveCustomer(ctx, inspect.Customer{ID: "c", Name: "Strauß-Łukasz", Phone: "0151 / 44 33 22"}))
	for text, want := range map[string]int{
		"": 2, "jordis": 2, "JÖR": 2, "beispiel 00002": 1, "ordis": 0, "nordwind 2019": 2, "nw-777001": 1, "nw777002": 1, "77001": 1, "t2": 1,
		"0170 5500001": 1, "+49 170 55": 2, "00002": 1, "%": 2, "nobody": 0, "jordis nobody": 0, "'; DROP TABLE fork": 0,
	} {
		rows, err := l.FindForks(ctx, text, 10)
		must(t, err)
		if len(rows) != want {
			t.Errorf("FindForks(%q) gives %d, want %d", text, len(rows), want)
		}
	}
	for text, want := range map[string]int{"": 3, "strauss": 1, "lukasz": 1, "015144": 1, "4433": 1, "jo@example": 2, "nordwind": 0} {
		found, err := l.FindCustomers(ctx, text, 10)
		must(t, err)
		if len(found) != want {
			t.Errorf("FindCustomers(%q) gives %d, want %d", text, len(found), want)
		}
	}
	rows, err := l.FindForks(ctx, "nordwind", 1)
	d := DropOff(2) // the fork seen last comes first
	wantSame(t, rows, err, []inspect.ForkRow{{Fork: d.Fork, Customer: d.Customer, Visits: 1, LastVisit: d.Visit.DroppedOff}})
	d.Customer.Name = "Renamed Person"
	must(t, l.SaveCustomer(ctx, d.Customer)) // the words of the fork follow
	rows, err = l.FindForks(ctx, "renamed", 0)
	must(t, err)
	if len(rows) != 1 {
		t.Errorf("the fork is not found by the new name of its customer")
	}
}

func dropOff(t *testing.T, l inspect.Library) {
	d := start(t, l, 1)
	v, err := l.Visit(ctx, d.Visit.ID)
	wantSame(t, v, err, d.Visit)
	v, err = l.VisitByTicket(ctx, d.Visit.Ticket)
	wantSame(t, v, err, d.Visit)
	cs, err := l.Claims(ctx, d.Fork.ID)
	wantSame(t, cs, err, []inspect.Claim{d.Claim})
	co, err := l.Complaints(ctx, d.Visit.ID)
	wantSame(t, co, err, d.Complaints)
	ss, err := l.SettingsOf(ctx, d.Visit.ID)
	wantSame(t, ss, err, d.Settings)
	fs, err := l.Fittings(ctx, inspect.FittingFilter{ForkID: d.Fork.ID})
	wantSame(t, fs, err, d.Fittings)
	if next := start(t, l, 2); next.Visit.Ticket != d.Visit.Ticket+1 {
		t.Errorf("ticket %d follows %d", next.Visit.Ticket, d.Visit.Ticket)
	}
	// hours may come later: a drop-off without a claim
	bare := DropOff(3)
	bare.Claim, bare.Visit.Promised, bare.Visit.Conditions = inspect.Claim{}, time.Time{}, nil
	bare.Visit.Ticket, err = l.StartVisit(ctx, bare)
	must(t, err)
	v, err = l.Visit(ctx, bare.Visit.ID)
	wantSame(t, v, err, bare.Visit)
}

func dropOffWhole(t *testing.T, l inspect.Library) {
	for name, spoil := range map[string]func(d *inspect.DropOff){
		"no customer id":        func(d *inspect.DropOff) { d.Customer.ID = "" },
		"no visit id":           func(d *inspect.DropOff) { d.Visit.ID = "" },
		"no time":               func(d *inspect.DropOff) { d.Visit.DroppedOff = time.Time{} },
		"already collected":     func(d *inspect.DropOff) { d.Visit.Collected = noon },
		"other fork":            func(d *inspect.DropOff) { d.Claim.ForkID = "elsewhere" },
		"other visit":           func(d *inspect.DropOff) { d.Complaints[0].VisitID = "elsewhere" },
		"money of no currency":  func(d *inspect.DropOff) { d.Visit.GoAhead.Currency = "" },
		"fitting without id":    func(d *inspect.DropOff) { d.Fittings[0].ID = "" },
		"negative hours":        func(d *inspect.DropOff) { d.Claim.Hours = -1 },
		"settings of no moment": func(d *inspect.DropOff) { d.Settings[0].Moment = "" },
	} {
		d := DropOff(1)
		spoil(&d)
		if _, err := l.StartVisit(ctx, d); inspect.CodeOf(err) != inspect.Invalid {
			t.Errorf("%s: got %v", name, err)
		}
	}
	if _, err := l.Customer(ctx, "customer-1"); inspect.CodeOf(err) != inspect.NotFound {
		t.Errorf("a refused drop-off left its customer: %v", err)
	}
	d := start(t, l, 1)
	if d.Visit.Ticket != 1 {
		t.Errorf("refused drop-offs used up tickets: %d", d.Visit.Ticket)
	}
	_, err := l.StartVisit(ctx, DropOff(1))
	wantCode(t, err, inspect.Conflict)
}

func preferences(t *testing.T, l inspect.Library) {
	for _, want := range []string{"", "metric", "other", ""} {
		if want != "" {
			must(t, l.PutPreference(ctx, "units", want))
		}
		got, err := l.Preference(ctx, "units")
		if want == "" && got == "other" {
			want = "other" // asked again, it stays
		}
		wantSame(t, got, err, want)
	}
}

func notFound(t *testing.T, l inspect.Library) {
	_, err := l.Customer(ctx, "none")
	wantCode(t, err, inspect.NotFound)
	_, err = l.Fork(ctx, "none")
	wantCode(t, err, inspect.NotFound)
	_, err = l.Visit(ctx, "none")
	wantCode(t, err, inspect.NotFound)
	_, err = l.VisitByTicket(ctx, 77)
	wantCode(t, err, inspect.NotFound)
	wantCode(t, l.SaveVisit(ctx, DropOff(1).Visit), inspect.NotFound)
	wantCode(t, l.Collect(ctx, "none", noon, "Ada"), inspect.NotFound)
	wantCode(t, l.AddReadings(ctx, Reading(1, "r")), inspect.NotFound)
	wantCode(t, l.PlacePhoto(ctx, photo(1, "p", "s")), inspect.NotFound)
	_, err = l.FilePhoto(ctx, "none", "none")
	wantCode(t, err, inspect.NotFound)
	wantCode(t, l.AddFocus(ctx, inspect.Focus{ID: "f", VisitID: "none", At: noon}), inspect.NotFound)
	wantCode(t, l.AddMark(ctx, mark("none", "m", 0)), inspect.NotFound)
	wantCode(t, l.TakeMarkOff(ctx, "none"), inspect.NotFound)
	wantCode(t, l.PutMarkBack(ctx, "none"), inspect.NotFound)
	wantCode(t, l.AddPhotoMeasure(ctx, measure("none", "s", 0)), inspect.NotFound)
	wantCode(t, l.TakeMeasureOff(ctx, "none"), inspect.NotFound)
	wantCode(t, l.Amend(ctx, inspect.Amendment{ID: "a", VisitID: "none", What: "x", At: noon}), inspect.NotFound)
	rs, err := l.Readings(ctx, inspect.ReadingFilter{VisitID: "none"})
	must(t, err)
	if len(rs) != 0 {
		t.Errorf("readings of no visit: %v", rs)
	}
}
