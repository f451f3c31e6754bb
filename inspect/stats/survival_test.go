package stats

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// R 4.2.2, survfit(Surv(time,status)~x); SE = f$surv*f$std.err. Data: Freireich
// et al. 1963 (MASS gehan) and Miller 1981 (survival aml).
func TestKaplanMeierPublished(t *testing.T) {
	type row struct {
		time     float64
		n, d     int
		surv, se float64
	}
	gehan := lifetimes(t, "km_freireich_gehan.csv", "time", "cens", "treat")
	aml := lifetimes(t, "km_aml.csv", "time", "status", "x")
	for _, c := range []struct {
		name   string
		rows   []Lifetime
		median float64
		want   []row
	}{
		{"6-MP", gehan["6-MP"], 23, []row{
			{6, 21, 3, 0.857142857, 0.076360355}, {7, 17, 1, 0.806722689, 0.086935285},
			{10, 15, 1, 0.752941176, 0.096349653}, {13, 12, 1, 0.690196078, 0.106814708},
			{16, 11, 1, 0.627450980, 0.114053865}, {22, 7, 1, 0.537815126, 0.128233752},
			{23, 6, 1, 0.448179272, 0.134591457}}},
		{"Maintained", aml["Maintained"], 31, []row{
			{9, 11, 1, .909090909, .086678417}, {13, 10, 1, .818181818, .116291300},
			{18, 8, 1, .715909091, .139664971}, {23, 7, 1, .613636364, .152632331},
			{31, 5, 1, .490909091, .164193267}, {34, 4, 1, .368181818, .162668886},
			{48, 2, 1, .184090909, .153492746}}},
	} {
		curve, err := KaplanMeier(c.rows, 0.95, 0)
		if err != nil {
			t.Fatal(err)
		}
		nearPointer(t, c.name+" median", curve.Median, c.median, 0)
		if len(curve.Steps) != len(c.want) {
			t.Fatalf("%s: %d steps, want %d", c.name, len(curve.Steps), len(c.want))
		}
		for i, w := range c.want {
			s := curve.Steps[i]
			if s.Time != w.time || *s.AtRisk != w.n || *s.Events != w.d {
				t.Errorf("%s: step %g n %d d %d, want %v", c.name, s.Time, *s.AtRisk, *s.Events, w)
			}
			near(t, c.name+" survival", s.Survival, w.surv, 1e-8)
			nearPointer(t, c.name+" SE", s.SE, w.se, 1e-8)
		}
	}
	for _, c := range []struct {
		rows   []Lifetime
		median float64
	}{{gehan["control"], 8}, {aml["Nonmaintained"], 23}} {
		curve, _ := KaplanMeier(c.rows, 0.95, 0)
		nearPointer(t, "median", curve.Median, c.median, 0)
		last := curve.Steps[len(curve.Steps)-1]
		if last.Survival != 0 || last.SE != nil || last.Low != nil || last.High != nil {
			t.Errorf("the last step should be 0 without error: %+v", last)
		}
	}
}

// The log-log formula by hand at the first 6-MP step: S = 18/21, Greenwood sum
// 3/(21*18); exp(+-1.959964*sqrt(sum)/ln S) as the power (Kalbfleisch and
// Prentice 2002, 1.4). 0.6197 to 0.9516 is also what is printed for
// conf.type="log-log" (from memory).
func TestLogLogLimits(t *testing.T) {
	rows := lifetimes(t, "km_freireich_gehan.csv", "time", "cens", "treat")["6-MP"]
	curve, err := KaplanMeier(rows, 0.95, 0)
	if err != nil {
		t.Fatal(err)
	}
	s := 18.0 / 21
	w := 1.959963984540054 * math.Sqrt(3.0/(21*18)) / math.Abs(math.Log(s))
	nearPointer(t, "low", curve.Steps[0].Low, math.Pow(s, math.Exp(w)), 1e-12)
	nearPointer(t, "high", curve.Steps[0].High, math.Pow(s, math.Exp(-w)), 1e-12)
	nearPointer(t, "low", curve.Steps[0].Low, 0.6197, 1e-4)
	nearPointer(t, "high", curve.Steps[0].High, 0.9516, 1e-4)
}

