package scale

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Card corners and expected places: scikit-image 0.19.3
// ProjectiveTransform.estimate (float64), the same as
// cv2.getPerspectiveTransform to 7 digits; the matrix is compared to 7 digits
// therefore (85.60 and 53.98 in single precision are 2e-8 off), the places to
// 1e-4 mm.
var sampleCard = []Point{{412, 305}, {1630, 268}, {1702, 1068}, {388, 1012}}

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

func TestCardAgainstScikitImage(t *testing.T) {
	p, err := NewPlane(sampleCard)
	if err != nil {
		t.Fatal(err)
	}
	want := Homography{8.56847289e-2, 2.90867538e-3, -36.1892543, 2.69255431e-3, 8.86359771e-2, -28.1433054, 1.15013511e-4, 1.13717723e-4, 1}
	for i := range want {
		if !near(p.ToMM[i], want[i], 1e-7*math.Abs(want[i])) {
			t.Errorf("h%d = %.9g, want %.9g", i, p.ToMM[i], want[i])
		}
	}
	for i, mm := range []Point{{0, 0}, {85.60, 0}, {85.60, 53.98}, {0, 53.98}} { // the definition
		at, err1 := p.At(sampleCard[i])
		back, err2 := p.ToPixel.Apply(mm)
		if err1 != nil || err2 != nil || at.distance(mm) > 1e-9 || back.distance(sampleCard[i]) > 1e-8 {
			t.Errorf("corner %d: %v %v, %v %v", i, at, err1, back, err2)
		}
	}
	for _, c := range []struct{ px, mm Point }{
		{Point{1000, 650}, Point{43.22047, 27.05175}},
		{Point{700, 500}, Point{22.19544, 15.87830}},
		{Point{1500, 900}, Point{74.48283, 43.66568}},
	} {
		if got, err := p.At(c.px); err != nil || got.distance(c.mm) > 1e-4 {
			t.Errorf("%v -> %v, want %v (%v)", c.px, got, c.mm, err)
		}
	}
	m, err := Scene{Card: sampleCard}.Length([]Point{{700, 500}, {1500, 900}}, DefaultUncertainty())
	if err != nil || !near(m.Value, 59.21241, 1e-4) || m.Method != ByCard {
		t.Errorf("%+v %v", m, err)
	}
	if !(m.Low < m.Value && m.Value < m.High) || m.High-m.Low > 3 {
		t.Errorf("range %v to %v", m.Low, m.High)
	}
}

// TestHomographyGallery: scikit-image 0.19.3, gallery example of rectifying a
// page (ProjectiveTransform.estimate).
func TestHomographyGallery(t *testing.T) {
	h, err := FitHomography([]Point{{0, 0}, {0, 50}, {300, 50}, {300, 0}}, []Point{{155, 15}, {65, 40}, {260, 130}, {360, 95}})
	if err != nil {
		t.Fatal(err)
	}
	want := Homography{0.467219589, -1.85339652, 155, 0.209636651, 0.467140600, 15, -6.00315956e-4, -8.21484992e-4, 1}
	for i := range want {
		if !near(h[i], want[i], 1e-8*math.Max(1, math.Abs(want[i]))) {
			t.Errorf("h%d = %.9g, want %.9g", i, h[i], want[i])
		}
	}
	if got, err := h.Apply(Point{150, 25}); err != nil || got.distance(Point{200.97246892, 65.35079929}) > 1e-4 {
		t.Errorf("%v %v", got, err)
	}
}

// TestHomographyOfMany: with more than four exact pairs the map is the same.
func TestHomographyOfMany(t *testing.T) {
	want := Homography{0.467219589, -1.85339652, 155, 0.209636651, 0.467140600, 15, -6.00315956e-4, -8.21484992e-4, 1}
	var from, to []Point
	for x := 0.0; x <= 300; x += 50 {
		for y := 0.0; y <= 50; y += 10 {
			q, err := want.Apply(Point{x, y})
			if err != nil {
				t.Fatal(err)
			}
			from, to = append(from, Point{x, y}), append(to, q)
		}
	}
	h, err := FitHomography(from, to)
	for i := range want {
		if err != nil || !near(h[i], want[i], 1e-7*math.Max(1, math.Abs(want[i]))) {
			t.Errorf("h%d = %.9g, want %.9g (%v)", i, h[i], want[i], err)
		}
	}
}

