package measure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// endGauge is JCGM 100:2008, H.1: a 50 mm end gauge by comparison, lengths in nm.
// l = ls + d - ls(dalpha theta + alpha dtheta); the products come from theta and
// alpha at their best estimates -0.1 °C (arcsine ±0.5 and u 0.2) and 11.5e-6.
func endGauge(t *testing.T) Budget {
	const ls, alpha, theta = 50000623.0, 11.5e-6, -0.1
	rect := func(half float64) float64 {
		u, err := RectangularU(half)
		if err != nil {
			t.Fatal(err)
		}
		return u
	}
	b, err := Combine([]Term{
		{"ls", 25, 1, 18}, {"d repeat", 5.8, 1, 24}, {"d random", 3.9, 1, 5}, {"d systematic", 6.7, 1, 8},
		{"dalpha", rect(1e-6), -ls * theta, 50}, {"dtheta", rect(0.05), -ls * alpha, 2},
	})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestEndGauge(t *testing.T) {
	b := endGauge(t)
	near(t, "u (JCGM 100 H.1: 32 nm; computed 31.66388 with scipy)", b.U, 31.66388, 1e-4)
	near(t, "dof (JCGM 100 H.1: 16 after cutting; computed 16.752)", b.DoF, 16.752, 1e-3)
	near(t, "whole dof (JCGM 100 H.1)", math.Floor(b.DoF), 16, 0)
	k, err := Coverage(0.99, math.Floor(b.DoF))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "t(.995, 16) (JCGM 100 table G.2: 2.92; R qt(.995,16))", k, 2.92078, 1e-5)
	near(t, "U99 in nm (JCGM 100 H.1: 93, from memory; 92 to 94 accepted)", k*b.U, 93, 1)
	d, err := Combine([]Term{{"repeat", 5.8, 1, 24}, {"random", 3.9, 1, 5}, {"systematic", 6.7, 1, 8}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "u(d) (JCGM 100 H.1.3.2: 9.7)", d.U, 9.7, 0.05)
	near(t, "dof of d (JCGM 100 H.1.6: 25.6)", d.DoF, 25.6, 0.2)
	th, err := ArcsineU(0.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "u of the swing (JCGM 100 H.1.3.5: 0.35)", th, 0.35, 0.005)
}

func TestReading(t *testing.T) {
	// mean and s/√n by hand: 34.98 34.99 35.00: mean 34.99, s 0.01
	e, err := Reading([]float64{34.98, 34.99, 35.00}, 0.001, 0.004)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", e.Value, 34.99, 1e-12)
	near(t, "scatter = 0.01/√3", e.Scatter, 0.0057735, 1e-7)
	near(t, "common = √(0.0005²+0.004²)/√3", e.Common, 0.0023274, 1e-7)
	near(t, "dof = 2 (u/scatter)⁴", e.DoF, 2*math.Pow(e.U/e.Scatter, 4), 1e-9)
	one, err := Reading([]float64{35}, 0.01, 0.03)
	if err != nil || one.Scatter != 0 || !math.IsInf(one.DoF, 1) {
		t.Errorf("a single reading: %+v, %v", one, err)
	}
	for _, bad := range [][]float64{nil, {math.NaN()}, {1, math.Inf(1)}, {1e308, -1e308, 1e308}} {
		if _, err := Reading(bad, 0.01, 0.03); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
	if _, err := Reading([]float64{1}, -1, 0); err == nil {
		t.Error("a negative resolution was taken")
	}
}

// Repeats never shrink the calibration: u stays above it however many there are.
func TestCalibrationStays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := rapid.SliceOfN(rapid.Float64Range(34, 36), 1, 50).Draw(t, "xs")
		e, err := Reading(xs, 0.01, 0.03)
		if err != nil {
			t.Fatal(err)
		}
		if e.U < 0.03/math.Sqrt(3) {
			t.Fatalf("u %v below the calibration's", e.U)
		}
	})
}

// Propagate must agree with the closed form for a product: relative u's in quadrature.
func TestPropagateScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(1, 100).Draw(t, "a")
		b := rapid.Float64Range(1, 100).Draw(t, "b")
		ua := rapid.Float64Range(0.001, 0.1).Draw(t, "ua")
		ub := rapid.Float64Range(0.001, 0.1).Draw(t, "ub")
		k := rapid.Float64Range(0.1, 10).Draw(t, "k")
		f := func(x []float64) float64 { return x[0] * x[1] }
		_, one, err := Propagate([]Input{{"a", a, "", &ua}, {"b", b, "", &ub}}, f)
		if err != nil {
			t.Fatal(err)
		}
		want := math.Hypot(b*ua, a*ub) // JCGM 100, 5.1.2 for y = a b
		if math.Abs(one.U-want) > 1e-7*want {
			t.Fatalf("u %v, want %v", one.U, want)
		}
		kua := k * ua
		_, two, err := Propagate([]Input{{"a", k * a, "", &kua}, {"b", b, "", &ub}}, f)
		if err != nil || math.Abs(two.U-k*one.U) > 1e-7*two.U {
			t.Fatalf("another unit gives u %v, want %v, %v", two.U, k*one.U, err)
		}
	})
}

func TestUncertaintyRefuses(t *testing.T) {
	nan := math.NaN()
	if _, err := RectangularU(-1); err == nil {
		t.Error("half-width -1")
	}
	if _, err := ArcsineU(nan); err == nil {
		t.Error("half-width NaN")
	}
	if _, _, _, err := StandardError([]float64{1}); err == nil {
		t.Error("one repeat has a scatter")
	}
	for _, term := range []Term{{U: nan}, {U: -1, Sens: 1}, {U: 1, Sens: math.Inf(1)}, {U: 1, Sens: 1, DoF: -2}} {
		if _, err := Combine([]Term{term}); err == nil {
			t.Errorf("%+v was taken", term)
		}
	}
	for _, l := range []float64{0, 1, nan, -3} {
		if _, err := Coverage(l, 5); err == nil {
			t.Errorf("level %v was taken", l)
		}
	}
	if _, _, err := Propagate([]Input{{Name: "x", Value: 0}}, func(x []float64) float64 { return 1 / x[0] }); err == nil {
		t.Error("1/0 was taken")
	}
}
