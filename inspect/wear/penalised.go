package wear

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"forkwear/inspect"
)

// Widths of the priors on the log standard deviations and on atanh(rho). The
// first three are the design's; the last keeps the correlation of level and
// slope, of which two or three readings say next to nothing, near zero.
const (
	logSDSlopeWidth     = 0.5
	logSDInterceptWidth = 0.7
	logSigmaWidth       = 0.7
	atanhRhoWidth       = 0.5
)

// DefaultPrior is the prior from a data sheet's expected life alone. The shares
// are the workshop's defaults (no published source).
func DefaultPrior(expectedLife float64) Prior {
	return Prior{ExpectedLife: expectedLife, CvL: 0.5, Tau0: 0.05, Sigma0: 0.05, CvSlope: 0.3, TimePower: 1}
}

// withDefaults fills zero fields and refuses what cannot be a prior.
func (p Prior) withDefaults() (Prior, error) {
	d := DefaultPrior(p.ExpectedLife)
	for _, f := range []struct {
		name string
		v    *float64
		d    float64
	}{
		{"expected life", &p.ExpectedLife, 0}, {"doubt about the expected life", &p.CvL, d.CvL},
		{"scatter when new", &p.Tau0, d.Tau0}, {"scatter of readings", &p.Sigma0, d.Sigma0},
		{"difference of wear rates", &p.CvSlope, d.CvSlope}, {"power of time", &p.TimePower, d.TimePower},
	} {
		if *f.v == 0 {
			*f.v = f.d
		}
		if !(*f.v > 0) || math.IsInf(*f.v, 0) {
			return p, fmt.Errorf("the %s is %g: give a number above 0 in the data sheet", f.name, *f.v)
		}
	}
	if p.TimePower < 0.25 || p.TimePower > 4 {
		return p, fmt.Errorf("the power of time is %g: give one between 0.25 and 4", p.TimePower)
	}
	return p, nil
}

// fixedPrior is N(mean, 1/precision) on (b0, b1), independent.
type fixedPrior struct {
	precision sym2
	h         [2]float64 // precision * mean
	constant  float64    // mean' precision mean - log |precision|
}

func (p Prior) fixed() *fixedPrior {
	life := axis(p.ExpectedLife, p.TimePower)
	pb0, pb1 := 1/(p.Tau0*p.Tau0), life*life/(p.CvL*p.CvL)
	m := 1 / life
	return &fixedPrior{precision: sym2{pb0, 0, pb1}, h: [2]float64{0, pb1 * m},
		constant: pb1*m*m - math.Log(pb0) - math.Log(pb1)}
}

// at turns whitened coordinates (0 = the prior's mode, 1 = one prior width)
// into variances.
func (p Prior) at(x []float64) covariance {
	sa := p.Tau0 * math.Exp(logSDInterceptWidth*x[0])
	ss := p.CvSlope / axis(p.ExpectedLife, p.TimePower) * math.Exp(logSDSlopeWidth*x[1])
	s := p.Sigma0 * math.Exp(logSigmaWidth*x[2])
	rho := math.Tanh(atanhRhoWidth * x[3])
	c := covariance{l: lower{sa, rho * ss, ss * math.Sqrt(1-rho*rho)}, sigma2: s * s}
	if len(x) > 4 {
		c.phi = forkShare * p.CvSlope / axis(p.ExpectedLife, p.TimePower) * math.Exp(logSDForkWidth*x[4])
	}
	return c
}

// penalised is the criterion to be least: -2 log of the restricted likelihood
// with the prior on the fixed effects integrated out, plus the squared distance
// of the variances from their priors.
func (g *group) penalised(c covariance, fixed *fixedPrior, x []float64) float64 {
	t := g.total(c)
	q := t.q.add(fixed.precision)
	h := [2]float64{t.h[0] + fixed.h[0], t.h[1] + fixed.h[1]}
	b := q.inv().mul(h)
	v := t.logv + math.Log(q.det()) + t.qf - h[0]*b[0] - h[1]*b[1] + fixed.constant
	for _, xi := range x {
		v += xi * xi
	}
	return finite(v + float64(len(g.rows))*math.Log(2*math.Pi))
}

