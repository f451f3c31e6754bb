package wear

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func mustFit(t testing.TB, d Data, p Prior) Fit {
	t.Helper()
	f, err := FitPenalised(d, p)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// No data gives the prior (the definition of the estimator).
func TestPenalisedNoDataIsThePrior(t *testing.T) {
	f := mustFit(t, Data{}, Prior{ExpectedLife: 400})
	near(t, "b0", f.Intercept.Value, 0, 1e-12)
	near(t, "se b0", f.Intercept.SE, 0.05, 1e-12)
	near(t, "b1", f.Slope.Value, 1/400.0, 1e-12)
	near(t, "se b1", f.Slope.SE, 0.5/400, 1e-12)
	near(t, "sd slope", f.SDSlope, 0.3/400, 1e-12)
	near(t, "sd intercept", f.SDIntercept, 0.05, 1e-12)
	near(t, "sigma", f.SDResidual, 0.05, 1e-12)
	near(t, "weight of the data", f.SlopeWeight, 0, 1e-12)
	near(t, "criterion of nothing", f.Criterion, 0, 1e-9)
	p, err := f.Posterior("new one")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "prior covariance of A", p.S[0][0], 2*0.05*0.05, 1e-12)
	near(t, "prior covariance of B", p.S[1][1], (0.5*0.5+0.3*0.3)/160000, 1e-15)
	if f.Fittings != 0 || len(f.Remarks) == 0 || !strings.Contains(f.Told("h"), "to 0 % on readings") {
		t.Errorf("not told: %v %q", f.Remarks, f.Told("h"))
	}
}

// Much data gives REML (the definition of the estimator).
func TestPenalisedMuchDataIsREML(t *testing.T) {
	s := simulate(rand.New(rand.NewPCG(3, 4)), 1500, 4, 0.2)
	a := mustFit(t, s.data, DefaultPrior(500))
	b, err := FitREML(s.data, Line)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "b1", a.Slope.Value, b.Slope.Value, 0.01*b.Slope.Value)
	near(t, "sd slope", a.SDSlope, b.SDSlope, 0.03*b.SDSlope)
	near(t, "sigma", a.SDResidual, b.SDResidual, 0.03*b.SDResidual)
	near(t, "true b1", a.Slope.Value, 1.2/500, 4*a.Slope.SE)
	if a.SlopeWeight < 0.99 {
		t.Errorf("weight of 6000 readings in the slope: %.3f", a.SlopeWeight)
	}
}

// Fixed effects, their covariance and one unit's posterior against the joint
// normal of (b0, b1, a, s, y) conditioned with full matrices.
func TestPenalisedAgainstFullMatrices(t *testing.T) {
	d := simulate(rand.New(rand.NewPCG(5, 6)), 6, 3, 0).data
	d.Observations = append(d.Observations, Observation{Unit: "single", Hours: 200, Value: 0.6, U: 0.1})
	f := mustFit(t, d, DefaultPrior(500))
	v, x, y := dense(d, f)
	n := y.Len()
	p0 := mat.NewDiagDense(2, []float64{0.05 * 0.05, 0.25 / 250000})
	var xp, tot mat.Dense // total covariance of y with the fixed effects in it
	xp.Mul(x, p0)
	tot.Mul(&xp, x.T())
	tot.Add(&tot, v)
	var inv mat.Dense
	if err := inv.Inverse(&tot); err != nil {
		t.Fatal(err)
	}
	// Covariance of theta = (b0 + a, b1 + s) of "single" with y, and its prior.
	g := [2][2]float64{{f.SDIntercept * f.SDIntercept, f.Correlation * f.SDIntercept * f.SDSlope}, {0, f.SDSlope * f.SDSlope}}
	g[1][0] = g[0][1]
	c := mat.NewDense(2, n, nil)
	resid := mat.NewVecDense(n, nil)
	for j, o := range d.Observations {
		resid.SetVec(j, y.AtVec(j)-o.Hours/500)
		for k := 0; k < 2; k++ {
			z := [2]float64{1, o.Hours}
			val := p0.At(k, k) * z[k]
			if o.Unit == "single" {
				val += g[k][0]*z[0] + g[k][1]*z[1]
			}
			c.Set(k, j, val)
		}
	}
	var ci, s mat.Dense
	ci.Mul(c, &inv)
	s.Mul(&ci, c.T())
	var mu mat.VecDense
	mu.MulVec(&ci, resid)
	p, err := f.Posterior("single")
	if err != nil {
		t.Fatal(err)
	}
	again, err := f.PosteriorOf(Unit{ID: "single"}, d.Observations[n-1:])
	if err != nil {
		t.Fatal(err)
	}
	for name, p := range map[string]Posterior{"Posterior": p, "PosteriorOf": again} {
		near(t, name+" A", p.Mu[0], mu.AtVec(0), 1e-9)
		near(t, name+" B", p.Mu[1], 1/500.0+mu.AtVec(1), 1e-11)
		near(t, name+" SAA", p.S[0][0], p0.At(0, 0)+g[0][0]-s.At(0, 0), 1e-10)
		near(t, name+" SAB", p.S[0][1], g[0][1]-s.At(0, 1), 1e-12)
		near(t, name+" SBB", p.S[1][1], p0.At(1, 1)+g[1][1]-s.At(1, 1), 1e-14)
	}
}

