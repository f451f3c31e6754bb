package main

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// runBench runs one bench sum as the command line would.
func runBench(t *testing.T, line string) (string, error) {
	t.Helper()
	root := &cobra.Command{Use: "calc", SilenceUsage: true, SilenceErrors: true}
	root.AddCommand(benchSumCommands()...)
	var out bytes.Buffer
	root.SetOut(&out)
	root.SetErr(&out)
	root.SetArgs(strings.Fields(line))
	err := root.Execute()
	return out.String(), err
}

func benchJSON(t *testing.T, line string) map[string]any {
	t.Helper()
	out, err := runBench(t, line+" --json")
	if err != nil {
		t.Fatalf("%s: %v", line, err)
	}
	var m map[string]any
	if err := json.Unmarshal([]byte(out), &m); err != nil {
		t.Fatalf("%s: %v\n%s", line, err, out)
	}
	return m
}

func TestBenchJSONValues(t *testing.T) {
	for _, c := range []struct {
		line, key string
		want, tol float64
		src       string
	}{
		{"hold --p1 2.5 --t1 35 --p2 1.6449172 --t2 -40 --hours 24", "value", 0, 2e-7, "OpenStax College Physics ch. 13 problem 22, computed with R: nothing was lost"},
		{"hold --p1 2.5 --t1 35 --p2 1 --t2 -40 --hours 24", "p2_expected", 1.6449172, 1e-7, "the same"},
		{"hold --p1 6 --t1 20 --p2 5.5 --t2 20 --hours 12 --u-p 0.1", "value", 1, 1e-12, "arithmetic"},
		{"hold --p1 6 --t1 20 --p2 6 --t2 20 --hours 0.5 --u-p 0.1", "u", math.Sqrt2 * 0.1 * 48, 1e-9, "√2·u·24/h: 6.8 bar a day"},
		{"hold --p1 6 --t1 20 --p2 5.806451613 --t2 20 --hours 16 --volume 150 --hose 5", "value", 0, 1e-8, "Boyle, exact"},
		{"hold --p1 87.0226 --t1 20 --p2 87.0226psi --t2 20 --hours 1 --patm 0.9", "p2_expected", 87.0226, 1e-9, "nothing changed"},
		{"play --rock 0.384615385 --distance 250 --span 130", "value", 0.1, 1e-9, "rock = 2cD/L"},
		{"play --rock 0.6 --rock2 0.9 --distance 250 --span 130", "value", 0.078, 1e-12, "arithmetic"},
		{"play --bore 35,08 --shaft 34.98mm", "value", 0.1, 1e-9, "arithmetic"},
		{"set --h0 6.30 --h1 5.92 --hs 4.725", "value", 24.12698, 5e-6, "ISO 815-1 formula, arithmetic"},
		{"fluid --in 20cc --out 14 --u-in 0.5 --u-out 1", "value", 1, 1e-12, "arithmetic"},
		{"fluid --in 20cc --out 14 --u-in 0.5 --u-out 1", "u", math.Sqrt(0.375*0.375 + 1 + 2.4*2.4), 1e-9, "JCGM 100 eq. 10"},
		{"conform --value -5.47 --u 0.05 --upper -5.40", "p_conform", 0.9192433408, 1e-9, "JCGM 106 Zener example, computed with scipy"},
		{"conform --value 509.7 --u 8.6 --lower 490", "p_conform", 0.9890095474, 1e-9, "JCGM 106 burst strength, computed with scipy"},
		{"sag --sunk 32 --travel 160", "value", 20, 1e-12, "arithmetic"},
		{"travel --full 180 --spacers 2", "value", 160, 1e-12, "common practice, no source"},
		{"travel --extended 170 --home 9", "value", 161, 1e-12, "arithmetic"},
		{"runout --swing 0.08", "value", 0.04, 1e-12, "half the run-out"},
		{"parallel --crown 130 --end 130.2", "value", 0.2, 1e-9, "arithmetic"},
		{"rust --area 12 --whole 2500", "value", 2, 0, "0.48 % is within the picture of Ri 2, 0.5 % (ISO 4628-3)"},
		{"diameters --spot 20:0:34.990 --spot 20:90:34.970 --spot 120:0:35.000", "ovality", 0.020, 1e-9, "arithmetic"},
	} {
		m := benchJSON(t, c.line)
		got, ok := m[c.key].(float64)
		if !ok || math.Abs(got-c.want) > c.tol {
			t.Errorf("%s: %s = %v, want %v (%s)", c.line, c.key, m[c.key], c.want, c.src)
		}
	}
}