// R 4.2.2, survdiff(Surv(time,status)~x).
func TestLogRankPublished(t *testing.T) {
	r, err := LogRank(lifetimes(t, "km_freireich_gehan.csv", "time", "cens", "treat"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "O 6-MP", r.Observed[0], 9, 0)
	near(t, "O control", r.Observed[1], 21, 0)
	near(t, "E 6-MP", r.Expected[0], 19.25050095, 1e-9)
	near(t, "E control", r.Expected[1], 10.74949905, 1e-9)
	near(t, "V", r.Variance[0][0], 6.2569606, 1e-7)
	near(t, "chi2", r.Chi2, 16.79294, 1e-6)
	near(t, "p", r.P*1e5, 4.16881, 1e-6)

	r, err = LogRank(lifetimes(t, "km_aml.csv", "time", "status", "x"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "O-E", r.Observed[0]-r.Expected[0], -3.689336, 1e-6)
	near(t, "V", r.Variance[0][0], 4.0075507, 1e-6)
	near(t, "chi2", r.Chi2, 3.3963887, 1e-6)
	near(t, "p", r.P, 0.065339322, 1e-8)
	if r.DF != 1 {
		t.Errorf("df %d, want 1", r.DF)
	}
}

// The same units as one row with a count or as many rows; in any order; in
// minutes or hours; a third group that is a copy leaves O - E summing to 0.
func TestLogRankProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		groups := map[string][]Lifetime{"a": drawLifetimes(t, 3), "b": drawLifetimes(t, 3), "c": drawLifetimes(t, 3)}
		r, err := LogRank(groups)
		if errors.Is(err, ErrTooFew) {
			t.Skip()
		}
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for g := range r.Groups {
			sum += r.Observed[g] - r.Expected[g]
		}
		if math.Abs(sum) > 1e-9 || r.P < 0 || r.P > 1 || r.Chi2 < 0 {
			t.Fatalf("O-E sums to %g, chi2 %g, p %g", sum, r.Chi2, r.P)
		}
		spread := map[string][]Lifetime{}
		for name, rows := range groups {
			for _, l := range rapid.Permutation(rows).Draw(t, "order") {
				n := l.number()
				l.Count, l.Time, l.Entry = 1, l.Time*60, l.Entry*60
				for range n {
					spread[name] = append(spread[name], l)
				}
			}
		}
		again, err := LogRank(spread)
		if err != nil || math.Abs(again.Chi2-r.Chi2) > 1e-6*(1+r.Chi2) {
			t.Fatalf("chi2 %g, spread out %g, %v", r.Chi2, again.Chi2, err)
		}
	})
}

func TestLogRankRefuses(t *testing.T) {
	good := []Lifetime{{Time: 5}, {Time: 6}}
	for name, groups := range map[string]map[string][]Lifetime{
		"one group":    {"a": {{Time: 3, Failed: true}}},
		"no failure":   {"a": good, "b": good},
		"never shared": {"a": {{Time: 3, Failed: true}}, "b": {{Time: 9, Entry: 4, Failed: true}}},
	} {
		if _, err := LogRank(groups); !errors.Is(err, ErrTooFew) {
			t.Errorf("%s: %v, want too few", name, err)
		}
	}
}

// Delayed entry by hand: at 5, the units (0,5], (0,8], (3,9] are at risk: 2/3;
// at 8 (0,8], (3,9], (6,10]: 2/3 of that; at 9 the last two: half of that.
func TestKaplanMeierDelayedEntry(t *testing.T) {
	rows := []Lifetime{{Time: 5, Failed: true}, {Time: 8, Failed: true}, {Time: 9, Entry: 3, Failed: true}, {Time: 10, Entry: 6}}
	curve, err := KaplanMeier(rows, 0.95, 0)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{2. / 3, 4. / 9, 2. / 9} {
		near(t, "survival", curve.Steps[i].Survival, want, 1e-12)
	}
	late, _ := KaplanMeier([]Lifetime{{Time: 1, Failed: true}, {Time: 4, Entry: 2, Failed: true}, {Time: 5, Entry: 2}}, 0.95, 2)
	if len(late.Steps) != 1 || late.Steps[0].Survival != 0.5 {
		t.Errorf("a curve that starts at two at risk: %+v", late.Steps)
	}
}

