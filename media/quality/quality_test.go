package quality

import (
	"image"
	"image/color"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func gray(w, h int, at func(x, y int) byte) *image.Gray {
	g := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			g.Pix[y*g.Stride+x] = at(x, y)
		}
	}
	return g
}

// TestSharpnessExact: cv2.Laplacian(gray, cv2.CV_64F).var(), OpenCV 4.6.0.
func TestSharpnessExact(t *testing.T) {
	for _, c := range []struct {
		name string
		img  *image.Gray
		want float64
	}{
		{"5x5 zeros with centre 100", gray(5, 5, func(x, y int) byte {
			if x == 2 && y == 2 {
				return 100
			}
			return 0
		}), 8000},
		{"8x8 checkerboard 0/255", gray(8, 8, func(x, y int) byte { return byte(255 * ((x + y) % 2)) }), 1040400},
		// by hand: no difference anywhere
		{"flat", gray(9, 4, func(x, y int) byte { return 77 }), 0},
		{"one pixel", gray(1, 1, func(x, y int) byte { return 77 }), 0},
		{"empty", gray(0, 0, nil), 0},
		// by hand, one row 0 50 100: reflected 50 0 50 100 50, L = 100 0 -100, variance 20000/3
		{"one row", gray(3, 1, func(x, y int) byte { return byte(50 * x) }), 20000. / 3},
		{"one column", gray(1, 3, func(x, y int) byte { return byte(50 * y) }), 20000. / 3},
	} {
		if got := Sharpness(c.img); math.Abs(got-c.want) > 1e-9*(1+c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestSharpnessDefinition compares with the formula written out slowly in
// floating point, on any picture, also on a part of a larger one.
func TestSharpnessDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 9).Draw(t, "w"), rapid.IntRange(1, 9).Draw(t, "h")
		pix := rapid.SliceOfN(rapid.Byte(), (w+2)*(h+2), (w+2)*(h+2)).Draw(t, "pix")
		whole := gray(w+2, h+2, func(x, y int) byte { return pix[y*(w+2)+x] })
		part := whole.SubImage(image.Rect(1, 1, w+1, h+1)).(*image.Gray)
		p := func(x, y int) float64 {
			reflect := func(i, n int) int {
				if n == 1 {
					return 0
				}
				i = ((i % (2*n - 2)) + 2*n - 2) % (2*n - 2)
				return min(i, 2*n-2-i)
			}
			return float64(part.GrayAt(1+reflect(x, w), 1+reflect(y, h)).Y)
		}
		var all []float64
		mean := 0.0
		for y := range h {
			for x := range w {
				l := p(x-1, y) + p(x+1, y) + p(x, y-1) + p(x, y+1) - 4*p(x, y)
				all = append(all, l)
				mean += l / float64(w*h)
			}
		}
		want := 0.0
		for _, l := range all {
			want += (l - mean) * (l - mean) / float64(w*h)
		}
		if got := Sharpness(part); math.Abs(got-want) > 1e-6*(1+want) {
			t.Fatalf("got %v, want %v", got, want)
		}
	})
}

// texture is a picture with edges at every scale, by construction.
func texture(w, h int) *image.Gray {
	return gray(w, h, func(x, y int) byte { return byte(60 + 130*((x/16+y/16)%2) + (x*7+y*13)%23) })
}

func blur(g *image.Gray, r int) *image.Gray {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	return gray(w, h, func(x, y int) byte {
		sum, n := 0, 0
		for dy := -r; dy <= r; dy += 4 {
			for dx := -r; dx <= r; dx += 4 {
				if px, py := x+dx, y+dy; px >= 0 && py >= 0 && px < w && py < h {
					sum += int(g.Pix[py*g.Stride+px])
					n++
				}
			}
		}
		return byte(sum / n)
	})
}

func TestAssess(t *testing.T) { // usable or not by construction
	flat := func(v byte) *image.Gray { return gray(640, 480, func(int, int) byte { return v }) }
	for _, c := range []struct {
		name   string
		img    image.Image
		usable bool
	}{
		{"sharp", texture(640, 480), true},
		{"small", texture(320, 240), false},
		{"black", flat(3), false},
		{"white", flat(255), false},
		{"one surface", flat(128), false},
		{"blurred", blur(texture(640, 480), 40), false},
		{"half burnt out", gray(640, 480, func(x, y int) byte {
			if y < 240 {
				return 255
			}
			return byte(40 * ((x + y) % 2))
		}), false},
		{"empty", image.NewGray(image.Rectangle{}), false},
	} {
		r := Assess(c.img)
		if r.Usable != c.usable || r.Usable && len(r.Remarks) > 0 || !r.Usable && len(r.Remarks) == 0 {
			t.Errorf("%s: usable %v, want %v: %+v", c.name, r.Usable, c.usable, r)
		}
	}
}

// TestBrightnessSameInAllForms: the same colours in every kind of image give
// the same grey as Go's own color.GrayModel.
func TestBrightnessSameInAllForms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := color.NRGBA{rapid.Byte().Draw(t, "r"), rapid.Byte().Draw(t, "g"), rapid.Byte().Draw(t, "b"), 255}
		want := color.GrayModel.Convert(c).(color.Gray).Y
		n, r, n64 := image.NewNRGBA(image.Rect(3, 4, 5, 6)), image.NewRGBA(image.Rect(3, 4, 5, 6)), image.NewNRGBA64(image.Rect(3, 4, 5, 6))
		for _, img := range []interface {
			image.Image
			Set(x, y int, c color.Color)
		}{n, r, n64} {
			img.Set(4, 5, c)
			g := Brightness(img)
			if g.Pix[3] != want {
				t.Fatalf("%T: %d, want %d", img, g.Pix[3], want)
			}
			if g.Pix[0] != 255 {
				t.Fatalf("%T: a transparent pixel is %d, not white", img, g.Pix[0])
			}
		}
	})
}

// TestDeepColoursNeedNoHeap: a picture of 16 bits a colour is read without a
// value on the heap for each pixel, which doubled the memory of a large one.
func TestDeepColoursNeedNoHeap(t *testing.T) {
	for _, img := range []image.Image{image.NewNRGBA64(image.Rect(0, 0, 60, 50)), image.NewRGBA64(image.Rect(0, 0, 60, 50)),
		image.NewGray16(image.Rect(0, 0, 60, 50)), image.NewCMYK(image.Rect(0, 0, 60, 50)), image.NewRGBA(image.Rect(0, 0, 60, 50))} {
		if n := testing.AllocsPerRun(3, func() { Brightness(img) }); n > 10 {
			t.Errorf("%T: %v allocations for 3,000 pixels", img, n)
		}
	}
}
