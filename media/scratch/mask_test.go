package scratch

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/png"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"forkwear/media/scale"
)

func newMask(t testing.TB, r image.Rectangle) *Mask {
	t.Helper()
	m, err := New(r)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// signedArea is the sum of the outlines' areas, holes negative (the shoelace
// formula, written out here again).
func signedArea(rings [][]scale.Point) float64 {
	sum := 0.0
	for _, r := range rings {
		for i, p := range r {
			q := r[(i+1)%len(r)]
			sum += (p.X*q.Y - q.X*p.Y) / 2
		}
	}
	return sum
}

// TestCircle: area pi r^2, at places between pixels, too; outlines close to
// the circle all around; a hole is taken off (plane geometry).
func TestCircle(t *testing.T) {
	for _, c := range []struct{ x, y, r float64 }{{50, 50, 20}, {50.3, 49.6, 20.4}, {150.5, 60.25, 33.7}, {60, 60, 3}} {
		m := newMask(t, image.Rect(10, 5, 230, 130))
		m.Paint(c.x, c.y, c.r)
		rings := m.Outlines()
		if want := math.Pi * c.r * c.r; len(rings) != 1 || math.Abs(signedArea(rings)/want-1) > 0.015 {
			t.Errorf("%+v: %d outlines, area %v, %v is wanted", c, len(rings), signedArea(rings), want)
		}
		for _, p := range rings[0] {
			if d := math.Hypot(p.X-c.x, p.Y-c.y) - c.r; math.Abs(d) > 0.15 {
				t.Errorf("%+v: outline %v px off", c, d)
			}
		}
	}
	m := newMask(t, image.Rect(0, 0, 100, 100))
	m.Paint(50, 50, 30)
	m.Erase(45, 52, 11.5)
	want := math.Pi * (30*30 - 11.5*11.5)
	rings := m.Outlines()
	if len(rings) != 2 || math.Abs(signedArea(rings)/want-1) > 0.01 || signedArea(rings[1:]) > 0 {
		t.Errorf("ring: %d outlines, area %v, %v is wanted", len(rings), signedArea(rings), want)
	}
	if got := m.Bounds(); got != image.Rect(20, 20, 80, 80) {
		t.Errorf("bounds %v", got)
	}
}

// TestOutlineByHand: one pixel fully marked crosses half-way to its four
// neighbours, a diamond of area 1/2; two that touch by a corner part; a mask
// that is full closes at its border, half a pixel outside of the outermost
// middles, less the four cut corners of 1/8.
func TestOutlineByHand(t *testing.T) {
	m := newMask(t, image.Rect(7, 9, 17, 19))
	m.level[0] = 255
	rings := m.Outlines()
	if len(rings) != 1 || len(rings[0]) != 4 || math.Abs(signedArea(rings)-0.5) > 1e-9 {
		t.Errorf("one pixel: %v", rings)
	}
	if !slices.ContainsFunc(rings[0], func(p scale.Point) bool { return p == scale.Point{X: 8, Y: 9.5} }) {
		t.Errorf("the pixel's middle is 7.5, 9.5, so its outline meets 8, 9.5: %v", rings)
	}
	m.level[11] = 255
	if rings = m.Outlines(); math.Abs(signedArea(rings)-1.5) > 1e-9 { // mean of the four is 127.5: joined
		t.Errorf("two pixels by the corner: %v", rings)
	}
	m.level[11] = 254
	if rings = m.Outlines(); len(rings) != 2 {
		t.Errorf("two pixels by the corner, fainter: %v", rings)
	}
	for i := range m.level {
		m.level[i] = 255
	}
	if rings = m.Outlines(); len(rings) != 1 || math.Abs(signedArea(rings)-(100-4.0/8)) > 1e-9 {
		t.Errorf("full: %v", signedArea(rings))
	}
}

// TestOutlinesOfAnything: for any mask the outlines close, and their area is
// that of the damage within the outermost half pixels; painting what is painted
// changes nothing; erasing everything leaves nothing.
func TestOutlinesOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := newMask(&testing.T{}, image.Rect(-3, 4, 37, 34))
		for range rapid.IntRange(1, 12).Draw(t, "strokes") {
			coordinate := rapid.Float64Range(-10, 45)
			a := scale.Point{X: coordinate.Draw(t, "x"), Y: coordinate.Draw(t, "y")}
			b := scale.Point{X: a.X + rapid.Float64Range(-9, 9).Draw(t, "dx"), Y: a.Y + rapid.Float64Range(-9, 9).Draw(t, "dy")}
			r := rapid.Float64Range(0, 7).Draw(t, "r")
			if rapid.Bool().Draw(t, "erase") {
				m.EraseStroke(a, b, r)
				continue
			}
			m.Stroke(a, b, r)
			before := slices.Clone(m.level)
			m.Stroke(a, b, r)
			if !bytes.Equal(before, m.level) {
				t.Fatal("painting twice differs")
			}
		}
		open := 0 // sides between a damaged pixel and a sound one: each may shift by half a pixel, corners more
		for y := m.rect.Min.Y - 1; y < m.rect.Max.Y; y++ {
			for x := m.rect.Min.X - 1; x < m.rect.Max.X; x++ {
				in := m.Level(x, y) > 127
				if in != (m.Level(x+1, y) > 127) {
					open++
				}
				if in != (m.Level(x, y+1) > 127) {
					open++
				}
			}
		}
		if a, n := signedArea(m.Outlines()), float64(m.Count()); math.Abs(a-n) > 0.75*float64(open) {
			t.Fatalf("area %v, %v pixels with %d open sides", a, n, open)
		}
		if m.Count() > 0 {
			line, err := m.CentreLine(context.Background())
			if err != nil || len(line) < 2 {
				t.Fatalf("centre line %v: %v", line, err)
			}
			for _, p := range line {
				if math.IsNaN(p.X+p.Y) || !(image.Pt(int(math.Floor(p.X)), int(math.Floor(p.Y))).In(m.Rect().Inset(-2))) {
					t.Fatalf("centre line leaves the mask: %v", p)
				}
			}
		}
		m.Erase(15, 15, 100)
		if m.Count() != 0 || len(m.Outlines()) != 0 || !m.Bounds().Empty() {
			t.Fatal("something is left")
		}
		if _, err := m.CentreLine(context.Background()); !errors.Is(err, ErrEmpty) {
			t.Fatal(err)
		}
	})
}

