package wear

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// simulateForks makes forks forks with fittings fittings of three readings each
// by the model of FitPenalised, life 500 h, and gives the forks' own rates.
func simulateForks(r *rand.Rand, forks, fittings int, phi float64) (Data, []float64) {
	d, rates := Data{Units: map[string]Unit{}}, []float64(nil)
	for k := 0; k < forks; k++ {
		f := phi * r.NormFloat64()
		rates = append(rates, f)
		for i := 0; i < fittings; i++ {
			u := Unit{ID: fmt.Sprintf("%d.%d", k, i), Fork: fmt.Sprint("fork ", k)}
			d.Units[u.ID] = u
			a, b := 0.05*r.NormFloat64(), 1/500.0+f+0.15/500*r.NormFloat64()
			h := 0.0
			for j := 0; j < 3; j++ {
				h += 60 + 60*r.Float64()
				d.Observations = append(d.Observations, Observation{Unit: u.ID, Hours: h, U: 0.04, Value: a + b*h + math.Hypot(0.04, 0.04)*r.NormFloat64()})
			}
		}
	}
	return d, rates
}

// forkwise is a group with all kinds of members: two and three to a fork,
// alone on one, on an unknown one (two: not one fork), of unknown age.
func forkwise() Data {
	d, _ := simulateForks(rand.New(rand.NewPCG(21, 2)), 12, 2, 0.0006)
	for _, x := range []struct {
		u    Unit
		a, b float64
	}{
		{Unit{ID: "third", Fork: "fork 0"}, 0, 0.003}, {Unit{ID: "alone", Fork: "fork x"}, 0, 0.001},
		{Unit{ID: "stray"}, 0.1, 0.003}, {Unit{ID: "stray too"}, 0.1, 0.001},
		{Unit{ID: "old", Fork: "fork 1", AgeUnknown: true}, 0.4, 0.004}, {Unit{ID: "old too", Fork: "fork 1", AgeUnknown: true}, 0.2, 0.002},
	} {
		d.Units[x.u.ID] = x.u
		for _, h := range []float64{90, 210, 330} {
			d.Observations = append(d.Observations, Observation{Unit: x.u.ID, Hours: h, U: 0.03, Value: x.a + x.b*h})
		}
	}
	return d
}

// joint is the normal of all readings y with the fixed effects, their prior
// included, integrated out: cov its covariance, x its design (level, time).
type joint struct {
	cov, x, p0 *mat.Dense
	resid      *mat.VecDense
	g          [3]float64 // var a, cov(a, s), var s
	phi2       float64
	data       Data
}

// denseForks builds the model by its definition, entry by entry.
func denseForks(d Data, f Fit) joint {
	n := len(d.Observations)
	j := joint{cov: mat.NewDense(n, n, nil), x: mat.NewDense(n, 2, nil), resid: mat.NewVecDense(n, nil), data: d,
		p0: mat.NewDense(2, 2, []float64{0.05 * 0.05, 0, 0, 0.25 / 250000}), phi2: f.SDFork * f.SDFork,
		g: [3]float64{f.SDIntercept * f.SDIntercept, f.Correlation * f.SDIntercept * f.SDSlope, f.SDSlope * f.SDSlope}}
	for i, o := range d.Observations {
		level, start, mean := 1.0, 0.0, 0.0
		if d.Units[o.Unit].AgeUnknown {
			level, start, mean = 0, 90, 0.5
		}
		j.x.SetRow(i, []float64{level, o.Hours - start})
		j.resid.SetVec(i, o.Value-mean-(o.Hours-start)/500)
	}
	for i := range d.Observations {
		for k := range d.Observations {
			v := j.with(i, d.Observations[k].Unit, j.x.At(k, 0), j.x.At(k, 1))
			if i == k {
				v += f.SDResidual*f.SDResidual + d.Observations[i].U*d.Observations[i].U
			}
			j.cov.Set(i, k, v)
		}
	}
	return j
}

