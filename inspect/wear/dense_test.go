package wear

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// dense builds V = Z G Z' + diag(sigma^2 + U^2), X and y with full matrices, by
// the model's definition and by another road than the package's sums.
func dense(d Data, f Fit) (v *mat.SymDense, x *mat.Dense, y *mat.VecDense) {
	n := len(d.Observations)
	v, x, y = mat.NewSymDense(n, nil), mat.NewDense(n, 2, nil), mat.NewVecDense(n, nil)
	g00, g11 := f.SDIntercept*f.SDIntercept, f.SDSlope*f.SDSlope
	g01 := 0.0
	if !math.IsNaN(f.Correlation) {
		g01 = f.Correlation * f.SDIntercept * f.SDSlope
	}
	for i, a := range d.Observations {
		x.Set(i, 0, 1)
		x.Set(i, 1, a.Hours)
		y.SetVec(i, a.Value)
		for j := i; j < n; j++ {
			b := d.Observations[j]
			if a.Unit != b.Unit {
				continue
			}
			s := g00 + g01*(a.Hours+b.Hours) + g11*a.Hours*b.Hours
			if i == j {
				s += f.SDResidual*f.SDResidual + a.U*a.U
			}
			v.SetSym(i, j, s)
		}
	}
	return v, x, y
}

// denseCriterion is -2 log restricted likelihood (Bates et al. 2015, eq. 38 ff.).
func denseCriterion(d Data, f Fit) float64 {
	v, x, y := dense(d, f)
	n, _ := x.Dims()
	var chol mat.Cholesky
	if !chol.Factorize(v) {
		return math.NaN()
	}
	var vx, q mat.Dense
	if chol.SolveTo(&vx, x) != nil {
		return math.NaN()
	}
	q.Mul(x.T(), &vx)
	var r, vr mat.VecDense
	r.MulVec(x, mat.NewVecDense(2, []float64{f.Intercept.Value, f.Slope.Value}))
	r.SubVec(y, &r)
	if chol.SolveVecTo(&vr, &r) != nil {
		return math.NaN()
	}
	return chol.LogDet() + math.Log(mat.Det(&q)) + mat.Dot(&r, &vr) + float64(n-2)*math.Log(2*math.Pi)
}
