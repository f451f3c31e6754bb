package words

import (
	"strings"
	"testing"
	"time"

	"forkwear/inspect"
)

func TestIfItStaysPromisesNothingThatWasNotReckoned(t *testing.T) {
	used := func(w float64) *float64 { return &w }
	for _, tc := range []struct {
		name string
		a    inspect.Assessment
		want string
	}{
		{"not safe", inspect.Assessment{DoNotRide: true, WearUsed: used(0.2)}, "not to be ridden"},
		{"baseline", inspect.Assessment{Baseline: true}, "first reading"},
		{"past the limit", inspect.Assessment{WearUsed: used(1.1), PThen: 0.9, Horizon: 100}, "past its limit already"},
		{"a chance", inspect.Assessment{WearUsed: used(0.7), PThen: 0.25, Horizon: 100}, "about one chance in four"},
		{"a state", inspect.Assessment{Verdict: inspect.Replace}, "stays as it is"},
		{"fine", inspect.Assessment{Verdict: inspect.Reuse}, "nothing speaks against it"},
	} {
		if got := IfItStays(tc.a); !strings.Contains(got, tc.want) {
			t.Errorf("%s: %q, want %q in it", tc.name, got, tc.want)
		}
	}
}

func TestConsentLine(t *testing.T) {
	k := inspect.Consent{By: "First Customer", How: "phone", At: time.Date(2026, 5, 12, 14, 2, 0, 0, time.UTC)}
	if got := ConsentLine(k); got != "No, leave it · First Customer · phone · 12 May 2026, 14:02" {
		t.Errorf("written %q", got)
	}
}
