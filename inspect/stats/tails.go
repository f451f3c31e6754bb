package stats

import (
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// normalQuantile returns z with Phi(z) = p, 0 < p < 1.
func normalQuantile(p float64) float64 { return distuv.UnitNormal.Quantile(p) }

// normalTwoSided returns P(|Z| >= |z|).
func normalTwoSided(z float64) float64 { return math.Erfc(math.Abs(z) / math.Sqrt2) }

// chiSquareTail returns P(X >= x) for df degrees of freedom, df > 0, x >= 0.
func chiSquareTail(x float64, df int) float64 {
	if x <= 0 {
		return 1
	}
	return mathext.GammaIncRegComp(float64(df)/2, x/2)
}

// chiSquareOne returns the quantile of chi-square with one degree of freedom
// below which the share level lies.
func chiSquareOne(level float64) float64 {
	z := normalQuantile((1 + level) / 2)
	return z * z
}

// studentQuantile returns t with P(T <= t) = p for df degrees of freedom.
func studentQuantile(p float64, df int) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(df)}.Quantile(p)
}
