package wear

import "math"

// sym2 is a symmetric 2x2 matrix.
type sym2 struct{ a, b, d float64 } // [[a b] [b d]]

func (m sym2) det() float64 { return m.a*m.d - m.b*m.b }

func (m sym2) inv() sym2 {
	k := 1 / m.det()
	return sym2{m.d * k, -m.b * k, m.a * k}
}

func (m sym2) mul(v [2]float64) [2]float64 {
	return [2]float64{m.a*v[0] + m.b*v[1], m.b*v[0] + m.d*v[1]}
}

func (m sym2) add(o sym2) sym2 { return sym2{m.a + o.a, m.b + o.b, m.d + o.d} }

func (m sym2) quad(v [2]float64) float64 {
	return m.a*v[0]*v[0] + 2*m.b*v[0]*v[1] + m.d*v[1]*v[1]
}

// between is p m p' for a general 2x2 p = [[p0 p1] [p2 p3]].
func (m sym2) between(p [4]float64) sym2 {
	x0, x1 := p[0]*m.a+p[1]*m.b, p[0]*m.b+p[1]*m.d
	y0, y1 := p[2]*m.a+p[3]*m.b, p[2]*m.b+p[3]*m.d
	return sym2{x0*p[0] + x1*p[1], x0*p[2] + x1*p[3], y0*p[2] + y1*p[3]}
}

// lower is a lower triangular factor L of G = L L'; it may be singular.
type lower struct{ l11, l21, l22 float64 }

func (l lower) gram() sym2 {
	return sym2{l.l11 * l.l11, l.l11 * l.l21, l.l21*l.l21 + l.l22*l.l22}
}

// factor gives the lower factor of a positive semidefinite matrix.
func factor(g sym2) lower {
	l11 := math.Sqrt(math.Max(g.a, 0))
	if l11 == 0 {
		return lower{0, 0, math.Sqrt(math.Max(g.d, 0))}
	}
	l21 := g.b / l11
	return lower{l11, l21, math.Sqrt(math.Max(g.d-l21*l21, 0))}
}

// covariance are the variance parameters of a group.
type covariance struct {
	l      lower // random intercept and slope
	sigma2 float64
	phi    float64 // sd of the forks' own rates, 0 for none
}

// own is the factor for a fitting of unknown age: intercept N(0.5, 1) of its
// own, the group's slope scatter (domain rule for 'at least' hours).
func (c covariance) own() lower {
	return lower{ownInterceptSD, 0, math.Hypot(c.l.l21, c.l.l22)}
}

const (
	ownInterceptMean = 0.5
	ownInterceptSD   = 1.0
)

// row is one reading in the fit: y at z with variance sigma2 + v, or, for a
// censored reading's stand-in (site), variance v alone.
type row struct {
	z, y, v float64
	site    bool
}

// member is one fitting: rows[from:to] of its group.
type member struct {
	id       string
	from, to int
	own      bool // age unknown
	start    float64
	fork     string
	forkAt   int // in group.forks
}

// group holds the readings of a fit, unit by unit.
type group struct {
	members []member
	rows    []row
	obs     []Observation // one for each row
	power   float64
	forks   [][]int // members of each fork, where forks have a rate of their own
}

// sums are a unit's sufficient statistics for given variances:
// A = Z'W Z, c = Z'W y, yy = y'W y, logd = log |W^-1|, W = diag(1/variance).
type sums struct {
	a    sym2
	c    [2]float64
	yy   float64
	logd float64
}

func sumRows(rows []row, offset, sigma2 float64) sums {
	var s sums
	prod := 1.0
	for i := range rows {
		r := &rows[i]
		v := r.v
		if !r.site {
			v += sigma2
		}
		w := 1 / v
		y := r.y - offset
		wz, wy := w*r.z, w*y
		s.a.a += w
		s.a.b += wz
		s.a.d += wz * r.z
		s.c[0] += wy
		s.c[1] += wy * r.z
		s.yy += wy * y
		prod *= v
		if prod < 1e-200 || prod > 1e200 {
			s.logd += math.Log(prod)
			prod = 1
		}
	}
	s.logd += math.Log(prod)
	return s
}

