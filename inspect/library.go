package inspect

import (
	"context"
	"time"
)

// Library is the port to the shop's history: what package store fills. Every
// method that writes is one transaction. Methods that get one record answer
// NotFound; writes on a collected visit answer Locked.
type Library interface {
	SaveCustomer(ctx context.Context, c Customer) error
	Customer(ctx context.Context, id ID) (Customer, error)
	FindCustomers(ctx context.Context, text string, limit int) ([]Customer, error)

	SaveFork(ctx context.Context, f Fork) error
	Fork(ctx context.Context, id ID) (Fork, error)
	// Find searches customer names, phones, tags, serials and models.
	FindForks(ctx context.Context, text string, limit int) ([]ForkRow, error)

	// StartVisit keeps all that drop-off took in one transaction and gives
	// the visit the next ticket number, which it returns.
	StartVisit(ctx context.Context, d DropOff) (ticket int, err error)
	SaveVisit(ctx context.Context, v Visit) error
	Visit(ctx context.Context, id ID) (Visit, error)
	VisitByTicket(ctx context.Context, ticket int) (Visit, error)
	Visits(ctx context.Context, f VisitFilter) ([]VisitRow, error)
	Collect(ctx context.Context, id ID, at time.Time, by string) error // locks
	Amend(ctx context.Context, a Amendment) error
	Amendments(ctx context.Context, visit ID) ([]Amendment, error)

	AddClaim(ctx context.Context, c Claim) error
	Claims(ctx context.Context, fork ID) ([]Claim, error)
	AddComplaint(ctx context.Context, c Complaint) error
	Complaints(ctx context.Context, visit ID) ([]Complaint, error)
	PutSetting(ctx context.Context, s Setting) error // one that is None is taken away
	SettingsOf(ctx context.Context, visit ID) ([]Setting, error)
	PutTask(ctx context.Context, t Task) error
	Tasks(ctx context.Context, visit ID) ([]Task, error)

	AddReadings(ctx context.Context, rs ...Reading) error
	Readings(ctx context.Context, f ReadingFilter) ([]Reading, error)
	// TrendRows returns every reading in force of one check over all fittings
	// of the library, with the hours on the fitting at that time.
	TrendRows(ctx context.Context, check string) ([]TrendRow, error)

	Fittings(ctx context.Context, f FittingFilter) ([]Fitting, error)
	// Refit ends fittings and starts others in one transaction. One that is
	// ended as taken back leaves every list.
	Refit(ctx context.Context, ended []Fitting, started []Fitting) error

	AddPhoto(ctx context.Context, p Photo) (existed bool, err error) // same SHA-256 in the same visit, or among those without one: existed
	PlacePhoto(ctx context.Context, p Photo) error                   // check, leg, stage, fitting, role
	// FilePhoto gives a photo without a visit to one. Where the same bytes lie
	// there already the photo goes, its marks and sizes go over to the one that
	// stays, and existed is told.
	FilePhoto(ctx context.Context, photo, visit ID) (existed bool, err error)
	// UnfilePhoto takes a photo out of an open visit, back among those of no
	// visit; its check, leg, stage, fitting and role are cleared. Refused while a
	// size on it is a reading of the visit.
	UnfilePhoto(ctx context.Context, photo ID) error
	Photos(ctx context.Context, f PhotoFilter) ([]Photo, error)

	AddFocus(ctx context.Context, f Focus) error
	// Focuses returns what came in front from 'from' until before 'to', oldest first.
	Focuses(ctx context.Context, from, to time.Time) ([]Focus, error)
	AddClock(ctx context.Context, c CameraClock) error
	Clocks(ctx context.Context) ([]CameraClock, error) // the newest of each camera
	AddMark(ctx context.Context, m Mark) error
	TakeMarkOff(ctx context.Context, mark ID) error
	PutMarkBack(ctx context.Context, mark ID) error
	Marks(ctx context.Context, photos ...ID) ([]Mark, error) // those not taken off, oldest first
	AddPhotoMeasure(ctx context.Context, m PhotoMeasure) error
	TakeMeasureOff(ctx context.Context, measure ID) error
	PhotoMeasures(ctx context.Context, photos ...ID) ([]PhotoMeasure, error) // as Marks

	// AddAssessments keeps the decisions of one moment; a visit may have many
	// rounds, LatestAssessments gives the newest of each part and leg.
	AddAssessments(ctx context.Context, as ...Assessment) error
	LatestAssessments(ctx context.Context, visit ID) ([]Assessment, error)
	AddOverride(ctx context.Context, visit ID, o Override) error
	AddConsents(ctx context.Context, cs ...Consent) error      // all or none
	Consents(ctx context.Context, visit ID) ([]Consent, error) // oldest first, those taken back too: see Answers

	Preference(ctx context.Context, key string) (value string, err error) // "" when unset
	PutPreference(ctx context.Context, key, value string) error
}

// DropOff is everything that a drop-off takes in. Customer and Fork are new or
// changed records; empty ids are refused.
type DropOff struct {
	Customer   Customer
	Fork       Fork
	Visit      Visit
	Claim      Claim
	Complaints []Complaint
	Settings   []Setting
	Fittings   []Fitting // parts first seen at this visit
}

// ForkRow is one line of a search.
type ForkRow struct {
	Fork      Fork
	Customer  Customer
	Visits    int
	LastVisit time.Time
}

// VisitFilter chooses visits; zero fields choose all. Newest first.
type VisitFilter struct {
	ForkID   ID
	OpenOnly bool
	Limit    int
}

// VisitRow is one line of the bench or of a fork's history.
type VisitRow struct {
	Visit    Visit
	Fork     Fork
	Customer Customer
	Hours    float64 // the claim of that visit
	HoursU   float64
}

// ReadingFilter chooses readings, superseded ones included; zero fields choose
// all. Oldest first.
type ReadingFilter struct {
	VisitID   ID
	ForkID    ID
	FittingID ID
	Check     string
}

// TrendRow is one reading in force with the hours on its fitting.
type TrendRow struct {
	Reading  Reading
	ForkID   ID
	Sheet    string
	Part     string
	AgeKnown bool
	Hours    float64 // on the fitting, from FittedAt to the visit
	HoursU   float64
	On       time.Time // when the visit began
	FittedOn time.Time
}

// FittingFilter chooses fittings; zero fields choose all.
type FittingFilter struct {
	ForkID ID
	InOnly bool
	Part   string
}

// PhotoFilter chooses photos; zero fields choose all. Oldest first.
type PhotoFilter struct {
	VisitID ID
	ForkID  ID
	Check   string
	Tray    bool // only those that belong to no check and no role

	Unsorted    bool // only those without a visit
	Fingerprint bool // only those that have a fingerprint
	SHA256      string
}
