package align

import (
	"image"
	"image/color"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func ramp(w, h int) *image.NRGBA {
	m := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetNRGBA(x, y, color.NRGBA{byte(x), byte(y), byte(x + y), 255})
		}
	}
	return m
}

// TestWarpSame: the identity changes no pixel, of a part of a picture too, and
// a whole shift moves pixels and leaves the rest transparent.
func TestWarpSame(t *testing.T) {
	src := ramp(60, 40)
	out := Warp(image.Pt(60, 40), src, same)
	part := Warp(image.Pt(20, 20), src.SubImage(image.Rect(10, 5, 30, 25)), same)
	moved := Warp(image.Pt(60, 40), src, Transform{1, 0, 7, 0, 1, -3, 0, 0, 1})
	for y := range 40 {
		for x := range 60 {
			r, g, b, a := src.At(x, y).RGBA()
			want := color.RGBA{byte(r >> 8), byte(g >> 8), byte(b >> 8), byte(a >> 8)}
			if got := out.RGBAAt(x, y); got != want {
				t.Fatalf("%d,%d: %v, want %v", x, y, got, want)
			}
			if x >= 10 && x < 30 && y >= 5 && y < 25 && part.RGBAAt(x-10, y-5) != want {
				t.Fatalf("part %d,%d: %v, want %v", x, y, part.RGBAAt(x-10, y-5), want)
			}
			if x+7 < 60 && y-3 >= 0 && moved.RGBAAt(x+7, y-3) != want {
				t.Fatalf("moved %d,%d: %v, want %v", x, y, moved.RGBAAt(x+7, y-3), want)
			}
		}
	}
	if moved.RGBAAt(6, 5).A != 0 || moved.RGBAAt(30, 38).A != 0 || moved.RGBAAt(7, 36).A != 255 {
		t.Error("what the source does not show is not transparent")
	}
}

// TestWarpShrinks: a fine checkerboard shrunk to less becomes even grey, where
// single samples would glitter; its mean is 127.5.
func TestWarpShrinks(t *testing.T) {
	src := image.NewGray(image.Rect(0, 0, 600, 400))
	for i := range src.Pix {
		src.Pix[i] = byte(255 * ((i%600 + i/600) % 2))
	}
	for _, k := range []float64{0.11, 0.25, 0.37, 0.5} {
		out := Warp(image.Pt(int(600*k), int(400*k)), src, Transform{k, 0, 0, 0, k, 0, 0, 0, 1})
		for y := 2; y < out.Rect.Dy()-2; y++ {
			for x := 2; x < out.Rect.Dx()-2; x++ {
				if c := out.RGBAAt(x, y); c.A != 255 || math.Abs(float64(c.R)-127.5) > 24 {
					t.Fatalf("shrunk to %v: %d,%d is %v", k, x, y, c)
				}
			}
		}
	}
}

// TestWarpPlaces: a smooth picture warped by a known transform shows at every
// place the brightness of the place it came from, by construction.
func TestWarpPlaces(t *testing.T) {
	f := func(x, y float64) float64 { return 128 + 60*math.Sin(x/40) + 50*math.Cos(y/31) }
	src := image.NewGray(image.Rect(0, 0, sceneW, sceneH))
	for y := range sceneH {
		for x := range sceneW {
			src.Pix[y*src.Stride+x] = byte(math.Round(f(float64(x)+0.5, float64(y)+0.5)))
		}
	}
	for _, c := range changes {
		out := Warp(image.Pt(sceneW, sceneH), src, c.truth)
		back, err := c.truth.Inverse()
		if err != nil {
			t.Fatal(err)
		}
		shown := 0
		for y := 0; y < sceneH; y += 7 {
			for x := 0; x < sceneW; x += 7 {
				px := out.RGBAAt(x, y)
				if px.A == 0 {
					continue
				}
				shown++
				p, _ := back.Apply(scalePoint(x, y))
				if p.X < 1 || p.Y < 1 || p.X > sceneW-1 || p.Y > sceneH-1 {
					continue
				}
				if want := f(p.X, p.Y); math.Abs(float64(px.R)-want) > 1.5 {
					t.Fatalf("%s: %d,%d is %d, want %.1f", c.name, x, y, px.R, want)
				}
			}
		}
		if shown < 5000 {
			t.Errorf("%s: only %d of 15,552 places shown", c.name, shown)
		}
	}
}

// TestWarpBounds: anything at all gives a picture, at worst an empty one.
func TestWarpBounds(t *testing.T) {
	src := ramp(20, 10)
	for name, out := range map[string]*image.RGBA{
		"no size":   Warp(image.Pt(0, 5), src, same),
		"too large": Warp(image.Pt(1<<40, 1<<40), src, same),
		"none":      Warp(image.Pt(5, 5), nil, same),
		"empty":     Warp(image.Pt(5, 5), image.NewRGBA(image.Rectangle{}), same),
		"flat":      Warp(image.Pt(5, 5), src, Transform{1, 1, 0, 1, 1, 0, 0, 0, 1}),
		"infinite":  Warp(image.Pt(5, 5), src, Transform{math.Inf(1), 0, 0, 0, 1, 0, 0, 0, 1}),
	} {
		if !out.Rect.Empty() {
			t.Errorf("%s: %v", name, out.Rect)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64(), 9, 9).Draw(t, "v")
		small := rapid.SliceOfN(rapid.Float64Range(-3, 3), 9, 9).Draw(t, "small")
		Warp(image.Pt(9, 7), src, Transform(v))
		Warp(image.Pt(9, 7), src, Transform(small))
	})
}
