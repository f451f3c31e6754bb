package main

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// calcLife runs one of lifeCommands with CSV on its standard input.
func calcLife(in string, args ...string) (string, error) {
	root := &cobra.Command{Use: "calc", SilenceErrors: true, SilenceUsage: true}
	root.AddCommand(lifeCommands()...)
	var out bytes.Buffer
	root.SetIn(strings.NewReader(in))
	root.SetOut(&out)
	root.SetErr(io.Discard)
	root.SetArgs(args)
	err := root.Execute()
	return out.String(), err
}

// NIST/SEMATECH e-Handbook 8.2.2.1: 10 failures, 10 good at 500 h.
const nistLives = "hours,failed,count\n54,1,1\n187,1,1\n216,1,1\n240,1,1\n244,1,1\n335,1,1\n361,1,1\n373,1,1\n375,1,1\n386,1,1\n500,0,10\n"

// Expected figures: R 4.2.2 survreg(Surv(t,s)~1, weights=w, dist="weibull") and
// the likelihood-ratio roots.
func TestCalcLifeJSON(t *testing.T) {
	text, err := calcLife(nistLives, "life", "--json")
	if err != nil {
		t.Fatal(err)
	}
	type limits struct{ Value, Low, High float64 }
	var got struct {
		Weibull struct {
			Shape, Scale, B10, Median limits
			LogLik                    float64 `json:"loglik"`
			Method                    string
			Events, Units             int
		}
		Groups []struct {
			Group string
			Steps []map[string]any
		}
		LogRank *struct{} `json:"logrank"`
	}
	if err := json.Unmarshal([]byte(text), &got); err != nil {
		t.Fatal(err)
	}
	w := got.Weibull
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"shape", w.Shape.Value, 1.7207972608}, {"shape low", w.Shape.Low, 0.905645}, {"shape high", w.Shape.High, 2.885738},
		{"scale", w.Scale.Value, 606.5275580}, {"scale low", w.Scale.Low, 437.55675}, {"scale high", w.Scale.High, 1118.87763},
		{"B10", w.B10.Value, 164.0224387}, {"B10 low", w.B10.Low, 59.854554}, {"B10 high", w.B10.High, 271.949518},
		{"loglik", w.LogLik, -75.13461816},
	} {
		if math.Abs(c.got/c.want-1) > 6e-7 {
			t.Errorf("%s = %.10g, want %.10g", c.name, c.got, c.want)
		}
	}
	if w.Events != 10 || w.Units != 20 || w.Method == "" || got.LogRank != nil || len(got.Groups) != 1 || len(got.Groups[0].Steps) != 10 {
		t.Errorf("%s", text)
	}
	for _, key := range []string{"hours", "at_risk", "events", "survival", "se", "low", "high"} {
		if _, ok := got.Groups[0].Steps[0][key]; !ok {
			t.Errorf("a step has no key %q", key)
		}
	}
}

// Help page of R poisson.test (137 against 24.19893) and R p.adjust for q.
func TestCalcRatesJSON(t *testing.T) {
	text, err := calcLife("group,events,expected\nx,137,24.19893\ny,0,3\n", "rates", "--json")
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Groups []struct {
			Group                            string
			Events                           int
			Expected, Ratio, Low, High, P, Q float64
		}
	}
	if err := json.Unmarshal([]byte(text), &got); err != nil {
		t.Fatal(err)
	}
	x := got.Groups[0]
	if math.Abs(x.Ratio-5.66140734) > 1e-8 || math.Abs(x.Low-4.75312480) > 1e-7 || math.Abs(x.High-6.69270933) > 1e-7 || x.P > 2.2e-16 || x.Q > 4.4e-16 {
		t.Errorf("%+v", x)
	}
	text, err = calcLife("events,exposure,group\n3,100,a\n1,300,b\n", "rates", "--json")
	if err != nil || !strings.Contains(text, `"expected": 1,`) || !strings.Contains(text, `"expected": 3,`) {
		t.Errorf("exposure: %v %s", err, text)
	}
}

