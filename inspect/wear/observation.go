package wear

// Observation is one reading as the fits take it.
type Observation struct {
	Unit   string  // the fitting's id
	Hours  float64 // riding hours since it was fitted, >= 0
	HoursU float64 // standard uncertainty of Hours, >= 0; 0 means known
	Value  float64 // wear used (FitREML: any unit of measure)
	U      float64 // known standard uncertainty of Value, >= 0
	Left   bool    // the true value is at or below Value (a grade 0)
	Right  bool    // the true value is at or above Value (a grade 5)
}

// Unit is what is known of a fitting beside its readings.
type Unit struct {
	ID string
	// AgeUnknown: its hours are 'at least'. Its own clock starts at its first
	// reading and it gets an intercept of its own.
	AgeUnknown bool
	// Fork is the fork it is on, "" where that is not known. Fittings of one fork
	// share the fork's wear rate once enough forks can tell (FitPenalised).
	Fork string
}

// Data is one group: one check over all fittings of one part kind. The order of
// one fitting's observations is the order of its visits.
type Data struct {
	Observations []Observation
	Units        map[string]Unit // may be nil; a missing entry is a known age
}

// Model chooses what FitREML fits.
type Model string

const (
	Line  Model = "line"  // an intercept and a slope for each unit
	Level Model = "level" // an intercept for each unit, no slope
)

// Prior is what is known of a group before its readings. Zero fields take the
// defaults of DefaultPrior; ExpectedLife has no default.
type Prior struct {
	ExpectedLife float64 // L, hours from new to the limit, > 0
	CvL          float64 // how wrong L may be, as a share of it; 0.5
	Tau0         float64 // scatter of wear used at zero hours; 0.05
	Sigma0       float64 // scatter of readings beyond their uncertainty; 0.05
	CvSlope      float64 // how much wear rates of kin differ, as a share; 0.3
	TimePower    float64 // q: wear grows with hours^q; 1
}

// Estimate is a value with its standard error.
type Estimate struct{ Value, SE float64 }

// UnitEffect is how one fitting differs from its group (the BLUP).
type UnitEffect struct {
	Unit             string
	Readings         int
	Intercept, Slope float64 // a_i and s_i, the fork's own rate in it
	LastHours        float64
	AgeUnknown       bool
}

// SetAside is a fitting that was left out of a fit, and why.
type SetAside struct{ Unit, Reason string }

// Fit is a fitted group. Make one with FitREML or FitPenalised.
type Fit struct {
	Method      string // "REML" or "penalised REML"
	Model       Model
	Intercept   Estimate // b0
	Slope       Estimate // b1, per hour (per hour^q)
	SDIntercept float64
	SDSlope     float64
	Correlation float64 // NaN where an SD is 0 or in the level model
	// SDFork is how much forks differ in wear rate; 0 where Forks are too few to
	// tell.
	SDFork     float64
	SDResidual float64 // sigma, beyond the known uncertainties
	// Criterion is -2 log restricted likelihood (penalised: plus the priors').
	Criterion float64
	Singular  bool // smallest diagonal of the relative Cholesky factor < 1e-4
	Converged bool
	Units     []UnitEffect // in the order of first appearance

	Readings  int
	Fittings  int // with at least one reading
	WithTwo   int // with exactly two
	WithThree int // with three or more
	Forks     int // with two fittings or more
	// SlopeWeight is 1 - var(b1 | data)/var(b1): 0 all prior, 1 all data.
	SlopeWeight float64
	Prior       Prior
	SetAside    []SetAside
	Remarks     []string

	g    *group
	par  covariance
	beta [2]float64
	qinv sym2
	at   map[string]int
}

// Posterior is what is believed of one fitting's own line W = A + B z, with
// z = (hours - Start)^q: mean and covariance of (A, B), fixed-effect
// uncertainty included, without the readings' scatter.
type Posterior struct {
	Unit       string
	Mu         [2]float64
	S          [2][2]float64
	Start      float64 // hours at which z = 0: 0, or the first reading's
	Power      float64 // q; 0 means 1
	Readings   int
	LastHours  float64 // hours of the last reading, 0 without any
	AgeUnknown bool
	// SDResidual is the group's sigma, for predicting a reading.
	SDResidual float64
}

// HoursLeft are the hours from now until the limit.
type HoursLeft struct {
	P05, P50, P95 float64 // +Inf where no end is in sight
	Over          bool    // over the limit now: all three are 0
	POver         float64 // P(W(now) >= 1)
	PNoTrend      float64 // P(B <= 0)
	NoTrend       bool    // PNoTrend > 0.10: 'no wear trend seen yet'
}

// BandPoint is the latent wear at hours T: mean and 90 % limits, for plots.
type BandPoint struct{ T, Mean, Low, High float64 }
