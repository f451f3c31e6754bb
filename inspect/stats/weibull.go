package stats

import "math"

// Estimate is a value with its limits; a limit that does not exist is nil.
type Estimate struct {
	Value float64  `json:"value"`
	Low   *float64 `json:"low"`
	High  *float64 `json:"high"`
}

// WeibullFit is a two-parameter Weibull life, S(t) = exp(-(t/Scale)^Shape).
type WeibullFit struct {
	Shape  Estimate // < 1 early failures, 1 by chance, > 1 wear-out
	Scale  Estimate // hours by which 63.2 % have failed
	B10    Estimate // hours by which 10 % have failed
	Median Estimate
	LogLik float64
	Events int
	Units  int
	Level  float64
	Method string
}

// MethodWeibull names the estimator and its limits: with few failures these
// differ by 5 to 30 % from limits of the normal approximation.
const MethodWeibull = "maximum likelihood, profile-likelihood limits"

// minWeibullEvents is one failure for each of the two parameters.
const minWeibullEvents = 2

// Weibull fits shape b and scale e by maximum likelihood,
//
//	failed at t            ln b - ln t + z - exp(z),  z = b (ln t - ln e)
//	still good at t        -exp(z(t))
//	failed in (a, t]       ln( exp(-exp(z(a))) - exp(-exp(z(t))) )
//	watched from a on      + exp(z(a))
//
// times the count. The limits are those of the likelihood ratio: all values
// whose profile log-likelihood is within chi2(level, 1)/2 of the best. A limit
// that the data do not give is nil.
//
// level is two-sided, 0 < level < 1; times in hours, > 0 for failures. Order
// does not matter. Fails with ErrInput, with ErrTooFew for fewer than two
// failures, and with ErrNoMaximum when the shape runs away (all failures at one
// time, with nothing outliving it).
//
// Source: Lawless 2003, Statistical Models and Methods for Lifetime Data,
// sections 5.2 and 2.4; Meeker and Escobar 1998, chapters 8 and 11.
func Weibull(rows []Lifetime, level float64) (WeibullFit, error) {
	if err := checkWeibull(rows, level); err != nil {
		return WeibullFit{}, err
	}
	l := newWeibullLikelihood(rows)
	best, err := l.maximum()
	if err != nil {
		return WeibullFit{}, err
	}
	fit := WeibullFit{LogLik: best.value, Level: level, Method: MethodWeibull}
	fit.Events, fit.Units = tally(rows)
	drop := chiSquareOne(level) / 2
	fit.Shape = l.shapeLimits(best, drop)
	fit.Scale = l.quantileLimits(best, 1-math.Exp(-1), drop)
	fit.B10 = l.quantileLimits(best, 0.10, drop)
	fit.Median = l.quantileLimits(best, 0.50, drop)
	for _, v := range []float64{fit.LogLik, fit.Shape.Value, fit.Scale.Value, fit.B10.Value, fit.Median.Value} {
		if !finite(v) {
			return WeibullFit{}, inputError("the hours are too large or too far apart to reckon with")
		}
	}
	return fit, nil
}

// Quantile returns the hours by which the share p (0 < p < 1) has failed.
func (f WeibullFit) Quantile(p float64) float64 {
	return f.Scale.Value * math.Pow(-math.Log1p(-p), 1/f.Shape.Value)
}

func checkWeibull(rows []Lifetime, level float64) error {
	if err := checkLevel(level); err != nil {
		return err
	}
	if err := checkLifetimes(rows); err != nil {
		return err
	}
	for i, r := range rows {
		if r.Failed && r.Time == 0 {
			return inputError("row %d: failed at 0 hours; a Weibull life starts above 0", i+1)
		}
	}
	if events, units := tally(rows); events < minWeibullEvents {
		return tooFew("%d failed of %d; a Weibull fit needs at least %d failures", events, units, minWeibullEvents)
	}
	return nil
}
