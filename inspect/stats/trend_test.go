package stats

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// T1 Hollander and Wolfe, example 9.1 (from memory); T2 Gilbert 1987, chapter
// 16 (from memory); T3 R LakeHuron: slope and limits from scipy
// theilslopes(y, x, 0.95), R's floor/ceil ranks give the same to 1e-5.
func TestTrendPublished(t *testing.T) {
	huron := table(t, "trend_lakehuron.csv")
	for _, c := range []struct {
		name          string
		x, y          []float64
		s             int
		varS, z       float64
		slope         float64
		low, high     float64 // 0: too few points
		p, p1         float64
		exact, rising bool
	}{
		{"T1", []float64{1, 2, 3, 4, 5}, []float64{1.26, 1.27, 1.12, 1.16, 1.03},
			-6, 16.6667, -1.2247, -0.05625, 0, 0, 0.2333, 0.1167, true, false},
		{"T2", []float64{1, 2, 3, 4}, []float64{10, 15, 14, 20},
			4, 8.6667, 1.0190, 2.916667, 0, 0, 1. / 3, 0.166667, true, true},
		{"T3", numbers(t, huron["year"]), numbers(t, huron["level"]),
			-1682, 106136.667, -5.15982523, -0.025125, -0.03492957746, -0.01657534247, 2.47180484e-07, 1.23590242e-07, false, false},
	} {
		m, err := MannKendall(c.x, c.y)
		if err != nil {
			t.Fatal(err)
		}
		if m.S != c.s || m.Exact != c.exact {
			t.Errorf("%s: S %d exact %v, want %d %v", c.name, m.S, m.Exact, c.s, c.exact)
		}
		near(t, c.name+" variance", m.Variance, c.varS, 5e-5)
		near(t, c.name+" z", m.Z, c.z, 5e-5)
		if !c.exact {
			near(t, c.name+" z", m.Z, c.z, 1e-9)
			near(t, c.name+" p", m.P/c.p, 1, 1e-8)
		}
		near(t, c.name+" p", m.P, c.p, 5e-5)
		one := m.Falling
		if c.rising {
			one = m.Rising
		}
		near(t, c.name+" one-sided p", one, c.p1, 5e-5)
		slope, err := TheilSen(c.x, c.y, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name+" slope", slope.Value, c.slope, 5e-7)
		if c.low == 0 {
			if slope.Low != nil || slope.High != nil {
				t.Errorf("%s: limits from too few points", c.name)
			}
			continue
		}
		nearPointer(t, c.name+" low", slope.Low, c.low, 1e-10)
		nearPointer(t, c.name+" high", slope.High, c.high, 1e-10)
	}
}

// The exact distribution against counting every order (definition of the
// test), with ties.
func TestMannKendallExactByCounting(t *testing.T) {
	for _, y := range [][]float64{{1, 2, 3}, {1, 1, 2}, {3, 1, 2, 2, 1}, {5, 5, 4, 4, 4, 1}, {2, 2, 2}} {
		x := make([]float64, len(y))
		for i := range x {
			x[i] = float64(i)
		}
		m, err := MannKendall(x, y)
		if err != nil {
			t.Fatal(err)
		}
		all, most, least := 0, 0, 0
		everyOrder(append([]float64(nil), y...), 0, func(v []float64) {
			s := 0
			for i := range v {
				for j := i + 1; j < len(v); j++ {
					s += sign(v[j] - v[i])
				}
			}
			all++
			if s >= m.S {
				most++
			}
			if s <= m.S {
				least++
			}
		})
		near(t, "P(S or more)", m.Rising, float64(most)/float64(all), 1e-12)
		near(t, "P(S or less)", m.Falling, float64(least)/float64(all), 1e-12)
	}
}

func everyOrder(v []float64, from int, visit func([]float64)) {
	if from == len(v) {
		visit(v)
		return
	}
	for i := from; i < len(v); i++ {
		v[from], v[i] = v[i], v[from]
		everyOrder(v, from+1, visit)
		v[from], v[i] = v[i], v[from]
	}
}

func TestTrendProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 25).Draw(t, "n")
		x, y, down := make([]float64, n), make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = float64(i)
			y[i] = float64(rapid.IntRange(-20, 20).Draw(t, "y"))
			down[i] = -3 * y[i]
		}
		a, err := MannKendall(x, y)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := MannKendall(x, down)
		if a.S != -b.S || math.Abs(a.P-b.P) > 1e-9 || math.Abs(a.Rising-b.Falling) > 1e-9 {
			t.Fatalf("turned upside down: %+v %+v", a, b)
		}
		if a.P < 0 || a.P > 1 || math.IsNaN(a.Z) {
			t.Fatalf("%+v", a)
		}
		s, err := TheilSen(x, y, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		d, _ := TheilSen(x, down, 0.9)
		if math.Abs(s.Value*-3-d.Value) > 1e-9 {
			t.Fatalf("slope %g, three times and down %g", s.Value, d.Value)
		}
		if s.Low != nil && (*s.Low > s.Value || *s.High < s.Value) {
			t.Fatalf("slope %g outside %g to %g", s.Value, *s.Low, *s.High)
		}
	})
}

func TestTrendRefuses(t *testing.T) {
	for _, c := range []struct {
		x, y []float64
		want error
	}{
		{nil, nil, ErrTooFew},
		{[]float64{1}, []float64{1, 2}, ErrInput},
		{[]float64{1, math.NaN()}, []float64{1, 2}, ErrInput},
		{[]float64{3, 3, 3}, []float64{1, 2, 3}, ErrTooFew},
	} {
		if _, err := TheilSen(c.x, c.y, 0.95); !errors.Is(err, c.want) {
			t.Errorf("TheilSen(%v, %v): %v, want %v", c.x, c.y, err, c.want)
		}
		if _, err := LeastSquares(c.x, c.y); !errors.Is(err, c.want) {
			t.Errorf("LeastSquares(%v, %v): %v, want %v", c.x, c.y, err, c.want)
		}
	}
	if _, err := MannKendall([]float64{1}, []float64{1}); !errors.Is(err, ErrTooFew) {
		t.Errorf("one point: %v", err)
	}
}

// NIST StRD Norris, certified values (from memory) and R lm(y~x), predict(...,
// interval=).
func TestLeastSquaresNorris(t *testing.T) {
	c := table(t, "norris.csv")
	l, err := LeastSquares(numbers(t, c["x"]), numbers(t, c["y"]))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "B0", l.Intercept, -0.262323073774029, 1e-10)
	near(t, "B0 SE", l.InterceptSE, 0.232818234301152, 1e-10)
	near(t, "B1", l.Slope, 1.00211681802045, 1e-12)
	near(t, "B1 SE", l.SlopeSE, 0.000429796848199937, 1e-13)
	near(t, "residual", l.Residual, 0.884796396144373, 1e-10)
	near(t, "R2", l.R2, 0.999993745883712, 1e-12)
	for _, w := range []struct{ x, value, low, high float64 }{
		{500, 500.796085936, 498.971794054, 502.620377819},
		{1100, 1102.066176749, 1100.148708461, 1103.983645036},
	} {
		p, err := l.Prediction(w.x, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "prediction", p.Value, w.value, 1e-11)
		nearPointer(t, "prediction low", p.Low, w.low, 1e-11)
		nearPointer(t, "prediction high", p.High, w.high, 1e-11)
	}
	m, _ := l.MeanInterval(500, 0.95)
	nearPointer(t, "line low", m.Low, 500.488196472, 1e-11)
	nearPointer(t, "line high", m.High, 501.103975401, 1e-11)
}

// JCGM 100:2008, H.3 (x = t - 20); further digits from R lm.
func TestLeastSquaresThermometer(t *testing.T) {
	c := table(t, "gum_h3_thermometer.csv")
	x := numbers(t, c["t"])
	for i := range x {
		x[i] -= 20
	}
	l, err := LeastSquares(x, numbers(t, c["b"]))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "intercept", l.Intercept, -0.17120379013, 1e-10)
	near(t, "slope", l.Slope, 0.00218269774, 1e-10)
	near(t, "intercept SE", l.InterceptSE, 0.0028775978, 1e-9)
	near(t, "slope SE", l.SlopeSE, 0.0006679388, 1e-9)
	near(t, "correlation", l.Correlation, -0.930429603, 1e-8)
	near(t, "s", l.Residual, 0.00349756396, 1e-10)
	value, se := l.At(10)
	near(t, "at 30", value, -0.149376812732, 1e-10)
	near(t, "u at 30", se, 0.00413859575, 1e-10)
	near(t, "printed u at 30", se, 0.0041, 5e-5)
	p, _ := l.Prediction(10, 0.95)
	nearPointer(t, "low", p.Low, -0.161634475, 1e-8)
	nearPointer(t, "high", p.High, -0.137119150, 1e-8)
}
