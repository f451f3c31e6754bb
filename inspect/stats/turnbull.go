package stats

import (
	"math"
	"sort"
)

// MethodTurnbull names the estimator; it gives no standard errors.
const MethodTurnbull = "Turnbull (failures known within intervals), no standard errors"

// Turnbull returns the non-parametric maximum likelihood curve when failures
// are known to lie in (LastGood, Time], at Time, or after Time. The mass of
// each innermost interval is put at its upper end, so the curve is never lower
// than the data allow before the drop. Self-consistency iteration
//
//	p_j <- sum_i w_i a_ij p_j / sum_k a_ik p_k / sum_i w_i
//
// until no p moves by more than 1e-10 (at most 20000 rounds, fewer for
// thousands of rows). Without ranged
// failures it equals Kaplan-Meier. Delayed entry is refused.
//
// Source: Turnbull 1976, J R Stat Soc B 38:290.
func Turnbull(rows []Lifetime) (Curve, error) {
	if err := checkLifetimes(rows); err != nil {
		return Curve{}, err
	}
	for i, r := range rows {
		if r.Entry > 0 {
			return Curve{}, inputError("row %d: a curve from intervals cannot use delayed entry; the Weibull fit can", i+1)
		}
	}
	curve := Curve{Method: MethodTurnbull, Steps: []CurveStep{}}
	curve.Events, curve.Units = tally(rows)
	points := innermost(rows)
	mass := turnbullMass(rows, points)
	survival := 1.0
	for j, t := range points {
		if mass[j] < 1e-8 || math.IsInf(t, 1) {
			continue
		}
		survival -= mass[j]
		if survival < 1e-9 {
			survival = 0
		}
		curve.Steps = append(curve.Steps, CurveStep{Time: t, Survival: survival})
	}
	curve.setMedian()
	return curve, nil
}

// bounds gives the interval of a row: after low, up to and with high.
func (l Lifetime) bounds() (low, high float64) {
	switch {
	case !l.Failed:
		return l.Time, math.Inf(1)
	case l.ranged():
		return l.LastGood, l.Time
	}
	return math.Nextafter(l.Time, -1), l.Time
}

// innermost returns the upper ends of the intervals (low, high] that hold no
// other end inside, ascending; the last may be +Inf.
func innermost(rows []Lifetime) []float64 {
	type end struct {
		at    float64
		upper bool
	}
	var ends []end
	for _, r := range rows {
		low, high := r.bounds()
		ends = append(ends, end{low, false}, end{high, true})
	}
	// At one time an upper end comes first: (a, 5] and (5, b] share nothing.
	sort.Slice(ends, func(i, j int) bool {
		if ends[i].at != ends[j].at {
			return ends[i].at < ends[j].at
		}
		return ends[i].upper && !ends[j].upper
	})
	var points []float64
	for i := 1; i < len(ends); i++ {
		if ends[i].upper && !ends[i-1].upper {
			points = append(points, ends[i].at)
		}
	}
	return points
}

func turnbullMass(rows []Lifetime, points []float64) []float64 {
	m := len(points)
	p, next := make([]float64, m), make([]float64, m)
	for j := range p {
		p[j] = 1 / float64(m)
	}
	type span struct{ from, to int } // points[from:to] lie in the row's interval
	spans := make([]span, len(rows))
	total := 0.0
	for i, r := range rows {
		low, high := r.bounds()
		spans[i].from = sort.Search(m, func(j int) bool { return points[j] > low })
		spans[i].to = sort.Search(m, func(j int) bool { return points[j] > high })
		total += r.weight()
	}
	for range min(20000, 1+int(1e9)/(len(rows)*m+1)) {
		clear(next)
		for i, r := range rows {
			s := 0.0
			for j := spans[i].from; j < spans[i].to; j++ {
				s += p[j]
			}
			for j := spans[i].from; s > 0 && j < spans[i].to; j++ {
				next[j] += r.weight() * p[j] / s / total
			}
		}
		moved := 0.0
		for j := range p {
			moved = math.Max(moved, math.Abs(next[j]-p[j]))
		}
		p, next = next, p
		if moved < 1e-10 {
			break
		}
	}
	return p
}
