package measure

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Decision is what a measured value proves about its limits.
type Decision string

// The decisions of ISO 14253-1: conformity proved, non-conformity proved, neither.
const (
	Inside    Decision = "inside"
	Outside   Decision = "outside"
	Undecided Decision = "undecided"
)

// DefaultLevel is the probability that ISO 14253-1:2017 asks for by default.
const DefaultLevel = 0.95

// Conformance is the outcome of Conform. POver and PUnder are nil where that
// limit doesn't exist.
type Conformance struct {
	PConform float64  `json:"p_conform"`
	POver    *float64 `json:"p_over"`
	PUnder   *float64 `json:"p_under"`
	Decision Decision `json:"decision"`
	Level    float64  `json:"level"`
	Formula  string   `json:"formula"`
	Inputs   []Input  `json:"inputs"`
	Remarks  []string `json:"remarks"`
}

// Conform gives the probability that the true value lies within its limits,
// p = Φ((upper-y)/u) - Φ((lower-y)/u) (JCGM 106:2012, 7.4), for a normal
// distribution about y with standard uncertainty u, and what that proves:
// inside when p >= level, outside when 1-p >= level, else undecided.
// A nil limit doesn't exist; one is needed. u >= 0, with u = 0 the value on a
// limit is inside it; 0.5 < level < 1.
func Conform(y, u float64, lower, upper *float64, level float64) (Conformance, error) {
	if err := checkConform(y, u, lower, upper, level); err != nil {
		return Conformance{}, err
	}
	c := Conformance{Level: level, Decision: Undecided, Remarks: []string{},
		Formula: "p = Φ((upper - y)/u) - Φ((lower - y)/u)",
		Inputs:  []Input{{Name: "value", Value: y, U: &u}}}
	miss := 0.0
	if lower != nil {
		p := beyond(*lower-y, u)
		c.PUnder = &p
		miss += p
		c.Inputs = append(c.Inputs, Input{Name: "lower limit", Value: *lower})
	}
	if upper != nil {
		p := beyond(y-*upper, u)
		c.POver = &p
		miss += p
		c.Inputs = append(c.Inputs, Input{Name: "upper limit", Value: *upper})
	}
	c.PConform = math.Max(0, 1-miss)
	switch {
	case c.PConform >= level:
		c.Decision = Inside
	case miss >= level:
		c.Decision = Outside
	}
	if u == 0 {
		c.Remarks = append(c.Remarks, "u is 0: the value was taken as exact, which no measured value is")
	}
	if lower != nil && upper != nil && u > 0 && *upper-*lower < 2*1.96*u {
		c.Remarks = append(c.Remarks, "the limits are closer together than the measurement can tell: no value could be proved inside at 95 %")
	}
	return c, nil
}

func checkConform(y, u float64, lower, upper *float64, level float64) error {
	switch {
	case !finite(y):
		return refuse("the value %v is no number: measure it again", y)
	case !finite(u) || u < 0:
		return refuse("the uncertainty %v can't be right: give a number of 0 or more", u)
	case lower == nil && upper == nil:
		return refuse("there is no limit: give a lower one, an upper one or both")
	case lower != nil && !finite(*lower):
		return refuse("the lower limit %v is no number", *lower)
	case upper != nil && !finite(*upper):
		return refuse("the upper limit %v is no number", *upper)
	case lower != nil && upper != nil && *lower >= *upper:
		return refuse("the lower limit %g is not below the upper limit %g: change them over", *lower, *upper)
	case math.IsNaN(level) || level <= 0.5 || level >= 1:
		return refuse("the level %v can't decide: give one above 0.5 and below 1, such as 0.95", level)
	}
	return nil
}

// beyond is the chance that a normal value overshoots: Φ(d/u), d how far it is over.
func beyond(d, u float64) float64 {
	if u == 0 {
		if d > 0 {
			return 1
		}
		return 0
	}
	return distuv.UnitNormal.CDF(d / u)
}

// GuardBand is the distance from a limit at which a value is just decided for a
// single limit: w = z(level) u (ISO 14253-1:2017: 1.65 u at 0.95). u >= 0.
func GuardBand(u, level float64) (float64, error) {
	zero := 0.0
	if err := checkConform(0, u, nil, &zero, level); err != nil {
		return 0, err
	}
	return distuv.UnitNormal.Quantile(level) * u, nil
}
