package life

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/stats"
)

func near(t *testing.T, what string, got *float64, want, tol float64) {
	t.Helper()
	if got == nil {
		t.Errorf("%s does not exist, want %g", what, want)
	} else if !(math.Abs(*got-want) <= tol*math.Max(1, math.Abs(want))) {
		t.Errorf("%s = %.12g, want %.12g", what, *got, want)
	}
}

// aml of R package survival (Miller 1981).
func aml() (records []Record) {
	add := func(group string, failed bool, hours ...float64) {
		for _, h := range hours {
			records = append(records, Record{Group: group, Hours: h, Failed: failed})
		}
	}
	add("Maintained", true, 9, 13, 18, 23, 31, 34, 48)
	add("Maintained", false, 13, 28, 45, 161)
	add("Nonmaintained", true, 5, 5, 8, 8, 12, 23, 27, 30, 33, 43, 45)
	add("Nonmaintained", false, 16)
	return records
}

// R 4.2.2: survfit and survdiff(Surv(time,status)~x, data=aml).
func TestLivesOfPublishedGroups(t *testing.T) {
	l, err := NewLives(aml(), 0.95, true)
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Groups) != 2 || l.Groups[0].Group != "Maintained" || l.LogRank == nil {
		t.Fatalf("%+v", l)
	}
	near(t, "chi2", &l.LogRank.Chi2, 3.3963887, 1e-6)
	near(t, "p", &l.LogRank.P, 0.065339322, 1e-8)
	near(t, "median", l.Groups[0].Median, 31, 0)
	near(t, "median", l.Groups[1].Median, 23, 0)
	s := l.Groups[0].Steps[3]
	near(t, "S(23)", &s.Survival, .613636364, 1e-9)
	near(t, "SE", s.SE, .152632331, 1e-8)
	if l.Weibull == nil || l.Weibull.Events != 18 || l.Weibull.Units != 23 || l.Groups[0].Weibull == nil {
		t.Errorf("Weibull pooled %+v, by group %+v", l.Weibull, l.Groups[0].Weibull)
	}
	if l, _ := NewLives(aml(), 0.95, false); l.Groups[0].Weibull != nil {
		t.Error("Weibull by group without being asked")
	}
}

// What does not exist is null, and every key stands there.
func TestLivesThinData(t *testing.T) {
	at := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		name    string
		records []Record
		want    []string // in the JSON
	}{
		{"all still good", []Record{{Hours: 10, Group: "a"}, {Hours: 20, Group: "b"}},
			[]string{`"weibull":null`, `"logrank":null`, `"median":null`, `"steps":[]`, "0 failed of 2", "too thin (0 events)"}},
		{"one unit", []Record{{Hours: 10, Failed: true}}, []string{`"weibull":null`, `"se":null`, `"survival":0`, `"logrank":null`}},
		{"intervals", []Record{{Hours: 10, Failed: true, LastGood: at(5)}, {Hours: 20, Failed: true, LastGood: at(8)}, {Hours: 30, Group: "b"}},
			[]string{`"at_risk":null`, "no log-rank test", "Turnbull"}},
		{"intervals and entry", []Record{{Hours: 10, Failed: true, LastGood: at(5)}, {Hours: 20, Failed: true, Entry: at(8)}},
			[]string{"no curve", `"steps":[]`}},
		{"arrival", []Record{{Hours: 10, Failed: true}, {Hours: 10, Failed: true, End: inspect.EndArrival}, {Hours: 12}},
			[]string{"1 unit broken on arrival left out", `"units":2`}},
	} {
		l, err := NewLives(c.records, 0.95, false)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		text, err := json.Marshal(l)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		for _, w := range c.want {
			if !strings.Contains(string(text), w) {
				t.Errorf("%s: no %s in %s", c.name, w, text)
			}
		}
	}
	if _, err := NewLives(nil, 0.95, false); err != nil {
		t.Errorf("no records: %v", err)
	}
	for _, bad := range []Record{{Hours: math.NaN()}, {Hours: -1}, {Hours: 5, Count: -1}, {Hours: 5, Entry: at(6)}} {
		if _, err := NewLives([]Record{bad}, 0.95, false); !errors.Is(err, stats.ErrInput) {
			t.Errorf("%+v: %v", bad, err)
		}
	}
}

// R: poisson.test(k)$conf.int; closed form p = 2 exp(-2) for none against 2.
// With exposure: 3 + 1 events over 100 + 300, so 1 and 3 expected.
func TestRates(t *testing.T) {
	r, err := NewRates([]RateCount{{"a", 10, 4}, {"b", 0, 2}, {"c", 0, 0}}, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ratio", r.Groups[0].Ratio, 2.5, 0)
	near(t, "low", r.Groups[0].Low, 4.7953887/4, 1e-8)
	near(t, "high", r.Groups[0].High, 18.3903560/4, 1e-8)
	near(t, "b low", r.Groups[1].Low, 0, 0)
	near(t, "b high", r.Groups[1].High, 3.6888795/2, 1e-7)
	near(t, "b p", r.Groups[1].P, 2*math.Exp(-2), 1e-12)
	near(t, "b q", r.Groups[1].Q, 2*math.Exp(-2), 1e-12)
	near(t, "a q", r.Groups[0].Q, 2**r.Groups[0].P, 1e-12)
	if c := r.Groups[2]; c.Ratio != nil || c.P != nil || c.Q != nil || c.High != nil {
		t.Errorf("a ratio to nothing: %+v", c)
	}
	e, err := ExpectedFromExposure([]RateCount{{"a", 3, 100}, {"b", 1, 300}})
	if err != nil || e[0].Amount != 1 || e[1].Amount != 3 {
		t.Errorf("%+v %v", e, err)
	}
	if _, err := ExpectedFromExposure([]RateCount{{"a", 3, 0}}); !errors.Is(err, stats.ErrInput) {
		t.Errorf("no exposure: %v", err)
	}
	if _, err := NewRates([]RateCount{{"a", -3, 1}}, 0.95); !errors.Is(err, stats.ErrInput) {
		t.Errorf("negative events: %v", err)
	}
}