// with is the covariance of reading i's latent wear with level*(group's level)
// + z*(own slope) + (own departure from the level) of a unit.
func (j joint) with(i int, unit string, level, z float64) float64 {
	o, u := j.data.Observations[i], j.data.Units[unit]
	v := j.p0.At(0, 0)*j.x.At(i, 0)*level + j.p0.At(1, 1)*j.x.At(i, 1)*z
	mine := j.data.Units[o.Unit]
	if mine.Fork != "" && mine.Fork == u.Fork || o.Unit == unit {
		v += j.phi2 * j.x.At(i, 1) * z
	}
	if o.Unit == unit {
		g := j.g
		if u.AgeUnknown {
			g = [3]float64{1, 0, j.g[2]}
		}
		v += g[0] + g[1]*(j.x.At(i, 1)+z) + g[2]*j.x.At(i, 1)*z
	}
	return v
}

// line conditions the latent wear of one unit at its z = 0 and z = 1 on y.
func (j joint) line(t *testing.T, unit string) (mu [2]float64, s sym2) {
	n := j.resid.Len()
	level := 1.0
	if j.data.Units[unit].AgeUnknown {
		level = 0
	}
	w0, w1 := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i := 0; i < n; i++ {
		w0.SetVec(i, j.with(i, unit, level, 0))
		w1.SetVec(i, j.with(i, unit, level, 1)-w0.AtVec(i))
	}
	var r, v0, v1 mat.VecDense
	for _, e := range []error{r.SolveVec(j.cov, j.resid), v0.SolveVec(j.cov, w0), v1.SolveVec(j.cov, w1)} {
		if e != nil {
			t.Fatal(e)
		}
	}
	mu = [2]float64{mat.Dot(w0, &r) + 0.5*(1-level), 1/500.0 + mat.Dot(w1, &r)}
	prior := sym2{level*j.p0.At(0, 0) + j.g[0], j.g[1], j.p0.At(1, 1) + j.g[2] + j.phi2}
	if level == 0 {
		prior.a, prior.b = 1, 0
	}
	return mu, prior.add(sym2{-mat.Dot(w0, &v0), -mat.Dot(w0, &v1), -mat.Dot(w1, &v1)})
}

// Posterior, PosteriorOf and the criterion against the joint normal with full
// matrices (the model's definition), to 1e-6 of each figure.
func TestForksAgainstFullMatrices(t *testing.T) {
	d := forkwise()
	f := mustFit(t, d, DefaultPrior(500))
	if f.Forks != 12 || !(f.SDFork > 0) {
		t.Fatalf("%d forks, sd %g", f.Forks, f.SDFork)
	}
	same := func(what string, got, want, scale float64) { t.Helper(); near(t, what, got/scale, want/scale, 1e-6) }
	j := denseForks(d, f)
	check := func(name string, p Posterior, j joint, unit string) {
		t.Helper()
		mu, s := j.line(t, unit)
		same(name+" A", p.Mu[0], mu[0], 0.1)
		same(name+" B", p.Mu[1], mu[1], mu[1])
		same(name+" SAA", p.S[0][0], s.a, s.a)
		same(name+" SAB", p.S[0][1], s.b, math.Sqrt(s.a*s.d))
		same(name+" SBB", p.S[1][1], s.d, s.d)
	}
	for _, id := range []string{"0.0", "third", "alone", "stray", "old", "5.1"} {
		p, err := f.Posterior(id)
		if err != nil {
			t.Fatal(err)
		}
		check("Posterior "+id, p, j, id)
		var own []Observation
		for _, o := range d.Observations {
			if o.Unit == id {
				own = append(own, o)
			}
		}
		q, err := f.PosteriorOf(d.Units[id], own)
		if err != nil {
			t.Fatal(err)
		}
		check("PosteriorOf "+id, q, j, id)
	}
	// A fitting that the fit never saw, on a fork it knows, before any reading.
	d.Units["new"] = Unit{ID: "new", Fork: "fork 3"}
	p, err := f.PosteriorOf(d.Units["new"], nil)
	if err != nil {
		t.Fatal(err)
	}
	check("new on fork 3", p, j, "new")
	// The likelihood: -2 log N(resid; 0, cov).
	var chol mat.Cholesky
	n := j.resid.Len()
	sym := mat.NewSymDense(n, nil)
	for i := 0; i < n; i++ {
		for k := i; k < n; k++ {
			sym.SetSym(i, k, j.cov.At(i, k))
		}
	}
	if !chol.Factorize(sym) {
		t.Fatal("not positive definite")
	}
	var vr mat.VecDense
	if err := chol.SolveVecTo(&vr, j.resid); err != nil {
		t.Fatal(err)
	}
	fixed := f.Prior.fixed()
	want := chol.LogDet() + mat.Dot(j.resid, &vr) + float64(n)*math.Log(2*math.Pi)
	near(t, "-2 log likelihood", f.g.penalised(f.par, fixed, nil), want, 1e-6)
}

