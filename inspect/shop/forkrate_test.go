package shop

import (
	"strings"
	"testing"

	"forkwear/inspect"
	"forkwear/inspect/wear"
)

// Ten forks that wore two sets of bushings each have a rate of their own: the
// same reading on a third set promises less on the fork that eats them (made
// so: every other fork is graded 4 where the others are graded 1). Nine have none.
func TestForkHasARateOfItsOwn(t *testing.T) {
	k, _ := cat.Check("bushings.feel")
	third := func(forks int) (fast, slow inspect.Assessment, told string) {
		b := newBench(t)
		var last [2]*Case
		feel := func(c *Case, grade float64) {
			b.say(c, k.ID, inspect.Whole, inspect.Received, inspect.Graded, grade)
		}
		both := []Renewal{{Part: "bushings", Leg: inspect.Left}, {Part: "bushings", Leg: inspect.Right}}
		var ids [2]inspect.ID
		for i := 0; i < forks; i++ {
			b.fork = ""
			for n := 1.0; n <= 2; n++ {
				c := b.days(3).visit("full", 300*n)
				feel(c, []float64{4, 1}[i%2])
				b.must(b.desk.Renew(ctx, c, both))
			}
			ids[i%2] = b.fork
		}
		for i, id := range ids {
			b.fork = id
			last[i] = b.days(3).visit("full", 700)
			feel(last[i], 1)
		}
		at := position{"bushings", inspect.Right}
		tr, err := b.desk.Trend(ctx, last[0], k, inspect.Whole)
		b.must(err)
		return b.assess(last[0])[at], b.assess(last[1])[at], tr.Told
	}
	fast, slow, told := third(10)
	t.Logf("chance not to last %.3f on a fast fork, %.3f on a slow one; %s", fast.PThen, slow.PThen, told)
	if !(fast.PThen > slow.PThen+0.05) {
		t.Errorf("the same reading: chance %.3f on a fast fork, %.3f on a slow one", fast.PThen, slow.PThen)
	}
	if !strings.Contains(told, "the fork's own rate counts, for 10 forks") {
		t.Errorf("not told: %q", told)
	}
	if _, _, told = third(9); strings.Contains(told, "own rate") {
		t.Errorf("nine forks: %q", told)
	}
}

// A fitting that turns out to be on another fork is another fit.
func TestFitKeyKnowsTheFork(t *testing.T) {
	id := seriesKey{"fitting", inspect.Left}
	key := func(fork string) fitKey {
		return keyOf("check", wear.Data{Units: map[string]wear.Unit{id.unit(): {ID: id.unit(), Fork: fork}}}, []seriesKey{id}, wear.DefaultPrior(500))
	}
	if key("one") == key("other") {
		t.Error("the key of a fit does not go by the fork")
	}
}
