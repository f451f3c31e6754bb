package shop

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"forkwear/inspect"
	"forkwear/inspect/verdict"
)

func TestRulesFrom(t *testing.T) {
	// 0.95: default conformance probability of ISO 14253-1:2017 (from memory);
	// the other figures are common practice, no source.
	for name, c := range map[string]struct {
		prefs map[string]string
		want  verdict.Rules
		bad   bool
	}{
		"nothing chosen": {nil, verdict.Rules{Sure: 0.95, Threshold: 0.20, SafetyLimit: 0.05, WorthAsking: 0.10, RepeatsAsked: 3}, false},
		"all chosen": {map[string]string{"rules.sure": "0.99", "rules.threshold": " 0.3 ", "rules.safety_limit": "0.01", "rules.worth_asking": "0.2",
			"rules.repeats_asked": "5", "rules.not_worth": "900", "rules.reopen_cost": "4500", "rules.minute_rate": "110"},
			verdict.Rules{Sure: 0.99, Threshold: 0.3, SafetyLimit: 0.01, WorthAsking: 0.2, RepeatsAsked: 5, NotWorth: 900, ReopenCost: 4500, MinuteRate: 110}, false},
		"nonsense keeps the default and the rest": {map[string]string{"rules.sure": "1.2", "rules.threshold": "NaN", "rules.repeats_asked": "-1", "rules.minute_rate": "70"},
			verdict.Rules{Sure: 0.95, Threshold: 0.20, SafetyLimit: 0.05, WorthAsking: 0.10, RepeatsAsked: 3, MinuteRate: 70}, true},
		"amounts are whole minor units": {map[string]string{"rules.not_worth": "9.50", "rules.reopen_cost": "-3"},
			verdict.Rules{Sure: 0.95, Threshold: 0.20, SafetyLimit: 0.05, WorthAsking: 0.10, RepeatsAsked: 3}, true},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := RulesFrom(c.prefs)
			if got != c.want {
				t.Errorf("got %+v, want %+v", got, c.want)
			}
			if (err != nil) != c.bad || c.bad && inspect.CodeOf(err) != inspect.Invalid {
				t.Errorf("error %v, want one: %v", err, c.bad)
			}
		})
	}
}

func TestRulesSurviveBeingWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(1e-6, 1-1e-6)
		want := verdict.Rules{Sure: share.Draw(t, "sure"), Threshold: share.Draw(t, "threshold"), SafetyLimit: share.Draw(t, "safety"),
			WorthAsking: share.Draw(t, "asking"), RepeatsAsked: rapid.IntRange(1, 20).Draw(t, "repeats"),
			NotWorth: rapid.Int64Range(0, 1e9).Draw(t, "not worth"), ReopenCost: rapid.Int64Range(0, 1e9).Draw(t, "reopen"),
			MinuteRate: rapid.Int64Range(0, 1e9).Draw(t, "rate")}
		prefs := map[string]string{}
		for _, k := range RuleKeys() {
			prefs[k.Key] = k.Get(want)
		}
		if got, err := RulesFrom(prefs); err != nil || got != want {
			t.Fatalf("got %+v, %v; want %+v", got, err, want)
		}
	})
}

func FuzzRulePut(f *testing.F) {
	for _, s := range []string{"", "0.5", "1", "-1", "NaN", "Inf", "1e309", "9999999999999999999", "0x1p-2", "½"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, k := range RuleKeys() {
			r := DefaultRules()
			if err := k.Put(&r, text); err != nil && r != DefaultRules() {
				t.Fatalf("%s: %q was refused and kept: %+v", k.Key, text, r)
			}
			for _, x := range []float64{r.Sure, r.Threshold, r.SafetyLimit, r.WorthAsking} {
				if math.IsNaN(x) || x <= 0 || x >= 1 {
					t.Fatalf("%s: %q gave the share %s", k.Key, text, strconv.FormatFloat(x, 'g', -1, 64))
				}
			}
		}
	})
}
