package stats

import (
	"math"
	"sort"
)

// Slope is a robust straight trend.
type Slope struct {
	Value     float64
	Low, High *float64 // nil: too few points for limits at this level
	Intercept float64  // median(y) - Value median(x)
	N         int
}

// TheilSen returns the median slope of all pairs with different x, with limits
// from the normal approximation to Kendall's S:
//
//	ranks (N -+ z sqrt(varS)) / 2 of the N sorted slopes, to the nearest slope
//
// There are no limits when the lower rank is below 1. x and y have the same
// length, finite, at least two different x; order does not matter.
//
// Source: Sen 1968, J Am Stat Assoc 63:1379; ranks rounded as in scipy's
// theilslopes.
func TheilSen(x, y []float64, level float64) (Slope, error) {
	if err := checkLevel(level); err != nil {
		return Slope{}, err
	}
	if err := checkPairs(x, y); err != nil {
		return Slope{}, err
	}
	var slopes []float64
	for i := range x {
		for j := i + 1; j < len(x); j++ {
			if x[i] != x[j] {
				slopes = append(slopes, (y[j]-y[i])/(x[j]-x[i]))
			}
		}
	}
	if len(slopes) == 0 {
		return Slope{}, tooFew("a slope needs two points at different places")
	}
	sort.Float64s(slopes)
	s := Slope{Value: median(slopes), N: len(x)}
	s.Intercept = median(sorted(y)) - s.Value*median(sorted(x))
	n := float64(len(slopes))
	half := normalQuantile((1+level)/2) * math.Sqrt(kendallVariance(x, y))
	if (n-half)/2 >= 1 {
		upper := min(int(math.RoundToEven((n+half)/2)), len(slopes)-1)
		lower := max(int(math.RoundToEven((n-half)/2))-1, 0)
		s.Low, s.High = &slopes[lower], &slopes[upper]
	}
	return s, nil
}

// TrendTest is the Mann-Kendall test for a trend in either direction.
type TrendTest struct {
	S        int     // pairs that rise minus pairs that fall
	Variance float64 // of S without a trend, ties taken off
	Z        float64 // (S -+ 1) / sqrt(Variance), 0 for S = 0
	P        float64 // two-sided
	Rising   float64 // P(S or more), one-sided
	Falling  float64 // P(S or less), one-sided
	Exact    bool    // P from the exact distribution, else normal
}

// exactTrendLimit is the most points for which P is exact.
const exactTrendLimit = 30

// MannKendall tests y against x (time) for a trend. Up to 30 points with
// different x the p values are exact, ties in y included (the number of
// inversions of a multiset); beyond that, or with ties in x, from
// z = (S -+ 1)/sqrt(varS). The exact two-sided p is twice the smaller tail, at
// most 1. At least two points; when all y are alike S is 0 and P is 1.
//
// Source: Mann 1945; Kendall 1975, Rank Correlation Methods, chapter 4.
func MannKendall(x, y []float64) (TrendTest, error) {
	if err := checkPairs(x, y); err != nil {
		return TrendTest{}, err
	}
	if len(x) < 2 {
		return TrendTest{}, tooFew("a trend needs at least two points")
	}
	t := TrendTest{Variance: kendallVariance(x, y)}
	for i := range x {
		for j := i + 1; j < len(x); j++ {
			t.S += sign(x[j]-x[i]) * sign(y[j]-y[i])
		}
	}
	if t.S != 0 {
		t.Z = float64(t.S-sign(float64(t.S))) / math.Sqrt(t.Variance)
	}
	if len(x) <= exactTrendLimit && len(tieSizes(x)) == 0 {
		t.exact(y)
		return t, nil
	}
	t.P = normalTwoSided(t.Z)
	root := math.Sqrt(2 * math.Max(t.Variance, math.SmallestNonzeroFloat64))
	t.Rising = math.Erfc(float64(t.S-1)/root) / 2
	t.Falling = math.Erfc(-float64(t.S+1)/root) / 2
	return t, nil
}