// FitPenalised fits the group by penalised REML: the line model of FitREML with
//
//	b0 ~ N(0, tau0^2), b1 ~ N(1/L, (cvL/L)^2),
//	log sd_intercept ~ N(log tau0, 0.7^2), log sd_slope ~ N(log(cv/L), 0.5^2),
//	log sigma ~ N(log sigma0, 0.7^2), atanh correlation ~ N(0, 0.5^2)
//
// From 10 forks with two fittings or more (with a reading each, Unit.Fork told)
// the line is (b0 + a) + (b1 + f + s) t with f ~ N(0, phi^2) one for all
// fittings of a fork, log phi ~ N(log(cv/2L), 0.5^2), our choice, no source; so
// a new fitting starts at the rate its fork has shown. Below that there is no f.
//
// The variances are at their joint posterior mode with the fixed effects
// integrated out. No data gives the prior, much data gives REML; single
// readings enter. A fitting of unknown age has its clock start at its first
// reading and an own intercept N(0.5, 1), so it teaches slopes only. Uncertain
// hours add (b u_t)^2 to a reading's variance, b the group's slope, found by
// repetition. Ends of a grading scale (Left, Right) enter by expectation
// propagation (Minka 2001): each is stood in for by the normal reading that
// moves the fitting's line as the censored one would; they teach the slope and
// the differences of fittings, not sigma.
//
// Faulty readings (NaN, negative, hours that drop from one visit to the next by
// more than their uncertainty allows) set their whole fitting aside with the
// reason; the rest is fitted. Zero uncertainty is allowed: sigma is above 0.
// An error comes only of a Prior that cannot be.
func FitPenalised(data Data, prior Prior) (Fit, error) {
	p, err := prior.withDefaults()
	if err != nil {
		return Fit{}, err
	}
	obs, aside := sift(data)
	g := gather(obs, data.Units, p.TimePower)
	fixed := p.fixed()
	slope := 1 / axis(p.ExpectedLife, p.TimePower)
	again := g.prepare(slope)
	shared, free := g.byFork(), 4
	if shared >= leastForks {
		free = 5
	}
	var (
		x  = make([]float64, free)
		v  float64
		ok = true
		f  Fit
	)
	for round := 0; ; round++ {
		target := func(x []float64) float64 { return g.penalised(p.at(x), fixed, x) }
		if len(g.rows) > 0 {
			x, v, ok = simplex(target, x, 0.5, 1e-7, 3000)
		} else {
			v = target(x)
		}
		f = g.fitted("penalised REML", Line, p.at(x), fixed)
		if !again || round >= 12 {
			break
		}
		moved := g.refresh(f)
		if moved < 1e-4 {
			break
		}
	}
	f.Criterion, f.Converged = v, ok
	f.Prior, f.SetAside, f.Forks = p, aside, shared
	f.SlopeWeight = 1 - f.qinv.d*fixed.precision.d
	f.Singular = f.isSingular()
	if f.Fittings == 0 {
		f.Remarks = append(f.Remarks, "no reading yet: all this comes from the expected life in the data sheet")
	}
	if !ok {
		f.Remarks = append(f.Remarks, "the search stopped at its limit of steps before it settled")
	}
	f.tell()
	return f, nil
}

// sift leaves out the fittings that cannot be used and says why.
func sift(data Data) ([]Observation, []SetAside) {
	bad, last := map[string]string{}, map[string]Observation{}
	var order []string
	refuse := func(id, why string) {
		if bad[id] == "" {
			bad[id] = why
			order = append(order, id)
		}
	}
	seen := map[string]int{}
	for _, o := range data.Observations {
		seen[o.Unit]++
		if why := faulty(o); why != "" {
			refuse(o.Unit, fmt.Sprintf("reading %d %s", seen[o.Unit], why))
			continue
		}
		if before, ok := last[o.Unit]; ok {
			if drop := before.Hours - o.Hours; drop > 1e-9+2*math.Hypot(before.HoursU, o.HoursU) {
				refuse(o.Unit, fmt.Sprintf("its hours drop from %g to %g between two readings: correct them, or start a new fitting", before.Hours, o.Hours))
			}
		}
		last[o.Unit] = o
	}
	var keep []Observation
	for _, o := range data.Observations {
		if bad[o.Unit] == "" {
			keep = append(keep, o)
		}
	}
	var aside []SetAside
	for _, id := range order {
		aside = append(aside, SetAside{id, bad[id]})
	}
	return keep, aside
}

