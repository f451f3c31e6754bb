package inspect

import "time"

// EndReason is why a fitting ended.
type EndReason string

// Why a part was taken out. The empty reason means that it is still in.
const (
	StillIn     EndReason = ""
	EndFailed   EndReason = "failed"   // F: failed in use
	EndWorn     EndReason = "worn"     // W: taken out for wear, by our verdict
	EndSchedule EndReason = "schedule" // S: by schedule, with its kit, or while open
	EndCrash    EndReason = "crash"    // C
	EndOverride EndReason = "override" // X
	EndArrival  EndReason = "arrival"  // broken when the fork first came
	// EndTakenBack ends a fitting that was entered by mistake: the part never
	// was in. Such a one stays in the library and in no list of it.
	EndTakenBack EndReason = "taken_back"
)

// Fitting is one physical part in one position, from the visit it was fitted
// to the visit it was taken out. A new one starts from new.
type Fitting struct {
	ID          ID
	ForkID      ID
	Part        string // catalog part id
	Leg         Leg
	FittedVisit ID      // the visit it was fitted at, or first seen at
	FittedAt    float64 // hours of the fork when fitted
	FittedU     float64
	AgeKnown    bool // false: it was in when the fork first came, age not known
	Batch       string
	EndVisit    ID
	EndHours    float64
	EndU        float64
	End         EndReason
	FittedOn    time.Time
	EndedOn     time.Time
}

// In reports whether the part is still in the fork.
func (f Fitting) In() bool { return f.End == StillIn }
