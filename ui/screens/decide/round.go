package decide

import (
	"context"
	"slices"

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
		if err := decideAnew(ctx, d, rules, c); err != nil {
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

// decideAnew keeps a new decision for every part whose decision is not the one
// on record. A part that nothing changed for keeps its record, and with it the
// override and the customer's answer.
func decideAnew(ctx context.Context, d *shop.Desk, rules verdict.Rules, c *shop.Case) error {
	as, err := d.Assess(ctx, c, rules)
	if err != nil {
		return err
	}
	type at struct {
		part string
		leg  inspect.Leg
	}
	kept := map[at]inspect.Assessment{}
	for _, a := range c.Assessments {
		kept[at{a.Part, a.Leg}] = a
	}
	var changed []inspect.Assessment
	for _, a := range as {
		if old, ok := kept[at{a.Part, a.Leg}]; !ok || !same(old, a) {
			changed = append(changed, a)
		}
	}
	if len(changed) == 0 {
		return nil
	}
	if err := d.Lib.AddAssessments(ctx, changed...); err != nil {
		return err
	}
	c.Assessments, err = d.Lib.LatestAssessments(ctx, c.Visit.ID)
	return err
}

// same tells whether two decisions say the same on the same readings.
func same(a, b inspect.Assessment) bool {
	return a.Verdict == b.Verdict && a.Remedy == b.Remedy && a.DoNotRide == b.DoNotRide && a.NoPhoto == b.NoPhoto &&
		a.NotOpened == b.NotOpened && a.Baseline == b.Baseline && a.LeadCheck == b.LeadCheck && a.FittingID == b.FittingID &&
		slices.Equal(a.ReadingIDs, b.ReadingIDs) && slices.Equal(a.Reasons, b.Reasons)
}