// A fitting of unknown age teaches slopes only: where its hours and its level
// start does not matter at all to the group's level.
func TestPenalisedUnknownAge(t *testing.T) {
	d := simulate(rand.New(rand.NewPCG(8, 9)), 5, 3, 0).data
	plain := mustFit(t, d, DefaultPrior(500))
	add := func(start float64) Fit {
		e := Data{Observations: append([]Observation(nil), d.Observations...), Units: map[string]Unit{"old": {ID: "old", AgeUnknown: true}}}
		for k := 0; k < 4; k++ {
			h := 100 * float64(k)
			e.Observations = append(e.Observations, Observation{Unit: "old", Hours: start + h, Value: 0.4 + 0.004*h, U: 0.03})
		}
		return mustFit(t, e, DefaultPrior(500))
	}
	a, b := add(0), add(3000)
	near(t, "slope, other start", b.Slope.Value, a.Slope.Value, 1e-9)
	if a.Slope.Value <= plain.Slope.Value+1e-6 {
		t.Errorf("a fast fitting of unknown age left the slope at %g (was %g)", a.Slope.Value, plain.Slope.Value)
	}
	p, err := b.Posterior("old")
	if err != nil {
		t.Fatal(err)
	}
	if !p.AgeUnknown || p.Start != 3000 {
		t.Fatalf("start %g, unknown %v", p.Start, p.AgeUnknown)
	}
	m, _ := p.Wear(3000)
	near(t, "its own level", m, 0.4, 0.05)
	q, err := b.PosteriorOf(Unit{ID: "old", AgeUnknown: true}, b.g.obs[b.g.members[5].from:])
	if err != nil {
		t.Fatal(err)
	}
	near(t, "both roads, A", q.Mu[0], p.Mu[0], 1e-9)
	near(t, "both roads, SBB", q.S[1][1], p.S[1][1], 1e-14)
	if _, err := b.PosteriorOf(Unit{ID: "x", AgeUnknown: true}, nil); err == nil {
		t.Error("an unknown age without a reading has a trend")
	}
}

func TestPenalisedUncertainHours(t *testing.T) {
	d := simulate(rand.New(rand.NewPCG(10, 9)), 6, 3, 0).data
	e := Data{}
	for _, o := range d.Observations {
		o.HoursU = 40
		e.Observations = append(e.Observations, o)
	}
	f := mustFit(t, e, DefaultPrior(500))
	// The same as adding (b u_t)^2 by hand, b the slope that comes out.
	for i := range d.Observations {
		d.Observations[i].U = math.Hypot(d.Observations[i].U, 40*f.Slope.Value)
	}
	g := mustFit(t, d, DefaultPrior(500))
	near(t, "slope", f.Slope.Value, g.Slope.Value, 1e-4*g.Slope.Value)
	near(t, "sigma", f.SDResidual, g.SDResidual, 1e-3*g.SDResidual)
}