// TestPlaneSizes: exact geometry, length of a polyline and the shoelace sum.
func TestPlaneSizes(t *testing.T) {
	if got := PolylineLength([]Point{{0, 0}, {3, 4}, {3, 10}}); got != 11 {
		t.Errorf("3-4-5 and 6: %v", got)
	}
	if got := PolygonArea([]Point{{0, 0}, {4, 0}, {4, 3}}); got != 6 {
		t.Errorf("half of 4 x 3: %v", got)
	}
	s := Scene{Known: &KnownLength{Point{0, 0}, Point{100, 0}, 10}} // 0.1 mm per pixel
	l, err := s.Length([]Point{{0, 0}, {300, 400}}, DefaultUncertainty())
	if err != nil || !near(l.Value, 50, 1e-9) || l.Method != ByKnown {
		t.Errorf("%+v %v", l, err)
	}
	a, err := s.Area([]Point{{0, 0}, {400, 0}, {400, 300}, {0, 300}}, DefaultUncertainty())
	if err != nil || !near(a.Value, 1200, 1e-9) {
		t.Errorf("%+v %v", a, err)
	}
}

// TestCameraOf: a 26 mm equivalent on 4032 x 3024 pixels: diagonal 5040,
// of full frame 43.2666 mm, 26 * 5040 / 43.2666 = 3028.66 px (by hand).
func TestCameraOf(t *testing.T) {
	c := CameraOf(4032, 3024, 26)
	if !near(c.Focal, 3028.66, 0.01) || c.Centre != (Point{2016, 1512}) {
		t.Errorf("%+v", c)
	}
	for _, f := range []float64{0, -3, math.NaN(), math.Inf(1)} {
		if CameraOf(10, 10, f).Focal != 0 {
			t.Errorf("%v mm was taken", f)
		}
	}
}

