package scratch

import "math"

var infinite = float32(math.Inf(1))

// whiteTopHat is p less its opening by a square of side pixels (odd; an even
// side counts one more): what is brighter than its surroundings and narrower
// than the square, 0 and up. The square is cut at the border, which equals a
// border mirrored with its edge repeated. The work does not depend on side (van
// Herk 1992, Gil and Werman 1993; from memory).
func whiteTopHat(p plane, side int) plane { return p.minus(opening(p, side)) }

// opening is the greatest of the least around each pixel.
func opening(p plane, side int) plane {
	if side < 2 {
		return p
	}
	least := leastAround(p, side/2)
	least.negate()
	out := leastAround(least, side/2)
	out.negate()
	return out
}

// leastAround is the least value in the square of 2k+1 pixels around each.
func leastAround(p plane, k int) plane {
	if k <= 0 {
		return p
	}
	across := newPlane(p.w, p.h)
	left, right := make([]float32, p.w+2*k), make([]float32, p.w+2*k)
	for y := range p.h {
		leastRow(across.row(y), p.row(y), left, right, k)
	}
	const strip = 32 // columns at a time, so that the work stays in the cache
	up, down := make([]float32, (p.h+2*k)*strip), make([]float32, (p.h+2*k)*strip)
	for x := 0; x < p.w; x += strip {
		leastColumns(across, x, min(x+strip, p.w), up, down, k)
	}
	return across
}

// leastRow cuts the row, lengthened by k at both ends, into blocks of 2k+1:
// the window that begins at x is the rest of one block and the beginning of
// the next.
func leastRow(to, from, left, right []float32, k int) {
	s, n := 2*k+1, len(left)
	for e := range k {
		left[e], left[n-1-e] = infinite, infinite
	}
	copy(left[k:], from)
	copy(right, left)
	for e := 1; e < n; e++ {
		if e%s != 0 && left[e-1] < left[e] {
			left[e] = left[e-1]
		}
	}
	for e := n - 2; e >= 0; e-- {
		if e%s != s-1 && right[e+1] < right[e] {
			right[e] = right[e+1]
		}
	}
	for x := range to {
		to[x] = min(right[x], left[x+2*k])
	}
}

// leastColumns does the same downwards for the columns x0..x1, in place.
func leastColumns(p plane, x0, x1 int, up, down []float32, k int) {
	n, s, w := p.h, 2*k+1, x1-x0
	load := func(line []float32, e int) {
		if e >= k && e < n+k {
			copy(line, p.row(e - k)[x0:x1])
			return
		}
		for i := range line {
			line[i] = infinite
		}
	}
	for e := range n + 2*k {
		line := up[e*w : (e+1)*w]
		load(line, e)
		if e%s != 0 {
			lower(line, up[(e-1)*w:e*w])
		}
	}
	for e := n + 2*k - 1; e >= 0; e-- {
		line := down[e*w : (e+1)*w]
		load(line, e)
		if e%s != s-1 && e+1 < n+2*k {
			lower(line, down[(e+1)*w:(e+2)*w])
		}
	}
	for y := range n {
		line := p.row(y)[x0:x1]
		copy(line, down[y*w:(y+1)*w])
		lower(line, up[(y+2*k)*w:(y+2*k+1)*w])
	}
}

func lower(to, other []float32) {
	other = other[:len(to)]
	for i, v := range other {
		if v < to[i] {
			to[i] = v
		}
	}
}

// otsu is the index t of the threshold that parts a histogram best into 0..t
// and t+1..: the first that makes n1 n2 (m1 - m2)^2 greatest (Otsu 1979; from
// memory). 0 for fewer than two filled bins.
func otsu(counts []int) int {
	var n, sum float64
	for i, c := range counts {
		n += float64(c)
		sum += float64(i) * float64(c)
	}
	var n1, s1, best float64
	at := 0
	for i, c := range counts {
		n1 += float64(c)
		s1 += float64(i) * float64(c)
		n2 := n - n1
		if n1 == 0 || n2 == 0 {
			continue
		}
		d := s1/n1 - (sum-s1)/n2
		if between := n1 * n2 * d * d; between > best*(1+1e-12) {
			best, at = between, i
		}
	}
	return at
}

// finest is the width of a bin of the histogram of a response, grey levels.
const finest = 0.25

// spread describes a response: the Otsu threshold of what of it is positive;
// and of the calm part of it, the median and the noise, 1.4826 times the median
// distance from the median (which is the standard deviation of normal noise).
type spread struct{ otsu, median, noise float32 }

// leastNoise, grey levels: whole levels alone give 0.3.
const leastNoise = 0.5

// The histograms reach from lowest to highest, grey levels.
const (
	lowest, highest = -256, 256
	bins            = (highest - lowest) / finest
)

func bin(v float32) int { return min(max(int((v-lowest)/finest), 0), bins-1) }

func spreadOf(response, calm []float32) spread {
	positive, signed, off := make([]int, bins), make([]int, bins), make([]int, bins)
	for _, v := range response {
		positive[bin(max(v, 0))]++
	}
	for _, v := range calm {
		signed[bin(v)]++
	}
	m := middle(signed)
	for i, c := range signed {
		off[max(i-m, m-i)] += c
	}
	return spread{
		otsu:   lowest + finest*(float32(otsu(positive))+1),
		median: lowest + finest*(float32(m)+0.5),
		noise:  max(1.4826*finest*float32(middle(off)), leastNoise),
	}
}

// middle is the bin of the median.
func middle(counts []int) int {
	n := 0
	for _, c := range counts {
		n += c
	}
	sum := 0
	for i, c := range counts {
		if sum += c; 2*sum >= n {
			return i
		}
	}
	return 0
}
