package measure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestConformPublished(t *testing.T) {
	for _, r := range rows(t, "jcgm_conformity.csv") {
		c, err := Conform(number(t, r[1]), number(t, r[2]), limit(t, r[3]), limit(t, r[4]), DefaultLevel)
		if err != nil {
			t.Fatal(err)
		}
		near(t, r[0]+" published", c.PConform, number(t, r[5]), 0.005)
		near(t, r[0]+" computed", c.PConform, number(t, r[6]), 1e-9)
	}
}

func TestConformTails(t *testing.T) {
	// N(10.5, .4) in 9..11: .10574 = .00009 + .10565 and N(12, .4): .99379 (public risk suite)
	c, err := Conform(10.5, 0.4, ptr(9), ptr(11), 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "over", *c.POver, 0.10565, 5e-6)
	near(t, "under", *c.PUnder, 0.00009, 5e-6)
	if c.Decision != Undecided {
		t.Errorf("decision %s", c.Decision)
	}
	c, err = Conform(12, 0.4, ptr(9), ptr(11), 0.95)
	if err != nil || c.Decision != Outside {
		t.Errorf("12 ± .4: %+v, %v", c, err)
	}
	near(t, "1 - p", 1-c.PConform, 0.99379, 5e-6)
	// one-sided z of JCGM 106 table (from memory): .84 1.28 1.64 2.33 3.09
	for _, z := range [][2]float64{{0.80, 0.8416}, {0.90, 1.2816}, {0.95, 1.6449}, {0.99, 2.3263}, {0.999, 3.0902}} {
		w, err := GuardBand(1, z[0])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "z", w, z[1], 5e-5)
	}
}

// Upper limit 40.000, u .004: accept to 40 - 1.65 u = 39.9934, prove over from
// 40.0066 (ISO 14253-1:2017: 1.65 u at 0.95).
func TestGuardBand(t *testing.T) {
	for _, c := range []struct {
		y    float64
		want Decision
	}{{39.9934, Inside}, {39.9936, Undecided}, {40, Undecided}, {40.0064, Undecided}, {40.0066, Outside}} {
		got, err := Conform(c.y, 0.004, nil, ptr(40), DefaultLevel)
		if err != nil || got.Decision != c.want {
			t.Errorf("%v: %s, want %s, %v", c.y, got.Decision, c.want, err)
		}
		if got.PUnder != nil {
			t.Errorf("a lower limit that doesn't exist has a chance %v", *got.PUnder)
		}
	}
}

func TestConformEdges(t *testing.T) {
	c, err := Conform(40, 0, nil, ptr(40), 0.95)
	if err != nil || c.Decision != Inside || c.PConform != 1 {
		t.Errorf("exactly on the limit: %+v, %v", c, err)
	}
	nan := math.NaN()
	for _, f := range []func() (Conformance, error){
		func() (Conformance, error) { return Conform(nan, 1, nil, ptr(1), 0.95) },
		func() (Conformance, error) { return Conform(1, -1, nil, ptr(1), 0.95) },
		func() (Conformance, error) { return Conform(1, 1, nil, nil, 0.95) },
		func() (Conformance, error) { return Conform(1, 1, ptr(2), ptr(1), 0.95) },
		func() (Conformance, error) { return Conform(1, 1, nil, ptr(nan), 0.95) },
		func() (Conformance, error) { return Conform(1, 1, nil, ptr(1), 0.5) },
		func() (Conformance, error) { return Conform(1, 1, nil, ptr(1), 1) },
	} {
		if c, err := f(); err == nil {
			t.Errorf("taken: %+v", c)
		}
	}
}

// Scale and shift change nothing; the chances add up.
func TestConformInvariance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.Float64Range(-5, 5).Draw(t, "y")
		u := rapid.Float64Range(0.01, 2).Draw(t, "u")
		w := rapid.Float64Range(0.1, 4).Draw(t, "w")
		k := rapid.Float64Range(0.1, 50).Draw(t, "k")
		a, err := Conform(y, u, ptr(-w), ptr(w), 0.95)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Conform(k*y+7, k*u, ptr(7-k*w), ptr(7+k*w), 0.95)
		if err != nil || math.Abs(a.PConform-b.PConform) > 1e-9 {
			t.Fatalf("%v and %v, %v", a.PConform, b.PConform, err)
		}
		if s := a.PConform + *a.POver + *a.PUnder; math.Abs(s-1) > 1e-12 {
			t.Fatalf("the chances add to %v", s)
		}
	})
}