// What does not exist is null, never a missing key.
func TestBenchJSONKeys(t *testing.T) {
	sum := []string{"value", "u", "low", "high", "unit", "formula", "inputs", "remarks"}
	for line, keys := range map[string][]string{
		"hold --p1 6 --t1 20 --p2 6 --t2 20 --hours 16": append([]string{"p2_expected", "finding"}, sum...),
		"play --bore 35.1 --shaft 35":                   sum,
		"fluid --in 20 --out 13":                        sum,
		"set --h0 6.3 --h1 5.9 --hs 4.7":                sum,
		"conform --value 1 --u 0.1 --upper 2":           {"p_conform", "p_over", "p_under", "decision"},
		"fit --size 40 --hole H7":                       {"hole", "shaft", "clearance"},
		"diameters --spot 20:0:34.99":                   append([]string{"ovality", "taper", "worn"}, sum...),
	} {
		m := benchJSON(t, line)
		for _, k := range keys {
			if _, ok := m[k]; !ok {
				t.Errorf("%s: no %q", line, k)
			}
		}
		if r, ok := m["remarks"].([]any); !ok {
			t.Errorf("%s: remarks %v are no list", line, r)
		}
	}
	if m := benchJSON(t, "conform --value 1 --u 0.1 --upper 2"); m["p_under"] != nil || m["decision"] != "inside" {
		t.Errorf("conform: %v", m)
	}
	if m := benchJSON(t, "travel --full 180 --spacers 2"); m["u"] != nil || m["low"] != nil {
		t.Errorf("no uncertainty is not null: %v", m)
	}
	if m := benchJSON(t, "fit --size 40 --hole H7"); m["shaft"] != nil || m["clearance"] != nil {
		t.Errorf("fit: %v", m)
	}
}

func TestBenchFit(t *testing.T) {
	m := benchJSON(t, "fit --size 40 --hole H7 --shaft f7") // 25 to 75 µm: DIN ISO 286 extract
	want := map[string]map[string]float64{"hole": {"lower": 0, "upper": 25}, "shaft": {"lower": -50, "upper": -25}, "clearance": {"min": 25, "max": 75}}
	for k, fields := range want {
		got, ok := m[k].(map[string]any)
		for f, x := range fields {
			if !ok || got[f] != x {
				t.Errorf("%s.%s = %v, want %v", k, f, got[f], x)
			}
		}
	}
}

func TestBenchRefuses(t *testing.T) {
	for _, line := range []string{
		"hold --p1 6", "hold --p1 NaN --t1 20 --p2 6 --t2 20 --hours 1", "hold --p1 6 --t1 20 --p2 6 --t2 20 --hours 0",
		"hold --p1 6 --t1 20 --p2 6 --t2 20 --hours 1 --hose 5", "hold --p1 6 --t1 20 --p2 6 --t2 20 --hours 1 --patm 1 --altitude 5",
		"hold --p1 6 --t1 20 --p2 6 --t2 20 --hours 1 --patm -1", "hold --p1 6mm --t1 20 --p2 6 --t2 20 --hours 1",
		"play", "play --rock 1", "play --bore 1 --shaft 1 --rock 1 --distance 1 --span 1", "play --rock 0.3 --distance 30 --span 130",
		"fluid --in 0 --out 1", "set --h0 1 --h1 1 --hs 1", "conform --value 1 --u -1 --upper 2", "conform --value 1 --u 1",
		"conform --value 1 --u 1 --lower 3 --upper 2", "fit --size 40", "fit --size 900 --hole H7", "fit --size 40 --hole h7",
		"diameters --spot 1:2", "diameters --spot 20:0:34.99 --gauge calliper", "diameters --spot 20:0:34.99 --gauge eye",
		"rust --area 5 --whole 1", "rust --area 1 --whole 2 --rule odd", "sag --sunk 5 --travel 0", "travel --full 10 --spacers 3", "travel",
		"sag --sunk 5 --travel 100 extra",
	} {
		if out, err := runBench(t, line); err == nil {
			t.Errorf("%s was taken:\n%s", line, out)
		}
	}
}

func TestBenchTables(t *testing.T) {
	for line, words := range map[string][]string{
		"hold --p1 6 --t1 20 --p2 5 --t2 20 --hours 24": {"leaks", "result", "1 bar/24 h", "95 % limits"},
		"fit --size 40 --hole H7 --shaft f7":            {"25 to 75 µm (clearance)", "+0 to +25 µm"},
		"conform --value 1 --u 0.1 --upper 2":           {"inside", "no such limit"},
		"fluid --in 20 --out 30":                        {"gained"},
		"diameters --spot 20:0:34.99 --new 35":          {"ovality", "not known", "worn"},
		"set --h0 6.3 --h1 5.92 --hs 4.725 --u-h 0":     {"24.127 %", "without limits"},
		"play --rock 0.38 --distance 250 --span 130":    {"result", "mm", "double force"},
	} {
		out, err := runBench(t, line)
		if err != nil {
			t.Errorf("%s: %v", line, err)
		}
		for _, w := range words {
			if !strings.Contains(out, w) {
				t.Errorf("%s lacks %q:\n%s", line, w, out)
			}
		}
	}
}
