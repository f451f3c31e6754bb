package stats

import "math"

// CurveStep is one drop of a survival curve. Fields that the method does not
// give (limits at survival 0; all but Time and Survival from Turnbull) are nil.
type CurveStep struct {
	Time     float64
	AtRisk   *int
	Events   *int
	Survival float64
	SE       *float64 // Greenwood standard error of Survival
	Low      *float64 // log-log limits of Survival
	High     *float64
}

// Curve is a survival curve that falls at its steps and is flat between them.
type Curve struct {
	Steps                 []CurveStep
	Median                *float64 // nil: the curve does not reach one half
	MedianLow, MedianHigh *float64
	Events, Units         int
	Method                string
}

// MethodKaplanMeier names the estimator and its limits.
const MethodKaplanMeier = "Kaplan-Meier, Greenwood standard errors, log-log limits"

// KaplanMeier returns the product-limit curve
//
//	S(t)  = prod_{t_i <= t} (1 - d_i/n_i)
//	SE(t) = S(t) sqrt( sum d_i / (n_i (n_i - d_i)) )          (Greenwood)
//	limits S^exp(+-z w), w = sqrt(sum d_i/(n_i(n_i-d_i))) / ln S   (log-log)
//
// with d_i failures among n_i at risk (entry < t_i <= time). Order of rows does
// not matter. level is two-sided, 0 < level < 1. From startAt on: a curve with
// delayed entry starts at the first event that has at least startAt at risk and
// is then conditional on having come that far; 0 starts at the first event.
// The median is the first time with S <= 1/2, or the middle of the stretch on
// which S is exactly 1/2; its limits invert the limits of S.
//
// Failures known only within an interval are refused: see Turnbull.
//
// Source: Kaplan and Meier 1958; Kalbfleisch and Prentice 2002, section 1.4.
func KaplanMeier(rows []Lifetime, level float64, startAt int) (Curve, error) {
	if err := checkLevel(level); err != nil {
		return Curve{}, err
	}
	if err := checkLifetimes(rows); err != nil {
		return Curve{}, err
	}
	if anyRanged(rows) {
		return Curve{}, inputError("a failure known only between two hours needs the Turnbull curve, not Kaplan-Meier")
	}
	curve := Curve{Method: MethodKaplanMeier, Steps: []CurveStep{}}
	curve.Events, curve.Units = tally(rows)
	z := normalQuantile((1 + level) / 2)
	survival, greenwood, started := 1.0, 0.0, false
	for _, s := range riskSteps(rows) {
		started = started || s.atRisk >= startAt
		if !started {
			continue
		}
		n, d := float64(s.atRisk), float64(s.events)
		survival *= 1 - d/n
		if s.events == s.atRisk {
			survival = 0
		} else {
			greenwood += d / (n * (n - d))
		}
		curve.Steps = append(curve.Steps, greenwoodStep(s, survival, greenwood, z))
	}
	curve.setMedian()
	return curve, nil
}

// greenwoodStep fills one step; at survival 0 the error is undefined and nil.
func greenwoodStep(s riskStep, survival, greenwood, z float64) CurveStep {
	step := CurveStep{Time: s.time, AtRisk: &s.atRisk, Events: &s.events, Survival: survival}
	if survival > 0 && survival < 1 {
		root := math.Sqrt(greenwood)
		step.SE = pointer(survival * root)
		w := math.Exp(z * root / -math.Log(survival))
		step.Low = pointer(math.Pow(survival, w))
		step.High = pointer(math.Pow(survival, 1/w))
	}
	return step
}

func pointer[T any](v T) *T { return &v }

// setMedian reads the half-way time off the curve and off its limits.
func (c *Curve) setMedian() {
	const tie = 1e-12 // products of fractions reach 1/2 only up to rounding
	for i, s := range c.Steps {
		if s.Survival > 0.5+tie {
			continue
		}
		median := s.Time
		if s.Survival >= 0.5-tie && i+1 < len(c.Steps) {
			median = (s.Time + c.Steps[i+1].Time) / 2
		}
		c.Median = &median
		break
	}
	for _, s := range c.Steps {
		if c.MedianLow == nil && s.Low != nil && *s.Low <= 0.5 {
			c.MedianLow = pointer(s.Time)
		}
		if c.MedianHigh == nil && s.High != nil && *s.High <= 0.5 {
			c.MedianHigh = pointer(s.Time)
		}
	}
}

// At returns the survival at time t >= 0: 1 before the first step.
func (c Curve) At(t float64) float64 {
	s := 1.0
	for _, step := range c.Steps {
		if step.Time > t {
			break
		}
		s = step.Survival
	}
	return s
}
