package measure

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// RectangularU is the standard uncertainty of a value that lies anywhere within
// ± half: u = half/√3 (JCGM 100:2008, 4.3.7). half >= 0, in any unit.
func RectangularU(half float64) (float64, error) {
	if !finite(half) || half < 0 {
		return 0, refuse("the half-width %v is no limit of error: give a number of 0 or more", half)
	}
	return half / math.Sqrt(3), nil
}

// ArcsineU is the standard uncertainty of a value that swings like a sine within
// ± half, as a thermostat does: u = half/√2 (JCGM 100:2008, H.1.3.5). half >= 0.
func ArcsineU(half float64) (float64, error) {
	if !finite(half) || half < 0 {
		return 0, refuse("the half-width %v is no limit of error: give a number of 0 or more", half)
	}
	return half / math.Sqrt2, nil
}

// StandardError gives the mean of repeats, the standard uncertainty of that mean
// s/√n and its n-1 degrees of freedom (JCGM 100:2008, 4.2). It needs two
// repeats or more: one alone says nothing about scatter.
func StandardError(repeats []float64) (mean, u, dof float64, err error) {
	if len(repeats) < 2 {
		return 0, 0, 0, refuse("%d reading says nothing about scatter: read it twice or more", len(repeats))
	}
	for _, x := range repeats {
		if !finite(x) {
			return 0, 0, 0, refuse("the repeat %v is no number: read it again", x)
		}
	}
	mean, sd := stat.MeanStdDev(repeats, nil)
	n := float64(len(repeats))
	if !finite(mean) || !finite(sd) {
		return 0, 0, 0, refuse("the repeats are too large to average: check the unit")
	}
	return mean, sd / math.Sqrt(n), n - 1, nil
}

// Estimate is a measured value whose uncertainty is kept in two parts: Scatter
// shrinks with repeats, Common (calibration and resolution) never does, because
// every reading of one instrument shares it.
type Estimate struct {
	Value   float64
	U       float64 // √(Scatter² + Common²)
	Scatter float64 // standard error of the repeats, 0 for a single reading
	Common  float64
	DoF     float64 // effective, +Inf where no scatter was seen
	N       int
}

// Reading makes an Estimate from the kept repeats of one instrument, its
// resolution (the smallest step shown; half of it is the half-width) and the
// half-width of its calibration, all in one unit (domain rule after JCGM 100,
// 4.2, 4.3.7 and F.2.2.1). One repeat is allowed and then has no scatter.
func Reading(repeats []float64, resolution, calibration float64) (Estimate, error) {
	if len(repeats) == 0 {
		return Estimate{}, refuse("there is no reading: type one or more")
	}
	res, err := RectangularU(resolution / 2)
	if err != nil {
		return Estimate{}, err
	}
	cal, err := RectangularU(calibration)
	if err != nil {
		return Estimate{}, err
	}
	e := Estimate{Value: repeats[0], Common: math.Hypot(res, cal), DoF: math.Inf(1), N: len(repeats)}
	if !finite(e.Value) {
		return Estimate{}, refuse("the reading %v is no number: read it again", e.Value)
	}
	dof := math.Inf(1)
	if len(repeats) > 1 {
		if e.Value, e.Scatter, dof, err = StandardError(repeats); err != nil {
			return Estimate{}, err
		}
	}
	e.U = math.Hypot(e.Scatter, e.Common)
	if e.Scatter > 0 {
		e.DoF = dof * math.Pow(e.U/e.Scatter, 4)
	}
	return e, nil
}

// Term is one source of uncertainty: its standard uncertainty, the partial
// derivative of the result by it, and the degrees of freedom behind U (0 or
// +Inf: taken as exactly known).
type Term struct {
	Name string
	U    float64
	Sens float64
	DoF  float64
}

// Budget is combined uncertainty: U = √Σ (Sens_i U_i)², with effective degrees
// of freedom after Welch and Satterthwaite.
type Budget struct {
	U     float64
	DoF   float64 // +Inf when all terms are exactly known
	Terms []Term
}

