package verdict

import (
	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// Rules are the shop's thresholds. Zero fields take the defaults.
type Rules struct {
	Sure         float64 // chance from which a limit counts as passed, 0.95 (ISO 14253-1's default)
	Threshold    float64 // greatest chance not to last, 0.20
	SafetyLimit  float64 // the same for safety-marked checks and parts, 0.05
	WorthAsking  float64 // least chance that measuring again changes the verdict, 0.10
	NotWorth     int64   // minor units: below this a part is not worth measuring
	ReopenCost   int64   // minor units: opening the door again, with goodwill; 0 unknown
	MinuteRate   int64   // minor units a minute of labour
	RepeatsAsked int     // repeats that 'measure again' asks for, 3
}

func (r Rules) filled() Rules {
	def := func(v *float64, d float64) {
		if !(*v > 0 && *v < 1) {
			*v = d
		}
	}
	def(&r.Sure, 0.95)
	def(&r.Threshold, 0.20)
	def(&r.SafetyLimit, 0.05)
	def(&r.WorthAsking, 0.10)
	if r.RepeatsAsked <= 0 {
		r.RepeatsAsked = 3
	}
	return r
}

// Wear is what the trend says of one gradual check. Chances lie in 0..1.
type Wear struct {
	Used, U   float64            // wear used of the newest reading and its standard uncertainty
	POver     float64            // measured checks: chance that it is over the limit now
	PThen     float64            // chance to be over before the door is next opened
	Left      *inspect.HoursLeft // nil where none can be said
	NoTrend   bool               // P(rate <= 0) > 0.10
	PriorOnly bool               // one reading or none: the expected life alone
	SafeFor   float64            // hours for which the chance stays below the threshold; 0 unknown
	Months    bool               // the check grows by months: Left, SafeFor and Mu count months, not hours
	Aside     string             // why the fitting has no trend in spite of its readings; "" it has
	Mu        [2]float64
	S         [3]float64
}

// Finding is one check of the part.
type Finding struct {
	Check    catalog.Check
	Leg      inspect.Leg
	Required bool             // the level asks for it, or a finding opened it
	Reading  *inspect.Reading // in force, several points reduced; nil: none
	IDs      []inspect.ID     // the readings it stands on
	New      *float64
	Limit    *float64
	Wear     *Wear // gradual checks with a reading that can be used
	Baseline bool  // a first reading without new value or limit
	Photo    bool  // a photo is attached
	// Doubt: a do-not-ride finding of which the inspector is not sure. A second
	// person looks; until a new reading says fine, the mark stays.
	Doubt bool
	// Carried: Reading is a do-not-ride finding of an earlier visit on this same
	// part which no reading has cleared since.
	Carried bool
	// Faster: why the newest reading lies above what the earlier ones foretold;
	// "" where it does not.
	Faster string
}

// Input is one part at one visit.
type Input struct {
	Part     catalog.Part
	Leg      inspect.Leg
	Findings []Finding
	Renewed  bool   // this level always renews it
	DueYears string // "" or why it is due by its age, in words
	Opened   bool   // this level opens its door, or it is seen from outside
	NextDoor string // name of the level at which it is next seen
	Horizon  float64
	HorizonU float64 // standard uncertainty of Horizon, hours
	Price    int64   // minor units, part or kit; 0 unknown
	Minutes  int     // labour of the job
	LifeNew  float64 // expected hours of a new one; 0 unknown
	Gauges   []catalog.Instrument
	Tongue   inspect.Tongue // of the reasons; nil is English
}

// LimitFor is the greatest chance not to last that a check of a part may have:
// SafetyLimit where either is safety-marked, Threshold elsewhere.
func (r Rules) LimitFor(p catalog.Part, k catalog.Check) float64 {
	r = r.filled()
	if p.Safety || k.Safety {
		return r.SafetyLimit
	}
	return r.Threshold
}
