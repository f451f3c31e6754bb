package stats

import "math"

// shapeLimits returns the shape with its profile-likelihood limits.
func (l *weibullLikelihood) shapeLimits(best weibullPoint, drop float64) Estimate {
	profile := func(u float64) float64 { return l.profileShape(math.Exp(u)).value }
	return limits(profile, math.Log(best.b), best.value-drop, math.Log(1e6))
}

// quantileLimits returns the hours by which the share p has failed with their
// profile-likelihood limits. With the quantile q held, ln(-ln(1-p)) = b ln q - a,
// so that z = b (y - ln q) + ln(-ln(1-p)) and the shape is the free parameter.
func (l *weibullLikelihood) quantileLimits(best weibullPoint, p, drop float64) Estimate {
	zp := math.Log(-math.Log1p(-p))
	center := (best.a + zp) / best.b
	warm := math.Log(best.b)
	profile := func(lnq float64) float64 {
		f := func(u float64) float64 {
			b := math.Exp(u)
			return l.at(b, b*lnq-zp)
		}
		return f(climb(f, warm, 0.2))
	}
	e := limits(profile, center, best.value-drop, 50)
	scale := math.Exp(l.lnUnit)
	e.Value *= scale
	if e.Low != nil {
		*e.Low *= scale
	}
	if e.High != nil {
		*e.High *= scale
		if !finite(*e.High) {
			e.High = nil
		}
	}
	return e
}

// limits walks from the top of a profile (argument on the log scale) to both
// sides until it has fallen to floor, then halves to 1e-11. Within reach
// without falling that far there is no limit: nil.
func limits(profile func(float64) float64, center, floor, reach float64) Estimate {
	e := Estimate{Value: math.Exp(center)}
	side := func(sign float64) *float64 {
		inside, step := 0.0, 0.05
		for {
			out := inside + step
			if out > reach {
				return nil
			}
			if profile(center+sign*out) < floor {
				for out-inside > 1e-11 {
					mid := (inside + out) / 2
					if mid <= inside || mid >= out {
						break
					}
					if profile(center+sign*mid) < floor {
						out = mid
					} else {
						inside = mid
					}
				}
				return pointer(math.Exp(center + sign*(inside+out)/2))
			}
			inside, step = out, step*1.6
		}
	}
	e.Low, e.High = side(-1), side(1)
	return e
}

// climb returns the argument of the top of f that is reached uphill from start:
// steps grow until the top is enclosed, then golden section to 1e-6. Where f
// rises without end it stops after a million units.
func climb(f func(float64) float64, start, step float64) float64 {
	low, mid, high := start-step, start, start+step
	fLow, fMid, fHigh := f(low), f(mid), f(high)
	for fHigh > fMid && high-start < 1e6 {
		step *= 1.6
		low, mid, high = mid, high, high+step
		fLow, fMid, fHigh = fMid, fHigh, f(high)
	}
	for fLow > fMid && start-low < 1e6 {
		step *= 1.6
		low, mid, high = low-step, low, mid
		fLow, fMid, fHigh = f(low), fLow, fMid
	}
	return golden(f, low, high)
}

// golden narrows [low, high] around a single top to 1e-6, where the value is
// within about 1e-12 of its curvature; 120 rounds bound it for huge arguments.
func golden(f func(float64) float64, low, high float64) float64 {
	const g = 0.6180339887498949
	x1, x2 := high-g*(high-low), low+g*(high-low)
	f1, f2 := f(x1), f(x2)
	for round := 0; round < 120 && high-low > 1e-6; round++ {
		if f1 < f2 {
			low, x1, f1 = x1, x2, f2
			x2 = low + g*(high-low)
			f2 = f(x2)
		} else {
			high, x2, f2 = x2, x1, f1
			x1 = high - g*(high-low)
			f1 = f(x1)
		}
	}
	return (low + high) / 2
}
