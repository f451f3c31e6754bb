package words

import (
	"testing"

	"forkwear/inspect"
)

func TestRoutine(t *testing.T) {
	by := func(rule int) inspect.Assessment {
		return inspect.Assessment{Verdict: inspect.Replace, Reasons: []inspect.Reason{{Rule: 3}, {Rule: rule, Decide: true}}}
	}
	changed := by(always)
	changed.Override = &inspect.Override{Verdict: inspect.Replace}
	for name, c := range map[string]struct {
		a    inspect.Assessment
		want bool
	}{"renewed by the level": {by(always), true}, "worn": {by(3), false}, "changed by hand": {changed, false}, "no reason": {inspect.Assessment{Verdict: inspect.Replace}, false}} {
		if Routine(c.a) != c.want {
			t.Errorf("%s: %v", name, !c.want)
		}
	}
}
