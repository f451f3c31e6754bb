package measure

import (
	"encoding/json"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestFluid(t *testing.T) {
	// 20 mL in, 75 % ± 12 % back: 15 ± 2.4 mL (arithmetic)
	r, err := Bath{In: Exactly(20), Out: Exactly(14)}.Balance()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "missing", *r.Value, 1, 1e-12)
	near(t, "u", *r.U, 2.4, 1e-9)
	for _, c := range []struct {
		in, out float64
		want    string
	}{{20, 14, "as expected"}, {20, 24, "gained"}, {20, 23, "more than usual"}, {20, 5, "lost"}, {20, 11, "as expected"}} {
		r, err := Bath{In: Exactly(c.in), Out: Exactly(c.out)}.Balance()
		if err != nil || r.Finding != c.want { // more than 3 mL over the fill, or beyond 2u: common practice
			t.Errorf("%v in, %v out: %s, want %s, %v", c.in, c.out, r.Finding, c.want, err)
		}
	}
	r, err = Bath{In: Known{20, 0.5}, Out: Known{14, 1}}.Balance()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "u² = (0.75·0.5)² + 1² + (20·0.12)² (JCGM 100, eq. 10)", *r.U, math.Sqrt(0.375*0.375+1+2.4*2.4), 1e-9)
	for _, b := range []Bath{{In: Exactly(0)}, {In: Exactly(20), Out: Exactly(-1)}, {In: Exactly(20), Recovery: Exactly(1.2)}, {In: Exactly(math.Inf(1))}} {
		if r, err := b.Balance(); err == nil {
			t.Errorf("%+v was taken: %+v", b, r)
		}
	}
}

func TestRubber(t *testing.T) {
	s, err := CompressionSet(Exactly(6.30), Exactly(5.92), Exactly(4.725))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "set, 100·0.38/1.575 (arithmetic)", *s.Value, 24.12698, 5e-6)
	rapid.Check(t, func(t *rapid.T) { // inches or mm give the same set, and u the same
		k := rapid.Float64Range(0.01, 100).Draw(t, "k")
		h1 := rapid.Float64Range(4.725, 6.3).Draw(t, "h1")
		a, errA := CompressionSet(Known{6.3, 0.02}, Known{h1, 0.02}, Known{4.725, 0.02})
		b, errB := CompressionSet(Known{k * 6.3, k * 0.02}, Known{k * h1, k * 0.02}, Known{k * 4.725, k * 0.02})
		if errA != nil || errB != nil || math.Abs(*a.Value-*b.Value) > 1e-8 || math.Abs(*a.U-*b.U) > 1e-8 {
			t.Fatalf("%v %v, %v %v", a, b, errA, errB)
		}
	})
	// a calliper of ±0.03 on a 3.53 ring squeezed by 25 %: 2u of several points (common practice: ±7 or more at ±0.05)
	w, err := CompressionSet(Within(3.53, 0.05), Within(3.3, 0.05), Within(2.65, 0.05))
	if err != nil || 2**w.U < 7 {
		t.Errorf("u %v, %v", w.U, err)
	}
	if _, err := CompressionSet(Exactly(5), Exactly(4), Exactly(5)); err == nil {
		t.Error("no squeeze was taken")
	}
	for _, c := range []struct{ inch, mm, tol float64 }{ // AS568: 0.070±.003, 0.103±.003, 0.139±.004, 0.210±.005, 0.275±.006 in
		{0.070, 1.78, 0.003}, {0.103, 2.62, 0.003}, {0.139, 3.53, 0.004}, {0.210, 5.33, 0.005}, {0.275, 6.99, 0.006}} {
		got, err := SectionOf(Known{c.inch * 25.4, 0.01})
		if err != nil || got.Diameter != c.mm {
			t.Errorf("%v in: %+v, %v", c.inch, got, err)
		}
		near(t, "tolerance", got.Tolerance, c.tol*25.4, 0.005)
	}
	if s, err := SectionOf(Exactly(3)); err == nil {
		t.Errorf("3 mm is %v", s)
	}
}