func TestPlaneRefuses(t *testing.T) {
	c := sampleCard
	nan := math.NaN()
	for name, tc := range map[string]struct {
		corners []Point
		want    string
	}{
		"three":         {c[:3], "four corners"},
		"crossing":      {[]Point{c[0], c[2], c[1], c[3]}, "cross over"},
		"anticlockwise": {[]Point{c[0], c[3], c[2], c[1]}, "anticlockwise"},
		"one place":     {[]Point{c[0], c[0], c[2], c[3]}, "30 pixels"},
		"on a line":     {[]Point{{0, 0}, {500, 0}, {1000, 0}, {500, 500}}, "one line"},
		"not convex":    {[]Point{{0, 0}, {1000, 0}, {300, 200}, {0, 1000}}, "not those of a card"},
		"NaN":           {[]Point{c[0], {nan, 3}, c[2], c[3]}, "not a number"},
		"infinite":      {[]Point{c[0], {math.Inf(1), 3}, c[2], c[3]}, "not a number"},
		"a square":      {[]Point{{0, 0}, {500, 0}, {500, 500}, {0, 500}}, "slantwise"},
	} {
		if _, err := NewPlane(tc.corners); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	line := []Point{{0, 0}, {1, 1}, {2, 2}, {3, 3}}
	if _, err := FitHomography(line, sampleCard); err == nil {
		t.Error("four points on one line fixed a map")
	}
	p, err := NewPlane(sampleCard)
	if err != nil {
		t.Fatal(err)
	}
	// w = 1.15e-4 x + 1.137e-4 y + 1 is 0 at about x = y = -4372
	for _, px := range []Point{{-4400, -4400}, {-9000, -9000}, {nan, 1}} {
		if _, err := p.At(px); !errors.Is(err, ErrHorizon) {
			t.Errorf("%v: %v", px, err)
		}
	}
}

func TestMeasureRefuses(t *testing.T) {
	u, card := DefaultUncertainty(), Scene{Card: sampleCard}
	cam := CameraOf(4032, 3024, 26)
	edges := [4]Point{{1000, 800}, {3000, 820}, {1000, 1300}, {3000, 1310}}
	tube := Scene{Camera: cam, Tube: &Tube{36, edges}}
	length := func(s Scene, p ...Point) error { _, err := s.Length(p, u); return err }
	area := func(p ...Point) error { _, err := card.Area(p, u); return err }
	ok := []Point{{1100, 1000}, {1300, 1000}}
	if err := length(tube, ok...); err != nil {
		t.Fatal(err)
	}
	_, redraws := card.Length(ok, Uncertainty{Redraws: 3})
	_, sigma := card.Length(ok, Uncertainty{Redraws: 500, ClickSigma: math.NaN()})
	for want, err := range map[string]error{
		"two points or more":    length(card, ok[0]),
		"no size":               length(card, ok[0], ok[0]),
		"point 2 of the line":   length(card, ok[0], Point{math.NaN(), 0}),
		"horizon":               length(card, ok[0], Point{-9000, -9000}),
		"three points":          area(ok...),
		"crosses itself":        area(Point{500, 500}, Point{900, 900}, Point{900, 500}, Point{500, 900}),
		"nothing in the photo":  length(Scene{Camera: cam}, ok...),
		"outside the two":       length(tube, ok[0], Point{1000, 400}),
		"focal length":          length(Scene{Tube: tube.Tube}, ok...),
		"diameter -1":           length(Scene{Camera: cam, Tube: &Tube{-1, edges}}, ok...),
		"diameter NaN":          length(Scene{Camera: cam, Tube: &Tube{math.NaN(), edges}}, ok...),
		"edges cross":           length(Scene{Camera: cam, Tube: &Tube{36, [4]Point{edges[0], edges[3], edges[2], edges[1]}}}, ok...),
		"one edge of the tube":  length(Scene{Camera: cam, Tube: &Tube{36, [4]Point{edges[0], edges[0], edges[2], edges[3]}}}, ok...),
		"under 20 pixels apart": length(Scene{Known: &KnownLength{Point{1, 1}, Point{2, 2}, 5}}, ok...),
		"known length of 0":     length(Scene{Known: &KnownLength{Point{1, 1}, Point{200, 2}, 0}}, ok...),
		"3 redraws":             redraws,
		"uncertainty of NaN":    sigma,
	} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q, got %v", want, err)
		}
	}
}

// TestSimilarity: a picture that is turned, moved and enlarged with all its
// marks gives the same millimetres.
func TestSimilarity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := rapid.Float64Range(-0.5, 0.5).Draw(t, "turn")
		grow := rapid.Float64Range(0.5, 3).Draw(t, "grow")
		dx, dy := rapid.Float64Range(-500, 500).Draw(t, "dx"), rapid.Float64Range(-500, 500).Draw(t, "dy")
		line := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Point {
			return Point{rapid.Float64Range(400, 1600).Draw(t, "x"), rapid.Float64Range(300, 1000).Draw(t, "y")}
		}), 2, 6).Draw(t, "line")
		move := func(in []Point) []Point {
			out := make([]Point, len(in))
			for i, p := range in {
				out[i] = Point{grow*(p.X*math.Cos(turn)-p.Y*math.Sin(turn)) + dx, grow*(p.X*math.Sin(turn)+p.Y*math.Cos(turn)) + dy}
			}
			return out
		}
		size := func(corners, line []Point) (float64, float64) {
			p, err := NewPlane(corners)
			if err != nil {
				t.Fatal(err)
			}
			places, err := mapAll(surface{at: p.At}, line)
			if err != nil {
				t.Fatal(err)
			}
			return PolylineLength(places), PolygonArea(places)
		}
		l1, a1 := size(sampleCard, line)
		l2, a2 := size(move(sampleCard), move(line))
		if !near(l1, l2, 1e-6*(1+l1)) || !near(a1, a2, 1e-6*(1+l1*l1)) {
			t.Fatalf("%v %v became %v %v", l1, a1, l2, a2)
		}
	})
}

