package wear

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// By the definition with sorted p .005 .01 .03 .04 times 4 3 2 1, running
// maximum; R p.adjust(c(.01,.04,.03,.005), "holm") gives the same (from memory).
func TestHolm(t *testing.T) {
	got, err := Holm([]float64{0.01, 0.04, 0.03, 0.005})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0.03, 0.06, 0.06, 0.02} {
		near(t, fmt.Sprint("p", i), got[i], want, 1e-12)
	}
	if g, err := Holm([]float64{0.9, 0.8}); err != nil || g[0] != 1 || g[1] != 1 {
		t.Errorf("%v %v", g, err)
	}
	if g, err := Holm(nil); err != nil || len(g) != 0 {
		t.Errorf("nothing: %v %v", g, err)
	}
	for _, bad := range []float64{math.NaN(), -0.1, 1.1} {
		if _, err := Holm([]float64{bad}); err == nil {
			t.Errorf("%g accepted", bad)
		}
	}
}

// Where nothing runs faster, p is uniform enough: 5 % below 0.05. A fitting
// that wears at twice its rate since the last reading is found.
func TestFaster(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 1))
	alarms, found, n := 0, 0, 0
	for run := 0; run < 60; run++ {
		s := simulate(r, 15, 3, 0)
		f := mustFit(t, s.data, DefaultPrior(500))
		for i := range s.a {
			obs := append([]Observation(nil), s.data.Observations[3*i:3*i+3]...)
			n++
			d, err := f.Faster(Unit{ID: fmt.Sprint(i)}, obs)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "z", d.Z, (obs[2].Value-d.Expected)/d.SD, 1e-12)
			if d.P < 0.05 {
				alarms++
			}
			obs[2].Value += 0.4
			if d, _ = f.Faster(Unit{ID: fmt.Sprint(i)}, obs); d.P < 0.05 {
				found++
			}
		}
	}
	t.Logf("alarms %.3f, found %.3f", float64(alarms)/float64(n), float64(found)/float64(n))
	if a := float64(alarms) / float64(n); a < 0.025 || a > 0.075 {
		t.Errorf("false alarms %.3f where 0.05 was said", a)
	}
	if float64(found)/float64(n) < 0.9 {
		t.Errorf("found %d of %d", found, n)
	}
}

func TestFasterRefusals(t *testing.T) {
	f := mustFit(t, Data{}, DefaultPrior(500))
	u := Unit{ID: "a"}
	for name, obs := range map[string][]Observation{
		"none": nil, "NaN": {{Hours: 1, Value: math.NaN()}}, "censored": {{Hours: 1, Left: true}},
		"other unit": {{Unit: "b", Hours: 1}, {Unit: "a", Hours: 2}}, "earlier faulty": {{Hours: -1}, {Hours: 2}},
	} {
		if _, err := f.Faster(u, obs); err == nil {
			t.Errorf("%s accepted", name)
		}
	}
	if _, err := (Fit{}).Posterior("a"); err == nil {
		t.Error("an empty fit gave a trend")
	}
	if d, err := f.Faster(u, []Observation{{Hours: 100, Value: 0.2}}); err != nil || d.Earlier != 0 || math.Abs(d.Z) > 1e-9 {
		t.Errorf("a first reading as the sheet foretells: %+v %v", d, err)
	}
}

func TestPOver(t *testing.T) {
	// JCGM 106 example values are those of the normal tail: 1 - Phi(1.4) = 0.0808
	// (C1, 1 - 0.9192433408).
	p, err := POver(0.986, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tail", p, 1-0.9192433408, 1e-9)
	if p, _ := POver(1, 0); p != 1 {
		t.Errorf("at the limit without doubt: %g", p)
	}
	if p, _ := POver(0.999, 0); p != 0 {
		t.Errorf("below the limit without doubt: %g", p)
	}
	if _, err := POver(1, -1); err == nil {
		t.Error("negative uncertainty accepted")
	}
}
