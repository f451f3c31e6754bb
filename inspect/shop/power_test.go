package shop

import (
	"math"
	"strings"
	"testing"

	"forkwear/inspect"
)

// Twenty fittings whose wear goes as t^2 (made so) are told as bent, once per
// fit; straight ones as straight; a check with its own exponent and a thin
// group say nothing of it.
func TestPowerIsTold(t *testing.T) {
	k, _ := cat.Check("bushings.rock")
	k.Exponent = 0
	group := func(q, scale float64, forks int) (*bench, *Case) {
		b := newBench(t)
		var c *Case
		for i := 0; i < forks; i++ {
			b.fork = ""
			for j, h := range []float64{100, 250, 420} {
				c = b.days(3).visit("look_over", h)
				lo, hi := k.Bounds(c.Sheet)
				part := (1 + 0.06*float64(i%5-2)) * math.Pow(h/scale, q)
				b.say(c, k.ID, inspect.Whole, inspect.Received, inspect.Measured, *lo+(*hi-*lo)*(part+0.004*float64((i+j)%3-1)))
			}
		}
		return b, c
	}
	told := func(b *bench, c *Case, own float64) string {
		k := k
		k.Exponent = own
		tr, err := b.desk.Trend(ctx, b.open(c.Visit.ID), k, inspect.Whole)
		b.must(err)
		return tr.Told
	}
	b, c := group(2, 300, 20)
	bent := told(b, c, 0)
	if !strings.Contains(bent, "slower at first and faster later") || !strings.Contains(bent, "too many hours left") {
		t.Errorf("wear as t^2: %q", bent)
	}
	if n := len(b.desk.power); n != 1 {
		t.Errorf("%d profiles kept, want 1", n)
	}
	if again := told(b, c, 0); again != bent || len(b.desk.power) != 1 {
		t.Errorf("asked again: %q and %d profiles", again, len(b.desk.power))
	}
	if own := told(b, c, 1.5); strings.Contains(own, "power") {
		t.Errorf("a check with its own exponent: %q", own)
	}
	b, c = group(1, 500, 20)
	if s := told(b, c, 0); !strings.Contains(s, "a straight line over hours fits") {
		t.Errorf("straight wear: %q", s)
	}
	b, c = group(2, 300, 10)
	if s := told(b, c, 0); strings.Contains(s, "power") || strings.Contains(s, "straight") {
		t.Errorf("ten fittings: %q", s)
	}
}