// TestCentreLine: a brush stroke from a to b of radius r is |ab| + 2r long, an
// arc likewise; a disc 2r (plane geometry).
func TestCentreLine(t *testing.T) {
	ctx := context.Background()
	length := func(m *Mask) float64 {
		t.Helper()
		line, err := m.CentreLine(ctx)
		if err != nil {
			t.Fatal(err)
		}
		return scale.PolylineLength(line)
	}
	for _, c := range []struct{ length, angle, r float64 }{{60, 0, 2}, {60, 33, 2}, {100, 78, 5}, {40, 45, 8}, {120, -12, 1.2}, {30, 90, 12}} {
		m := newMask(t, image.Rect(0, 0, 200, 200))
		dx, dy := c.length/2*math.Cos(c.angle*degree), c.length/2*math.Sin(c.angle*degree)
		m.Stroke(scale.Point{X: 100.2 - dx, Y: 99.7 - dy}, scale.Point{X: 100.2 + dx, Y: 99.7 + dy}, c.r)
		if got, want := length(m), c.length+2*c.r; math.Abs(got-want) > 1 {
			t.Errorf("%+v: %v, %v is wanted", c, got, want)
		}
	}
	arc := newMask(t, image.Rect(0, 0, 200, 200))
	for a := 20.0; a < 160; a++ {
		at := func(a float64) scale.Point {
			return scale.Point{X: 100 + 70*math.Cos(a*degree), Y: 150 - 70*math.Sin(a*degree)}
		}
		arc.Stroke(at(a), at(a+1), 3)
	}
	if got, want := length(arc), 70*140*degree+6; math.Abs(got-want) > 2 {
		t.Errorf("arc: %v, %v is wanted", got, want)
	}
	disc := newMask(t, image.Rect(0, 0, 900, 900)) // large enough to be thinned
	disc.Paint(450, 450, 400)
	if got := length(disc); math.Abs(got-800) > 8 {
		t.Errorf("disc: %v, 800 is wanted", got)
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	if _, err := disc.CentreLine(stopped); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// TestSections: a stroke of radius 4 is 8 wide away from its ends, whatever its
// direction; over the disc of radius 9 in its middle, up to 18.
func TestSections(t *testing.T) {
	m := newMask(t, image.Rect(0, 0, 200, 200))
	a, b := scale.Point{X: 30, Y: 40}, scale.Point{X: 160, Y: 110}
	m.Stroke(a, b, 4)
	cuts := m.Sections([]scale.Point{a, b}, 5)
	if want := int(math.Hypot(130, 70) / 5); len(cuts) < want-1 || len(cuts) > want+1 {
		t.Errorf("%d sections, %d are wanted", len(cuts), want)
	}
	for _, c := range cuts {
		if w := math.Hypot(c.A.X-c.B.X, c.A.Y-c.B.Y); math.Abs(w-8) > 0.2 {
			t.Errorf("%v is %v wide, 8 is wanted", c, w)
		}
	}
	m.Paint(95, 75, 9)
	widest := 0.0
	for _, c := range m.Sections([]scale.Point{a, b}, 1) {
		widest = max(widest, math.Hypot(c.A.X-c.B.X, c.A.Y-c.B.Y))
	}
	if math.Abs(widest-18) > 0.3 {
		t.Errorf("%v wide, 18 is wanted", widest)
	}
	if got := m.Sections([]scale.Point{{X: 1, Y: 1}, {X: 20, Y: 1}}, math.NaN()); len(got) != 0 {
		t.Errorf("%d sections outside the damage", len(got))
	}
}

func TestUndo(t *testing.T) {
	m := newMask(t, image.Rect(0, 0, 50, 50))
	if m.Undo() {
		t.Error("nothing was kept")
	}
	m.Keep()
	m.Paint(20, 20, 5)
	first := m.Count()
	m.Keep()
	m.Paint(35, 35, 5)
	if !m.Undo() || m.Count() != first || !m.Undo() || m.Count() != 0 || m.Undo() {
		t.Error("undo does not go back step by step")
	}
	for range 3 * mostKept {
		m.Keep()
	}
	if len(m.kept) != mostKept {
		t.Errorf("%d snapshots are kept", len(m.kept))
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), -1} {
		m.Paint(20, 20, v)
		m.Paint(v, 20, -1)
	}
	m.Paint(1e300, 20, 5)
	if m.Count() != 0 {
		t.Error("a brush that is no number paints")
	}
}

// TestClean: a spot of 9 and a hole of 4 pixels go, those of 100 stay.
func TestClean(t *testing.T) {
	m := newMask(t, image.Rect(0, 0, 100, 60))
	fill := func(r image.Rectangle, v uint8) {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				m.level[y*100+x] = v
			}
		}
	}
	fill(image.Rect(5, 5, 55, 55), 255)
	fill(image.Rect(10, 10, 12, 12), 0)
	fill(image.Rect(30, 30, 40, 40), 0)
	fill(image.Rect(70, 10, 73, 13), 255)
	fill(image.Rect(70, 30, 80, 40), 255)
	m.Clean(10)
	if want := 50*50 - 100 + 100; m.Count() != want {
		t.Errorf("%d pixels, %d is wanted", m.Count(), want)
	}
}

