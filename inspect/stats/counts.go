package stats

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Garwood returns the exact two-sided limits of the mean of a Poisson count k:
//
//	low = chi2(alpha/2, 2k)/2 (0 for k = 0), high = chi2(1-alpha/2, 2k+2)/2
//
// alpha = 1 - level. k >= 0, 0 < level < 1.
//
// Source: Garwood 1936, Biometrika 28:437.
func Garwood(k int, level float64) (low, high float64, err error) {
	if err := checkLevel(level); err != nil {
		return 0, 0, err
	}
	if k < 0 {
		return 0, 0, inputError("a count cannot be %d", k)
	}
	tail := (1 - level) / 2
	if k > 0 {
		low = mathext.GammaIncRegInv(float64(k), tail)
	}
	return low, mathext.GammaIncRegCompInv(float64(k)+1, tail), nil
}

// PoissonP returns the central p value of a count k against the expected mean:
// twice the smaller of P(X <= k) and P(X >= k), at most 1. k >= 0, expected > 0.
func PoissonP(k int, expected float64) (float64, error) {
	if k < 0 || !finite(expected) || expected <= 0 {
		return 0, inputError("count %d against %g: the count must be 0 or more, the expected number more than 0", k, expected)
	}
	atMost := mathext.GammaIncRegComp(float64(k)+1, expected)
	atLeast := 1.0
	if k > 0 {
		atLeast = mathext.GammaIncReg(float64(k), expected)
	}
	return central(atMost, atLeast), nil
}

// ClopperPearson returns the exact two-sided limits of the probability of k
// successes in n:
//
//	low = Beta(alpha/2; k, n-k+1) (0 for k = 0), high = Beta(1-alpha/2; k+1, n-k) (1 for k = n)
//
// 0 <= k <= n, n >= 1, 0 < level < 1.
//
// Source: Clopper and Pearson 1934, Biometrika 26:404.
func ClopperPearson(k, n int, level float64) (low, high float64, err error) {
	if err := checkLevel(level); err != nil {
		return 0, 0, err
	}
	if n < 1 || k < 0 || k > n {
		return 0, 0, inputError("%d of %d is not a share", k, n)
	}
	tail := (1 - level) / 2
	high = 1
	if k > 0 {
		low = mathext.InvRegIncBeta(float64(k), float64(n-k+1), tail)
	}
	if k < n {
		high = mathext.InvRegIncBeta(float64(k+1), float64(n-k), 1-tail)
	}
	return low, high, nil
}

// BinomialP returns the central p value of k successes in n against the
// probability p0, 0 < p0 < 1: twice the smaller tail, at most 1.
func BinomialP(k, n int, p0 float64) (float64, error) {
	if n < 1 || k < 0 || k > n || !(p0 > 0 && p0 < 1) {
		return 0, inputError("%d of %d against %g cannot be tested; the probability must lie between 0 and 1", k, n, p0)
	}
	atLeast, atMost := 1.0, 1.0
	if k > 0 {
		atLeast = mathext.RegIncBeta(float64(k), float64(n-k+1), p0)
	}
	if k < n {
		atMost = mathext.RegIncBeta(float64(n-k), float64(k+1), 1-p0)
	}
	return central(atMost, atLeast), nil
}

func central(a, b float64) float64 { return math.Min(1, 2*math.Min(a, b)) }
