package wear

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// readData reads value, hours and unit by column; hours -1 means none.
func readData(t testing.TB, file string, unit, hours, value int) Data {
	t.Helper()
	f, err := os.Open("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	recs, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var d Data
	for _, r := range recs[1:] {
		o := Observation{Unit: r[unit]}
		if o.Value, err = strconv.ParseFloat(r[value], 64); err != nil {
			t.Fatal(err)
		}
		if hours >= 0 {
			if o.Hours, err = strconv.ParseFloat(r[hours], 64); err != nil {
				t.Fatal(err)
			}
		}
		d.Observations = append(d.Observations, o)
	}
	return d
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %.3g", what, got, want, tol)
	}
}

// R: lmer(Reaction ~ Days + (Days|Subject), sleepstudy); testdata/SOURCES.md.
func TestREMLSleepstudy(t *testing.T) {
	f, err := FitREML(readData(t, "lmm_sleepstudy.csv", 2, 1, 0), Line)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "b0", f.Intercept.Value, 251.405105, 1e-5*251)
	near(t, "b1", f.Slope.Value, 10.467286, 1e-5*10.4)
	near(t, "se b0", f.Intercept.SE, 6.824586, 1e-3*6.8)
	near(t, "se b1", f.Slope.SE, 1.545791, 1e-3*1.5)
	near(t, "sd intercept", f.SDIntercept, 24.740605, 1e-3*24.7)
	near(t, "sd slope", f.SDSlope, 5.922142, 1e-3*5.9)
	near(t, "correlation", f.Correlation, 0.06555, 1e-3)
	near(t, "sigma", f.SDResidual, 25.591798, 1e-3*25.6)
	near(t, "criterion", f.Criterion, 1743.628272, 1e-4)
	if f.Singular || !f.Converged || f.Fittings != 18 || f.WithThree != 18 || f.Readings != 180 {
		t.Errorf("singular %v converged %v fittings %d three %d readings %d", f.Singular, f.Converged, f.Fittings, f.WithThree, f.Readings)
	}
	for unit, want := range map[string][2]float64{
		"308": {2.25855, 9.19898}, "309": {-40.39869, -8.61969}, "310": {-38.96036, -5.44886},
		"330": {23.69059, -4.81435}, "335": {-0.33367, -10.75217}, "372": {12.31458, 1.28402},
	} {
		e := f.Units[f.at[unit]]
		near(t, unit+" intercept", e.Intercept, want[0], 0.005*24.74)
		near(t, unit+" slope", e.Slope, want[1], 0.005*5.92)
	}
	p, err := f.Posterior("308")
	if err != nil {
		t.Fatal(err)
	}
	m, _ := p.Wear(10) // R: predict at Days = 10 for 308
	near(t, "308 at day 10", m, 450.32627, 0.01)
}

// R: lmer(Yield ~ 1 + (1|Batch), Dyestuff); testdata/SOURCES.md.
func TestREMLDyestuff(t *testing.T) {
	f, err := FitREML(readData(t, "lmm_dyestuff.csv", 0, -1, 1), Level)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "b0", f.Intercept.Value, 1527.5, 1e-5*1527)
	near(t, "se", f.Intercept.SE, 19.383372, 1e-3*19)
	near(t, "sd between", f.SDIntercept, 42.000478, 1e-3*42)
	near(t, "sigma", f.SDResidual, 49.510122, 1e-3*49.5)
	near(t, "sigma^2 (published, from memory)", f.SDResidual*f.SDResidual, 2451.25, 2e-3*2451)
	near(t, "criterion", f.Criterion, 319.654277, 1e-4)
	for unit, want := range map[string]float64{"A": -17.60683, "B": 0.39126, "C": 28.56219, "D": -23.08451, "E": 56.73311, "F": -44.99522} {
		near(t, unit, f.Units[f.at[unit]].Intercept, want, 0.005*42)
	}
	if _, err := f.Posterior("A"); err == nil {
		t.Error("a level model gave a trend")
	}
	if !math.IsNaN(f.Correlation) || !math.IsNaN(f.Slope.Value) {
		t.Error("the level model told a slope or a correlation")
	}
}

// The order of readings and units, and the choice of units of measure, must
// not matter: REML is equivariant (exact property of the likelihood).
func TestREMLEquivariance(t *testing.T) {
	d := readData(t, "lmm_sleepstudy.csv", 2, 1, 0)
	a, err := FitREML(d, Line)
	if err != nil {
		t.Fatal(err)
	}
	var e Data
	for i := len(d.Observations) - 1; i >= 0; i-- {
		o := d.Observations[i]
		o.Hours *= 100
		o.Value = -o.Value / 1000
		e.Observations = append(e.Observations, o)
	}
	b, err := FitREML(e, Line)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slope", b.Slope.Value*-1e5, a.Slope.Value, 1e-6)
	near(t, "sd slope", b.SDSlope*1e5, a.SDSlope, 1e-4)
	near(t, "sigma", b.SDResidual*1e3, a.SDResidual, 1e-4)
}

