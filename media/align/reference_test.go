package align

import (
	"context"
	"encoding/csv"
	"image"
	"image/png"
	"math"
	"os"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
)

func readGray(t *testing.T, path string) *image.Gray {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	g, ok := img.(*image.Gray)
	if !ok {
		t.Fatalf("%s is not grey", path)
	}
	return g
}

// TestAgainstOpenCV: testdata/ecc.csv holds what OpenCV 4.6.0 findTransformECC
// makes of the same pairs (see testdata/SOURCES.md). The bare climb, without
// evening out and weights, maximises the same coefficient and must agree to
// 0.05 pixels at the corners, and the coefficient to 0.002 (OpenCV reads
// between pixels in steps of 1/32, from memory); Refine judges evened-out brightness and must be as
// near to OpenCV and to the truth as 0.3 pixels.
func TestAgainstOpenCV(t *testing.T) {
	f, err := os.Open("testdata/ecc.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatal(len(rows), err)
	}
	for _, row := range rows[1:] {
		var v []float64
		for _, s := range row[1:] {
			x, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			v = append(v, x)
		}
		half, back := Transform{1, 0, 0.5, 0, 1, 0.5, 0, 0, 1}, Transform{1, 0, -0.5, 0, 1, -0.5, 0, 0, 1}
		at := func(i int) Transform { return settled(times(half, times(Transform(v[9*i:9*i+9]), back))) }
		start, opencv, truth, rho := at(0), at(1), at(2), v[27]
		then, now := readGray(t, "testdata/"+row[0]+"-then.png"), readGray(t, "testdata/"+row[0]+"-now.png")
		size := now.Rect.Size()
		w, h := float64(size.X), float64(size.Y)

		a, b := levels(then, finest, false), levels(now, finest, false)
		p := &pair{thenSize: then.Rect.Size(), nowSize: size, then: a[len(a)-1:], now: b[len(b)-1:]}
		unit, err := p.toUnit(start)
		if err != nil {
			t.Fatal(err)
		}
		best, err := climb(context.Background(), p.then[0], p.now[0], unit, byHomography, edgesFully, 1e-4)
		if err != nil {
			t.Fatal(err)
		}
		mine := pass(p.then[0], p.now[0], best, 0, edgesFully).correlation()
		plain := cornerError(p.toPixels(best), opencv, w, h)
		refined, r, err := Refine(context.Background(), then, now, start)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %.3f px from OpenCV, correlation %.5f against %.5f; OpenCV %.3f px from the truth; Refine %.3f px from OpenCV, %.3f px from the truth (start %.2f)",
			row[0], plain, mine, rho, cornerError(opencv, truth, w, h), cornerError(refined, opencv, w, h), cornerError(refined, truth, w, h), cornerError(start, truth, w, h))
		if plain > 0.05 || math.Abs(mine-rho) > 2e-3 {
			t.Errorf("%s: %.3f pixels from OpenCV, correlation %.5f against %.5f", row[0], plain, mine, rho)
		}
		if !r.Accepted || cornerError(refined, opencv, w, h) > 0.3 || cornerError(refined, truth, w, h) > 0.3 {
			t.Errorf("%s: Refine %.3f pixels from OpenCV: %s", row[0], cornerError(refined, opencv, w, h), r.Why)
		}
	}
}

// TestPhaseCorrelation: the published example of scikit-image
// registration.phase_cross_correlation: camera.png shifted by (-22.4, 13.32)
// rows and columns by the Fourier shift theorem is brought back by (22, -13) in
// whole pixels; and np.roll by (5, -9) by (-5, 9). The picture is camera.png of
// ../quality/testdata.
func TestPhaseCorrelation(t *testing.T) {
	camera := readGray(t, "../quality/testdata/camera.png")
	n := camera.Rect.Dx()
	fixed := newField(n)
	for i, v := range camera.Pix {
		fixed.v[i] = complex(float64(v), 0)
	}
	shifted := func(dy, dx float64) *field {
		f := newField(n)
		copy(f.v, fixed.v)
		f.transform(false)
		freq := fourier.NewCmplxFFT(n)
		for y := range n {
			for x := range n {
				s, c := math.Sincos(-2 * math.Pi * (freq.Freq(y)*dy + freq.Freq(x)*dx))
				f.v[y*n+x] *= complex(c, s)
			}
		}
		f.transform(true)
		return f
	}
	target := newField(n)
	copy(target.v, fixed.v)
	target.whiten()
	for _, c := range []struct {
		dy, dx         float64
		wantDY, wantDX int
	}{{-22.4, 13.32, 22, -13}, {5, -9, -5, 9}} {
		moving := shifted(c.dy, c.dx)
		moving.correlate(target)
		got := moving.peaks(1, 5, func(v complex128) float64 { return real(v) })
		if len(got) != 1 || got[0].dy != c.wantDY || got[0].dx != c.wantDX {
			t.Errorf("shifted by (%v, %v): brought back by %+v, want (%d, %d)", c.dy, c.dx, got, c.wantDY, c.wantDX)
		}
	}
}

// TestFraction: the same example shifted by a fraction: the published shift
// back is (22.4, -13.32); the climb must find it to 0.02 pixels. The rows and
// columns that the Fourier shift wraps around are cut off.
func TestFraction(t *testing.T) {
	camera := readGray(t, "../quality/testdata/camera.png")
	f := newField(camera.Rect.Dx())
	for i, v := range camera.Pix {
		f.v[i] = complex(float64(v), 0)
	}
	f.transform(false)
	freq := fourier.NewCmplxFFT(f.n)
	for y := range f.n {
		for x := range f.n {
			s, c := math.Sincos(-2 * math.Pi * (freq.Freq(y)*-22.4 + freq.Freq(x)*13.32))
			f.v[y*f.n+x] *= complex(c, s)
		}
	}
	f.transform(true)
	now := image.NewGray(camera.Rect)
	for i, v := range f.v {
		now.Pix[i] = byte(max(0, min(255, math.Round(real(v)/float64(f.n*f.n)))))
	}
	part := image.Rect(40, 40, 470, 470)
	got, r, err := Refine(context.Background(), camera.SubImage(part).(*image.Gray), now.SubImage(part).(*image.Gray), Transform{1, 0, -10, 0, 1, 18, 0, 0, 1})
	if err != nil || !r.Accepted {
		t.Fatal(r, err)
	}
	want := Transform{1, 0, -13.32, 0, 1, 22.4, 0, 0, 1}
	e := cornerError(got, want, 430, 430)
	t.Logf("mean corner error %.4f px", e)
	if e > 0.1 {
		t.Errorf("%.3f pixels beside: %v", e, got)
	}
}
