package inspect

import (
	"math"
	"sort"
	"time"
)

// Answer is the kind of what a check found.
type Answer string

// What a reading can say.
const (
	Graded       Answer = "grade"
	Measured     Answer = "number"
	Fine         Answer = "fine"
	NotFine      Answer = "not_fine"
	NotLooked    Answer = "not_looked_at"
	CannotSee    Answer = "cannot_be_seen"
	CannotGauge  Answer = "cannot_be_measured_here"
	DoesNotApply Answer = "does_not_apply"
	ZoneSeen     Answer = "zone_seen" // zone looked over, nothing found: kept as exactly that
)

// Reading is what one check found at one stage. It is never changed: a
// correction supersedes it inside its stage, undo retracts it.
type Reading struct {
	ID         ID
	VisitID    ID
	FittingID  ID // empty for checks of the whole fork
	Check      string
	Leg        Leg
	Point      string // "" or the height and direction, "upper/front"
	Stage      Stage
	Answer     Answer
	Value      float64   // the grade, or the number in the check's own unit
	U          float64   // standard uncertainty of Value, same unit
	Unit       string    // unit of Value
	Typed      string    // what was typed, with its unit
	Raw        []float64 // repeats, same unit as Value
	Instrument string
	New        *float64 // value of a new part in force then
	Limit      *float64 // limit in force then
	Fields     string   // further words of the finding: burr, height above the wiper ...
	Note       string
	By         string
	At         time.Time
	Supersedes ID
	Retracted  bool // this entry takes back the one it supersedes
}

// Validate says why a reading can't be kept, or nil.
func (r Reading) Validate() error {
	switch {
	case r.ID == "" || r.VisitID == "" || r.Check == "":
		return Refuse(Invalid, "a reading needs its own id, a visit and a check")
	case !r.Stage.Valid():
		return Refuse(Invalid, "stage %q of check %s is not received, stripped or after work", r.Stage, r.Check)
	case !r.Leg.Valid():
		return Refuse(Invalid, "leg %q of check %s is neither left nor right", r.Leg, r.Check)
	case !finite(r.Value) || !finite(r.U) || r.U < 0:
		return Refuse(Invalid, "the value of check %s is not a number with an uncertainty of 0 or more: type it again", r.Check)
	case r.Answer == Graded && (r.Value < 0 || r.Value > 5 || r.Value*2 != math.Trunc(r.Value*2)):
		return Refuse(Invalid, "grade %g of check %s is not one of 0 to 5 in half steps", r.Value, r.Check)
	case r.At.IsZero():
		return Refuse(Invalid, "the reading of check %s has no time", r.Check)
	}
	for _, x := range r.Raw {
		if !finite(x) {
			return Refuse(Invalid, "one repeat of check %s is not a number: type it again", r.Check)
		}
	}
	return nil
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// Slot is the place a reading answers: one visit, stage, check, leg and point.
type Slot struct {
	VisitID ID
	Stage   Stage
	Check   string
	Leg     Leg
	Point   string
}

// Slot returns the place that r answers.
func (r Reading) Slot() Slot { return Slot{r.VisitID, r.Stage, r.Check, r.Leg, r.Point} }

// Current returns the reading in force of every slot: the head of its chain of
// corrections, not the latest by time. A slot with two heads is a conflict: the
// heads are returned in conflicts, sorted by id, and the last of them is in
// force. A retracted head says nothing: it empties its slot where it is alone,
// and is no side of a conflict. The order of rs does not matter.
func Current(rs []Reading) (current map[Slot]Reading, conflicts map[Slot][]Reading) {
	replaced := make(map[ID]bool, len(rs))
	for _, r := range rs {
		if r.Supersedes != "" {
			replaced[r.Supersedes] = true
		}
	}
	heads := map[Slot][]Reading{}
	for _, r := range rs {
		if !replaced[r.ID] && !r.Retracted {
			heads[r.Slot()] = append(heads[r.Slot()], r)
		}
	}
	current, conflicts = map[Slot]Reading{}, map[Slot][]Reading{}
	for slot, hs := range heads {
		sort.Slice(hs, func(i, j int) bool { return hs[i].ID < hs[j].ID })
		if len(hs) > 1 {
			conflicts[slot] = hs
		}
		current[slot] = hs[len(hs)-1]
	}
	return current, conflicts
}
