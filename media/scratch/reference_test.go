package scratch

import (
	"image"
	"image/png"
	"math"
	"os"
	"testing"
)

func readGrey(t *testing.T, name string) *image.Gray {
	t.Helper()
	f, err := os.Open("testdata/" + name + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img.(*image.Gray)
}

// TestTopHatAndOtsu against scikit-image 0.19.3, morphology.white_tophat and
// black_tophat with square(31), filters.threshold_otsu, measure.label; the
// command is in testdata/SOURCES.md. The largest component must be the same
// within 2 %; in fact every pixel is.
func TestTopHatAndOtsu(t *testing.T) {
	for _, c := range []struct {
		name       string
		sign       float32
		otsu, area int // printed by the command
	}{{"bright", 1, 22, 722}, {"dark", -1, 29, 696}} {
		photo, want, mask := readGrey(t, c.name), readGrey(t, c.name+"_tophat31"), readGrey(t, c.name+"_mask")
		r := whiteTopHat(greyPlane(photo, photo.Rect).scaled(c.sign), 31)
		counts := make([]int, 256)
		for i, v := range r.v {
			if v != float32(want.Pix[i]) {
				t.Fatalf("%s: top-hat of pixel %d is %v, %d is wanted", c.name, i, v, want.Pix[i])
			}
			counts[int(v)]++
		}
		k := otsu(counts)
		if k != c.otsu {
			t.Errorf("%s: Otsu %d, %d is wanted", c.name, k, c.otsu)
		}
		var best component
		for _, x := range components(r, float32(k), float32(k)) {
			if len(x.pixels) > len(best.pixels) {
				best = x
			}
		}
		got, differ := make([]uint8, len(mask.Pix)), 0
		for _, i := range best.pixels {
			got[i] = 255
		}
		for i, v := range mask.Pix {
			if got[i] != v {
				differ++
			}
		}
		if len(best.pixels) != c.area || 50*differ > c.area {
			t.Errorf("%s: %d pixels, %d is wanted, %d differ", c.name, len(best.pixels), c.area, differ)
		}
	}
}

// TestOtsuByHand: two groups of equal size and no width: any threshold between
// them does, the first is taken; one filled bin gives 0.
func TestOtsuByHand(t *testing.T) {
	two := make([]int, 20)
	two[3], two[12] = 50, 50
	if got := otsu(two); got != 3 {
		t.Errorf("threshold %d, 3 is wanted", got)
	}
	if got := otsu([]int{0, 0, 7}); got != 0 {
		t.Errorf("one group: %d", got)
	}
}

// TestGauss: a single bright column
// blurred by sigma 1.5 has that spread (the bell is cut at 3 sigma, which
// takes 3 % off its variance at most).
func TestGauss(t *testing.T) {
	p := newPlane(41, 5)
	for y := range 5 {
		p.row(y)[20] = 1
	}
	var sum, square float64
	for x, v := range p.gauss(1.5).row(2) {
		sum += float64(v)
		square += float64(v) * float64(x-20) * float64(x-20)
	}
	if math.Abs(sum-1) > 1e-5 || math.Abs(math.Sqrt(square)-1.5) > 0.03 {
		t.Errorf("sum %v, sigma %v", sum, math.Sqrt(square))
	}
}

func TestLeastAroundAndBoxSum(t *testing.T) { // against the plain loops
	s := newScene(3)
	p := greyPlane(s.photo, s.photo.Rect.Intersect(image.Rect(0, 0, 67, 43).Add(s.photo.Rect.Min)))
	for _, k := range []int{1, 4, 40, 100} {
		least, sum := leastAround(p, k), p.boxSum(k)
		for _, at := range []image.Point{{0, 0}, {66, 42}, {33, 20}, {31, 42}, {32, 0}} {
			lo, total := infinite, 0.0
			for y := max(at.Y-k, 0); y <= min(at.Y+k, p.h-1); y++ {
				for x := max(at.X-k, 0); x <= min(at.X+k, p.w-1); x++ {
					lo, total = min(lo, p.row(y)[x]), total+float64(p.row(y)[x])
				}
			}
			if least.row(at.Y)[at.X] != lo || math.Abs(float64(sum.row(at.Y)[at.X])-total) > 1e-4*total {
				t.Errorf("%v within %d: least %v (%v), sum %v (%v)", at, k, least.row(at.Y)[at.X], lo, sum.row(at.Y)[at.X], total)
			}
		}
	}
}
