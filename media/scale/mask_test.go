package scale

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// twenty pixels are a millimetre.
var twenty = Scene{Known: &KnownLength{Point{0, 0}, Point{400, 0}, 20}}

// box is a rectangle clockwise as seen, or the other way as a hole.
func box(x, y, w, h float64, hole bool) []Point {
	if hole {
		return []Point{{x, y}, {x, y + h}, {x + w, y + h}, {x + w, y}}
	}
	return []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}

// TestMaskByHand: 100 x 20 px less a hole of 10 x 8 px at 20 px/mm are 5 mm
// long, (2000 - 80)/400 = 4.8 mm2 and 4.8/5 = 0.96 mm wide.
func TestMaskByHand(t *testing.T) {
	u := DefaultUncertainty()
	m, err := twenty.MeasureMask([][]Point{box(10, 10, 100, 20, false), box(40, 15, 10, 8, true)}, []Point{{10, 20}, {60, 20}, {110, 20}}, u)
	if err != nil || !near(m.Length.Value, 5, 1e-12) || !near(m.Area.Value, 4.8, 1e-12) || !near(m.Width.Value, 0.96, 1e-12) {
		t.Fatalf("%+v %v", m, err)
	}
	for _, v := range []Measured{m.Length, m.Area, m.Width} {
		if !(v.Low < v.Value && v.Value < v.High) || v.Below || v.Method != ByKnown {
			t.Errorf("%+v", v)
		}
	}
}

// TestMaskTerms: one cause at a time, against its share by hand (1.96 sigma).
func TestMaskTerms(t *testing.T) {
	rings, line := [][]Point{box(10, 10, 100, 20, false)}, []Point{{10, 20}, {110, 20}}
	edge := Uncertainty{Redraws: 20000, Seed: 3, EdgeSigma: 0.5}
	m, err := twenty.MeasureMask(rings, line, edge)
	if err != nil {
		t.Fatal(err)
	}
	if want := 1.96 * 0.5 * 240 / 400; !near((m.Area.High-m.Area.Low)/2, want, 0.03*want) { // perimeter 240 px
		t.Errorf("area %+v, +/- %v is wanted", m.Area, want)
	}
	if want := 1.96 * 2 * 0.5 / 20; !near((m.Length.High-m.Length.Low)/2, want, 0.03*want) || !near((m.Width.High-m.Width.Low)/2, want, 0.03*want) {
		t.Errorf("length %+v, width %+v, +/- %v is wanted", m.Length, m.Width, want)
	}
	m, err = twenty.MeasureMask(rings, line, Uncertainty{Redraws: 20000, Seed: 3, EndSigma: 2})
	if want := 1.96 * 2 * math.Sqrt2 / 20; err != nil || !near((m.Length.High-m.Length.Low)/2, want, 0.03*want) || m.Area.High-m.Area.Low > 1e-9 {
		t.Errorf("ends: %+v %+v %v, +/- %v is wanted", m.Length, m.Area, err, want)
	}
	hand := DefaultUncertainty().ByHand()
	rough, _ := twenty.MeasureMask(rings, line, hand)
	fine, _ := twenty.MeasureMask(rings, line, DefaultUncertainty())
	if rough.Area.High-rough.Area.Low < 2*(fine.Area.High-fine.Area.Low) {
		t.Errorf("a painted edge is known less well: %+v, %+v", rough.Area, fine.Area)
	}
}

// TestThinMask: 2 px are 0.1 mm, so the width is below that of 3 px, 0.15 mm, or
// what the range says, whichever is greater.
func TestThinMask(t *testing.T) {
	m, err := twenty.MeasureMask([][]Point{box(10, 10, 100, 2, false)}, []Point{{10, 11}, {110, 11}}, DefaultUncertainty())
	if err != nil || !m.Width.Below || !m.Area.Below || m.Length.Below {
		t.Fatalf("%+v %v", m, err)
	}
	if m.Width.High < 0.15 || m.Width.High > 0.17 || m.Width.Low != 0 || m.Width.Value != m.Width.High || m.Area.High < 0.15*5-1e-9 {
		t.Errorf("%+v %+v", m.Width, m.Area)
	}
}

