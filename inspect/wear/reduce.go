package wear

import (
	"fmt"
	"math"
)

// Rule says how several points of one check become one quantity.
type Rule string

const (
	Least    Rule = "least"
	Greatest Rule = "greatest"
	Mean     Rule = "mean"
	Range    Rule = "range" // greatest minus least
)

// Point is one point of a check: value and its own standard uncertainty,
// without what all points share.
type Point struct{ Value, U float64 }

// Reduced is the one quantity that a check's points become.
type Reduced struct {
	Value, U float64
	Raw      float64 // the uncorrected least, greatest, mean or range
	Points   int
}

// Reduce turns a check's points into one quantity. uShared is the part of the
// uncertainty common to all points (the instrument's calibration): it is added
// once to least, greatest and mean and cancels in the range.
//
// The greatest of k noisy points lies above the true greatest. It is corrected
// without random numbers: the true points are taken as normal about their mean
// with the spread that the noise leaves over, tau^2 = max(0, s^2 - mean u^2);
// each point shrinks towards the mean accordingly, and the answer is mean and
// standard deviation of the greatest of those, by quadrature. U is never below
// the extreme point's own. So is the least; the range is their difference,
// their variances added. One point is its own least, greatest and mean.
//
// Refused: no point, NaN or Inf, negative uncertainty, an unknown rule, a range
// of one point.
func Reduce(points []Point, rule Rule, uShared float64) (Reduced, error) {
	if len(points) == 0 {
		return Reduced{}, fmt.Errorf("there is no point to take the %s of: measure at least one", rule)
	}
	if !(uShared >= 0) || math.IsInf(uShared, 0) {
		return Reduced{}, fmt.Errorf("the shared uncertainty is %g: give a number of 0 or more", uShared)
	}
	for i, p := range points {
		if math.IsNaN(p.Value) || math.IsInf(p.Value, 0) || !(p.U >= 0) || math.IsInf(p.U, 0) {
			return Reduced{}, fmt.Errorf("point %d is %g with uncertainty %g: give numbers, the uncertainty 0 or more", i+1, p.Value, p.U)
		}
	}
	out := Reduced{Points: len(points)}
	switch rule {
	case Mean:
		u2 := 0.0
		for _, p := range points {
			out.Value += p.Value / float64(len(points))
			u2 += p.U * p.U
		}
		out.Raw = out.Value
		out.U = math.Hypot(math.Sqrt(u2)/float64(len(points)), uShared)
	case Greatest, Least:
		v, u, raw := extreme(points, rule == Least)
		out.Value, out.Raw, out.U = v, raw, math.Hypot(u, uShared)
	case Range:
		if len(points) < 2 {
			return Reduced{}, fmt.Errorf("a range needs two points, there is one: measure another")
		}
		hi, uhi, rhi := extreme(points, false)
		lo, ulo, rlo := extreme(points, true)
		out.Value, out.Raw, out.U = math.Max(hi-lo, 0), rhi-rlo, math.Hypot(uhi, ulo)
	default:
		return Reduced{}, fmt.Errorf("the rule %q is not known: use least, greatest, mean or range", rule)
	}
	return out, nil
}

// extreme gives the corrected greatest (or least), its uncertainty and the raw.
func extreme(points []Point, least bool) (value, u, raw float64) {
	sign := 1.0
	if least {
		sign = -1
	}
	k := float64(len(points))
	mean, u2 := 0.0, 0.0
	raw = math.Inf(-1)
	for _, p := range points {
		mean += sign * p.Value / k
		u2 += p.U * p.U / k
		if x := sign * p.Value; x > raw {
			raw, u = x, p.U
		}
	}
	if len(points) == 1 || u2 == 0 {
		return sign * raw, u, sign * raw
	}
	s2 := 0.0
	for _, p := range points {
		s2 += (sign*p.Value - mean) * (sign*p.Value - mean) / (k - 1)
	}
	tau2 := math.Max(0, s2-u2)
	ms, sds := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		share := tau2 / (tau2 + p.U*p.U)
		if tau2+p.U*p.U == 0 {
			share = 1
		}
		ms[i] = mean + share*(sign*p.Value-mean)
		sds[i] = math.Sqrt(share) * p.U
	}
	m, sd := greatestOf(ms, sds)
	return sign * m, math.Max(sd, u), sign * raw
}

// greatestOf gives mean and standard deviation of the greatest of independent
// normals, by the midpoint rule on its distribution function:
// E = hi - integral of F, E2 likewise. Points without spread are steps.
func greatestOf(ms, sds []float64) (mean, sd float64) {
	lo, hi := math.Inf(-1), math.Inf(-1)
	widest := 0.0
	for i := range ms {
		lo = math.Max(lo, ms[i]-9*sds[i])
		hi = math.Max(hi, ms[i]+9*sds[i])
		widest = math.Max(widest, sds[i])
	}
	if widest == 0 {
		return hi, 0
	}
	const n = 500
	step := (hi - lo) / n
	first, second := 0.0, 0.0 // integrals of F and of 2 (hi - x) F
	for i := 0; i < n; i++ {
		x := lo + (float64(i)+0.5)*step
		f := 1.0
		for j := range ms {
			switch {
			case sds[j] > 0:
				f *= upper((ms[j] - x) / sds[j])
			case x < ms[j]:
				f = 0
			}
		}
		first += f * step
		second += 2 * (hi - x) * f * step
	}
	return hi - first, math.Sqrt(math.Max(second-first*first, 0))
}