// shrink gives D = L (I + L'AL)^-1 L' = (G^-1 + A)^-1 and log |I + L'AL|. It
// needs no inverse of G, so a variance of zero is no trouble.
func shrink(l lower, a sym2) (d sym2, logdet float64) {
	u0, u1 := l.l11*a.a+l.l21*a.b, l.l11*a.b+l.l21*a.d // first row of L'A
	w1 := l.l22 * a.d
	m := sym2{1 + u0*l.l11 + u1*l.l21, u1 * l.l22, 1 + w1*l.l22}
	det := m.det()
	k := 1 / det
	n := sym2{m.d * k, -m.b * k, m.a * k}
	return n.between([4]float64{l.l11, 0, l.l21, l.l22}), math.Log(det)
}

// totals are the group's sums over units: Q = X'V^-1X, h = X'V^-1y,
// qf = y'V^-1y, logv = log |V|.
type totals struct {
	q        sym2
	h        [2]float64
	qf, logv float64
}

func (t *totals) addUnit(s sums, l lower, own bool, sign float64) {
	d, logdet := shrink(l, s.a)
	dc := d.mul(s.c)
	t.qf += sign * (s.yy - s.c[0]*dc[0] - s.c[1]*dc[1])
	t.logv += sign * (s.logd + logdet)
	// B = A - A D A and k = c - A D c, of which an unknown age keeps the slope.
	b := d.between([4]float64{s.a.a, s.a.b, s.a.b, s.a.d})
	adc := s.a.mul(dc)
	t.q.d += sign * (s.a.d - b.d)
	t.h[1] += sign * (s.c[1] - adc[1])
	if own {
		return
	}
	t.q.a += sign * (s.a.a - b.a)
	t.q.b += sign * (s.a.b - b.b)
	t.h[0] += sign * (s.c[0] - adc[0])
}

func (g *group) unit(m member, c covariance) (sums, lower) {
	if m.own {
		return sumRows(g.rows[m.from:m.to], ownInterceptMean, c.sigma2), c.own()
	}
	return sumRows(g.rows[m.from:m.to], 0, c.sigma2), c.l
}

// total sums over all units: the cost is one pass over the readings.
func (g *group) total(c covariance) totals {
	var t totals
	if c.phi > 0 {
		for _, on := range g.forks {
			t.addSums(g.onFork(on, -1, c).folded(c.phi), 1)
		}
		return t
	}
	for i := range g.members {
		s, l := g.unit(g.members[i], c)
		t.addUnit(s, l, g.members[i].own, 1)
	}
	return t
}

// line is the conditional mean and covariance of one unit's own (A, B) given
// its readings and fixed effects N(beta, qinv) that already know the readings:
// (I-DA) m + Dc and D + (I-DA) T qinv T' (I-DA)'.
func line(s sums, l lower, own bool, beta [2]float64, qinv sym2) ([2]float64, sym2) {
	d, _ := shrink(l, s.a)
	p := [4]float64{ // I - D A
		1 - d.a*s.a.a - d.b*s.a.b, -d.a*s.a.b - d.b*s.a.d,
		-d.b*s.a.a - d.d*s.a.b, 1 - d.b*s.a.b - d.d*s.a.d,
	}
	if own { // the sums are about the offset, so the own intercept's mean is 0
		beta[0], qinv = 0, sym2{0, 0, qinv.d}
	}
	dc := d.mul(s.c)
	mu := [2]float64{p[0]*beta[0] + p[1]*beta[1] + dc[0], p[2]*beta[0] + p[3]*beta[1] + dc[1]}
	if own {
		mu[0] += ownInterceptMean
	}
	return mu, d.add(qinv.between(p))
}