// A known sd is part of the residual: with the same u on every reading, sigma^2
// falls by u^2 and nothing else moves (exact property of the model).
func TestREMLKnownUncertainty(t *testing.T) {
	d := readData(t, "lmm_sleepstudy.csv", 2, 1, 0)
	for i := range d.Observations {
		d.Observations[i].U = 20
	}
	f, err := FitREML(d, Line)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "sigma", f.SDResidual, math.Sqrt(25.591798*25.591798-400), 1e-3*16)
	near(t, "sd slope", f.SDSlope, 5.922142, 1e-3*5.9)
	near(t, "criterion", f.Criterion, 1743.628272, 1e-4)
	// Unequal u: the criterion against one written out with full matrices.
	for i := range d.Observations {
		d.Observations[i].U = float64(5 + i%7)
	}
	f, err = FitREML(d, Line)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "criterion by full matrices", f.Criterion, denseCriterion(d, f), 1e-6)
}

// Equal lines for all units: the differences are 0 and the fit is singular.
func TestREMLSingular(t *testing.T) {
	var d Data
	noise := []float64{1, -1, 0, -1, 1, 0, 0, 1, -1, 1, 0, -1}
	for i, e := range noise {
		h := float64(100 * (i % 4))
		d.Observations = append(d.Observations, Observation{Unit: string(rune('a' + i/4)), Hours: h, Value: 0.001*h + 0.01*e})
	}
	f, err := FitREML(d, Line)
	if err != nil {
		t.Fatal(err)
	}
	if !f.Singular || len(f.Remarks) == 0 {
		t.Errorf("singular %v, remarks %v", f.Singular, f.Remarks)
	}
	if p, err := f.Posterior("a"); err != nil {
		t.Error(err)
	} else if _, err := p.HoursLeft(300); err != nil {
		t.Error(err)
	}
}

func TestREMLRefusals(t *testing.T) {
	o := func(unit string, h, v float64) Observation { return Observation{Unit: unit, Hours: h, Value: v} }
	ok := []Observation{o("a", 0, 1), o("a", 1, 2.1), o("a", 2, 2.9), o("b", 0, 1.2), o("b", 1, 1.9), o("b", 2, 3.4)}
	with := func(x ...Observation) []Observation { return append(append([]Observation(nil), ok...), x...) }
	for name, c := range map[string]struct {
		obs   []Observation
		model Model
		says  string
	}{
		"nothing":           {nil, Line, "no reading"},
		"one reading":       {ok[:1], Line, "one unit only"},
		"one unit":          {ok[:3], Line, "one unit only"},
		"equal hours":       {[]Observation{o("a", 5, 1), o("a", 5, 2), o("b", 5, 1), o("b", 5, 3)}, Line, "same hours"},
		"all equal":         {[]Observation{o("a", 0, 1), o("a", 1, 1), o("a", 2, 1), o("b", 0, 1), o("b", 1, 1)}, Line, "values are equal"},
		"two each, no sd":   {[]Observation{o("a", 0, 1), o("a", 1, 2), o("b", 0, 1.5), o("b", 1, 3)}, Line, "readings to spare"},
		"exact lines":       {[]Observation{o("a", 0, 1), o("a", 1, 2), o("a", 2, 3), o("b", 0, 1), o("b", 1, 3), o("b", 2, 5)}, Line, "exactly"},
		"NaN":               {with(o("c", 1, math.NaN())), Line, "NaN"},
		"infinite hours":    {with(o("c", math.Inf(1), 1)), Line, "Inf"},
		"negative hours":    {with(o("c", -1, 1)), Line, "-1 hours"},
		"negative sd":       {with(Observation{Unit: "c", U: -1}), Line, "uncertainty"},
		"censored":          {with(Observation{Unit: "c", Left: true}), Line, "censored"},
		"uncertain hours":   {with(Observation{Unit: "c", HoursU: 1}), Line, "uncertain hours"},
		"unknown model":     {ok, "curve", "not known"},
		"absurd sizes":      {with(o("c", 1e308, -1e308), o("c", 3, 1e308), o("c", 4, 1)), Line, "too far apart"},
		"one each in level": {[]Observation{o("a", 0, 1), o("b", 0, 2), o("c", 0, 3)}, Level, "readings to spare"},
	} {
		_, err := FitREML(Data{Observations: c.obs}, c.model)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want a sentence with %q", name, err, c.says)
		}
	}
	if _, err := FitREML(Data{Observations: ok}, Line); err != nil {
		t.Errorf("good data refused: %v", err)
	}
	for i := range ok[:4] { // hours that drop: the order is of no account here
		ok[i].Hours = 3 - ok[i].Hours
	}
	if _, err := FitREML(Data{Observations: ok}, Line); err != nil {
		t.Errorf("order refused: %v", err)
	}
}
