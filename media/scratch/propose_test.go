package scratch

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"math"
	"testing"

	"forkwear/media/scale"
)

// TestProposeKindsOfPicture: the same picture as grey, YCbCr and RGBA gives
// the same mask.
func TestProposeKindsOfPicture(t *testing.T) {
	s := newScene(5)
	b := s.photo.Rect
	colours, planes := image.NewRGBA(b), image.NewYCbCr(b, image.YCbCrSubsampleRatio420)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			v := s.photo.GrayAt(x, y).Y
			colours.SetRGBA(x, y, color.RGBA{v, v, v, 255})
			planes.Y[planes.YOffset(x, y)] = v
		}
	}
	for i, img := range []image.Image{s.photo, colours, planes} {
		m, err := Propose(context.Background(), img, s.region, s.axis, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if o := s.overlap(m); o < 0.8 {
			t.Errorf("picture %d: overlap %v", i, o)
		}
	}
}

// TestProposeLineAndTone: two scratches, a wide bright one and a thin dark
// one: without a hint the one that stands out more is taken, with the line or
// the tone the other.
func TestProposeLineAndTone(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 200, 120))
	for i := range img.Pix {
		x, y := i%200, i/200
		v := 100 + (x*7+y*13)%5
		if x >= 30 && x < 170 && y >= 30 && y < 38 {
			v = 170
		}
		if x >= 40 && x < 160 && y >= 80 && y < 84 {
			v = 60
		}
		img.Pix[i] = uint8(v)
	}
	region := image.Rect(5, 5, 195, 115)
	for _, c := range []struct {
		name string
		o    Options
		want image.Rectangle
	}{
		{"either", Options{}, image.Rect(30, 30, 170, 38)},
		{"dark", Options{Tone: Dark}, image.Rect(40, 80, 160, 84)},
		{"bright", Options{Tone: Bright}, image.Rect(30, 30, 170, 38)},
		{"by the line", Options{Line: []scale.Point{{X: 60, Y: 78}, {X: 120, Y: 86}}}, image.Rect(40, 80, 160, 84)},
		{"by the width", Options{Tone: Dark, Width: 4}, image.Rect(40, 80, 160, 84)},
	} {
		m, err := Propose(context.Background(), img, region, math.NaN(), c.o)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		b := m.Bounds()
		for _, d := range []int{b.Min.X - c.want.Min.X, b.Min.Y - c.want.Min.Y, b.Max.X - c.want.Max.X, b.Max.Y - c.want.Max.Y} {
			if d < -1 || d > 1 {
				t.Errorf("%s: %v, %v is wanted within a pixel", c.name, b, c.want)
				break
			}
		}
	}
	away := Options{Line: []scale.Point{{X: 20, Y: 60}, {X: 50, Y: 60}}}
	if _, err := Propose(context.Background(), img, region, math.NaN(), away); !errors.Is(err, ErrNothing) {
		t.Errorf("a line on sound metal: %v", err)
	}
}

// TestLossWithoutTube: a patch on a flat surface, by opening and closing.
func TestLossWithoutTube(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 300, 300))
	for i := range img.Pix {
		x, y := i%300-150, i/300-150
		v := 120 + x/10 + (x*x*7+y*y*13)%4
		if x*x+y*y < 40*40 {
			v -= 35
		}
		img.Pix[i] = uint8(v)
	}
	m, err := Propose(context.Background(), img, image.Rect(60, 60, 240, 240), math.NaN(), Options{Kind: Loss})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := signedArea(m.Outlines()), math.Pi*40*40; math.Abs(got/want-1) > 0.03 {
		t.Errorf("area %v, %v is wanted, %d outlines, %v", got, want, len(m.Outlines()), m.Bounds())
	}
}

func TestProposeRefuses(t *testing.T) {
	flat := image.NewGray(image.Rect(0, 0, 100, 100))
	for i := range flat.Pix {
		flat.Pix[i] = 128
	}
	large := image.NewGray(image.Rect(0, 0, 3000, 3000))
	whole := flat.Rect
	nan := math.NaN()
	for name, c := range map[string]struct {
		img    image.Image
		region image.Rectangle
		o      Options
	}{
		"no picture": {nil, whole, Options{}}, "empty picture": {image.NewGray(image.Rectangle{}), whole, Options{}},
		"outside": {flat, image.Rect(200, 200, 300, 300), Options{}}, "too small": {flat, image.Rect(10, 10, 15, 90), Options{}},
		"too large": {large, large.Rect, Options{}}, "width": {flat, whole, Options{Width: nan}}, "width 1e9": {flat, whole, Options{Width: 1e9}},
		"kind": {flat, whole, Options{Kind: 7}}, "line": {flat, whole, Options{Line: []scale.Point{{X: nan}}}},
		"nothing there": {flat, whole, Options{}}, "no loss there": {flat, whole, Options{Kind: Loss}},
	} {
		for _, axis := range []float64{0, 1, nan, math.Inf(1)} {
			if m, err := Propose(context.Background(), c.img, c.region, axis, c.o); err == nil {
				t.Errorf("%s: a mask of %d pixels", name, m.Count())
			}
		}
	}
	stopped, stop := context.WithCancel(context.Background())
	stop()
	s := newScene(5)
	if _, err := Propose(stopped, s.photo, s.region, 0, Options{}); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// TestNoiseIsNoDamage: pure noise must not be taken for a scratch of any
// length: what is found, if anything, is a speck.
func TestNoiseIsNoDamage(t *testing.T) {
	for n := range 10 {
		s := newScene(4 * n)
		s.l.contrast = 0
		img, _ := s.w.photograph(testRand(n), s.d, s.l, s.photo.Rect)
		m, err := Propose(context.Background(), img, s.region, s.axis, Options{})
		if err == nil && m.Count() > s.region.Dx()*s.region.Dy()/20 {
			t.Errorf("scene %d without damage: %d pixels of %v", n, m.Count(), s.region.Size())
		}
	}
}

func BenchmarkPropose(b *testing.B) {
	for _, size := range []image.Point{{600, 400}, {2000, 1000}} {
		img := image.NewGray(image.Rectangle{Max: size})
		r := testRand(1)
		for i := range img.Pix {
			x, y := i%size.X, i/size.X
			v := 110 + 25*math.Sin(float64(y)/150) + 4*r.NormFloat64()
			if d := math.Abs(float64(y) - float64(size.Y)/2 - float64(x-size.X/2)/5); d < 4 && x > size.X/5 && x < 4*size.X/5 {
				v += 40
			}
			img.Pix[i] = uint8(v)
		}
		for _, kind := range []Kind{Scratch, Loss} {
			b.Run(fmt.Sprintf("%dx%d,kind%d", size.X, size.Y, kind), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := Propose(context.Background(), img, img.Rect.Inset(20), 0, Options{Kind: kind}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
