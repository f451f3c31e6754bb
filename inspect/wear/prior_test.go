package wear

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// drawnFitting is one fitting of known age with three to eight readings of one
// uncertainty, scattered about a line.
func drawnFitting(t *rapid.T) (Data, []float64, []float64) {
	n := rapid.IntRange(3, 8).Draw(t, "n")
	slope := rapid.Float64Range(0.001, 0.005).Draw(t, "slope")
	d := Data{}
	var x, y []float64
	for i := 0; i < n; i++ {
		h := 50*float64(i+1) + rapid.Float64Range(0, 20).Draw(t, "h")
		w := slope*h + rapid.Float64Range(-0.05, 0.05).Draw(t, "e")
		x, y = append(x, h), append(y, w)
		d.Observations = append(d.Observations, Observation{Unit: "a", Hours: h, Value: w, U: 0.05})
	}
	return d, x, y
}

// A flat prior leaves least squares (gonum stat.LinearRegression is the outside
// reference): level, life and rate may be anything before the readings.
func TestFlatPriorIsLeastSquares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, x, y := drawnFitting(t)
		fit, err := FitPenalised(d, Prior{ExpectedLife: 300, CvL: 1e4, Tau0: 100, Sigma0: 1e-6, CvSlope: 1e4})
		if err != nil {
			t.Fatal(err)
		}
		p, err := fit.Posterior("a")
		if err != nil {
			t.Fatal(err)
		}
		a, b := stat.LinearRegression(x, y, nil, false)
		if math.Abs(p.Mu[0]-a) > 1e-4 || math.Abs(p.Mu[1]-b) > 1e-6 {
			t.Fatalf("line %.6f + %.8f t, least squares %.6f + %.8f t", p.Mu[0], p.Mu[1], a, b)
		}
	})
}

// A strong prior leaves the data sheet's expected life, whatever was read.
func TestStrongPriorIsThePrior(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, _, _ := drawnFitting(t)
		const life = 300.0
		fit, err := FitPenalised(d, Prior{ExpectedLife: life, CvL: 1e-5, Tau0: 1e-6, Sigma0: 0.05, CvSlope: 1e-5})
		if err != nil {
			t.Fatal(err)
		}
		p, err := fit.Posterior("a")
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(p.Mu[0]) > 1e-4 || math.Abs(p.Mu[1]*life-1) > 1e-3 {
			t.Fatalf("line %.6f + %.8f t, want 0 + t/%g", p.Mu[0], p.Mu[1], life)
		}
	})
}
