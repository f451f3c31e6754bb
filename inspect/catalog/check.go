package catalog

import "forkwear/inspect"

// Kind is how a check answers.
type Kind string

// The kinds of checks.
const (
	Grade  Kind = "grade"  // 0 to 5, half steps where the check allows
	Number Kind = "number" // a quantity in the check's unit
	Fine   Kind = "fine"   // fine or not fine
)

// Growth says how what a check looks at grows; only hours and months have a trend.
type Growth string

// The ways of growing.
const (
	ByHours  Growth = "hours"
	ByMonths Growth = "months"
	Sudden   Growth = "sudden" // a blow, a scratch: a state, never a slope
	Record   Growth = "record" // kept, never judged
)

// Check is one thing to look at or measure.
type Check struct {
	ID     string          `toml:"id"` // "stanchions.coating"
	Name   string          `toml:"name"`
	Zone   string          `toml:"zone"`
	Part   string          `toml:"part"` // part id
	Kind   Kind            `toml:"kind"`
	Unit   string          `toml:"unit"` // of a number
	Stages []inspect.Stage `toml:"stages"`
	// Legs: "whole", "both", "spring" or "damper": which legs it is asked for.
	Legs   string   `toml:"legs"`
	Points []string `toml:"points"` // heights and directions, may be empty
	Reduce string   `toml:"reduce"` // "least", "greatest", "mean", "range"; empty with at most one point
	How    string   `toml:"how"`    // two lines at most
	More   string   `toml:"more"`   // on demand
	// Words of grades "0".."5", at least 0, 3 and 5.
	Words map[string]string `toml:"words"`
	// LimitGrade is the lowest grade at which the part goes out.
	LimitGrade float64 `toml:"limit_grade"`
	// Sense is the way a number goes with wear: "rises" or "falls"; empty for a record.
	Sense     string   `toml:"sense"`
	HalfSteps bool     `toml:"half_steps"`
	New       *float64 `toml:"new"` // of a number; nil: from the data sheet or the first reading of a new part
	NewU      float64  `toml:"new_u"`
	Limit     *float64 `toml:"limit"` // nil: from the data sheet, or record only
	LimitU    float64  `toml:"limit_u"`
	// LimitFromNew: the limit is this far from the part's own new value (signed).
	LimitFromNew *float64       `toml:"limit_from_new"`
	Grows        Growth         `toml:"grows"`
	Life         float64        `toml:"life"`     // expected hours (or months) to the limit; 0 unknown
	LifeCv       float64        `toml:"life_cv"`  // how wrong Life may be, 0.5 by default
	Exponent     float64        `toml:"exponent"` // of time, 1 by default
	Fails        string         `toml:"fails"`    // what failing means, one sentence for the customer
	Remedy       string         `toml:"remedy"`   // what failing asks for: "replace", "bleed", "clean", "adjust", "rework", "renew_kit", "renew_assembly", "send_away", "look"
	DoNotRide    bool           `toml:"do_not_ride"`
	Safety       bool           `toml:"safety"` // safety-marked: the lower threshold
	Photo        bool           `toml:"photo"`  // a photo is wanted
	Drawing      string         `toml:"drawing"`
	Instruments  []string       `toml:"instruments"` // ids, best first
	Levels       []string       `toml:"levels"`      // service levels whose base list has it
	OpenedBy     []string       `toml:"opened_by"`   // "symptom:weeping", "check:bushings.feel>=2", "check:x=not_fine", "hours>=500"
	When         []string       `toml:"when"`        // layout conditions, all must hold: "spring=air", "damper=bladder", "crown=dual", "upright", "inverted"
	Fields       []string       `toml:"fields"`      // further words asked with the finding: burr, height above the wiper
	Door         string         `toml:"door"`        // level that must be open to look at it; empty: the part's own door
	Source       string         `toml:"source"`      // "common practice, no source", a standard
	Tongue       inspect.Tongue `toml:"-"`           // of its own words; nil is English
}

// Zone is one region of the fork drawing.
type Zone struct {
	ID    string `toml:"id"` // stanchions seals bushings damper spring lowers crown controls fasteners
	Name  string `toml:"name"`
	Order int    `toml:"order"`
	Legs  bool   `toml:"legs"` // has a left and a right side
	// Caution stands where the hazard is; may be empty.
	Caution string `toml:"caution"`
}

// Part is a kind of thing at a position.
type Part struct {
	ID     string `toml:"id"`
	Name   string `toml:"name"`
	Zone   string `toml:"zone"`
	Legs   string `toml:"legs"`    // "whole", "both", "spring", "damper"
	SoldAs string `toml:"sold_as"` // kit or assembly id
	// SoldAsLoose is what it is sold as where the tubes are not pressed in:
	// dual crown and inverted forks. Empty: as SoldAs.
	SoldAsLoose string `toml:"sold_as_loose"`
	Door        string `toml:"door"` // the level at which it is next seen and can be renewed
	Safety      bool   `toml:"safety"`
	NoLife      bool   `toml:"no_life"` // crown, steerer, axle: never any hours left
	// Years after which rubber is renewed whatever it looks like, once its door
	// is open; 0 none.
	Years float64  `toml:"years"`
	When  []string `toml:"when"`
}

