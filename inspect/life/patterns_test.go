package life

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"forkwear/inspect"
)

func fitting(id, sheet, fork string, hours float64, end inspect.EndReason) Fitting {
	return Fitting{ID: id, Part: "wiper", PartName: "Wiper seal", Sheet: sheet, ForkID: fork, Hours: hours, HoursKnown: true, End: end}
}

// twoSheets: sheet a fails 6 times at 10..60 h, b lasts to 100 h but for one.
func twoSheets() (f []Fitting) {
	for i := range 6 {
		end := inspect.EndFailed
		if i%2 == 1 {
			end = inspect.EndWorn
		}
		f = append(f, fitting(fmt.Sprintf("a%d", i), "a", fmt.Sprintf("fa%d", i), float64(10*(i+1)), end))
	}
	for i := range 6 {
		f = append(f, fitting(fmt.Sprintf("b%d", i), "b", fmt.Sprintf("fb%d", i), 100, inspect.EndSchedule))
	}
	f[11].End = inspect.EndFailed
	return f
}

// By hand: at risk 12, 11 .. 7 at 10 .. 60 h, 6 at 100 h. H(60) is
// 1/12+1/11+1/10+1/9+1/8+1/7, H(100) 1/6 more. b expects 6 H(100), a the rest
// of 7. Clopper-Pearson for 6 of 7: 0.4213 to 0.9964 (Clopper and Pearson 1934;
// closed form of the upper limit 0.975^(1/7)).
func TestPatternsByHand(t *testing.T) {
	rows := Patterns(twoSheets())
	if len(rows) != 2 || rows[0].Sheet != "a" || rows[1].Sheet != "b" {
		t.Fatalf("%+v", rows)
	}
	h := 1./12 + 1./11 + 1./10 + 1./9 + 1./8 + 1./7 + 1./6
	a, b := rows[0], rows[1]
	near(t, "b expected", &b.Expected, 6*h, 1e-12)
	near(t, "a expected", &a.Expected, 7-6*h, 1e-12)
	near(t, "a ratio", &a.Ratio.Value, 6/(7-6*h), 1e-12)
	near(t, "a low", a.Ratio.Low, 0.42127/((7-6*h)/7), 1e-4)
	near(t, "a high", a.Ratio.High, math.Pow(0.975, 1./7)/((7-6*h)/7), 1e-9)
	near(t, "a against b", &a.Against.Value, (6/(7-6*h))/(1/(6*h)), 1e-9)
	pi := (7 - 6*h) / 7
	near(t, "p", a.P, 2*(7*math.Pow(pi, 6)*(1-pi)+math.Pow(pi, 7)), 1e-9)
	near(t, "b p", b.P, *a.P, 1e-9) // the same test from the other side
	near(t, "q", a.Q, *a.P, 1e-9)
	near(t, "median", &a.Median.Value, 35, 0) // S is 1/2 from 30 to 40 h
	if a.Failures != 6 || a.Failed != 3 || a.Worn != 3 || a.Forks != 6 || a.Hours != 210 || a.TooThin != "" {
		t.Errorf("%+v", a)
	}
	if !strings.HasPrefix(b.TooThin, "too thin") || b.MedianText != "too thin (events: 1)" || b.Median != nil {
		t.Errorf("%+v", b)
	}
	if strings.Join(a.IDs, " ") != "a0 a1 a2 a3 a4 a5" {
		t.Errorf("ids %v", a.IDs)
	}
}

func TestPatternsLeavesOut(t *testing.T) {
	f := twoSheets()
	f[0].HoursKnown = false
	f[1].End = inspect.EndArrival
	f[2].Hours = math.NaN()
	f[3].EntryHours = 50 // more than its hours
	f[4].End = inspect.EndCrash
	rows := Patterns(f)
	for _, r := range rows {
		if r.Sheet == "a" && (r.Failures != 1 || r.Fittings != 2 || strings.Join(r.LeftOut, " ") != "a0 a1 a2 a3") {
			t.Errorf("%+v", r)
		}
	}
	one := Patterns([]Fitting{fitting("x", "a", "f", 10, inspect.EndFailed)})
	if len(one) != 1 || one[0].Ratio != nil || one[0].P != nil || one[0].Q != nil || len(one[0].Remarks) == 0 {
		t.Errorf("one sheet alone has nothing to compare with: %+v", one)
	}
	if none := Patterns(nil); none == nil || len(none) != 0 {
		t.Errorf("nothing: %v", none)
	}
}