func TestCalcLifeTables(t *testing.T) {
	text, err := calcLife("hours,failed,group\n10,1,air\n20,1,air\n30,0,air\n15,1,coil\n25,0,coil\n", "life", "--by-group", "--level", "0.9")
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []string{"air: 2 of 3 failed", "coil", "Log-rank", "shape", "too thin", "90 %", "Kaplan-Meier"} {
		if !strings.Contains(text, w) {
			t.Errorf("no %q in\n%s", w, text)
		}
	}
	text, err = calcLife("group,events,expected\na,3,1\n", "rates")
	if err != nil || !strings.Contains(text, "Garwood") {
		t.Errorf("%v\n%s", err, text)
	}
}

// Each refusal names the line and the column.
func TestCalcLifeRefuses(t *testing.T) {
	for _, c := range []struct{ cmd, in, want string }{
		{"life", "", "nothing to read"},
		{"life", "hours,failed\n", "no line of data"},
		{"life", "10,1\n20,0\n", `line 1, column 1: "10"`},
		{"life", "hours;failed,count\n10;1,1\n", "commas"},
		{"life", "hours,failed,hours\n1,1,1\n", "twice"},
		{"life", "hours\n1\n", "column failed is missing"},
		{"life", "hours,failed\n10,1\nabc,1\n", "line 3, column hours"},
		{"life", "hours,failed\n10,1\n\"1,5\",1\n", "line 3, column hours"},
		{"life", "hours,failed\n10,1\nNaN,1\n", "line 3, column hours"},
		{"life", "hours,failed\n-10,1\n", "line 2, column hours"},
		{"life", "hours,failed\n,1\n", "line 2, column hours"},
		{"life", "hours,failed\n10,2\n", "line 2, column failed"},
		{"life", "hours,failed\n10\n", "line 2, column failed"},
		{"life", "hours,failed\n0,1\n", "line 2, column hours"},
		{"life", "hours,failed,count\n10,1,0\n", "line 2, column count"},
		{"life", "hours,failed,entry\n10,1,10\n", "line 2, column entry"},
		{"life", "hours,failed,last_good\n10,1,11\n", "line 2, column last_good"},
		{"life", "hours,failed,entry,last_good\n10,1,5,3\n", "line 2, column last_good"},
		{"life", "hours,failed\n10,1,7\n", "line 2: 3 cells"},
		{"life", "hours,failed\n\"10,1\n", "cannot be read"},
		{"rates", "group,events\na,1\n", "expected or the column exposure"},
		{"rates", "group,events,expected,exposure\na,1,1,1\n", "expected or the column exposure"},
		{"rates", "group,events,expected\na,1.5,1\n", "line 2, column events"},
		{"rates", "group,events,expected\na,,1\n", "line 2, column events"},
		{"rates", "group,events,expected\na,1,Inf\n", "line 2, column expected"},
		{"rates", "group,events,exposure\na,1,0\n", "more than 0"},
	} {
		out, err := calcLife(c.in, c.cmd, "--json")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s %q: error %v, want %q", c.cmd, c.in, err, c.want)
		}
		if out != "" {
			t.Errorf("%s %q: wrote %q beside its error", c.cmd, c.in, out)
		}
	}
	if _, err := calcLife(nistLives, "life", "--level", "95"); err == nil || !strings.Contains(err.Error(), "0.95") {
		t.Errorf("level 95: %v", err)
	}
}

// Whatever comes in: an error, or JSON that can be read back.
func FuzzCalcLife(f *testing.F) {
	f.Add(nistLives)
	f.Add("\ufeffhours,failed,entry,last_good,group\r\n10,1,2,5,a\r\n20,0,,,b\r\n")
	f.Add("group,events,expected\na,3,1e-320\n")
	f.Add("hours,failed\n1e308,1\n1e-308,1\n5,0\n")
	f.Add("hours,failed,last_good\n10,1,0\n10,1,9.999999\n")
	f.Fuzz(func(t *testing.T, in string) {
		if len(in) > 500 {
			t.Skip()
		}
		for _, name := range []string{"life", "rates"} {
			text, err := calcLife(in, name, "--json")
			if err == nil && !json.Valid([]byte(text)) {
				t.Errorf("%s: not JSON: %s", name, text)
			}
			if err != nil && strings.Contains(err.Error(), "unsupported value") {
				t.Errorf("%s: a figure that is no number: %v", name, err)
			}
		}
	})
}
