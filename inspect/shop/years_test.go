package shop

import (
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
)

// Domain 4, rule 4: rubber by its years (wiper 2, in the catalog: common
// practice, no source), only where the level opens it and its age is known.
// Dates by the calendar: fitted on 1 March 2024.
func TestRubberIsDueByYears(t *testing.T) {
	for name, tc := range map[string]struct {
		level   string
		days    int // after the fitting
		renewed bool
		want    string
	}{
		"three years":                   {"lowers", 3*365 + 1, true, "fitted 3 years ago; rubber is renewed after 2."},
		"on the day":                    {"lowers", 730, true, "fitted 2 years ago; rubber is renewed after 2."}, // 1 March 2026: no leap day between
		"the day before":                {"lowers", 729, true, ""},
		"not opened at this level":      {"look_over", 3 * 365, true, ""},
		"it came with the fork":         {"lowers", 3 * 365, false, ""},
		"renewed by schedule all along": {"full", 3*365 + 1, true, "fitted 3 years ago; rubber is renewed after 2."},
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			c := b.visit("lowers", 20)
			if tc.renewed {
				b.must(b.desk.Renew(ctx, c, []Renewal{{Part: "wiper", Leg: inspect.Left}}))
			}
			c = b.days(tc.days).visit(tc.level, 21)
			a := b.assess(c)[position{"wiper", inspect.Left}]
			got := ""
			for _, r := range a.Reasons {
				if strings.Contains(r.Plain, "rubber") {
					got = r.Plain
					if r.Rule != 4 {
						t.Errorf("rule %d, want 4", r.Rule)
					}
				}
			}
			if want := tc.want; want == "" && got != "" || !strings.HasSuffix(got, want) {
				t.Errorf("told %q, want %q", got, want)
			}
			if tc.want != "" && (a.Verdict != inspect.Replace || a.Remedy != "renew_kit") {
				t.Errorf("%s, %s: want replace by its kit", a.Verdict, a.Remedy)
			}
			if right := b.assess(c)[position{"wiper", inspect.Right}]; strings.Contains(decided(right).Plain, "rubber") {
				t.Error("the right one came with the fork and is said to be due by its years")
			}
		})
	}
}

func TestYearsInWords(t *testing.T) {
	b := newBench(t)
	c := b.visit("lowers", 20)
	b.must(b.desk.Renew(ctx, c, []Renewal{{Part: "wiper", Leg: inspect.Left}}))
	c = b.days(400).visit("lowers", 21)
	p, _ := cat.Part("wiper")
	for years, want := range map[float64]string{0: "", 1: "fitted 1 year ago; rubber is renewed after 1.", 1.5: "", -1: ""} {
		p.Years = years
		if got := b.desk.dueByYears(c, catalog.PartAt{Part: p, Leg: inspect.Left}); got != want {
			t.Errorf("after %g years: %q, want %q", years, got, want)
		}
	}
}

// Every rubber part of the catalog says its years, 2 to 4 (common practice, no
// source).
func TestRubberHasYears(t *testing.T) {
	for _, id := range []string{"wiper", "foam_ring", "lower_seal", "damper_seals", "floating_piston", "boot", "air_piston", "air_seal_head", "air_cap"} {
		if p, ok := cat.Part(id); !ok || p.Years < 2 || p.Years > 4 {
			t.Errorf("%s: %g years, want 2 to 4", id, p.Years)
		}
	}
}
