package wear

import (
	"errors"
	"fmt"
	"math"
)

// singularBelow is the smallest diagonal of the relative Cholesky factor of a
// regular fit (lme4's isSingular default).
const singularBelow = 1e-4

// FitREML fits w_ij = (b0 + a_i) + (b1 + s_i) t_ij + e_ij (Line) or
// w_ij = b0 + a_i + e_ij (Level) by restricted maximum likelihood, with
// (a, s) ~ N(0, G) and e ~ N(0, sigma^2 + U^2), U each reading's known standard
// uncertainty. Criterion is
//
//	log|V| + log|X'V^-1X| + (y-Xb)'V^-1(y-Xb) + (n-p) log 2 pi
//
// as lme4 prints it (Bates et al. 2015, J Stat Softw 67(1)).
//
// Values may be in any unit and may fall. The order of the readings is of no
// account. A singular fit is a normal outcome and flagged. Refused with an
// error: no reading, NaN or Inf, negative hours or uncertainty, a censored
// reading, one unit alone, equal hours throughout (Line), all values equal, and
// data whose scatter cannot be told (fewer readings than a line for each unit
// uses up, and no known uncertainty). HoursU is refused too: use FitPenalised.
func FitREML(data Data, model Model) (Fit, error) {
	if model != Line && model != Level {
		return Fit{}, fmt.Errorf("the model %q is not known: choose %q or %q", model, Line, Level)
	}
	if err := checkPlain(data); err != nil {
		return Fit{}, err
	}
	g := gather(data.Observations, nil, 1)
	if model == Level {
		for i := range g.rows {
			g.rows[i].z = 0
		}
	}
	sigmaFree, err := g.canTell(model)
	if err != nil {
		return Fit{}, err
	}
	cov, ok := g.maximise(model, sigmaFree)
	f := g.fitted("REML", model, cov, nil)
	if bad := f.Criterion + f.beta[0] + f.beta[1] + f.qinv.a + f.qinv.d; math.IsNaN(bad) || math.IsInf(bad, 0) {
		return Fit{}, errTooFarApart
	}
	f.Converged = ok
	f.SlopeWeight = 1
	if model == Level {
		f.SlopeWeight = 0
	}
	if !sigmaFree {
		f.Remarks = append(f.Remarks, "no unit has readings to spare beyond its own line, so scatter beyond the given sd cannot be told and was taken as nil")
	}
	if !ok {
		f.Remarks = append(f.Remarks, "the search stopped at its limit of steps before it settled")
	}
	f.tell()
	return f, nil
}

var errTooFarApart = errors.New("the numbers of hours, values or sd lie too far apart to be fitted: look for a slip of the decimal point")

func checkPlain(data Data) error {
	if len(data.Observations) == 0 {
		return errors.New("there is no reading to fit: give at least two units with readings")
	}
	for i, o := range data.Observations {
		if why := faulty(o); why != "" {
			return fmt.Errorf("reading %d (unit %q) %s", i+1, o.Unit, why)
		}
		if o.Left || o.Right {
			return fmt.Errorf("reading %d (unit %q) is an end of its scale (censored): plain REML takes measured values only; use the penalised fit", i+1, o.Unit)
		}
		if o.HoursU > 0 {
			return fmt.Errorf("reading %d (unit %q) has uncertain hours: plain REML takes known hours only; use the penalised fit", i+1, o.Unit)
		}
		if data.Units[o.Unit].AgeUnknown {
			return fmt.Errorf("unit %q is of unknown age: plain REML takes known ages only; use the penalised fit", o.Unit)
		}
	}
	return nil
}

