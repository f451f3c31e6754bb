package measure

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// near fails unless got is within tol of want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.10g, want %.10g ± %g", what, got, want, tol)
	}
}

// rows reads a CSV of testdata, without comments and the header.
func rows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(all), err)
	}
	return all[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// limit reads a limit, nil for an empty cell.
func limit(t *testing.T, s string) *float64 {
	if s == "" {
		return nil
	}
	return ptr(number(t, s))
}