// TestBlurExcess: R: f <- function(x) pnorm((x+w/2)/s)-pnorm((x-w/2)/s);
// uniroot(function(x) f(x)-f(0)/2, c(.1,10)); made with scipy.stats.norm and
// scipy.optimize.brentq of SciPy 1.10, the same call.
func TestBlurExcess(t *testing.T) {
	for _, c := range []struct{ width, sigma, want float64 }{{3.2148840723563663, 0.9, 0.10744203617818315}, {3.021016897211279, 1, 0.2605084486056395}, {5.111923458872926, 1.2, 0.05596172943646316}} {
		if got := blurExcess(c.width, c.sigma); !near(got, c.want, 1e-6) {
			t.Errorf("%v px blurred by %v: %v, %v is wanted", c.width, c.sigma, got, c.want)
		}
	}
	if got := blurExcess(2, 1.2); !near(got, 1, 1e-9) { // narrower than the bell: its true width may be 0
		t.Errorf("%v", got)
	}
	if blurExcess(20, 1) != 0 || blurExcess(3, 0) != 0 {
		t.Error("no blur, no excess")
	}
}

// TestMaskOnTube: a patch of 6 x 4 mm anywhere on the unrolled tube has 24
// mm2, and its middle line 6 mm; with marks without error exactly so, but for
// the sides that are straight in the picture (20 points a side).
func TestMaskOnTube(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		b := newBench(draw("distance", 200, 400), draw("tilt", -35, 35)*degree, draw("side", -20, 20)*degree, draw("roll", -180, 180)*degree, 18)
		along, angle := draw("along", -10, 10), math.Atan2(b.eye[1], -b.eye[2])+draw("angle", -30, 30)*degree
		var ring []Point
		at := func(u, v float64) Point { return b.onTube(along+6*u, angle+4*v/18) }
		for i := range 80 {
			k := float64(i%20) / 20
			ring = append(ring, [4]Point{at(k, 0), at(1, k), at(1-k, 1), at(0, 1-k)}[i/20])
		}
		u := DefaultUncertainty()
		u.Redraws = 100
		m, err := Scene{Camera: b.camera, Tube: &Tube{36, b.edges()}}.MeasureMask([][]Point{ring}, []Point{at(0, 0.5), at(1, 0.5)}, u)
		if err != nil || !near(m.Area.Value, 24, 0.01) || !near(m.Length.Value, 6, 1e-6) || !near(m.Width.Value, 4, 0.01) {
			t.Fatalf("%+v %v", m, err)
		}
		if !(m.Area.Low <= 24 && 24 <= m.Area.High) {
			t.Fatalf("%+v", m.Area)
		}
	})
}

func TestMaskRefuses(t *testing.T) {
	ring, line, u := box(10, 10, 100, 20, false), []Point{{10, 20}, {110, 20}}, DefaultUncertainty()
	nan := Point{math.NaN(), 1}
	wrong := u
	wrong.EdgeSigma = -1
	for name, c := range map[string]struct {
		s     Scene
		rings [][]Point
		line  []Point
		u     Uncertainty
	}{
		"no scale": {Scene{}, [][]Point{ring}, line, u}, "empty": {twenty, nil, line, u}, "no line": {twenty, [][]Point{ring}, line[:1], u},
		"two points": {twenty, [][]Point{ring[:2]}, line, u}, "NaN": {twenty, [][]Point{{nan, ring[1], ring[2]}}, line, u},
		"line NaN": {twenty, [][]Point{ring}, []Point{nan, line[1]}, u}, "sigma": {twenty, [][]Point{ring}, line, wrong},
		"no size": {twenty, [][]Point{{ring[0], ring[0], ring[0]}}, line, u}, "no length": {twenty, [][]Point{ring}, []Point{line[0], line[0]}, u},
		"too many": {twenty, [][]Point{make([]Point, maxOutline+1)}, line, u},
	} {
		if m, err := c.s.MeasureMask(c.rings, c.line, c.u); err == nil {
			t.Errorf("%s: %+v", name, m)
		}
	}
}
