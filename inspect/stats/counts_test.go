package stats

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// R: poisson.test(k)$conf.int = qchisq(.025,2k)/2, qchisq(.975,2k+2)/2.
func TestGarwood(t *testing.T) {
	for _, c := range []struct {
		k         int
		low, high float64
	}{{0, 0, 3.6888795}, {1, 0.025317808, 5.571643391}, {10, 4.7953887, 18.3903560}} {
		low, high, err := Garwood(c.k, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "low", low, c.low, 5e-8)
		near(t, "high", high, c.high, 5e-8)
	}
	// help page of R poisson.test: poisson.test(137, 24.19893)
	low, high, err := Garwood(137, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "rate low", low/24.19893, 4.75312480, 1e-8)
	near(t, "rate high", high/24.19893, 6.69270933, 1e-8)
	near(t, "rate", 137/24.19893, 5.66140734, 1e-8)
	if p, _ := PoissonP(137, 24.19893); !(p > 0 && p < 2.2e-16) {
		t.Errorf("p %g, want below 2.2e-16", p)
	}
}

// Help page of R poisson.test: c(11, 6+8+7) in c(800, 1083+1050+878); its
// limits are those of the conditional binomial, turned into odds. The central p
// is twice the one-sided p of the same call.
func TestConditionalBinomial(t *testing.T) {
	t1, t2 := 800.0, 1083.0+1050+878
	low, high, err := ClopperPearson(11, 32, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "low", low/(1-low)*t2/t1, 0.858426403, 1e-8)
	near(t, "high", high/(1-high)*t2/t1, 4.277265944, 1e-8)
	p, err := BinomialP(11, 32, t1/(t1+t2))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p", p, 0.1120173196, 1e-9)
}

// Closed forms: no success in n, upper limit 1 - (alpha/2)^(1/n); Poisson mean
// 2: P(0) = exp(-2), P(X <= 1) = 3 exp(-2).
func TestClosedForms(t *testing.T) {
	low, high, _ := ClopperPearson(0, 10, 0.95)
	near(t, "low", low, 0, 0)
	near(t, "high", high, 1-math.Pow(0.025, 0.1), 1e-12)
	low, high, _ = ClopperPearson(10, 10, 0.95)
	near(t, "low", low, math.Pow(0.025, 0.1), 1e-12)
	near(t, "high", high, 1, 0)
	p, _ := PoissonP(0, 2)
	near(t, "p 0", p, 2*math.Exp(-2), 1e-12)
	p, _ = PoissonP(1, 2)
	near(t, "p 1", p, 6*math.Exp(-2), 1e-12)
	p, _ = PoissonP(2, 2)
	near(t, "p 2", p, 1, 0)
}

func TestCountsRefuse(t *testing.T) {
	check := func(name string, err error) {
		if !errors.Is(err, ErrInput) {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, _, err := Garwood(-1, 0.95)
	check("negative count", err)
	_, _, err = Garwood(1, 1)
	check("level 1", err)
	_, err = PoissonP(1, 0)
	check("expected 0", err)
	_, err = PoissonP(1, math.NaN())
	check("expected NaN", err)
	_, _, err = ClopperPearson(3, 2, 0.95)
	check("3 of 2", err)
	_, err = BinomialP(1, 2, 1)
	check("probability 1", err)
	_, err = BenjaminiHochberg([]float64{0.1, math.NaN()})
	check("p NaN", err)
}

// The limits are where the central p reaches 1 - level.
func TestLimitsInvertTests(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(0, 300).Draw(t, "k")
		level := rapid.Float64Range(0.5, 0.999).Draw(t, "level")
		low, high, err := Garwood(k, level)
		if err != nil {
			t.Fatal(err)
		}
		p, err := PoissonP(k, high)
		if err != nil || math.Abs(p-(1-level)) > 1e-8 {
			t.Fatalf("p at the upper limit %g, want %g (%v)", p, 1-level, err)
		}
		if k > 0 {
			if p, _ := PoissonP(k, low); math.Abs(p-(1-level)) > 1e-8 {
				t.Fatalf("p at the lower limit %g, want %g", p, 1-level)
			}
		}
		n := k + rapid.IntRange(1, 300).Draw(t, "more")
		_, share, err := ClopperPearson(k, n, level)
		if err != nil {
			t.Fatal(err)
		}
		if p, _ := BinomialP(k, n, share); math.Abs(p-(1-level)) > 1e-7 {
			t.Fatalf("binomial p at the upper limit %g, want %g", p, 1-level)
		}
	})
}

// Benjamini and Hochberg 1995, section 3 (p values from memory); q from R
// p.adjust(p, "BH").
func TestBenjaminiHochberg(t *testing.T) {
	p := []float64{.0001, .0004, .0019, .0095, .0201, .0278, .0298, .0344, .0459, .3240, .4262, .5719, .6528, .7590, 1}
	want := []float64{.0015, .0030, .0095, .035625, .0603, .0638571429, .0638571429, .0645, .0765, .486, .5811818182, .714875, .7532307692, .8132142857, 1}
	q, err := BenjaminiHochberg(p)
	if err != nil {
		t.Fatal(err)
	}
	called := 0
	for i := range want {
		near(t, "q", q[i], want[i], 1e-10)
		if q[i] <= 0.05 {
			called++
		}
	}
	if called != 4 {
		t.Errorf("%d called at 0.05, the paper has 4", called)
	}
	backwards := make([]float64, len(p))
	for i := range p {
		backwards[len(p)-1-i] = p[i]
	}
	r, _ := BenjaminiHochberg(backwards)
	for i := range q {
		near(t, "q backwards", r[len(p)-1-i], q[i], 0)
	}
	if none, err := BenjaminiHochberg(nil); err != nil || len(none) != 0 {
		t.Errorf("none: %v %v", none, err)
	}
}