func TestNewRefuses(t *testing.T) {
	for _, r := range []image.Rectangle{{}, image.Rect(5, 5, 5, 90), image.Rect(0, 0, 3000, 3000), image.Rect(-1<<40, 0, 1<<40, 1), image.Rect(0, 0, 1<<30, 1<<30)} {
		if m, err := New(r); err == nil {
			t.Errorf("%v gives a mask of %v", r, m.Rect())
		}
	}
}

func TestPNG(t *testing.T) {
	r := image.Rect(100, 50, 180, 110)
	m := newMask(t, r)
	m.Stroke(scale.Point{X: 110, Y: 60}, scale.Point{X: 170.3, Y: 99.2}, 4.4)
	data, err := m.EncodePNG()
	if err != nil {
		t.Fatal(err)
	}
	back, err := DecodePNG(data, r)
	if err != nil || !bytes.Equal(back.level, m.level) || back.Rect() != r {
		t.Errorf("comes back otherwise: %v", err)
	}
	for name, c := range map[string]struct {
		data []byte
		r    image.Rectangle
	}{
		"another window": {data, image.Rect(0, 0, 80, 61)}, "empty window": {data, image.Rectangle{}},
		"cut": {data[:len(data)/2], r}, "no bytes": {nil, r}, "no PNG": {[]byte("GIF89a"), r},
		"huge": {bombPNG(t), image.Rect(0, 0, 20000, 20000)}, "many bytes": {make([]byte, maxPNG+1), r},
	} {
		if _, err := DecodePNG(c.data, c.r); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// bombPNG states 20000 x 20000 pixels in its head.
func bombPNG(t testing.TB) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 1, 1))); err != nil {
		t.Fatal(err)
	}
	head := b.Bytes()
	copy(head[16:24], []byte{0, 0, 0x4e, 0x20, 0, 0, 0x4e, 0x20})
	return head
}

// FuzzDecodePNG: a kept mask comes from a file; whatever it holds, no panic,
// and no more than the window's pixels.
func FuzzDecodePNG(f *testing.F) {
	m, _ := New(image.Rect(0, 0, 20, 10))
	m.Paint(9, 5, 4)
	good, _ := m.EncodePNG()
	f.Add(good)
	f.Add(good[:40])
	f.Add(bombPNG(f))
	var b bytes.Buffer
	colours := image.NewPaletted(image.Rect(0, 0, 20, 10), color.Palette{color.Black, color.White})
	if err := png.Encode(&b, colours); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := DecodePNG(data, image.Rect(0, 0, 20, 10))
		if err != nil {
			return
		}
		if len(m.level) != 200 {
			t.Fatalf("%d pixels", len(m.level))
		}
		again, err := m.EncodePNG()
		if err != nil {
			t.Fatal(err)
		}
		if back, err := DecodePNG(again, m.Rect()); err != nil || !bytes.Equal(back.level, m.level) {
			t.Fatal("comes back otherwise", err)
		}
	})
}