// A censored reading in one fitting against brute-force integration over its
// line with the fit's own variances.
func TestCensoredAgainstIntegration(t *testing.T) {
	f := mustFit(t, simulate(rand.New(rand.NewPCG(11, 9)), 8, 3, 0).data, DefaultPrior(500))
	for _, c := range []struct {
		o Observation
	}{
		{Observation{Hours: 150, Value: 0.2, U: 0.2, Left: true}},
		{Observation{Hours: 300, Value: 0.9, U: 0.2, Right: true}},
		{Observation{Hours: 300, Value: -0.3, U: 0.1, Left: true}},
	} {
		p, err := f.PosteriorOf(Unit{ID: "new"}, []Observation{c.o})
		if err != nil {
			t.Fatal(err)
		}
		prior, _ := f.Posterior("new")
		m0, sd0 := prior.Wear(c.o.Hours)
		noise := math.Hypot(c.o.U, f.SDResidual)
		s0, s1, s2 := 0.0, 0.0, 0.0
		for k := -4000; k <= 4000; k++ {
			x := m0 + sd0*float64(k)/500
			w := math.Exp(-(x-m0)*(x-m0)/(2*sd0*sd0)) * 0.5 * math.Erfc((x-c.o.Value)/noise/math.Sqrt2)
			if c.o.Right {
				w = math.Exp(-(x-m0)*(x-m0)/(2*sd0*sd0)) * 0.5 * math.Erfc((c.o.Value-x)/noise/math.Sqrt2)
			}
			s0, s1, s2 = s0+w, s1+w*x, s2+w*x*x
		}
		m, sd := p.Wear(c.o.Hours)
		near(t, fmt.Sprintf("%+v mean", c.o), m, s1/s0, 1e-6)
		near(t, fmt.Sprintf("%+v sd", c.o), sd, math.Sqrt(s2/s0-s1*s1/s0/s0), 1e-6)
	}
}

// Grades with both ends censored bring back the slope they were made with;
// taking the ends as plain readings does not.
func TestCensoredGrades(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 1))
	var d Data
	for i := 0; i < 150; i++ {
		b := 1 / 500.0 * (1 + 0.2*r.NormFloat64())
		for _, h := range []float64{50, 400, 900} {
			grade := math.Round(b*h*2.5 + 0.6*r.NormFloat64()) // limit grade 3, step 1
			g, err := Grade(math.Max(0, math.Min(5, grade)), 3, 1, 0)
			if err != nil {
				t.Fatal(err)
			}
			d.Observations = append(d.Observations, g.Observation(fmt.Sprint(i), h, 0))
		}
	}
	f := mustFit(t, d, DefaultPrior(800))
	if off := math.Abs(f.Slope.Value*500 - 1); off > 0.05 {
		t.Errorf("slope off by %.3f with censoring", off)
	}
	for i := range d.Observations {
		d.Observations[i].Left, d.Observations[i].Right = false, false
	}
	plain := mustFit(t, d, DefaultPrior(800))
	if math.Abs(plain.Slope.Value*500-1) < math.Abs(f.Slope.Value*500-1) {
		t.Errorf("censoring made the slope worse: %g against %g", f.Slope.Value, plain.Slope.Value)
	}
}

