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
	story    *shop.Story
	currency string
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
	l.story.Lines = visitbar.Sorted(l.story.Lines)
	l.currency, err = d.Lib.Preference(ctx, shop.KeyCurrency)
	return l, err
}
