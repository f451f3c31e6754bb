package shop

import (
	"strings"
	"testing"
)

func TestDirection(t *testing.T) {
	at := func(used ...float64) []TrendPoint {
		var ps []TrendPoint
		for i, w := range used {
			ps = append(ps, TrendPoint{Hours: 100 * float64(i+1), Used: w})
		}
		return ps
	}
	for _, c := range []struct {
		name   string
		points []TrendPoint
		want   []string
	}{
		{"four are too few (domain rule)", at(0.1, 0.2, 0.3, 0.4), nil},
		// Five in rising order: one order of 5! = 120, p = 1/120 = 0.008 (Kendall's exact distribution).
		{"five rising", at(0.1, 0.2, 0.3, 0.4, 0.5), []string{"rises by itself", "p = 0.008", "10.0 % in 100 h"}},
		// Hollander and Wolfe, example 9.1 (five readings): falling, one-sided .117 from memory, so rising 1 - P(S <= -8) = 0.958 exactly.
		{"five falling", at(1.26, 1.27, 1.12, 1.16, 1.03), []string{"no direction of its own is proved", "p = 0.958"}},
	} {
		got := direction(nil, c.points, "h")
		if c.want == nil && got != "" {
			t.Errorf("%s: %q", c.name, got)
		}
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("%s: %q lacks %q", c.name, got, w)
			}
		}
	}
}
