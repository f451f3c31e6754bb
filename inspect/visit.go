package inspect

import "time"

// Step is where a visit stands on its way through the shop.
type Step string

// The steps of a visit, in order.
const (
	StepDropOff  Step = "drop_off"
	StepInspect  Step = "inspect"
	StepDecide   Step = "decide"
	StepService  Step = "service"
	StepHandBack Step = "hand_back"
	StepDone     Step = "collected"
)

// Steps returns the five working steps in order.
func Steps() []Step {
	return []Step{StepDropOff, StepInspect, StepDecide, StepService, StepHandBack}
}

// Money is an amount in minor units (cents) of a currency.
type Money struct {
	Minor    int64
	Currency string
}

// Visit is one stay of a fork.
type Visit struct {
	ID         ID
	ForkID     ID
	CustomerID ID
	Ticket     int    // the shop's running number
	Level      string // service level, catalog id
	Purpose    string // "paid", "warranty", "goodwill", "own rework", "test"
	FromVisit  ID     // for a comeback: the visit it comes from
	FromCause  string
	Step       Step
	WaitsFor   string // "", "customer", "part", "tool", "sent away"
	WaitsSince time.Time
	DroppedOff time.Time
	Promised   time.Time // zero: no promise
	Ready      time.Time // zero: not ready
	Collected  time.Time // zero: still here; set: the record is locked
	Conditions []string  // "dry", "dust", "mud", "wet", "bike park", "road salt"
	CameWith   []string  // axle, guard, wheel ... and what is out of scope
	Package    Money     // agreed package price
	GoAhead    Money     // "go ahead up to"
	NextHours  float64   // riding hours since new at which it should come again; 0 not set
	NextDate   time.Time // or by this date
	TakenInBy  string
	Note       string
	SignedBy   string // who signed the agreement at drop-off, "" nobody
	Signature  Signature
}

// Closed reports whether the visit is collected and its record locked.
func (v Visit) Closed() bool { return !v.Collected.IsZero() }

// Complaint is one thing that bothers the customer, with since when.
type Complaint struct {
	ID      ID
	VisitID ID
	Symptom string // catalog id, or "other"
	Leg     Leg
	Since   string // as the customer said it: "two weeks", "since the crash"
	Note    string
}

// Setting is one adjustment as found at drop-off or as left at hand-back.
type Setting struct {
	VisitID ID
	Moment  string // "found", "left"
	Key     string // "air_pressure", "rebound_clicks", "spacers" ...
	Value   float64
	Unit    string
	Text    string // as typed
}

// None tells a setting without value and text: one that was taken away again.
func (s Setting) None() bool { return s.Value == 0 && s.Text == "" }

// TakenBack as How of a Consent tells that it gives no answer: it takes back the
// newest one on the same line, and what was answered before stands again.
const TakenBack = "taken back"

// Answers are the consents in force, in the order in which they were given:
// without those that were taken back. ks is oldest first.
func Answers(ks []Consent) []Consent {
	var out []Consent
	for _, k := range ks {
		if k.How != TakenBack {
			out = append(out, k)
			continue
		}
		for i := len(out) - 1; i >= 0; i-- {
			if out[i].AssessmentID == k.AssessmentID {
				out = append(out[:i:i], out[i+1:]...)
				break
			}
		}
	}
	return out
}

// Consent is the customer's answer on one line of the decision.
type Consent struct {
	ID           ID
	VisitID      ID
	AssessmentID ID
	Accepted     bool
	By           string // who answered
	How          string // "signed here", "phone", "message"
	Shown        string // what was shown
	Signature    Signature
	At           time.Time
}

// Signature is the strokes of a pen, finger or mouse, each a line of points in
// shares of the field's width (X) and height (Y), 0 to 1; nil without one.
type Signature [][]Spot

// Amendment is a later word on a locked visit.
type Amendment struct {
	ID      ID
	VisitID ID
	What    string
	Why     string
	By      string
	At      time.Time
}

// Task is one line of the work sheet or of the hand-back list that was done,
// with its value where it has one.
type Task struct {
	VisitID ID
	Key     string // catalog id of the task
	Done    bool
	Value   float64
	Unit    string
	Tool    string // the wrench or gauge used
	Note    string
	By      string
	At      time.Time
}