// faulty says what is wrong with one reading, "" where nothing is.
func faulty(o Observation) string {
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
	switch {
	case bad(o.Hours):
		return fmt.Sprintf("has hours of %v: give a number", o.Hours)
	case bad(o.Value):
		return fmt.Sprintf("has a value of %v: give a number", o.Value)
	case bad(o.U) || o.U < 0:
		return fmt.Sprintf("has an uncertainty of %v: give a number of 0 or more", o.U)
	case bad(o.HoursU) || o.HoursU < 0:
		return fmt.Sprintf("has an uncertainty of hours of %v: give a number of 0 or more", o.HoursU)
	case o.Hours < 0:
		return fmt.Sprintf("has %g hours: riding hours count up from 0; correct the hours or the date of fitting", o.Hours)
	case o.Left && o.Right:
		return "is marked as both ends of its scale: mark one"
	}
	return ""
}

// gather sorts readings by unit in the order of first appearance.
func gather(obs []Observation, units map[string]Unit, power float64) *group {
	order, by := []string{}, map[string][]Observation{}
	for _, o := range obs {
		if _, seen := by[o.Unit]; !seen {
			order = append(order, o.Unit)
		}
		by[o.Unit] = append(by[o.Unit], o)
	}
	g := &group{power: power}
	for _, id := range order {
		m := member{id: id, from: len(g.rows), own: units[id].AgeUnknown, fork: units[id].Fork}
		if m.own {
			m.start = math.Inf(1)
			for _, o := range by[id] {
				m.start = math.Min(m.start, o.Hours)
			}
		}
		for _, o := range by[id] {
			g.rows = append(g.rows, row{z: axis(o.Hours-m.start, power), y: o.Value, v: o.U * o.U})
			g.obs = append(g.obs, o)
		}
		m.to = len(g.rows)
		g.members = append(g.members, m)
	}
	return g
}

// axis is the time axis t^q.
func axis(t, q float64) float64 {
	if q == 1 || q == 0 {
		return t
	}
	return math.Pow(math.Max(t, 0), q)
}

// canTell refuses data that cannot carry the model, and says whether the
// residual scatter can be estimated beside the known uncertainties.
func (g *group) canTell(model Model) (sigmaFree bool, err error) {
	if len(g.members) < 2 {
		return false, errors.New("there is one unit only: how units differ cannot be told; give at least two")
	}
	zs, ys := spread(g.rows)
	if v := zs*zs + ys*ys; math.IsNaN(v) || math.IsInf(v, 0) {
		return false, errTooFarApart
	}
	if ys == 0 {
		return false, fmt.Errorf("all %d values are equal: there is no scatter to estimate; give finer readings", len(g.rows))
	}
	if model == Line && zs == 0 {
		return false, errors.New("all readings are at the same hours: no slope can be told; use the level model or add a later reading")
	}
	spare, rss, known := 0, 0.0, true
	for _, m := range g.members {
		df, ss := within(g.rows[m.from:m.to], model)
		spare += df
		rss += ss
	}
	for _, r := range g.rows {
		known = known && r.v > 0
	}
	if spare == 0 && !known {
		return false, errors.New("no unit has readings to spare beyond its own line, so the scatter cannot be told: add readings, or give each its sd")
	}
	if spare > 0 && !known && rss <= 1e-20*ys*ys*float64(len(g.rows)) {
		return false, errors.New("the readings lie on each unit's own line exactly, so there is no scatter to estimate: give each its sd")
	}
	if len(g.rows) < 4 && model == Line {
		return false, fmt.Errorf("%d readings cannot carry a line for the group and its units: give more", len(g.rows))
	}
	return spare > 0, nil
}

// spread gives the standard deviations of z and y.
func spread(rows []row) (z, y float64) {
	n := float64(len(rows))
	mz, my := 0.0, 0.0
	for _, r := range rows {
		mz += r.z / n
		my += r.y / n
	}
	first := rows[0]
	sameZ, sameY := true, true
	for _, r := range rows {
		z += (r.z - mz) * (r.z - mz) / n
		y += (r.y - my) * (r.y - my) / n
		sameZ, sameY = sameZ && r.z == first.z, sameY && r.y == first.y
	}
	if sameZ {
		z = 0
	}
	if sameY {
		y = 0
	}
	return math.Sqrt(z), math.Sqrt(y)
}

