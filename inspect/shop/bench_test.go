package shop

import (
	"math"
	"testing"
	"time"

	"forkwear/inspect"
)

func benchAssess(b *testing.B, visits int, cold bool) {
	w := newBench(b)
	grades := map[string]func(h float64) float64{"bushings.feel": func(h float64) float64 { return math.Min(5, math.Floor(h/250)) },
		"seals.weep": func(h float64) float64 { return math.Min(5, math.Floor(h/90)) }}
	var c *Case
	for n := 0; n < visits; n += 3 {
		w.fork = ""
		for v := 1; v <= 3; v++ {
			c = w.days(1).visit("look_over", float64(100*v+n%70))
			for check, of := range grades {
				k, _ := cat.Check(check)
				for _, leg := range c.Sheet.LegsOf(k.Legs) {
					r, err := w.desk.reading(c, Answer{Check: check, Leg: leg, Stage: inspect.Received, Answer: inspect.Graded, Value: of(c.Claim.Hours)})
					w.must(err)
					w.must(w.lib.AddReadings(ctx, r))
				}
			}
			w.lib.visits[len(w.lib.visits)-1].Collected = time.Now()
		}
	}
	c = w.open(c.Visit.ID)
	w.assess(c)
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		if cold {
			w.desk.fits, w.desk.order = nil, nil
			c = w.open(c.Visit.ID)
		} else {
			w.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, float64(1+i%3))
		}
		w.assess(c)
	}
}

func BenchmarkAnswerAndAssess100(b *testing.B)  { benchAssess(b, 100, false) }
func BenchmarkAnswerAndAssess2000(b *testing.B) { benchAssess(b, 2000, false) }
func BenchmarkOpenAndFit100(b *testing.B)       { benchAssess(b, 100, true) }
func BenchmarkOpenAndFit2000(b *testing.B)      { benchAssess(b, 2000, true) }
