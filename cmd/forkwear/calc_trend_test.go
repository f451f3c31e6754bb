package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

// runTrend runs the command on CSV and returns what it wrote.
func runTrend(stdin string, args ...string) (string, error) {
	cmd := trendCommand()
	var out bytes.Buffer
	cmd.SetIn(strings.NewReader(stdin))
	cmd.SetOut(&out)
	cmd.SetErr(&out)
	cmd.SilenceUsage, cmd.SilenceErrors = true, true
	cmd.SetArgs(args)
	err := cmd.Execute()
	return out.String(), err
}

// asTrendCSV turns one of the wear package's test tables into the command's
// columns; hours < 0 means the table has none.
func asTrendCSV(t *testing.T, file string, unit, hours, value int) string {
	t.Helper()
	b, err := os.ReadFile("../../inspect/wear/testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	recs, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var s strings.Builder
	s.WriteString("unit,hours,value\n")
	for _, r := range recs[1:] {
		h := "0"
		if hours >= 0 {
			h = r[hours]
		}
		fmt.Fprintf(&s, "%s,%s,%s\n", r[unit], h, r[value])
	}
	return s.String()
}

func trendOf(t *testing.T, stdin string, args ...string) map[string]any {
	t.Helper()
	out, err := runTrend(stdin, append(args, "--json")...)
	if err != nil {
		t.Fatal(err)
	}
	var m map[string]any
	if err := json.Unmarshal([]byte(out), &m); err != nil {
		t.Fatalf("%v in %s", err, out)
	}
	return m
}

func wantNear(t *testing.T, what string, got any, want, tol float64) {
	t.Helper()
	if v, ok := got.(float64); !ok || math.Abs(v-want) > tol {
		t.Errorf("%s = %v, want %g within %g", what, got, want, tol)
	}
}

// R: lmer(Reaction ~ Days + (Days|Subject), sleepstudy), see SOURCES.md beside
// the table for version and tolerances.
func TestTrendLine(t *testing.T) {
	m := trendOf(t, asTrendCSV(t, "lmm_sleepstudy.csv", 2, 1, 0), "--limit", "600")
	fixed := m["fixed"].(map[string]any)
	wantNear(t, "intercept", fixed["intercept"].(map[string]any)["value"], 251.405105, 0.0025)
	wantNear(t, "intercept se", fixed["intercept"].(map[string]any)["se"], 6.824586, 0.0068)
	wantNear(t, "slope", fixed["slope"].(map[string]any)["value"], 10.467286, 1e-4)
	wantNear(t, "slope se", fixed["slope"].(map[string]any)["se"], 1.545791, 0.0015)
	wantNear(t, "sd_intercept", m["sd_intercept"], 24.740605, 0.0247)
	wantNear(t, "sd_slope", m["sd_slope"], 5.922142, 0.0059)
	wantNear(t, "correlation", m["correlation"], 0.06555, 0.001)
	wantNear(t, "sd_residual", m["sd_residual"], 25.591798, 0.0256)
	wantNear(t, "reml_criterion", m["reml_criterion"], 1743.628272, 1e-4)
	if m["singular"] != false {
		t.Errorf("singular %v", m["singular"])
	}
	u := m["units"].([]any)[0].(map[string]any)
	wantNear(t, "308 intercept", u["intercept_effect"], 2.25855, 0.12)
	wantNear(t, "308 slope", u["slope_effect"], 9.19898, 0.03)
	h := u["hours_to_limit"].(map[string]any)
	// 450.32627 at day 10 and a slope of 19.66627 by the same run: 600 is met at
	// day 17.61, which is 8.61 after the last reading at day 9.
	wantNear(t, "308 p50", h["p50"], 8.61, 0.15)
	if !(h["p05"].(float64) < h["p50"].(float64) && h["p50"].(float64) < h["p95"].(float64)) {
		t.Errorf("hours to limit %v", h)
	}
}

// R: lmer(Yield ~ 1 + (1|Batch), Dyestuff), see SOURCES.md.
func TestTrendLevel(t *testing.T) {
	m := trendOf(t, asTrendCSV(t, "lmm_dyestuff.csv", 0, -1, 1), "--model", "level", "--limit", "2000")
	wantNear(t, "sd_intercept", m["sd_intercept"], 42.000478, 0.042)
	wantNear(t, "sd_residual", m["sd_residual"], 49.510122, 0.0495)
	wantNear(t, "reml_criterion", m["reml_criterion"], 319.654277, 1e-4)
	for _, name := range []string{"sd_slope", "correlation"} {
		if v, there := m[name]; !there || v != nil {
			t.Errorf("%s is %v, want null", name, v)
		}
	}
	u := m["units"].([]any)[0].(map[string]any)
	wantNear(t, "A", u["intercept_effect"], -17.60683, 0.2)
	if u["slope_effect"] != nil || u["hours_to_limit"] != nil {
		t.Errorf("a level has a slope: %v", u)
	}
	if len(m["remarks"].([]any)) == 0 {
		t.Error("nothing was said of the limit")
	}
}

func TestTrendInput(t *testing.T) {
	good := "a,0,1,0.1\na,10,2.1,0.1\na,20,2.9,0.1\nb,0,1.2,0.1\nb,10,1.9,\nb,20,3.4,0.1\n"
	m := trendOf(t, "\ufeffUnit, Hours ,value,sd\n"+good)
	if len(m["units"].([]any)) != 2 || m["units"].([]any)[0].(map[string]any)["hours_to_limit"] != nil {
		t.Errorf("%v", m)
	}
	if out, err := runTrend("unit,hours,value,sd\n"+good, "--limit", "5"); err != nil || !strings.Contains(out, "REML criterion") {
		t.Errorf("table: %v\n%s", err, out)
	}
	for name, c := range map[string]struct{ csv, says string }{
		"empty":          {"", "empty"},
		"no column":      {"unit,value\na,1\n", "column hours"},
		"header only":    {"unit,hours,value\n", "no line of data"},
		"text":           {"unit,hours,value\na,x,1\n", "line 2, column hours"},
		"NaN":            {"unit,hours,value\na,1,NaN\n", "line 2, column value"},
		"no value":       {"unit,hours,value\na,1,\n", "line 2, column value"},
		"negative hours": {"unit,hours,value\na,-1,2\n", "line 2, column hours"},
		"negative sd":    {"unit,hours,value,sd\na,1,2,-1\n", "line 2, column sd"},
		"no unit":        {"unit,hours,value\n,1,2\n", "no unit"},
		"ragged":         {"unit,hours,value\na,1\n", "line 2, column value"},
		"one unit":       {"unit,hours,value\na,1,2\na,2,3\na,3,3.5\n", "one unit"},
	} {
		if _, err := runTrend(c.csv, "--json"); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", name, err, c.says)
		}
	}
	for _, args := range [][]string{{"--model", "curve"}, {"--limit", "NaN"}, {"--limit", "x"}, {"extra"}} {
		if _, err := runTrend("unit,hours,value,sd\n"+good, args...); err == nil {
			t.Errorf("%v accepted", args)
		}
	}
}

// No bytes may crash the reader or make JSON that is none.
func FuzzReadTrend(f *testing.F) {
	f.Add("unit,hours,value\na,0,1\na,1,2\na,2,2.5\nb,0,1\nb,1,1.7\nb,2,3\n")
	f.Add("unit,hours,value,sd\na,1e308,-1e308,0\nb,0,1e308,1e-320\n\"")
	f.Add("\ufeffunit,unit,hours,value\n")
	f.Fuzz(func(t *testing.T, s string) {
		if len(s) > 2000 {
			return
		}
		out, err := runTrend(s, "--json", "--limit", "3")
		if err == nil && !json.Valid([]byte(out)) {
			t.Fatalf("no JSON: %s", out)
		}
	})
}