func TestRust(t *testing.T) {
	// pictures Ri 0 .. 5: 0, 0.05, 0.5, 1, 8, 40 % (ISO 4628-3 table, also ASTM D610 correlation)
	for g, a := range []float64{0, 0.05, 0.5, 1, 8, 40} {
		for _, rule := range []GradeRule{UpperLimit, NearestLog} {
			if got, err := RustGrade(a, rule); err != nil || got != g {
				t.Errorf("%v %% by %s: %d, want %d, %v", a, rule, got, g, err)
			}
		}
	}
	// between pictures the rules differ: 2 % is above Ri 3, and log-nearer to 1 than to 8
	if up, _ := RustGrade(2, UpperLimit); up != 4 {
		t.Errorf("upper limit: %d", up)
	}
	if near, _ := RustGrade(2, NearestLog); near != 3 {
		t.Errorf("nearest: %d", near)
	}
	s, err := Rust(Known{10, 2}, Exactly(1000), UpperLimit)
	if err != nil || *s.Value != 3 || *s.Low != 3 || *s.High != 4 { // 1 ± 0.4 %
		t.Errorf("%+v, %v", s, err)
	}
	for _, bad := range []float64{-1, 101, math.NaN()} {
		if _, err := RustGrade(bad, UpperLimit); err == nil {
			t.Errorf("%v %% was taken", bad)
		}
	}
	if _, err := RustGrade(1, "by eye"); err == nil {
		t.Error("an unknown rule was taken")
	}
}

func TestTravelAndSag(t *testing.T) {
	s, err := TravelFromSpacers(Exactly(180), 2, Exactly(float64(SpacerStep)))
	if err != nil || *s.Value != 160 { // 180 mm with two of 10 mm is 160 mm: common practice, no source
		t.Errorf("%+v, %v", s, err)
	}
	if s, err = TravelFromTube(Exactly(170), Exactly(9)); err != nil || *s.Value != 161 {
		t.Errorf("%+v, %v", s, err)
	}
	if s, err = Sag(Within(32, 2), Exactly(160)); err != nil || math.Abs(*s.Value-20) > 1e-12 {
		t.Errorf("%+v, %v", s, err)
	}
	near(t, "u = 100·2/√3/160 (JCGM 100, 4.3.7)", *s.U, 0.7216878, 1e-6)
	if _, err := TravelFromSpacers(Exactly(50), 5, Exactly(10)); err == nil {
		t.Error("no travel left was taken")
	}
	if _, err := TravelFromTube(Exactly(100), Exactly(100)); err == nil {
		t.Error("no stroke was taken")
	}
	if _, err := Sag(Exactly(200), Exactly(160)); err == nil {
		t.Error("sag beyond travel was taken")
	}
}

// Whatever goes in, a sum is refused or can be written as JSON.
func TestSumsNeverNaN(t *testing.T) {
	odd := []float64{0, -1, 1, 1e-300, 1e300, 5e-324, math.MaxFloat64, math.NaN(), math.Inf(1), math.Inf(-1), 6, 20, 35}
	rapid.Check(t, func(t *rapid.T) {
		k := func() Known {
			return Known{rapid.SampledFrom(odd).Draw(t, "x"), rapid.SampledFrom(odd).Draw(t, "u")}
		}
		try := func(name string, v any, err error) {
			if err != nil {
				return
			}
			if _, err := json.Marshal(v); err != nil {
				t.Fatalf("%s: %v: %+v", name, err, v)
			}
		}
		h, err := Hold{P1: k(), P2: k(), T1: k(), T2: k(), Hours: k(), Chamber: k(), Hose: k()}.Run()
		try("hold", h, err)
		two := k()
		p, err := Rock{AtForce: k(), Distance: k(), Span: k(), AtDoubleForce: &two}.Clearance()
		try("rock", p, err)
		p, err = BoreClearance(k(), k())
		try("bore", p, err)
		f, err := Bath{In: k(), Out: k(), Recovery: k()}.Balance()
		try("fluid", f, err)
		p, err = CompressionSet(k(), k(), k())
		try("set", p, err)
		p, err = Rust(k(), k(), NearestLog)
		try("rust", p, err)
		p, err = Sag(k(), k())
		try("sag", p, err)
		p, err = TravelFromSpacers(k(), 1, k())
		try("travel", p, err)
		lo, hi := rapid.SampledFrom(odd).Draw(t, "lo"), rapid.SampledFrom(odd).Draw(t, "hi")
		y := k()
		c, err := Conform(y.Value, y.U, &lo, &hi, 0.95)
		try("conform", c, err)
		fresh := k()
		d, err := Diameters([]Spot{{0, 0, k().Value}, {0, 90, 35}}, Gauge{"g", k().U, k().U}, 0.02, &fresh)
		try("diameters", d, err)
	})
}
