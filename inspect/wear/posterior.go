package wear

import (
	"errors"
	"fmt"
	"math"
)

// Posterior gives what is believed of one fitting of the group: mean and
// covariance of its own (A, B) = (b0 + a, b1 + s) given its readings, with the
// uncertainty of the fixed effects (variances are taken as estimated):
//
//	D = (G^-1 + Z'WZ)^-1, P = I - D Z'WZ
//	mu = P T beta + D Z'W y,  S = D + P T Var(beta) T' P'
//
// In simulation its 90 % limits cover 0.88 to 0.90 from 8 fittings up. The doubt
// in the variances themselves, which would bring 0.90 to 0.91, is left out: it
// depends on the values, and P(T <= t) would no longer be monotone in them.
//
// Where forks have a rate f of their own, B = b1 + f + s, and what the fork's
// other fittings say of f comes in (see expected).
//
// A unit without readings in the fit gets what a new fitting of the group on a
// new fork would: mean beta, covariance G + Var(beta), phi^2 more in B; for one
// on a known fork ask PosteriorOf. Refused: a zero Fit, a level
// model (it has no slope).
func (f Fit) Posterior(unit string) (Posterior, error) {
	if err := f.usable(); err != nil {
		return Posterior{}, err
	}
	i, known := f.at[unit]
	if !known {
		g := f.par.l.gram().add(f.qinv)
		g.d += f.par.phi * f.par.phi
		return f.posterior(unit, f.beta, g, member{}, 0, 0), nil
	}
	m := f.g.members[i]
	mu, cov := f.g.belief(i, f.par, f.beta, f.qinv)
	return f.posterior(unit, mu, cov, m, m.to-m.from, f.Units[i].LastHours), nil
}

func (f Fit) usable() error {
	if f.g == nil {
		return errors.New("this fit is empty: make one with FitREML or FitPenalised")
	}
	if f.Model == Level {
		return errors.New("the level model has no slope, so no trend: fit the line model")
	}
	return nil
}

func (f Fit) posterior(unit string, mu [2]float64, s sym2, m member, n int, last float64) Posterior {
	return Posterior{Unit: unit, Mu: mu, S: [2][2]float64{{s.a, s.b}, {s.b, s.d}}, Start: m.start,
		Power: f.g.power, Readings: n, LastHours: last, AgeUnknown: m.own, SDResidual: f.SDResidual}
}

// PosteriorOf gives the posterior of a fitting from the readings handed in,
// whether the fit has seen them or not: what the unit itself taught the fixed
// effects is first taken out again, then obs are taken in (exact for given
// variances). With it a reading can be judged while it is typed, and against
// the trend of the earlier ones; and as the variances stay, more wear in the
// newest reading never makes the fitting look better. Censored readings are
// taken in by expectation propagation. Only a newest reading within the first
// hours is treated otherwise than in Posterior: see unmirrored.
func (f Fit) PosteriorOf(unit Unit, obs []Observation) (Posterior, error) {
	if err := f.usable(); err != nil {
		return Posterior{}, err
	}
	for k := range obs {
		obs := obs[k]
		if obs.Unit != "" && obs.Unit != unit.ID {
			return Posterior{}, fmt.Errorf("a reading of unit %q was given for unit %q: give its own readings", obs.Unit, unit.ID)
		}
		if why := faulty(obs); why != "" {
			return Posterior{}, fmt.Errorf("reading %d of unit %q %s", k+1, unit.ID, why)
		}
	}
	if unit.AgeUnknown && len(obs) == 0 {
		return Posterior{}, fmt.Errorf("unit %q is of unknown age and has no reading: take a first one", unit.ID)
	}
	beta, qinv, err := f.without(unit.ID)
	if err != nil {
		return Posterior{}, err
	}
	left := 0.0 // what the fork's rate may still be, beside its other fittings
	if f.par.phi > 0 {
		beta, qinv, left = expected(f.besides(unit), f.par.phi, beta, qinv)
	}
	own := make([]Observation, len(obs))
	for k, o := range obs {
		o.Unit = unit.ID
		own[k] = o
	}
	g := gather(own, map[string]Unit{unit.ID: unit}, f.g.power)
	scatter := f.par.l.gram()
	scatter.d += left
	mean, l := beta, factor(unmirrored(scatter.add(qinv), g.rows))
	m := member{own: unit.AgeUnknown}
	if unit.AgeUnknown {
		mean[0] = ownInterceptMean
		l = lower{ownInterceptSD, 0, math.Sqrt(scatter.d + qinv.d)}
	}
	last := 0.0
	for i, o := range g.obs {
		m = g.members[0]
		last = math.Max(last, o.Hours)
		g.rows[i].v = known2(o, g.rows[i].z, m.start, f.beta[1], g.power)
		if o.Left || o.Right {
			g.rows[i] = blankSite(g.rows[i].z)
		} else if g.rows[i].v+f.par.sigma2 <= 0 {
			return Posterior{}, fmt.Errorf("reading %d of unit %q has no uncertainty and the group no scatter: give its uncertainty", i+1, unit.ID)
		}
	}
	belief := func() ([2]float64, sym2) {
		s := sumRows(g.rows, 0, f.par.sigma2)
		return line(s, l, false, mean, sym2{})
	}
	mu, cov := belief()
	for sweep := 0; sweep < 60; sweep++ {
		moved := 0.0
		for i, o := range g.obs {
			if o.Left || o.Right {
				v := known2(o, g.rows[i].z, m.start, f.beta[1], g.power) + f.par.sigma2
				moved = math.Max(moved, g.rows[i].propagate(o, v, mu, cov))
				mu, cov = belief()
			}
		}
		if moved < 1e-10 {
			break
		}
	}
	return f.posterior(unit.ID, mu, cov, m, len(obs), last), nil
}

