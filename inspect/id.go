package inspect

// ID names one record. It is a UUIDv7 in its usual text form, so that records
// made on two machines never collide and sort by the time they were made.
type ID string

// Stage says when in a visit something was looked at.
type Stage string

// The three stages of a visit.
const (
	Received  Stage = "received"   // as it came in, nothing opened
	Stripped  Stage = "stripped"   // opened as far as the service level goes
	AfterWork Stage = "after_work" // put together again
)

// Stages returns the stages in the order of work.
func Stages() []Stage { return []Stage{Received, Stripped, AfterWork} }

// Valid reports whether s is one of the three stages.
func (s Stage) Valid() bool { return s == Received || s == Stripped || s == AfterWork }

// Leg is a side of the fork as the rider sees it; empty means the whole fork.
type Leg string

// The sides of a fork.
const (
	Whole Leg = ""
	Left  Leg = "left"
	Right Leg = "right"
)

// Valid reports whether l is a side or the whole fork.
func (l Leg) Valid() bool { return l == Whole || l == Left || l == Right }
