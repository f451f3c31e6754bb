package inspection

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// showConflict shows the values that stand against each other, each as a key to
// choose it; a new answer ends them too.
func (s *Screen) showConflict(k catalog.Check, slot inspect.Slot) {
	box, heads := s.card.conflict, s.standing(slot)
	box.Objects = nil
	s.card.conflictRoom.Hidden = len(heads) == 0
	if len(heads) == 0 {
		return
	}
	told := quiet(lang.L("Two values stand against each other: choose the one that holds, or answer anew."))
	told.Importance = widget.WarningImportance
	box.Add(told)
	for _, r := range heads {
		if s.kase.Visit.Closed() {
			box.Add(quiet(words.Standing(k, r)))
			continue
		}
		box.Add(widgets.NewTextButton(words.Standing(k, r), false, func() { s.choose(k, slot, r) }))
	}
	s.card.conflictRoom.Refresh()
}

// standing are the values of a slot that contradict each other; none once an
// answer is on its way that ends them.
func (s *Screen) standing(slot inspect.Slot) []inspect.Reading {
	for _, e := range s.way {
		if _, ok := e.shows[slot]; ok {
			return nil
		}
	}
	return s.kase.Conflicts[slot]
}

// choose settles a conflict by one of its values.
func (s *Screen) choose(k catalog.Check, slot inspect.Slot, r inspect.Reading) {
	if !s.mayWrite() {
		return
	}
	var wrote []inspect.Reading
	at := spot{slot.Check, slot.Leg, slot.Point}
	s.send(errand{
		shows: map[inspect.Slot]inspect.Reading{slot: r},
		work: func(ctx context.Context, c *shop.Case) (err error) {
			wrote, err = s.env.Desk.Settle(ctx, c, slot, r.ID)
			return err
		},
		done: func() {
			s.env.Say.Saved(fmt.Sprintf(lang.L("Chosen: %s"), s.said(k, wrote[0])), func() { s.takeBack(slot.Stage, at, idsOf(wrote)...) })
		},
	})
	s.show()
}

// pointInConflict is the point of a check and leg at which two values stand.
func (s *Screen) pointInConflict(at spot) (string, bool) {
	for _, f := range s.kase.InConflict() {
		if f.Slot.Check == at.check && f.Slot.Leg == at.leg && (s.where.Stage == "" || f.Slot.Stage == s.where.Stage) {
			return f.Slot.Point, true
		}
	}
	return "", false
}

// idsOf names entries in the order in which they are taken back: the last first.
func idsOf(rs []inspect.Reading) []inspect.ID {
	out := make([]inspect.ID, len(rs))
	for i, r := range rs {
		out[len(rs)-1-i] = r.ID
	}
	return out
}
