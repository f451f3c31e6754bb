package shop

import (
	"context"
	"sync"
	"sync/atomic"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/wear"
)

// Desk asks for and carries out the work of the shop. It may be used from
// several goroutines at once; a Case may not.
type Desk struct {
	Lib     inspect.Library
	Catalog *catalog.Catalog
	Clock   func() time.Time
	NewID   func() inspect.ID
	By      string // who works here until somebody is chosen: ask Who

	// Zone is the shop's time zone; without it a photo that does not say its own
	// has no instant.
	Zone *time.Location
	// Alike is how many of 64 bits two fingerprints of photos differ in; below 0
	// where they can't be compared. nil: no photo looks like another one.
	Alike func(a, b string) int
	// CardVisit reads the code of a bench card; nil: the code is the visit's id.
	CardVisit func(code string) (visit inspect.ID, ok bool)

	who   atomic.Pointer[string] // see Who and SetWho
	mu    sync.Mutex
	front inspect.Focus // what this desk last put in front
	fits  map[fitKey]wear.Fit
	order []fitKey          // of fits, oldest first
	power map[fitKey]string // what the profile of the power of time said, of remembered fits
}

// Intake is what drop-off was told. Customer and Fork with an empty ID are new.
type Intake struct {
	Customer   inspect.Customer
	Fork       inspect.Fork
	Visit      inspect.Visit // Level, Purpose, Promised, Conditions ...; ids are given here
	Hours      float64       // since new
	HoursU     float64
	AtLeast    bool
	HoursFrom  string // source of the claim
	HoursWords string // what was asked and answered
	Complaints []inspect.Complaint
	Settings   []inspect.Setting // as found
}

// Check says what is missing or wrong in an intake, or nil.
func (d *Desk) Check(in Intake) error {
	switch {
	case in.Customer.ID == "" && in.Customer.Name == "":
		return inspect.Refuse(inspect.Invalid, "type the customer's name, or choose one who was here before")
	case in.Fork.ID == "" && in.Fork.Maker == "" && in.Fork.Model == "" && in.Fork.Tag == "":
		return inspect.Refuse(inspect.Invalid, "say which fork this is: a maker, a model or a workshop tag")
	case !(in.Hours >= 0 && in.Hours < 1e5):
		return inspect.Refuse(inspect.Invalid, "riding hours %g are not between 0 and 100 000: type them again", in.Hours)
	case !(in.HoursU >= 0 && in.HoursU < 1e5):
		return inspect.Refuse(inspect.Invalid, "the uncertainty of the riding hours, %g, is not 0 or more", in.HoursU)
	case in.Fork.Year != 0 && (in.Fork.Year < 1980 || in.Fork.Year > d.Clock().Year()+1):
		return inspect.Refuse(inspect.Invalid, "the year %d of the fork is not one of 1980 to next year", in.Fork.Year)
	}
	if _, ok := d.Catalog.Sheet(in.Fork.Sheet); !ok {
		return inspect.Refuse(inspect.Invalid, "choose a data sheet for the fork: %q is not in the catalog", in.Fork.Sheet)
	}
	if _, ok := d.Catalog.Level(in.Visit.Level); !ok {
		return inspect.Refuse(inspect.Invalid, "choose a service level: %q is not in the catalog", in.Visit.Level)
	}
	return nil
}

// TakeIn keeps a drop-off in one transaction and returns the open visit. A
// fork that comes for the first time gets a fitting for every part position of
// its data sheet, of known age only where the fork is as good as new.
func (d *Desk) TakeIn(ctx context.Context, in Intake) (inspect.Visit, error) {
	if err := d.Check(in); err != nil {
		return inspect.Visit{}, err
	}
	now := d.Clock()
	drop := inspect.DropOff{Customer: in.Customer, Fork: in.Fork, Visit: in.Visit, Settings: in.Settings}
	if drop.Customer.ID == "" {
		drop.Customer.ID, drop.Customer.Created = d.NewID(), now
	}
	fresh := drop.Fork.ID == ""
	if fresh {
		drop.Fork.ID, drop.Fork.Created = d.NewID(), now
	}
	drop.Fork.CustomerID = drop.Customer.ID
	v := &drop.Visit
	v.ID, v.ForkID, v.CustomerID = d.NewID(), drop.Fork.ID, drop.Customer.ID
	v.Step, v.DroppedOff, v.TakenInBy = inspect.StepInspect, now, d.Who()
	if v.Purpose == "" {
		v.Purpose = "paid"
	}
	drop.Claim = inspect.Claim{ID: d.NewID(), ForkID: drop.Fork.ID, VisitID: v.ID, Hours: in.Hours, U: in.HoursU,
		AtLeast: in.AtLeast, Source: in.HoursFrom, Detail: in.HoursWords, By: d.Who(), At: now}
	for _, c := range in.Complaints {
		c.ID, c.VisitID = d.NewID(), v.ID
		drop.Complaints = append(drop.Complaints, c)
	}
	for i := range drop.Settings {
		drop.Settings[i].VisitID, drop.Settings[i].Moment = v.ID, "found"
	}
	if fresh {
		drop.Fittings = d.firstFittings(drop, in, now)
	}
	ticket, err := d.Lib.StartVisit(ctx, drop)
	v.Ticket = ticket
	return *v, err
}

// firstFittings are the parts that came with the fork. Their age is the fork's
// only when nobody says 'at least'.
func (d *Desk) firstFittings(drop inspect.DropOff, in Intake, now time.Time) []inspect.Fitting {
	sheet, _ := d.Catalog.Sheet(drop.Fork.Sheet)
	var fs []inspect.Fitting
	for _, p := range catalog.PartPositions(d.Catalog, sheet) {
		f := inspect.Fitting{ID: d.NewID(), ForkID: drop.Fork.ID, Part: p.Part.ID, Leg: p.Leg,
			FittedVisit: drop.Visit.ID, FittedOn: now, AgeKnown: !in.AtLeast}
		if in.AtLeast {
			f.FittedAt, f.FittedU = in.Hours, in.HoursU
		}
		fs = append(fs, f)
	}
	return fs
}
