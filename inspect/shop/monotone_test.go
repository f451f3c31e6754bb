package shop

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"forkwear/inspect"
)

// The horizon is the interval, or the 0.8 quantile about the mean of interval
// and own gaps: (50 + 150 + 250)/3 * (1 + 0.8416*0.2) for a fork of a 50 h
// interval that came at 100, 250 and 500 h. 0.8416: standard normal quantile.
func TestHorizonByOwnUse(t *testing.T) {
	b := newBench(t)
	c := b.visit("lowers", 100)
	if h := b.desk.horizon(c, "wiper"); h != 50 {
		t.Errorf("horizon %g at the first visit, want the level's 50", h)
	}
	b.days(100).visit("lowers", 250)
	c = b.days(100).visit("lowers", 500)
	if h, want := b.desk.horizon(c, "wiper"), 150*(1+0.8416*0.2); math.Abs(h-want) > 1e-9 {
		t.Errorf("horizon %g, want %g", h, want)
	}
}

// More wear in the newest reading never turns replace into reuse (domain 4).
func TestMoreWearNeverLooksBetter(t *testing.T) {
	b := newBench(t)
	c := b.visit("look_over", 150)
	b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, 1)
	c = b.days(90).visit("look_over", 350)
	at, worst, p := position{"bushings", inspect.Right}, 0, 0.0
	for g := 0.0; g <= 5; g++ {
		b.say(c, "bushings.feel", inspect.Whole, inspect.Received, inspect.Graded, g)
		a := b.assess(c)[at]
		r := map[inspect.Verdict]int{inspect.Reuse: 0, inspect.Measure: 1, inspect.Replace: 2}[a.Verdict]
		if r < worst || a.PThen < p-1e-6 {
			t.Errorf("grade %g: %s with chance %.4f after %.4f", g, a.Verdict, a.PThen, p)
		}
		worst, p = r, a.PThen
	}
	if worst != 2 {
		t.Error("grade 5 is not replaced")
	}
}

// The same over drawn histories of a number with its own uncertainty, and of
// hours: the chance not to last never falls with the newest reading.
func TestMoreWearNeverLooksBetterDrawn(t *testing.T) {
	k, _ := cat.Check("bushings.rock")
	rapid.Check(t, func(r *rapid.T) {
		b := newBench(t)
		hours, value := 0.0, 0.0
		for n := rapid.IntRange(0, 3).Draw(r, "visits"); n > 0; n-- {
			hours += rapid.Float64Range(0, 200).Draw(r, "hours")
			value = rapid.Float64Range(0, 0.2).Draw(r, "rock")
			b.say(b.days(30).visit("look_over", hours), k.ID, inspect.Whole, inspect.Received, inspect.Measured, value)
		}
		hours += rapid.Float64Range(0, 300).Draw(r, "now")
		c := b.days(30).visit("look_over", hours)
		low := rapid.Float64Range(0, 0.3).Draw(r, "low")
		high := low + rapid.Float64Range(0, 0.2).Draw(r, "more")
		at := position{"bushings", inspect.Right}
		b.say(c, k.ID, inspect.Whole, inspect.Received, inspect.Measured, low)
		was := b.assess(c)[at]
		b.say(c, k.ID, inspect.Whole, inspect.Received, inspect.Measured, high)
		is := b.assess(c)[at]
		if is.PThen < was.PThen-1e-6 || was.Verdict == inspect.Replace && is.Verdict == inspect.Reuse {
			r.Fatalf("%g: %s %.4f; %g: %s %.4f", low, was.Verdict, was.PThen, high, is.Verdict, is.PThen)
		}
	})
}