// unmirrored keeps a reading in the first hours from lowering the wear rate: in
// a group, a higher start goes with a lower rate, and before the hour
// -cov(A, B)/var(B) that alone would make a fitting look the better the more it
// is worn. There the covariance is raised until wear at the newest reading and
// wear rate are uncorrelated; later readings are not touched. It depends on
// hours only, so P(T <= t) stays monotone in the newest value.
func unmirrored(g sym2, rows []row) sym2 {
	if len(rows) == 0 {
		return g
	}
	newest := 0.0
	for _, r := range rows {
		newest = math.Max(newest, r.z)
	}
	g.b = math.Max(g.b, -g.d*newest)
	return g
}

// without gives the fixed effects as they stand without one unit's readings.
func (f Fit) without(unit string) ([2]float64, sym2, error) {
	i, known := f.at[unit]
	if !known {
		return f.beta, f.qinv, nil
	}
	var t totals
	m := f.g.members[i]
	if f.par.phi > 0 {
		on := f.g.forks[m.forkAt]
		t.addSums(f.g.onFork(on, -1, f.par).folded(f.par.phi), -1)
		t.addSums(f.g.onFork(on, i, f.par).folded(f.par.phi), 1)
	} else {
		s, l := f.g.unit(m, f.par)
		t.addUnit(s, l, m.own, -1)
	}
	full := f.qinv.inv()
	q := full.add(t.q)
	if !(q.a > 0) || !(q.d > 0) || q.det() < 1e-12*full.det() {
		return f.beta, f.qinv, fmt.Errorf("the group says nothing without unit %q: add kin, or use the penalised fit", unit)
	}
	h := full.mul(f.beta)
	qinv := q.inv()
	return qinv.mul([2]float64{h[0] + t.h[0], h[1] + t.h[1]}), qinv, nil
}

// known2 is the known variance of a reading: U^2 and, where the hours are
// uncertain, (dW/dt u_t)^2 with dW/dt = b q t^(q-1).
func known2(o Observation, z, start, slope, q float64) float64 {
	v := o.U * o.U
	if o.HoursU > 0 {
		rate := steepness(o.Hours-start, z, slope, q)
		v += rate * rate * o.HoursU * o.HoursU
	}
	return v
}

func steepness(t, z, slope, q float64) float64 {
	if q == 0 || q == 1 {
		return slope
	}
	if t <= 0 {
		return 0
	}
	return slope * q * z / t
}

// z is the posterior's own time axis at hours t.
func (p Posterior) z(t float64) float64 { return axis(math.Max(t-p.Start, 0), p.Power) }

// Wear gives mean and standard deviation of the latent wear at hours t:
// z'mu and sqrt(z'S z), z = (1, (t - Start)^q).
func (p Posterior) Wear(t float64) (mean, sd float64) {
	z := p.z(t)
	v := p.S[0][0] + 2*z*p.S[0][1] + z*z*p.S[1][1]
	return p.Mu[0] + z*p.Mu[1], math.Sqrt(math.Max(v, 0))
}

// Toward gives the posterior on the scale where 1 is the given limit in the
// readings' own unit, for readings that rise (or fall) to it.
func (p Posterior) Toward(limit float64, rising bool) Posterior {
	k := 1.0
	if !rising {
		k = -1
	}
	p.Mu = [2]float64{1 + k*(p.Mu[0]-limit), k * p.Mu[1]}
	return p
}

func (p Posterior) check() error {
	for _, v := range []float64{p.Mu[0], p.Mu[1], p.S[0][0], p.S[0][1], p.S[1][1], p.Start} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("the trend of unit %q is not made of numbers: fit its group first", p.Unit)
		}
	}
	if p.S[0][0] < 0 || p.S[1][1] < 0 {
		return fmt.Errorf("the trend of unit %q has a negative variance: fit its group first", p.Unit)
	}
	return nil
}
