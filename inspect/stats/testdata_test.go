package stats

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// table reads a CSV of testdata as columns of text by name.
func table(t *testing.T, name string) map[string][]string {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	columns := map[string][]string{}
	for _, row := range rows[1:] {
		for i, head := range rows[0] {
			columns[head] = append(columns[head], row[i])
		}
	}
	return columns
}

func numbers(t *testing.T, text []string) []float64 {
	t.Helper()
	var v []float64
	for _, s := range text {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		v = append(v, x)
	}
	return v
}

// lifetimes joins a time and a status column, by group where one is named.
func lifetimes(t *testing.T, name, times, status, group string) map[string][]Lifetime {
	t.Helper()
	c := table(t, name)
	groups := map[string][]Lifetime{}
	for i, v := range numbers(t, c[times]) {
		key := ""
		if group != "" {
			key = c[group][i]
		}
		groups[key] = append(groups[key], Lifetime{Time: v, Failed: c[status][i] == "1"})
	}
	return groups
}

// near fails unless got is within tol of want, relative for |want| > 1.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Max(1, math.Abs(want))) {
		t.Errorf("%s = %.12g, want %.12g (tolerance %g)", what, got, want, tol)
	}
}

func nearPointer(t *testing.T, what string, got *float64, want, tol float64) {
	t.Helper()
	if got == nil {
		t.Errorf("%s does not exist, want %g", what, want)
		return
	}
	near(t, what, *got, want, tol)
}
