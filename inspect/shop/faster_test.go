package shop

import (
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/verdict"
)

// A grade that crept and then jumped is told as wearing faster; one
// that goes on as before is not. Both are told by Assess and kept by Decide.
func TestFasterIsInTheAssessment(t *testing.T) {
	for _, tc := range []struct {
		last float64
		want bool
	}{{4, true}, {1, false}} {
		b := newBench(t)
		c := b.visit("look_over", 20)
		for i := 0; i < 4; i++ {
			b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 1)
			c = b.days(60).visit("look_over", 20+60*float64(i+1))
		}
		b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, tc.last)
		flagged, err := b.desk.Faster(ctx, c)
		b.must(err)
		if (len(flagged) == 1) != tc.want {
			t.Fatalf("grade %g: %+v flagged", tc.last, flagged)
		}
		b.must(b.desk.Decide(ctx, c, verdict.Rules{}))
		for _, a := range c.Assessments {
			told := 0
			for _, r := range a.Reasons {
				if r.Plain == "Wearing faster than before." {
					told++
					if r.Rule != 8 || r.Decide || r.Check != "bushings.feel" || !strings.Contains(r.Why, "Holm") {
						t.Errorf("reason %+v", r)
					}
				}
			}
			if want := tc.want && a.Part == "bushings"; (told == 1) != want || told > 1 {
				t.Errorf("grade %g, %s %s: told %d times", tc.last, a.Part, a.Leg, told)
			}
		}
	}
}