// Several fittings of one fork: a single bad fork among two of its sheet must
// not be called by counting its fittings as independent.
func TestPatternsShuffleForks(t *testing.T) {
	var f []Fitting
	for i := range 8 {
		f = append(f, fitting(fmt.Sprintf("bad%d", i), "a", "bad", 20, inspect.EndFailed))
	}
	f = append(f, fitting("good", "a", "good", 200, inspect.StillIn))
	for i := range 10 {
		f = append(f, fitting(fmt.Sprintf("b%d", i), "b", fmt.Sprintf("f%d", i), 200, inspect.StillIn))
	}
	rows := Patterns(f)
	if p := *rows[0].P; rows[0].Sheet != "a" || p < 0.2 {
		t.Errorf("p %g for one bad fork of 12; a has 2 forks, so the chance of holding it is 1 in 6", p)
	}
	if again := Patterns(f); *again[0].P != *rows[0].P {
		t.Error("the same fittings gave another p")
	}
}

func TestPatternsProperties(t *testing.T) {
	ends := []inspect.EndReason{inspect.StillIn, inspect.EndFailed, inspect.EndWorn, inspect.EndSchedule,
		inspect.EndCrash, inspect.EndOverride, inspect.EndArrival}
	rapid.Check(t, func(t *rapid.T) {
		var f []Fitting
		for i := range rapid.IntRange(0, 40).Draw(t, "n") {
			f = append(f, Fitting{ID: fmt.Sprint(i), Part: rapid.SampledFrom([]string{"p", "q"}).Draw(t, "part"),
				Sheet: rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "sheet"), ForkID: fmt.Sprint(i),
				Hours: rapid.Float64Range(0, 500).Draw(t, "hours"), HoursKnown: rapid.IntRange(0, 9).Draw(t, "known") > 0,
				End: rapid.SampledFrom(ends).Draw(t, "end")})
		}
		rows := Patterns(f)
		expected, failures, used := 0.0, 0, 0
		for i, r := range rows {
			expected += r.Expected
			failures += r.Failures
			used += len(r.IDs) + len(r.LeftOut)
			if i > 0 && r.before(rows[i-1]) {
				t.Fatalf("row %d out of order", i)
			}
			if r.Ratio != nil && (*r.Ratio.Low > r.Ratio.Value+1e-9 || *r.Ratio.High < r.Ratio.Value-1e-9) {
				t.Fatalf("ratio %g outside its limits %g to %g", r.Ratio.Value, *r.Ratio.Low, *r.Ratio.High)
			}
			if (r.TooThin == "") != (r.Failures >= ThinEvents) {
				t.Fatalf("%d failures: %q", r.Failures, r.TooThin)
			}
		}
		if math.Abs(expected-float64(failures)) > 1e-9*(1+expected) || used != len(f) {
			t.Fatalf("expected %g, failed %d; %d of %d fittings", expected, failures, used, len(f))
		}
		first, err := json.Marshal(rows)
		if err != nil {
			t.Fatal(err)
		}
		k := rapid.Float64Range(0.5, 2).Draw(t, "k")
		other := rapid.Permutation(f).Draw(t, "order")
		again, _ := json.Marshal(Patterns(other))
		if string(first) != string(again) {
			t.Fatal("the order of the fittings changed the rows")
		}
		for i := range other {
			other[i].Hours *= k
		}
		for i, r := range Patterns(other) {
			if r.Failures != rows[i].Failures || math.Abs(r.Expected-rows[i].Expected) > 1e-9*(1+r.Expected) {
				t.Fatalf("hours times %g changed the expected failures", k)
			}
		}
	})
}
