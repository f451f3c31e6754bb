package stats

import "math"

// Line is a straight line y = Intercept + Slope x by least squares.
type Line struct {
	Intercept, Slope     float64
	InterceptSE, SlopeSE float64
	Residual             float64 // residual standard deviation, n - 2 degrees of freedom
	R2                   float64 // 0 when all y are alike
	Correlation          float64 // of Intercept and Slope
	DF                   int

	meanX, sumSquares float64
	n                 float64
}

// LeastSquares fits a line through at least three points with two different x.
// Sums are taken about the means, so that large x lose no digits.
//
// Source: Draper and Smith 1998, chapter 1; JCGM 100:2008, H.3.
func LeastSquares(x, y []float64) (Line, error) {
	if err := checkPairs(x, y); err != nil {
		return Line{}, err
	}
	if len(x) < 3 {
		return Line{}, tooFew("a line with an error needs at least three points, %d given", len(x))
	}
	l := Line{n: float64(len(x)), DF: len(x) - 2}
	meanY := 0.0
	for i := range x {
		l.meanX += x[i] / l.n
		meanY += y[i] / l.n
	}
	sxy, syy := 0.0, 0.0
	for i := range x {
		dx, dy := x[i]-l.meanX, y[i]-meanY
		l.sumSquares += dx * dx
		sxy += dx * dy
		syy += dy * dy
	}
	if l.sumSquares == 0 {
		return Line{}, tooFew("a line needs points at different places; all are at %g", x[0])
	}
	l.Slope = sxy / l.sumSquares
	l.Intercept = meanY - l.Slope*l.meanX
	rest, squares := 0.0, 0.0
	for i := range x {
		r := y[i] - meanY - l.Slope*(x[i]-l.meanX)
		rest += r * r
		squares += x[i] * x[i]
	}
	l.Residual = math.Sqrt(rest / float64(l.DF))
	l.SlopeSE = l.Residual / math.Sqrt(l.sumSquares)
	l.InterceptSE = l.Residual * math.Sqrt(squares/(l.n*l.sumSquares))
	if squares > 0 {
		l.Correlation = -l.meanX / math.Sqrt(squares/l.n)
	}
	if syy > 0 {
		l.R2 = 1 - rest/syy
	}
	return l, nil
}

// At returns the value of the line at x and its standard error,
// s sqrt(1/n + (x - mean)^2 / Sxx).
func (l Line) At(x float64) (value, se float64) {
	d := x - l.meanX
	return l.Intercept + l.Slope*x, l.Residual * math.Sqrt(1/l.n+d*d/l.sumSquares)
}

// MeanInterval returns the line at x with the limits of the line itself.
func (l Line) MeanInterval(x, level float64) (Estimate, error) {
	value, se := l.At(x)
	return l.interval(value, se, level)
}

// Prediction returns the line at x with limits for one new value there:
// value +- t(level, n-2) sqrt(s^2 + se^2).
func (l Line) Prediction(x, level float64) (Estimate, error) {
	value, se := l.At(x)
	return l.interval(value, math.Hypot(l.Residual, se), level)
}

func (l Line) interval(value, se, level float64) (Estimate, error) {
	if err := checkLevel(level); err != nil {
		return Estimate{}, err
	}
	if l.DF < 1 {
		return Estimate{}, tooFew("this line was not fitted")
	}
	w := studentQuantile((1+level)/2, l.DF) * se
	return Estimate{Value: value, Low: pointer(value - w), High: pointer(value + w)}, nil
}
