package measure

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestAtmosphere(t *testing.T) {
	for _, r := range rows(t, "isa_geopotential.csv") {
		p, err := AtmosphereAt(number(t, r[0]))
		if err != nil {
			t.Fatal(err)
		}
		near(t, r[0]+" m in Pa", float64(p)*1e5, number(t, r[2]), 0.01)
	}
	h, err := Geopotential(3000)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "geopotential of 3000 m (US Standard Atmosphere 1976, from memory: 2999 m)", h, 2999, 0.5)
	for _, bad := range []float64{math.NaN(), 12000, -2000, math.Inf(1)} {
		if _, err := AtmosphereAt(bad); err == nil {
			t.Errorf("%v m was taken", bad)
		}
	}
}

func TestHoldGasLaw(t *testing.T) {
	for _, c := range []struct {
		name            string
		p1, t1, t2, atm float64
		expected, tol   float64
	}{
		{"OpenStax College Physics ch. 13 problem 22: 1.64e5 Pa", 2.5, 35, -40, 1.01325, 1.64, 0.005},
		{"the same, computed with R at 101325 Pa", 2.5, 35, -40, 1.01325, 1.6449172, 1e-7},
		{"the same, computed with R at 101300 Pa", 2.5, 35, -40, 1.013, 1.6449781, 1e-7},
		{"worked answer, bicycle tyre 658 kPa 20 to 60 °C, computed with 273.15", 6.58, 20, 60, 1.013, 7.616056, 1e-6},
	} {
		r, err := Hold{P1: Exactly(c.p1), P2: Exactly(c.expected), T1: Exactly(c.t1), T2: Exactly(c.t2),
			Hours: Exactly(24), Atm1: AbsoluteBar(c.atm)}.Run()
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name, r.P2Expected, c.expected, c.tol)
		near(t, c.name+": nothing lost", *r.Value, 0, 2*c.tol)
		if r.U != nil || r.Low != nil {
			t.Error("exact inputs have limits")
		}
	}
	// OpenStax example 13.6 (from memory): 7.00e5 Pa absolute, 18 to 35 °C: 7.41e5; computed 740872.4
	r, err := Hold{P1: Exactly(7 - 1.01325), P2: Exactly(6), T1: Exactly(18), T2: Exactly(35), Hours: Exactly(1)}.Run()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "OpenStax 13.6", r.P2Expected+1.01325, 7.408724, 1e-6)
	// 20 to 12 °C at 6 bar: -0.19 bar (common practice, no source)
	r, err = Hold{P1: Exactly(6), P2: Exactly(6), T1: Exactly(20), T2: Exactly(12), Hours: Exactly(1)}.Run()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "drop by cooling", r.P2Expected-6, -0.19, 0.005)
}

// A gauge of u 0.1 bar: half an hour tells ± 6.8 bar a day, 2 h 1.7, 16 h 0.21:
// √2·0.1·24/h (arithmetic).
func TestHoldTooShort(t *testing.T) {
	for _, c := range []struct{ hours, u, tol float64 }{{0.5, 6.8, 0.05}, {2, 1.7, 0.05}, {16, 0.21, 0.005}} {
		r, err := Hold{P1: Known{6, 0.1}, P2: Known{6, 0.1}, T1: Exactly(20), T2: Exactly(20), Hours: Exactly(c.hours)}.Run()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "u per 24 h", *r.U, c.u, c.tol)
		near(t, "u is √2·0.1·24/h", *r.U, math.Sqrt2*0.1*24/c.hours, 1e-9)
		if r.Finding != "too short to tell" {
			t.Errorf("%v h: %s", c.hours, r.Finding)
		}
	}
	r, err := Hold{P1: Known{6, 0.02}, P2: Known{5, 0.02}, T1: Exactly(20), T2: Exactly(20), Hours: Exactly(16)}.Run()
	if err != nil || r.Finding != "leaks" {
		t.Errorf("1 bar overnight: %v, %v", r.Finding, err)
	}
	near(t, "1 bar in 16 h is 1.5 a day (arithmetic)", *r.Value, 1.5, 1e-9)
	r, err = Hold{P1: Known{6, 0.02}, P2: Known{6, 0.02}, T1: Exactly(20), T2: Exactly(20), Hours: Exactly(16)}.Run()
	if err != nil || r.Finding != "holds" {
		t.Errorf("nothing lost: %v, %v", r.Finding, err)
	}
}

func TestReconnect(t *testing.T) {
	p, err := Reconnect(6, 150, 5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "600 kPa, 150 mL, hose 5 mL: 580645.1613 Pa (exact: p V/(V+Vd))", float64(p)*1e5, 580645.1613, 1e-3)
	r, err := Hold{P1: Exactly(6), P2: Exactly(float64(p)), T1: Exactly(20), T2: Exactly(20), Hours: Exactly(16),
		Chamber: Exactly(150), Hose: Exactly(5)}.Run()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "the hose's share is no leak", *r.Value, 0, 1e-12)
	near(t, "what the gauge shows", r.P2Expected, 5.806451613, 1e-9)
}