// TestOrder: from which end a line is marked, where an outline begins and
// which edge of a tube is named first makes no difference.
func TestOrder(t *testing.T) {
	u, cam := DefaultUncertainty(), CameraOf(4032, 3024, 26)
	e := [4]Point{{1000, 800}, {3000, 820}, {1000, 1300}, {3000, 1310}}
	rapid.Check(t, func(t *rapid.T) {
		p := make([]Point, 3)
		for i := range p { // three points in three parts of the tube: never on one line
			p[i] = Point{1100 + 600*float64(i) + rapid.Float64Range(0, 200).Draw(t, "x"), 880 + 200*float64(i%2) + rapid.Float64Range(0, 100).Draw(t, "y")}
		}
		var want [2]float64
		for n, edges := range [][4]Point{e, {e[1], e[0], e[2], e[3]}, {e[2], e[3], e[0], e[1]}, {e[3], e[2], e[1], e[0]}} {
			s := Scene{Camera: cam, Tube: &Tube{36, edges}}
			l, err1 := s.Length([]Point{p[0], p[1], p[2]}, u)
			a, err2 := s.Area([]Point{p[0], p[1], p[2]}, u)
			l2, err3 := s.Length([]Point{p[2], p[1], p[0]}, u)
			a2, err4 := s.Area([]Point{p[1], p[0], p[2]}, u)
			if err := errors.Join(err1, err2, err3, err4); err != nil {
				t.Fatal(err)
			}
			if n == 0 {
				want = [2]float64{l.Value, a.Value}
			}
			for _, v := range []float64{l.Value, l2.Value} {
				if !near(v, want[0], 1e-6*want[0]) {
					t.Fatalf("length %v, want %v", v, want[0])
				}
			}
			for _, v := range []float64{a.Value, a2.Value} {
				if !near(v, want[1], 1e-6*want[1]) {
					t.Fatalf("area %v, want %v", v, want[1])
				}
			}
		}
	})
}

func TestSameSeedSameRange(t *testing.T) {
	u, line := DefaultUncertainty(), []Point{{700, 500}, {1500, 900}}
	a, err1 := Scene{Card: sampleCard}.Length(line, u)
	b, err2 := Scene{Card: sampleCard}.Length(line, u)
	u.Seed = 2
	c, err3 := Scene{Card: sampleCard}.Length(line, u)
	if errors.Join(err1, err2, err3) != nil || a.Low != b.Low || a.High != b.High || a.Low == c.Low {
		t.Errorf("%v %v, %v %v, other seed %v", a.Low, a.High, b.Low, b.High, c.Low)
	}
}

func TestParsePoints(t *testing.T) {
	got, err := ParsePoints(" 1, 2.5,-3,4e2 ")
	if err != nil || len(got) != 2 || got[0] != (Point{1, 2.5}) || got[1] != (Point{-3, 400}) {
		t.Errorf("%v %v", got, err)
	}
	for _, bad := range []string{"", " ", "1", "1,2,3", "1,,2,3", "1,NaN", "inf,1", "1;2", "1,2,", "1e9,1", strings.Repeat("1,", 5000) + "1"} {
		if p, err := ParsePoints(bad); err == nil {
			t.Errorf("%.20q gave %d points", bad, len(p))
		}
	}
}

func FuzzParsePoints(f *testing.F) {
	for _, s := range []string{"1,2", "1,2,3", "", ",", "1e308,1", "NaN,Inf", "0x1p3,1", " 7 , 8 ", "-0,1e-400"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		points, err := ParsePoints(s)
		if err != nil {
			if points != nil {
				t.Fatal("points beside an error")
			}
			return
		}
		if len(points) == 0 || len(points) > maxNumbers/2 {
			t.Fatalf("%d points", len(points))
		}
		for _, p := range points {
			if bad(p.X) || bad(p.Y) || math.Abs(p.X) > maxCoordinate || math.Abs(p.Y) > maxCoordinate {
				t.Fatalf("%v", p)
			}
		}
	})
}
