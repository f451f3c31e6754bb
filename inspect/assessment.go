package inspect

import "time"

// Verdict is what is to happen with a part.
type Verdict string

// The three verdicts.
const (
	Reuse   Verdict = "reuse"
	Replace Verdict = "replace"
	Measure Verdict = "measure_again"
)

// Reason is one rule that fired, in a plain sentence and in a technical line.
type Reason struct {
	Rule   int    `json:"rule"`   // 1..8, the order in which rules decide
	Check  string `json:"check"`  // the check that it stands on, or ""
	Leg    Leg    `json:"leg"`    //
	Plain  string `json:"plain"`  // for the customer
	Why    string `json:"why"`    // inputs, formula, source
	Decide bool   `json:"decide"` // this is the reason that decided
}

// HoursLeft is a range of riding hours until the limit: 5, 50 and 95 %.
type HoursLeft struct {
	P05 float64 `json:"p05"`
	P50 float64 `json:"p50"`
	P95 float64 `json:"p95"`
}

// Assessment is one decision about one part at one visit, kept as it was made.
type Assessment struct {
	ID         ID         `json:"id"`
	VisitID    ID         `json:"visit"`
	FittingID  ID         `json:"fitting"`
	Part       string     `json:"part"`
	Leg        Leg        `json:"leg"`
	Verdict    Verdict    `json:"verdict"`
	Remedy     string     `json:"remedy"` // catalog words: "nothing", "clean", "bleed", "rework", "renew_kit", "renew_assembly", "send_away"
	DoNotRide  bool       `json:"do_not_ride"`
	NoPhoto    bool       `json:"evidence_missing"`
	NotOpened  bool       `json:"not_opened"` // no verdict: a forecast only
	Baseline   bool       `json:"baseline"`   // first visit: nothing to compare with
	PriorOnly  bool       `json:"prior_only"` // hours left from the data sheet's expected life alone
	Reasons    []Reason   `json:"reasons"`
	ReadingIDs []ID       `json:"readings"`
	LeadCheck  string     `json:"lead_check"` // the check whose wear is shown
	WearUsed   *float64   `json:"wear_used"`
	WearU      *float64   `json:"wear_u"`
	HoursLeft  *HoursLeft `json:"hours_left"`
	NoTrend    bool       `json:"no_trend"`
	Horizon    float64    `json:"horizon"` // hours until this door is next opened
	HorizonU   float64    `json:"horizon_u"`
	TNow       float64    `json:"t_now"`  // hours on this fitting
	Mu         [2]float64 `json:"mu"`     // posterior of level and rate per hour
	S          [3]float64 `json:"s"`      // var level, cov, var rate
	PNow       float64    `json:"p_now"`  // chance to be over the limit now
	PThen      float64    `json:"p_then"` // chance to be over before the door is next opened
	Threshold  float64    `json:"threshold"`
	NextLevel  string     `json:"next_level"`
	Sheet      string     `json:"sheet"`
	SheetHash  string     `json:"sheet_hash"`
	Catalog    string     `json:"catalog_hash"`
	Engine     string     `json:"engine"`
	By         string     `json:"by"`
	At         time.Time  `json:"at"`
	Override   *Override  `json:"override"`
}

// Override is a person's change of a verdict, kept beside it.
type Override struct {
	ID           ID        `json:"id"`
	AssessmentID ID        `json:"assessment"`
	Verdict      Verdict   `json:"verdict"`
	Reason       string    `json:"reason"`
	By           string    `json:"by"`
	At           time.Time `json:"at"`
}

// NoOverride as Verdict of an Override tells that it changes nothing: it takes
// back the newest one, and what stood before stands again.
const NoOverride Verdict = "taken_back"

// OverrideInForce is the one that counts of the overrides of one assessment,
// oldest first; nil where there is none or all were taken back.
func OverrideInForce(os []Override) *Override {
	var standing []Override
	for _, o := range os {
		switch {
		case o.Verdict != NoOverride:
			standing = append(standing, o)
		case len(standing) > 0:
			standing = standing[:len(standing)-1]
		}
	}
	if len(standing) == 0 {
		return nil
	}
	return &standing[len(standing)-1]
}

// InForce returns the verdict that counts: the override where there is one.
func (a Assessment) InForce() Verdict {
	if a.Override != nil {
		return a.Override.Verdict
	}
	return a.Verdict
}