func TestHoldRefuses(t *testing.T) {
	good := Hold{P1: Exactly(6), P2: Exactly(5.9), T1: Exactly(20), T2: Exactly(20), Hours: Exactly(16)}
	for name, spoil := range map[string]func(h *Hold){
		"no pressure": func(h *Hold) { h.P1.Value = 0 }, "NaN": func(h *Hold) { h.P2.Value = math.NaN() },
		"vacuum": func(h *Hold) { h.P2.Value = -2 }, "no wait": func(h *Hold) { h.Hours.Value = 0 },
		"kelvin for °C": func(h *Hold) { h.T1.Value = 293 }, "hose alone": func(h *Hold) { h.Hose.Value = 5 },
		"bad air": func(h *Hold) { h.Atm1 = AbsoluteBar(math.Inf(1)) }, "u below 0": func(h *Hold) { h.P1.U = -1 },
		"no end of pressure": func(h *Hold) { h.P1.Value = 1e300 },
	} {
		h := good
		spoil(&h)
		if r, err := h.Run(); err == nil {
			t.Errorf("%s was taken: %+v", name, r)
		}
	}
}

func TestPlay(t *testing.T) {
	// 0.10 mm over a span of 130 rocks 0.38 mm at 250 (rock = 2 c D/L, arithmetic)
	s, err := Rock{AtForce: Known{0.384615385, 0.02}, Distance: Exactly(250), Span: Exactly(130)}.Clearance()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "clearance", *s.Value, 0.10, 1e-9)
	near(t, "u = 0.02 L/(2D)", *s.U, 0.02*130/500, 1e-12)
	two := Known{0.9, 0}
	s, err = Rock{AtForce: Exactly(0.6), AtDoubleForce: &two, Distance: Exactly(250), Span: Exactly(130)}.Clearance()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "two forces: (1.2-0.9)·130/500 (arithmetic)", *s.Value, 0.078, 1e-12)
	s, err = BoreClearance(Known{35.08, 0.01}, Known{34.98, 0.002})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "bore - shaft", *s.Value, 0.10, 1e-9)
	near(t, "u", *s.U, math.Hypot(0.01, 0.002), 1e-9)
	if s, err := BoreClearance(Exactly(34.9), Exactly(35)); err != nil || *s.Value >= 0 || !strings.Contains(s.Remarks[1], "too tight") {
		t.Errorf("too tight: %+v, %v", s, err)
	}
	for _, r := range []Rock{{AtForce: Exactly(0.3), Distance: Exactly(60), Span: Exactly(130)},
		{AtForce: Exactly(-0.3), Distance: Exactly(260), Span: Exactly(130)}, {AtForce: Exactly(0.3), Span: Exactly(130)},
		{AtForce: Exactly(0.95), AtDoubleForce: &two, Distance: Exactly(250), Span: Exactly(130)},
		{AtForce: Exactly(math.NaN()), Distance: Exactly(260), Span: Exactly(130)}} {
		if s, err := r.Clearance(); err == nil {
			t.Errorf("%+v was taken: %+v", r, s)
		}
	}
}

// A rigid tube between two edges, done by geometry: the tube's axis may tilt by
// tan a ≈ c/L each way, so the swing at D is 2 D tan a.
func TestRockAgainstGeometry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(0.02, 0.4).Draw(t, "c")
		l := rapid.Float64Range(80, 180).Draw(t, "L")
		d := rapid.Float64Range(l, 3*l).Draw(t, "D")
		// Bore d+c, tube d of 35 mm: it touches at both ends when (35+c) cos a... solved exactly:
		// L sin a + 35 = (35 + c) cos a for the inner edges of a bore of length L.
		lo, hi := 0.0, 0.1
		for range 60 {
			a := (lo + hi) / 2
			if l*math.Sin(a)+35 < (35+c)*math.Cos(a) {
				lo = a
			} else {
				hi = a
			}
		}
		rock := 2 * d * math.Tan(lo)
		s, err := Rock{AtForce: Exactly(rock), Distance: Exactly(d), Span: Exactly(l)}.Clearance()
		if err != nil || math.Abs(*s.Value-c) > 0.002*c {
			t.Fatalf("clearance %v, want %v, %v", *s.Value, c, err)
		}
	})
}

func TestTubeSums(t *testing.T) {
	s, err := RunOutBow(Known{0.08, 0.01})
	if err != nil || *s.Value != 0.04 || math.Abs(*s.U-0.005) > 1e-12 { // half, arithmetic
		t.Errorf("bow %+v, %v", s, err)
	}
	s, err = Parallelism(Exactly(130), Exactly(130.5))
	if err != nil || *s.Value != 0.5 || len(s.Remarks) != 2 {
		t.Errorf("parallelism %+v, %v", s, err)
	}
	if _, err := RunOutBow(Exactly(-1)); err == nil {
		t.Error("a negative run-out was taken")
	}
	if _, err := Parallelism(Exactly(0), Exactly(1)); err == nil {
		t.Error("no distance was taken")
	}
}