// prepare sets each row's known variance for a first slope, makes blank stand-
// ins for censored readings, and says whether the fit must be repeated.
func (g *group) prepare(slope float64) (again bool) {
	for _, m := range g.members {
		for i := m.from; i < m.to; i++ {
			r, o := &g.rows[i], g.obs[i]
			r.v = known2(o, r.z, m.start, slope, g.power)
			again = again || o.HoursU > 0 || o.Left || o.Right
			if o.Left || o.Right {
				*r = blankSite(r.z)
			}
		}
	}
	return again
}

// refresh brings hour uncertainties and stand-ins up to a fit and returns how
// far they moved, as a share.
func (g *group) refresh(f Fit) float64 {
	moved := 0.0
	for k, m := range g.members {
		for i := m.from; i < m.to; i++ {
			r, o := &g.rows[i], g.obs[i]
			v := known2(o, r.z, m.start, f.beta[1], g.power)
			switch {
			case o.Left || o.Right:
				mu, cov := g.belief(k, f.par, f.beta, f.qinv)
				moved = math.Max(moved, r.propagate(o, v+f.par.sigma2, mu, cov))
			case o.HoursU > 0:
				moved = math.Max(moved, math.Abs(v-r.v)/(f.par.sigma2+v))
				r.v = v
			}
		}
	}
	return moved
}

// Told says in a sentence how far the figures come from readings.
// unit names the axis of the fit: "h", or "months".
func (f Fit) Told(unit string) string { return f.ToldIn(nil, unit) }

// ToldIn is Told in a tongue.
func (f Fit) ToldIn(t inspect.Tongue, unit string) string {
	var b strings.Builder
	b.WriteString(t.Sayf("Reckoned from %d readings of %d such parts (%d read twice, %d three times or more)", f.Readings, f.Fittings, f.WithTwo, f.WithThree))
	if f.Prior.ExpectedLife > 0 {
		b.WriteString(t.Sayf("; how fast it goes rests to %.0f %% on readings, the rest on a usual life of %g %s", 100*f.SlopeWeight, f.Prior.ExpectedLife, unit))
	}
	if f.SDFork > 0 {
		b.WriteString(t.Sayf("; the fork's own rate counts, for %d forks had two such parts or more (forks differ by some %.0f %% in it)", f.Forks, 100*f.SDFork/math.Abs(f.Slope.Value)))
	}
	if f.Singular {
		b.WriteString(t.Say("; the readings show no difference between parts in some respect"))
	}
	return b.String()
}

// PowerProfile is how well each power of time fits: criterion minus the least.
type PowerProfile struct {
	Best   float64
	Powers []float64
	Loss   []float64
}

// ProfilePower fits the group with hours^q for q = 0.5 to 2 and tells which
// power fits best: with wear as t^1.5 under a straight line, reused parts were
// over their limit in half the cases where 4 % was said. Refused below 15
// fittings with three readings: too few to tell.
func ProfilePower(data Data, prior Prior) (PowerProfile, error) {
	base, err := FitPenalised(data, prior)
	if err != nil {
		return PowerProfile{}, err
	}
	if base.WithThree < 15 {
		return PowerProfile{}, fmt.Errorf("%d fittings have three readings: the shape of wear over time needs 15", base.WithThree)
	}
	out, least := PowerProfile{}, math.Inf(1)
	for k := 0; k <= 12; k++ {
		p := prior
		p.TimePower = 0.5 + 0.125*float64(k)
		f, err := FitPenalised(data, p)
		if err != nil {
			return PowerProfile{}, err
		}
		out.Powers = append(out.Powers, p.TimePower)
		out.Loss = append(out.Loss, f.Criterion)
		if f.Criterion < least {
			least, out.Best = f.Criterion, p.TimePower
		}
	}
	if math.IsInf(least, 1) {
		return PowerProfile{}, errors.New("no power of time could be fitted: look at the readings of this group")
	}
	for i := range out.Loss {
		out.Loss[i] -= least
	}
	return out, nil
}