// Combine adds independent terms in quadrature (JCGM 100:2008, eq. 10) and gives
// the effective degrees of freedom U⁴/Σ (c_i u_i)⁴/ν_i (eq. G.2b). It fails for a
// negative or unreal uncertainty, an unreal derivative or negative dof.
func Combine(terms []Term) (Budget, error) {
	var sum float64
	for _, t := range terms {
		if !finite(t.U) || t.U < 0 || !finite(t.Sens) || math.IsNaN(t.DoF) || t.DoF < 0 {
			return Budget{}, refuse("the uncertainty of %s (u %v, derivative %v, degrees of freedom %v) can't be right: give u of 0 or more", t.Name, t.U, t.Sens, t.DoF)
		}
		sum = math.Hypot(sum, t.Sens*t.U)
	}
	if !finite(sum) {
		return Budget{}, refuse("the uncertainties are too large to combine: check the units")
	}
	b := Budget{U: sum, DoF: math.Inf(1), Terms: append([]Term(nil), terms...)}
	var weak float64
	for _, t := range terms {
		if t.DoF > 0 && !math.IsInf(t.DoF, 1) && sum > 0 {
			weak += math.Pow(t.Sens*t.U/sum, 4) / t.DoF
		}
	}
	if weak > 0 {
		b.DoF = 1 / weak
	}
	return b, nil
}

// Input is one number that goes into a sum.
type Input struct {
	Name  string   `json:"name"`
	Value float64  `json:"value"`
	Unit  string   `json:"unit"`
	U     *float64 `json:"u"` // standard uncertainty, nil where it was taken as exact
}

// Propagate gives f's value at the inputs and its combined uncertainty. Each
// derivative times u is taken as half the change of f between x+u and x-u
// (JCGM 100:2008, 5.1.3 note 2): exact for straight lines and products, and
// better than a derivative at a point where f bends within u.
func Propagate(inputs []Input, f func(x []float64) float64) (float64, Budget, error) {
	x := make([]float64, len(inputs))
	for i, in := range inputs {
		if !finite(in.Value) {
			return 0, Budget{}, refuse("%s is %v, which is no number: type it again", in.Name, in.Value)
		}
		x[i] = in.Value
	}
	value := f(x)
	if !finite(value) {
		return 0, Budget{}, refuse("these numbers give no result: check %s", inputNames(inputs))
	}
	var terms []Term
	for i, in := range inputs {
		if in.U == nil || *in.U == 0 {
			continue
		}
		u := *in.U
		if !finite(u) || u < 0 {
			return 0, Budget{}, refuse("the uncertainty %v of %s can't be right: give a number of 0 or more", u, in.Name)
		}
		x[i] = in.Value + u
		up := f(x)
		x[i] = in.Value - u
		down := f(x)
		x[i] = in.Value
		if !finite(up) || !finite(down) {
			return 0, Budget{}, refuse("%s is so uncertain (± %g %s) that there is no result: measure it better", in.Name, u, in.Unit)
		}
		terms = append(terms, Term{Name: in.Name, U: u, Sens: (up - down) / (2 * u)})
	}
	b, err := Combine(terms)
	return value, b, err
}

// Coverage is the factor k with which ± k u holds the value at the given level:
// Student's t quantile for the (unrounded) degrees of freedom, the normal one
// for +Inf or 0 (JCGM 100:2008, G.3). JCGM 100 cuts ν down to a whole number;
// pass math.Floor(ν) for that. 0 < level < 1.
func Coverage(level, dof float64) (float64, error) {
	if math.IsNaN(level) || level <= 0 || level >= 1 {
		return 0, refuse("the level %v is no probability: give one between 0 and 1, such as 0.95", level)
	}
	if math.IsNaN(dof) || dof < 0 {
		return 0, refuse("the degrees of freedom %v can't be right: give 0 or more", dof)
	}
	p := 0.5 + level/2
	if dof == 0 || math.IsInf(dof, 1) || dof > 1e6 {
		return distuv.UnitNormal.Quantile(p), nil
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: dof}.Quantile(p), nil
}

func inputNames(inputs []Input) string {
	s := ""
	for i, in := range inputs {
		if i > 0 {
			s += ", "
		}
		s += in.Name
	}
	return s
}