// Kit is what is bought and renewed in one go: a kit of seals, an assembly.
type Kit struct {
	ID    string `toml:"id"`
	Name  string `toml:"name"`
	Kind  string `toml:"kind"`  // "kit", "assembly", "part"
	Price int64  `toml:"price"` // minor units, 0 unknown
	Job   string `toml:"job"`
	// Needs are kits that come out or are lost on the way to this one: where
	// both go out, this one makes no sense without them.
	Needs []string `toml:"needs"`
}

// Job is a piece of work with its planned minutes.
type Job struct {
	ID      string `toml:"id"`
	Name    string `toml:"name"`
	Minutes int    `toml:"minutes"`
}

// Level is a service level.
type Level struct {
	ID     string   `toml:"id"` // look_over lowers air_spring damper full crash travel
	Name   string   `toml:"name"`
	Order  int      `toml:"order"`
	Opens  []string `toml:"opens"`  // level ids whose doors this one opens too
	Renews []string `toml:"renews"` // part ids always renewed
	Hours  float64  `toml:"hours"`  // interval; 0 none
	Months float64  `toml:"months"`
	Tasks  []string `toml:"tasks"` // work sheet, task ids in order
	// Stages this level goes through; empty: all three.
	Stages []inspect.Stage `toml:"stages"`
	About  string          `toml:"about"`
}

// Task is one line of the work sheet or of the hand-back list.
type Task struct {
	ID      string   `toml:"id"`
	Name    string   `toml:"name"`
	Unit    string   `toml:"unit"` // empty: done or not
	Sheet   string   `toml:"sheet"`
	Caution string   `toml:"caution"`
	List    string   `toml:"list"` // "service", "function", "hand_back"
	When    []string `toml:"when"` // layout conditions, all must hold
}

// Instrument is a gauge of the shop with its uncertainty.
type Instrument struct {
	ID          string  `toml:"id"`
	Name        string  `toml:"name"`
	Unit        string  `toml:"unit"`
	Resolution  float64 `toml:"resolution"`  // half-width
	Calibration float64 `toml:"calibration"` // half-width
	Method      float64 `toml:"method"`      // standard uncertainty of the way it is used
	Source      string  `toml:"source"`
}

// Symptom is something a customer complains of.
type Symptom struct {
	ID   string `toml:"id"`
	Name string `toml:"name"`
	Legs bool   `toml:"legs"`
}

// Cause ties findings of one leg together.
type Cause struct {
	ID        string   `toml:"id"`
	Findings  []string `toml:"findings"`  // all must hold: "symptom:weeping", "check:seals.weep>=3", "check:x=not_fine"
	Unless    []string `toml:"unless"`    // none may hold
	SameLeg   bool     `toml:"same_leg"`  // the findings must be on one leg
	Legs      string   `toml:"legs"`      // "spring" or "damper": only that leg can have it; empty: any
	Says      string   `toml:"says"`      // the cause in one sentence
	Certainty string   `toml:"certainty"` // "strong", "medium", "weak"
	SettleBy  string   `toml:"settle_by"`
	Source    string   `toml:"source"`
}

// Sheet is a data sheet: what is specified for a kind of fork. A nil or
// missing value is not known and stays blank on screen.
type Sheet struct {
	ID        string               `toml:"id"`
	Name      string               `toml:"name"`
	Generic   bool                 `toml:"generic"`
	Spring    string               `toml:"spring"` // "air", "coil"
	Damper    string               `toml:"damper"` // "bladder", "floating_piston", "open_bath", "closed_unit"
	Crown     string               `toml:"crown"`  // "single", "dual"
	Inverted  bool                 `toml:"inverted"`
	SpringOn  inspect.Leg          `toml:"spring_leg"`
	DamperOn  inspect.Leg          `toml:"damper_leg"`
	Stanchion float64              `toml:"stanchion"` // mm, nominal
	Travel    []float64            `toml:"travel"`    // mm, usual
	Lives     map[string]float64   `toml:"lives"`     // check id -> expected hours to the limit
	New       map[string]float64   `toml:"new"`       // check id -> new value
	Limits    map[string]float64   `toml:"limits"`    // check id -> limit
	Ranges    map[string][]float64 `toml:"ranges"`    // "fluid.left": plausible low, high; never a target
	Targets   map[string]float64   `toml:"targets"`   // from the maker's sheet only; empty in generic sheets
	Document  string               `toml:"document"`
	Source    string               `toml:"source"`
}