// Without ranges Turnbull is Kaplan-Meier (Turnbull 1976).
func TestTurnbullIsKaplanMeier(t *testing.T) {
	for name, rows := range lifetimes(t, "km_aml.csv", "time", "status", "x") {
		km, err := KaplanMeier(rows, 0.95, 0)
		if err != nil {
			t.Fatal(err)
		}
		tb, err := Turnbull(rows)
		if err != nil {
			t.Fatal(err)
		}
		if len(tb.Steps) != len(km.Steps) {
			t.Fatalf("%s: %d steps against %d", name, len(tb.Steps), len(km.Steps))
		}
		for i := range km.Steps {
			near(t, name, tb.Steps[i].Survival, km.Steps[i].Survival, 1e-7)
		}
	}
}

// Two visits, closed form: 3 failed in (0,10], 2 in (10,20], 5 good at 20.
// One in (0,20] more: the likelihood p1^3 p2^2 p3^5 (p1+p2) is highest at
// p3 = 5/11 and p1:p2 = 3:2 of the remaining 6/11.
func TestTurnbullByHand(t *testing.T) {
	found := func(a, b float64, n int) Lifetime {
		return Lifetime{Time: b, LastGood: a, Interval: true, Failed: true, Count: n}
	}
	curve, err := Turnbull([]Lifetime{found(0, 10, 3), found(10, 20, 2), found(0, 20, 1), {Time: 20, Count: 5}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "S(10)", curve.At(10), 1-6.0/11*3/5, 1e-8)
	near(t, "S(20)", curve.At(20), 5.0/11, 1e-8)
	nearPointer(t, "median", curve.Median, 20, 0)
	// intervals that touch share no hour: 3 of 5 by 10 h, all by 20 h
	touch, err := Turnbull([]Lifetime{found(0, 10, 3), found(10, 20, 2)})
	if err != nil || len(touch.Steps) != 2 {
		t.Fatalf("%+v %v", touch, err)
	}
	near(t, "touching S(10)", touch.At(10), 0.4, 1e-8)
	near(t, "touching S(20)", touch.At(20), 0, 0)
	if curve.Steps[0].SE != nil || curve.Steps[0].AtRisk != nil {
		t.Error("Turnbull gives no standard error and no number at risk")
	}
}

func TestCurveProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := drawLifetimes(t, 2)
		curve, err := KaplanMeier(rows, 0.95, 0)
		if err != nil {
			t.Fatal(err)
		}
		hazard, err := NelsonAalen(rows)
		if err != nil {
			t.Fatal(err)
		}
		last := 1.0
		for _, s := range curve.Steps {
			if s.Survival > last || s.Survival < 0 {
				t.Fatalf("survival %g after %g", s.Survival, last)
			}
			if s.Low != nil && (*s.Low > s.Survival || *s.High < s.Survival) {
				t.Fatalf("limits %g %g do not hold %g", *s.Low, *s.High, s.Survival)
			}
			last = s.Survival
		}
		expected := 0.0
		for _, r := range rows {
			expected += r.weight() * hazard.Expected(r.Entry, r.Time)
		}
		if math.Abs(expected-float64(curve.Events)) > 1e-9*(1+expected) {
			t.Fatalf("expected %g, %d failed", expected, curve.Events)
		}
		again, err := KaplanMeier(rapid.Permutation(rows).Draw(t, "order"), 0.95, 0)
		if err != nil || len(again.Steps) != len(curve.Steps) || again.At(500) != curve.At(500) {
			t.Fatalf("the order of rows changed the curve")
		}
	})
}

// All still good: a flat curve, no median, no NaN.
func TestCurveWithoutEvents(t *testing.T) {
	curve, err := KaplanMeier([]Lifetime{{Time: 5}, {Time: 9}}, 0.95, 0)
	if err != nil || curve.Median != nil || len(curve.Steps) != 0 || curve.At(7) != 1 {
		t.Errorf("%+v %v", curve, err)
	}
	if _, err := KaplanMeier(nil, 0.95, 0); !errors.Is(err, ErrTooFew) {
		t.Errorf("empty: %v", err)
	}
}
