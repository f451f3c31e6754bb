package wear

import "math"

const (
	// leastForks is the number of forks with two fittings or more from which a
	// fork has a wear rate of its own.
	leastForks = 10
	// logSDForkWidth and forkShare are our choice, without a source: forks are
	// taken to differ by half as much as the fittings of one fork do, as surely
	// known as that.
	logSDForkWidth = 0.5
	forkShare      = 0.5
)

// byFork sorts the members by fork and says how many forks have two of them or
// more. A member whose fork is not known is alone on one.
func (g *group) byFork() (shared int) {
	at := map[string]int{}
	g.forks = nil
	for i := range g.members {
		m := &g.members[i]
		k, seen := at[m.fork]
		if !seen || m.fork == "" {
			k = len(g.forks)
			at[m.fork] = k
			g.forks = append(g.forks, nil)
		}
		m.forkAt = k
		g.forks[k] = append(g.forks[k], i)
	}
	for _, on := range g.forks {
		if len(on) > 1 {
			shared++
		}
	}
	return shared
}

// onFork sums over units of one fork but one (-1: over all), before the fork's
// own rate is taken into account.
func (g *group) onFork(units []int, but int, c covariance) totals {
	var t totals
	for _, i := range units {
		if i != but {
			s, l := g.unit(g.members[i], c)
			t.addUnit(s, l, g.members[i].own, 1)
		}
	}
	return t
}

// folded takes a fork's own rate f ~ N(0, phi^2) into its sums. f acts on the
// column z of the fixed slope, so V = blockdiag(V_i) + phi^2 z z', and by
// Sherman and Morrison (1950), with d = 1 + phi^2 z'V^-1z and e = (0, 1):
//
//	Q' = Q - phi^2/d (Qe)(Qe)', h' = h - phi^2/d h_2 Qe,
//	qf' = qf - phi^2/d h_2^2, log|V|' = log|V| + log d
func (t totals) folded(phi float64) totals {
	d := 1 + phi*phi*t.q.d
	k, h1 := phi*phi/d, t.h[1]
	out := t
	out.q = sym2{t.q.a - k*t.q.b*t.q.b, t.q.b / d, t.q.d / d}
	out.h = [2]float64{t.h[0] - k*h1*t.q.b, h1 / d}
	out.qf -= k * h1 * h1
	out.logv += math.Log(d)
	return out
}

func (t *totals) addSums(o totals, sign float64) {
	t.q = t.q.add(sym2{sign * o.q.a, sign * o.q.b, sign * o.q.d})
	t.h[0] += sign * o.h[0]
	t.h[1] += sign * o.h[1]
	t.qf += sign * o.qf
	t.logv += sign * o.logv
}

// expected is what the fixed effects N(beta, qinv) and the other fittings of a
// fork (sums others) say of one fitting's (b0, b1 + f) before its own readings,
// beside the variance of f that is left. Given beta,
//
//	f ~ N((h_2 - (Qe)'beta)/p, 1/p), p = 1/phi^2 + e'Qe
//
// which is linear in beta, so its doubt is carried along.
func expected(others totals, phi float64, beta [2]float64, qinv sym2) (mean [2]float64, cov sym2, left float64) {
	left = phi * phi / (1 + phi*phi*others.q.d) // 1/p, at phi = 0 too
	m := [4]float64{1, 0, -left * others.q.b, 1 - left*others.q.d}
	mean = [2]float64{beta[0], m[2]*beta[0] + m[3]*beta[1] + left*others.h[1]}
	return mean, qinv.between(m), left
}

// steeper adds variance of the slope to a factor.
func (l lower) steeper(v float64) lower {
	l.l22 = math.Sqrt(l.l22*l.l22 + v)
	return l
}

// belief is the conditional mean and covariance of a member's own (A, B), its
// fork's rate in B, given fixed effects N(beta, qinv) that know all readings.
func (g *group) belief(i int, c covariance, beta [2]float64, qinv sym2) ([2]float64, sym2) {
	m := g.members[i]
	s, l := g.unit(m, c)
	if c.phi == 0 {
		return line(s, l, m.own, beta, qinv)
	}
	mean, cov, left := expected(g.onFork(g.forks[m.forkAt], i, c), c.phi, beta, qinv)
	return line(s, l.steeper(left), m.own, mean, cov)
}

// besides gives the sums over the units of a fork that the fit has seen,
// without one unit.
func (f Fit) besides(unit Unit) totals {
	i, known := f.at[unit.ID]
	if !known {
		i = -1
	} else if unit.Fork == "" {
		unit.Fork = f.g.members[i].fork
	}
	if unit.Fork == "" {
		return totals{}
	}
	for _, on := range f.g.forks {
		if f.g.members[on[0]].fork == unit.Fork {
			return f.g.onFork(on, i, f.par)
		}
	}
	return totals{}
}
