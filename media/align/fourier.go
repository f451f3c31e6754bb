package align

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"
)

// field is a square of complex values, row by row, that wraps around.
type field struct {
	n   int
	v   []complex128
	fft *fourier.CmplxFFT
	tmp []complex128
}

func newField(n int) *field {
	return &field{n, make([]complex128, n*n), fourier.NewCmplxFFT(n), make([]complex128, n)}
}

// transform is the two-dimensional Fourier transform in place; back does not
// divide by n*n.
func (f *field) transform(back bool) {
	one := func(seq []complex128) []complex128 {
		if back {
			return f.fft.Sequence(seq, seq)
		}
		return f.fft.Coefficients(seq, seq)
	}
	for y := range f.n {
		one(f.v[y*f.n:][:f.n])
	}
	for x := range f.n {
		for y := range f.n {
			f.tmp[y] = f.v[y*f.n+x]
		}
		one(f.tmp)
		for y := range f.n {
			f.v[y*f.n+x] = f.tmp[y]
		}
	}
}

// passBand is the width of the low-pass of whiten, in cycles per pixel: finer
// detail is noise on the small copies that are searched.
const passBand = 0.18

// whiten keeps only the phase of each frequency, and of these the low ones; it
// takes the mean away.
func (f *field) whiten() {
	f.transform(false)
	for y := range f.n {
		for x := range f.n {
			fx, fy := frequency(x, f.n), frequency(y, f.n)
			r := (fx*fx + fy*fy) / (passBand * passBand)
			c := &f.v[y*f.n+x]
			if a := cmplx.Abs(*c); a > 1e-9 && r > 0 {
				*c *= complex(math.Exp(-r)/a, 0)
			} else {
				*c = 0
			}
		}
	}
}

func frequency(i, n int) float64 {
	if i > n/2 {
		i -= n
	}
	return float64(i) / float64(n)
}

// correlate replaces the field of two pictures, one in the real and one in the
// imaginary part, by the correlation of each with a whitened one, mirrored:
// where the real part is largest, there lies the first picture.
func (f *field) correlate(with *field) {
	f.transform(false)
	// The conjugate is taken of the other side: that of two pictures in one
	// field would mix them. So the places come out mirrored (see peaks).
	for i := range f.v {
		f.v[i] *= cmplx.Conj(with.v[i])
	}
	f.transform(true)
}

// peak is a place of high correlation, as a shift in pixels from -n/2 to n/2.
type peak struct {
	dx, dy int
	value  float64
}

// peaks gives up to count places of the largest values of one part of a
// correlated field, at least apart pixels from one another.
func (f *field) peaks(count, apart int, part func(complex128) float64) []peak {
	var out []peak
	for range count {
		best := peak{value: math.Inf(-1)}
		for y := range f.n {
			for x, c := range f.v[y*f.n:][:f.n] {
				v := part(c)
				if v <= best.value {
					continue
				}
				p := peak{signed(-x, f.n), signed(-y, f.n), v}
				if !p.near(out, apart, f.n) {
					best = p
				}
			}
		}
		if math.IsInf(best.value, -1) {
			break
		}
		out = append(out, best)
	}
	return out
}

func (p peak) near(others []peak, apart, n int) bool {
	for _, o := range others {
		if abs(signed(p.dx-o.dx, n)) < apart && abs(signed(p.dy-o.dy, n)) < apart {
			return true
		}
	}
	return false
}

func abs(i int) int { return max(i, -i) }

// signed brings an index of a field that wraps around to -n/2..n/2.
func signed(i, n int) int {
	i = ((i % n) + n) % n
	if i > n/2 {
		i -= n
	}
	return i
}