// within is one unit's residual degrees of freedom and sum of squares about
// its own line (or its own mean).
func within(rows []row, model Model) (df int, rss float64) {
	n, mz, my := float64(len(rows)), 0.0, 0.0
	for _, r := range rows {
		mz += r.z / n
		my += r.y / n
	}
	szz, szy, syy := 0.0, 0.0, 0.0
	for _, r := range rows {
		szz += (r.z - mz) * (r.z - mz)
		szy += (r.z - mz) * (r.y - my)
		syy += (r.y - my) * (r.y - my)
	}
	if model == Level || szz <= 1e-18*mz*mz*n {
		return len(rows) - 1, syy
	}
	return len(rows) - 2, math.Max(syy-szy*szy/szz, 0)
}

// maximise finds the REML variances. It works on centred and scaled axes, where
// the criterion is round, on free-signed Cholesky entries, so that zero is an
// inner point, and tries exact zeros at the end.
func (g *group) maximise(model Model, sigmaFree bool) (covariance, bool) {
	sz, sy := spread(g.rows)
	mz := 0.0
	for _, r := range g.rows {
		mz += r.z / float64(len(g.rows))
	}
	if model == Level {
		sz, mz = 1, 0
	}
	s := &group{members: g.members, rows: append([]row(nil), g.rows...), power: g.power}
	for i := range s.rows {
		r := &s.rows[i]
		r.z, r.y, r.v = (r.z-mz)/sz, r.y/sy, r.v/(sy*sy)
	}
	unpack := func(x []float64) covariance {
		var c covariance
		c.l.l11 = x[0]
		if model == Line {
			c.l.l21, c.l.l22 = x[1], x[2]
		}
		if sigmaFree {
			c.sigma2 = x[len(x)-1] * x[len(x)-1]
		}
		return c
	}
	f := func(x []float64) float64 { return s.criterion(unpack(x), model) }
	starts := [][]float64{{0.7, 0, 0.5}, {0.3, 0, 0.1}}
	if model == Level {
		starts = [][]float64{{0.7}, {0.2}}
	}
	var best []float64
	fb, ok := math.Inf(1), false
	for k, x0 := range starts {
		if sigmaFree {
			x0 = append(x0, []float64{0.5, 0.9}[k])
		}
		x, fx, done := simplex(f, x0, 0.3, 1e-10, 6000)
		if best == nil || fx < fb {
			best, fb, ok = x, fx, done
		}
	}
	for i := range best { // exact zeros where nothing speaks against them
		if i == 1 && model == Line {
			continue
		}
		keep := best[i]
		best[i] = 0
		if v := f(best); v <= fb+1e-8 {
			fb = math.Min(fb, v)
		} else {
			best[i] = keep
		}
	}
	c := unpack(best)
	c.l = rotate([4]float64{sy, -mz * sy / sz, 0, sy / sz}, c.l)
	c.sigma2 *= sy * sy
	return c, ok
}

// rotate gives the lower factor of (p L)(p L)', exact where L is singular.
func rotate(p [4]float64, l lower) lower {
	a, b := p[0]*l.l11+p[1]*l.l21, p[1]*l.l22
	c, d := p[2]*l.l11+p[3]*l.l21, p[3]*l.l22
	h := math.Hypot(a, b)
	if h == 0 {
		return lower{0, 0, math.Hypot(c, d)}
	}
	return lower{h, (a*c + b*d) / h, math.Abs(a*d-b*c) / h}
}

// criterion is -2 log restricted likelihood, +Inf where it is undefined.
func (g *group) criterion(c covariance, model Model) float64 {
	t := g.total(c)
	n := float64(len(g.rows))
	if model == Level {
		return finite(t.logv + math.Log(t.q.a) + t.qf - t.h[0]*t.h[0]/t.q.a + (n-1)*math.Log(2*math.Pi))
	}
	b := t.q.inv().mul(t.h)
	return finite(t.logv + math.Log(t.q.det()) + t.qf - t.h[0]*b[0] - t.h[1]*b[1] + (n-2)*math.Log(2*math.Pi))
}

func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, -1) {
		return math.Inf(1)
	}
	return v
}