func TestPenalisedSetsFaultsAside(t *testing.T) {
	nan := math.NaN()
	d := Data{Observations: []Observation{
		{Unit: "good", Hours: 100, Value: 0.2}, {Unit: "good", Hours: 200, Value: 0.4},
		{Unit: "nan", Hours: 100, Value: nan}, {Unit: "nan", Hours: 200, Value: 0.3},
		{Unit: "below", Hours: -5, Value: 0.1},
		{Unit: "drops", Hours: 200, Value: 0.1}, {Unit: "drops", Hours: 100, Value: 0.2},
		{Unit: "wobbles", Hours: 200, HoursU: 30, Value: 0.1}, {Unit: "wobbles", Hours: 180, HoursU: 30, Value: 0.2},
		{Unit: "both", Hours: 1, Left: true, Right: true}, {Unit: "negative", U: -1}, {Unit: "endless", Hours: math.Inf(1)},
	}}
	f := mustFit(t, d, DefaultPrior(500))
	got := map[string]string{}
	for _, s := range f.SetAside {
		got[s.Unit] = s.Reason
	}
	for unit, says := range map[string]string{"nan": "NaN", "below": "-5 hours", "drops": "drop from 200 to 100", "both": "both ends", "negative": "uncertainty", "endless": "Inf"} {
		if !strings.Contains(got[unit], says) {
			t.Errorf("%s: %q, want %q in it", unit, got[unit], says)
		}
	}
	if len(got) != 6 || f.Fittings != 2 || f.Readings != 4 {
		t.Errorf("set aside %v, fittings %d, readings %d", got, f.Fittings, f.Readings)
	}
	for name, p := range map[string]Prior{"no life": {}, "negative life": {ExpectedLife: -1}, "NaN": {ExpectedLife: nan}, "tau": {ExpectedLife: 1, Tau0: -1}, "power": {ExpectedLife: 1, TimePower: 9}} {
		if _, err := FitPenalised(d, p); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

// What plain REML refuses, the penalised fit bears: one reading, equal hours,
// all equal values, zero uncertainty.
func TestPenalisedThinData(t *testing.T) {
	for name, obs := range map[string][]Observation{
		"one reading": {{Unit: "a", Hours: 100, Value: 0.3}},
		"equal hours": {{Unit: "a", Hours: 100, Value: 0.3}, {Unit: "a", Hours: 100, Value: 0.35}, {Unit: "b", Hours: 100, Value: 0.2}},
		"all equal":   {{Unit: "a", Hours: 100, Value: 0.3}, {Unit: "a", Hours: 200, Value: 0.3}, {Unit: "b", Hours: 300, Value: 0.3}},
		"all zero":    {{Unit: "a", Value: 0}, {Unit: "b", Value: 0}},
	} {
		f := mustFit(t, Data{Observations: obs}, DefaultPrior(500))
		p, err := f.Posterior("a")
		if err != nil {
			t.Fatal(name, err)
		}
		h, err := p.HoursLeft(p.LastHours)
		if err != nil || !(h.P05 > 0 && h.P05 < h.P50 && h.P50 < h.P95) || f.SlopeWeight < -1e-12 || f.SlopeWeight >= 1 {
			t.Errorf("%s: %+v %v weight %g", name, h, err, f.SlopeWeight)
		}
	}
}

// Wear made as t^1.5 is found as such (a known truth, seeded).
func TestProfilePower(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 1))
	var d Data
	for i := 0; i < 30; i++ {
		b := math.Pow(500, -1.5) * (1 + 0.2*r.NormFloat64())
		for _, h := range []float64{80, 220, 380} {
			d.Observations = append(d.Observations, Observation{Unit: fmt.Sprint(i), Hours: h, U: 0.02, Value: b*math.Pow(h, 1.5) + 0.02*r.NormFloat64()})
		}
	}
	pp, err := ProfilePower(d, DefaultPrior(500))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "power", pp.Best, 1.5, 0.25)
	if pp.Loss[4] < 4 {
		t.Errorf("a straight line loses only %.2f", pp.Loss[4])
	}
	if _, err := ProfilePower(Data{Observations: d.Observations[:42]}, DefaultPrior(500)); err == nil {
		t.Error("14 fittings were enough")
	}
}
