package shop

import (
	"context"
	"sort"

	"forkwear/inspect"
)

// Conflict is a slot in which two values stand against each other, such as after
// two benches wrote at the same time.
type Conflict struct {
	Slot  inspect.Slot
	Heads []inspect.Reading // by id; the last is reckoned with until it is settled
}

// InConflict lists what has to be settled, by stage, check, leg and point.
func (c *Case) InConflict() []Conflict {
	var out []Conflict
	for slot, hs := range c.Conflicts {
		out = append(out, Conflict{slot, hs})
	}
	rank := map[inspect.Stage]int{}
	for i, s := range inspect.Stages() {
		rank[s] = i
	}
	sort.Slice(out, func(i, j int) bool {
		a, b := out[i].Slot, out[j].Slot
		switch {
		case a.Stage != b.Stage:
			return rank[a.Stage] < rank[b.Stage]
		case a.Check != b.Check:
			return a.Check < b.Check
		case a.Leg != b.Leg:
			return a.Leg < b.Leg
		}
		return a.Point < b.Point
	})
	return out
}

// Settle ends a conflict by choosing one of the values that stand: a new reading
// says the chosen one again, by who chose, and the others are taken back. It
// returns all that it wrote; Desk.Undo of each, the last first, brings the
// conflict back as it was.
func (d *Desk) Settle(ctx context.Context, c *Case, slot inspect.Slot, chosen inspect.ID) ([]inspect.Reading, error) {
	var r inspect.Reading
	heads := c.Conflicts[slot]
	for _, h := range heads {
		if h.ID == chosen {
			r = h
		}
	}
	if r.ID == "" {
		return nil, inspect.Refuse(inspect.Conflict, "the two values of check %s do not stand against each other any more: look at the check again", slot.Check)
	}
	r.Supersedes, r.ID, r.By, r.At = heads[len(heads)-1].ID, d.NewID(), d.Who(), d.Clock()
	rs := append([]inspect.Reading{r}, d.endOthers(c, r)...)
	if err := d.Lib.AddReadings(ctx, rs...); err != nil {
		return nil, err
	}
	return rs, d.reloadReadings(ctx, c)
}

// endOthers takes back what stands in the slot of a new reading beside what that
// one supersedes.
func (d *Desk) endOthers(c *Case, r inspect.Reading) []inspect.Reading {
	var out []inspect.Reading
	for _, h := range c.Conflicts[r.Slot()] {
		if h.ID == r.Supersedes {
			continue
		}
		h.Supersedes, h.ID, h.By, h.At, h.Retracted = h.ID, d.NewID(), d.Who(), d.Clock(), true
		out = append(out, h)
	}
	return out
}