// A known truth (seeded): forks that differ by phi are found to, within 20 %;
// forks that do not differ are found to differ by little.
func TestForksRecovered(t *testing.T) {
	for _, phi := range []float64{0.0004, 0.0008} {
		d, rates := simulateForks(rand.New(rand.NewPCG(31, 4)), 100, 3, phi)
		sample := 0.0
		for _, f := range rates {
			sample += f * f / float64(len(rates))
		}
		f := mustFit(t, d, DefaultPrior(500))
		t.Logf("phi %g (drawn %.6f): found %.6f, sd of fittings %.6f (true 0.0003)", phi, math.Sqrt(sample), f.SDFork, f.SDSlope)
		near(t, "sd of forks", f.SDFork/phi, 1, 0.2)
		near(t, "sd of fittings", f.SDSlope*500/0.15, 1, 0.3)
		if !f.Converged {
			t.Error("not converged")
		}
	}
	d, _ := simulateForks(rand.New(rand.NewPCG(32, 4)), 100, 3, 0)
	if f := mustFit(t, d, DefaultPrior(500)); f.SDFork > 0.0002 {
		t.Errorf("equal forks are said to differ by %g", f.SDFork)
	}
}

// The second fitting of a fork whose first wore fast starts faster than the
// group, and foretells its true rate better than the group's mean does.
func TestSecondFittingKnowsItsFork(t *testing.T) {
	d, rates := simulateForks(rand.New(rand.NewPCG(33, 4)), 60, 2, 0.0007)
	fast := Unit{ID: "first", Fork: "fast"}
	d.Units[fast.ID] = fast
	for _, h := range []float64{100, 200, 300} {
		d.Observations = append(d.Observations, Observation{Unit: fast.ID, Hours: h, U: 0.04, Value: 0.004 * h})
	}
	f := mustFit(t, d, DefaultPrior(500))
	p, err := f.PosteriorOf(Unit{ID: "second", Fork: "fast"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	other, _ := f.PosteriorOf(Unit{ID: "second", Fork: "elsewhere"}, nil)
	if p.Mu[1] < f.Slope.Value+0.0005 || !(p.S[1][1] < other.S[1][1]) {
		t.Errorf("second on a fast fork %g ± %g, group %g ± %g", p.Mu[1], math.Sqrt(p.S[1][1]), f.Slope.Value, math.Sqrt(other.S[1][1]))
	}
	near(t, "on a new fork", other.Mu[1], f.Slope.Value, 1e-12)
	fork, mean := 0.0, 0.0
	for k, r := range rates {
		p, _ := f.PosteriorOf(Unit{ID: "next", Fork: fmt.Sprint("fork ", k)}, nil)
		fork += math.Pow(p.Mu[1]-1/500.0-r, 2)
		mean += math.Pow(f.Slope.Value-1/500.0-r, 2)
	}
	t.Logf("second on a fast fork %.5f, group %.5f; squared miss by fork %.2f of that by group", p.Mu[1], f.Slope.Value, fork/mean)
	if fork > 0.6*mean {
		t.Errorf("squared miss %.3f of the group's", fork/mean)
	}
	if !strings.Contains(f.Told("h"), "the fork's own rate counts, for 60 forks") {
		t.Error(f.Told("h"))
	}
}

// Below ten such forks all is as if no fork were known, to the last bit; a
// fitting without a reading that can be used does not make a fork count.
func TestTooFewForksChangeNothing(t *testing.T) {
	d, _ := simulateForks(rand.New(rand.NewPCG(34, 4)), 9, 2, 0.0007)
	d.Units["bad"], d.Units["one"] = Unit{ID: "bad", Fork: "tenth"}, Unit{ID: "one", Fork: "tenth"}
	d.Observations = append(d.Observations, Observation{Unit: "one", Hours: 100, Value: 0.2, U: 0.1}, Observation{Unit: "bad", Hours: -1})
	plain := Data{Observations: d.Observations}
	a, b := mustFit(t, d, DefaultPrior(500)), mustFit(t, plain, DefaultPrior(500))
	if a.Forks != 9 || a.SDFork != 0 || a.Criterion != b.Criterion || a.Slope != b.Slope || a.Intercept != b.Intercept ||
		a.SDSlope != b.SDSlope || a.SDResidual != b.SDResidual || !reflect.DeepEqual(a.Units, b.Units) || a.Told("h") != b.Told("h") {
		t.Errorf("with forks %+v\nwithout %+v", a, b)
	}
	obs := []Observation{{Hours: 120, Value: 0.3, U: 0.05}}
	for _, u := range []Unit{{ID: "0.0", Fork: "fork 0"}, {ID: "new", Fork: "fork 0"}} {
		p, err := a.PosteriorOf(u, obs)
		q, err2 := b.PosteriorOf(Unit{ID: u.ID}, obs)
		if p != q || err != nil || err2 != nil {
			t.Errorf("%s: %+v, without forks %+v (%v, %v)", u.ID, p, q, err, err2)
		}
	}
	d.Observations[len(d.Observations)-1].Hours = 50
	if f := mustFit(t, d, DefaultPrior(500)); f.Forks != 10 || f.SDFork == 0 {
		t.Errorf("the tenth fork: %d, sd %g", f.Forks, f.SDFork)
	}
	r, err := FitREML(Data{Observations: plain.Observations[:54], Units: d.Units}, Line)
	if err != nil || r.SDFork != 0 {
		t.Errorf("plain REML has a fork's rate: %g %v", r.SDFork, err)
	}
}

// Ends of a grading scale and uncertain hours on forks with rates of their own:
// the stand-ins of the fit and the readings taken in anew say the same, to what
// the fit's repetition leaves open (1e-4 of a reading's variance).
func TestForksWithCensoredGrades(t *testing.T) {
	d := forkwise()
	for i := range d.Observations {
		o := &d.Observations[i]
		o.HoursU = 5
		if o.Unit == "0.0" || o.Unit == "7.1" {
			o.Left = o.Value < 0.3
		}
	}
	f := mustFit(t, d, DefaultPrior(500))
	for _, id := range []string{"0.0", "7.1"} {
		var own []Observation
		for _, o := range d.Observations {
			if o.Unit == id {
				own = append(own, o)
			}
		}
		p, err := f.Posterior(id)
		q, err2 := f.PosteriorOf(d.Units[id], own)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		near(t, id+" B", q.Mu[1]/p.Mu[1], 1, 1e-3)
		near(t, id+" SBB", q.S[1][1]/p.S[1][1], 1, 1e-3)
	}
}

// 90 % is said of the rate of a fitting not yet read, on a fork whose two
// others were: the share of true rates within mean +- 1.645 sd, over 60 groups
// of 20 forks (seeded; the standard error of the share is about 0.01).
func TestForksCoverage(t *testing.T) {
	r, in, n := rand.New(rand.NewPCG(35, 4)), 0, 0
	for run := 0; run < 60; run++ {
		d, rates := simulateForks(r, 20, 2, 0.0006)
		f := mustFit(t, d, DefaultPrior(500))
		for k, rate := range rates {
			p, err := f.PosteriorOf(Unit{ID: "next", Fork: fmt.Sprint("fork ", k)}, nil)
			if err != nil {
				t.Fatal(err)
			}
			b := 1/500.0 + rate + 0.15/500*r.NormFloat64()
			if math.Abs(b-p.Mu[1]) < 1.6448536*math.Sqrt(p.S[1][1]) {
				in++
			}
			n++
		}
	}
	share := float64(in) / float64(n)
	t.Logf("share of true rates in the 90 %% range: %.3f", share)
	if share < 0.86 || share > 0.95 {
		t.Errorf("the 90 %% range holds %.3f", share)
	}
}