// exact sums the distribution of S over all orders of the values y. With P
// pairs untied and D falling, S = P - 2 D; D is the number of inversions.
func (t *TrendTest) exact(y []float64) {
	dist := []float64{1}
	done := 0
	for _, size := range groupSizes(y) {
		dist = convolve(dist, gaussianBinomial(done, size))
		done += size
	}
	untied := len(dist) - 1
	for d, p := range dist {
		s := untied - 2*d
		if s >= t.S {
			t.Rising += p
		}
		if s <= t.S {
			t.Falling += p
		}
	}
	t.P, t.Exact = central(t.Rising, t.Falling), true
}

// gaussianBinomial returns the chances of 0..m*k inversions when k like values
// are mixed at random among m others: the coefficients of the Gaussian binomial
// over C(m+k, k), built by which value stands last.
func gaussianBinomial(m, k int) []float64 {
	row := make([][]float64, k+1) // row[j]: i others, j like values
	for j := range row {
		row[j] = []float64{1}
	}
	for i := 1; i <= m; i++ {
		next := [][]float64{{1}}
		for j := 1; j <= k; j++ {
			v := make([]float64, i*j+1)
			n := float64(i + j)
			for d, p := range row[j] { // an other stands last: j inversions
				v[d+j] += p * float64(i) / n
			}
			for d, p := range next[j-1] {
				v[d] += p * float64(j) / n
			}
			next = append(next, v)
		}
		row = next
	}
	return row[k]
}

func convolve(a, b []float64) []float64 {
	out := make([]float64, len(a)+len(b)-1)
	for i, u := range a {
		for j, v := range b {
			out[i+j] += u * v
		}
	}
	return out
}

// kendallVariance is the variance of S without a trend, with the ties of both:
//
//	(v0 - vx - vy)/18 + sum t(t-1) sum u(u-1) / (2n(n-1)) + sum t(t-1)(t-2) sum u(u-1)(u-2) / (9n(n-1)(n-2))
//
// v = n(n-1)(2n+5) over all, over the ties of x and of y.
func kendallVariance(x, y []float64) float64 {
	v := func(n float64) float64 { return n * (n - 1) * (2*n + 5) }
	n := float64(len(x))
	total := v(n)
	pairs, triples := [2]float64{}, [2]float64{}
	for i, values := range [][]float64{x, y} {
		for _, size := range tieSizes(values) {
			t := float64(size)
			total -= v(t)
			pairs[i] += t * (t - 1)
			triples[i] += t * (t - 1) * (t - 2)
		}
	}
	variance := total / 18
	if n > 1 {
		variance += pairs[0] * pairs[1] / (2 * n * (n - 1))
	}
	if n > 2 {
		variance += triples[0] * triples[1] / (9 * n * (n - 1) * (n - 2))
	}
	return math.Max(variance, 0)
}

// groupSizes counts equal values, one number for each different value.
func groupSizes(v []float64) []int {
	var sizes []int
	s := sorted(v)
	for i := range s {
		if i > 0 && s[i] == s[i-1] {
			sizes[len(sizes)-1]++
		} else {
			sizes = append(sizes, 1)
		}
	}
	return sizes
}

func tieSizes(v []float64) []int {
	var ties []int
	for _, n := range groupSizes(v) {
		if n > 1 {
			ties = append(ties, n)
		}
	}
	return ties
}

func sorted(v []float64) []float64 {
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	return s
}

// median of ascending values: the middle one, or the mean of the two middle.
func median(s []float64) float64 {
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

func checkPairs(x, y []float64) error {
	if len(x) != len(y) {
		return inputError("%d places but %d values", len(x), len(y))
	}
	if len(x) == 0 {
		return tooFew("no points given")
	}
	for i := range x {
		if !finite(x[i]) || !finite(y[i]) {
			return inputError("point %d (%g, %g) is not a pair of numbers", i+1, x[i], y[i])
		}
	}
	return nil
}
