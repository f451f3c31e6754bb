package decide

import (
	"context"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/inspect/verdict"
	"forkwear/ui/screens/visitbar"
)

// loaded is what the screen shows.
type loaded struct {
	story *shop.Story
	jobs  []shop.Job
	bill  shop.Bill
	lines map[inspect.ID]shop.Line // by the id of the decision, those not opened too
	doubt error                    // a price that can't be read
}

// load reads a visit and decides what is not decided yet.
func load(ctx context.Context, d *shop.Desk, rules verdict.Rules, visit inspect.ID) (loaded, error) {
	c, err := d.Open(ctx, visit)
	if err != nil {
		return loaded{}, err
	}
	if !c.Visit.Closed() {
		if err := d.Decide(ctx, c, rules); err != nil {
			return loaded{}, err
		}
	}
	return tell(ctx, d, c)
}

func tell(ctx context.Context, d *shop.Desk, c *shop.Case) (l loaded, err error) {
	if l.story, err = d.Story(ctx, c); err != nil {
		return l, err
	}
	prices, err := d.Prices(ctx)
	if err != nil && inspect.CodeOf(err) != inspect.Invalid {
		return l, err
	}
	l.doubt = err
	l.lines = map[inspect.ID]shop.Line{}
	var as []inspect.Assessment
	for _, line := range append(visitbar.Sorted(l.story.Lines), l.story.Unopened...) {
		l.lines[line.Assessment.ID] = line
		as = append(as, line.Assessment)
	}
	l.jobs = d.Jobs(c, as, prices)
	l.bill = d.Bill(c, l.jobs, prices)
	return l, nil
}

// shut are the parts that nobody opened and that go out with no kit.
func (l loaded) shut() []shop.Line {
	shown := map[inspect.ID]bool{}
	for _, j := range l.jobs {
		for _, p := range j.Parts {
			shown[p.Assessment.ID] = true
		}
	}
	var out []shop.Line
	for _, line := range l.story.Unopened {
		if !shown[line.Assessment.ID] {
			out = append(out, line)
		}
	}
	return out
}
