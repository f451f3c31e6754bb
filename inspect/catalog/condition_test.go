package catalog

import (
	"math"
	"reflect"
	"testing"
)

func TestParseCondition(t *testing.T) {
	for text, want := range map[string][]Term{
		"check:seals.weep>=3":               {{Kind: OfCheck, ID: "seals.weep", Op: ">=", Value: 3}},
		"check:bushings.feel<2":             {{Kind: OfCheck, ID: "bushings.feel", Op: "<", Value: 2}},
		"check:damper.stroke=not_fine":      {{Kind: OfCheck, ID: "damper.stroke", Op: "=", Word: "not_fine"}},
		"both:check:seals.weep>=2.5":        {{Kind: OfCheck, Both: true, ID: "seals.weep", Op: ">=", Value: 2.5}},
		"hours>=500":                        {{Kind: OfHours, Op: ">=", Value: 500}},
		"condition:road salt":               {{Kind: OfCondition, ID: "road salt"}},
		"symptom:weeping | check:a.b=over ": {{Kind: OfSymptom, ID: "weeping"}, {Kind: OfCheck, ID: "a.b", Op: "=", Word: "over"}},
	} {
		got, err := ParseCondition(text)
		if err != nil || !reflect.DeepEqual(got.Terms, want) {
			t.Errorf("%q: %+v, %v; want %+v", text, got.Terms, err, want)
		}
	}
	for _, text := range []string{
		"", "|", "weeping", "symptom:", "check:", "check:a", "check:>=3", "check:a>=", "check:a>=three", "check:a>=fine",
		"check:a=NaN", "check:a>=Inf", "hours", "hours>=", "hours=fine", "hoursx>=3", "both:hours>=3", "both:symptom:a",
		"symptom:a>=3", "check:a>=3 |", "check:a b>=3", "grade:a>=3",
	} {
		if c, err := ParseCondition(text); err == nil {
			t.Errorf("%q was read as %+v", text, c.Terms)
		}
	}
}

func FuzzParseCondition(f *testing.F) {
	for _, s := range []string{"check:seals.weep>=3", "both:check:a=not_fine", "symptom:a | hours>=500", "condition:mud", "check:a=over", "hours<1e3", "check:a>==3", "\x00|="} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ParseCondition(text)
		if err != nil {
			return
		}
		again, err := ParseCondition(c.String())
		if err != nil || !reflect.DeepEqual(c.Terms, again.Terms) {
			t.Fatalf("%q is %+v, written as %q it is %+v, %v", text, c.Terms, c.String(), again.Terms, err)
		}
		for _, term := range c.Terms {
			if math.IsNaN(term.Value) || math.IsInf(term.Value, 0) {
				t.Fatalf("%q compares with %g", text, term.Value)
			}
		}
	})
}
