package scale

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestLongFirst: a card tilted about its short side until that looks as long as
// the long one is refused, unless it is known which side is long; what is
// measured then is what was projected (bench, simulate_test.go).
func TestLongFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := newBench(rapid.Float64Range(250, 400).Draw(t, "distance"), rapid.Float64Range(48, 55).Draw(t, "tilt")*degree,
			rapid.Float64Range(-8, 8).Draw(t, "side")*degree, rapid.Float64Range(-30, 30).Draw(t, "roll")*degree, 18)
		flat := func(x, y float64) Point { return b.project(vec{x, y, -18}) } // the card's plane
		s := Scene{Camera: b.camera, Card: b.card(), LongFirst: true}
		line := []Point{flat(-20, 3), flat(-8, 12)} // 12 along, 9 across: 15 mm
		m, err := s.Length(line, DefaultUncertainty())
		if err != nil || !near(m.Value, 15, 1e-6) {
			t.Fatalf("%+v %v", m, err)
		}
		c := s.Card
		ratio := (c[0].distance(c[1]) + c[2].distance(c[3])) / (c[1].distance(c[2]) + c[3].distance(c[0]))
		s.LongFirst = false
		if _, err := s.Length(line, DefaultUncertainty()); ratio < 1.11 && ratio > 1/1.11 && err == nil {
			t.Fatalf("sides of %v to one are told apart", ratio)
		}
	})
	if _, err := NewPlaneLongFirst([]Point{{0, 0}, {400, 0}, {0, 250}, {400, 250}}); err == nil {
		t.Error("crossing corners are taken")
	}
	if p, err := NewPlaneLongFirst([]Point{{0, 0}, {300, 0}, {300, 400}, {0, 400}}); err != nil || p.Portrait {
		t.Errorf("%+v %v", p, err)
	}
}

// TestPrintFactor: a card printed at 97 % makes a length 0.97 and an area
// 0.97^2 of what the same marks give for a true card (plane geometry), and says
// so; the tube needs no card and stays as it is.
func TestPrintFactor(t *testing.T) {
	true1 := Scene{Card: sampleCard}
	small := Scene{Card: sampleCard, PrintFactor: 0.97}
	u, line, ring := DefaultUncertainty(), []Point{{700, 500}, {1500, 900}}, []Point{{700, 500}, {900, 500}, {900, 700}, {700, 700}}
	l1, _ := true1.Length(line, u)
	l2, err := small.Length(line, u)
	if err != nil || !near(l2.Value, 0.97*l1.Value, 1e-9) || !strings.Contains(strings.Join(l2.Remarks, " "), "97.0 %") || strings.Contains(strings.Join(l1.Remarks, " "), "97") {
		t.Errorf("%+v %v, %v before", l2, err, l1.Value)
	}
	a1, _ := true1.Area(ring, u)
	if a2, err := small.Area(ring, u); err != nil || !near(a2.Value, 0.97*0.97*a1.Value, 1e-9) {
		t.Errorf("%+v %v, %v before", a2, err, a1.Value)
	}
	b := newBench(300, 0.1, 0, 0, 18)
	tube := Scene{Camera: b.camera, Tube: &Tube{36, b.edges()}, PrintFactor: 0.9}
	if m, err := tube.Length([]Point{b.onTube(0, 0), b.onTube(10, 0)}, u); err != nil || !near(m.Value, 10, 1e-6) {
		t.Errorf("%+v %v", m, err)
	}
	for _, bad := range []float64{-1, 0.4, 2.5, math.NaN(), math.Inf(1)} {
		if m, err := (Scene{Card: sampleCard, PrintFactor: bad}).Length(line, u); err == nil {
			t.Errorf("%v: %+v", bad, m)
		}
	}
}

// TestZoomed: in the same picture reduced or enlarged everything measures the
// same, and with the pixels of its uncertainty scaled too, so does the range.
func TestZoomed(t *testing.T) {
	b := newBench(280, 0.2, 0.1, 0.3, 18)
	u := DefaultUncertainty()
	line := []Point{b.onTube(-5, 0.1), b.onTube(5, 0.2)}
	for name, s := range map[string]Scene{"tube": {Camera: b.camera, Tube: &Tube{36, b.edges()}}, "card": {Camera: b.camera, Card: b.card()},
		"known": {Known: &KnownLength{line[0], Point{line[0].X + 300, line[0].Y}, 20}}} {
		want, err := s.Length(line, u)
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range []float64{0.4, 2.5} {
			v := u
			v.ClickSigma, v.CornerSigma = k*u.ClickSigma, k*u.CornerSigma
			got, err := s.Zoomed(k).Length([]Point{{k * line[0].X, k * line[0].Y}, {k * line[1].X, k * line[1].Y}}, v)
			if err != nil || !near(got.Value, want.Value, 1e-9*want.Value) || !near(got.Low, want.Low, 1e-6) || !near(got.High, want.High, 1e-6) {
				t.Errorf("%s %v times: %+v %v, %+v is wanted", name, k, got, err, want)
			}
		}
	}
}
