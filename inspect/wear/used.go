package wear

import (
	"fmt"
	"math"
)

// Used turns a reading into wear used and its standard uncertainty:
//
//	w  = (x - xNew)/(xLimit - xNew)
//	uw^2 = (ux^2 + (1-w)^2 uNew^2 + w^2 uLimit^2)/(xLimit - xNew)^2
//
// (JCGM 100, first order; independent inputs). x, xNew and xLimit share one unit of
// measure; the limit may lie above or below new. w may be below 0 or above 1.
// Refused: a number that is NaN or Inf, a negative uncertainty, xLimit = xNew.
func Used(x, ux, xNew, uNew, xLimit, uLimit float64) (w, uw float64, err error) {
	for _, v := range []struct {
		name string
		v    float64
		u    bool
	}{
		{"reading", x, false}, {"value when new", xNew, false}, {"limit", xLimit, false},
		{"uncertainty of the reading", ux, true}, {"uncertainty of the value when new", uNew, true}, {"uncertainty of the limit", uLimit, true},
	} {
		if math.IsNaN(v.v) || math.IsInf(v.v, 0) || v.u && v.v < 0 {
			return 0, 0, fmt.Errorf("the %s is %g: give a number%s", v.name, v.v, map[bool]string{true: " of 0 or more"}[v.u])
		}
	}
	span := xLimit - xNew
	if span == 0 {
		return 0, 0, fmt.Errorf("the limit and the value when new are both %g, so no wear is allowed: correct the data sheet", xNew)
	}
	w = (x - xNew) / span
	uw = math.Sqrt(ux*ux+(1-w)*(1-w)*uNew*uNew+w*w*uLimit*uLimit) / math.Abs(span)
	if math.IsInf(w, 0) || math.IsInf(uw, 0) {
		return 0, 0, fmt.Errorf("the limit %g and the value when new %g lie too close together: correct the data sheet", xLimit, xNew)
	}
	return w, uw, nil
}

// RaterSD is the scatter of grading by eye, in grades, until the shop's own
// repeat gradings say better (the design's figure; no published source).
const RaterSD = 0.6

// Graded is a grade as latent wear used, for trends only: whether it is over is
// grade >= limit grade, by definition.
type Graded struct {
	W, U        float64
	Left, Right bool
	// Bound is, for an end of the scale, the wear that the true value is at or
	// below (Left) or at or above (Right), and BoundU the rater's scatter about
	// it. In the middle of the scale they are W and U.
	Bound, BoundU float64
}

// Over is the rule for graded checks: over is grade >= limit grade.
func Over(grade, limit float64) bool { return grade >= limit }

// Grade gives the latent wear of a grade 0..5:
//
//	w = grade/(G - s/2), u^2 = ((s/sqrt 12)^2 + uRater^2)/(G - s/2)^2
//
// G the limit grade (lowest grade at which the part goes out), s the step used
// (1 or 0.5), so that w = 1 is the border between the last good grade and G.
// Grade 0 is left-censored at s/2, grade 5 right-censored at 5 - s/2. uRater in
// grades; 0 takes RaterSD. Refused: a grade outside 0..5 or off the step, a
// limit outside s..5, another step, a negative or non-finite rater scatter.
func Grade(grade, limit, step, uRater float64) (Graded, error) {
	if step != 1 && step != 0.5 {
		return Graded{}, fmt.Errorf("the grading step is %g: use 1 or 0.5", step)
	}
	onStep := func(v float64) bool { return math.Mod(v, step) == 0 }
	if !(grade >= 0 && grade <= 5) || !onStep(grade) {
		return Graded{}, fmt.Errorf("the grade %g is not on the scale: give 0 to 5 in steps of %g", grade, step)
	}
	if !(limit >= step && limit <= 5) || !onStep(limit) {
		return Graded{}, fmt.Errorf("the limit grade %g is not on the scale: give %g to 5 in steps of %g", limit, step, step)
	}
	if !(uRater >= 0) || math.IsInf(uRater, 0) {
		return Graded{}, fmt.Errorf("the rater's scatter is %g grades: give a number of 0 or more", uRater)
	}
	if uRater == 0 {
		uRater = RaterSD
	}
	scale := limit - step/2
	g := Graded{W: grade / scale, U: math.Hypot(step/math.Sqrt(12), uRater) / scale}
	g.Left, g.Right, g.Bound, g.BoundU = grade == 0, grade == 5, g.W, g.U
	if g.Left {
		g.Bound, g.BoundU = step/2/scale, uRater/scale
	}
	if g.Right {
		g.Bound, g.BoundU = (5-step/2)/scale, uRater/scale
	}
	return g, nil
}

// Observation puts the grade into a group's data.
func (g Graded) Observation(unit string, hours, hoursU float64) Observation {
	return Observation{Unit: unit, Hours: hours, HoursU: hoursU, Value: g.Bound, U: g.BoundU, Left: g.Left, Right: g.Right}
}
