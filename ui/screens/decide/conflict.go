package decide

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// conflicts lists the checks on which two values stand against each other: what
// is decided stands on the last of them until somebody chooses.
func (s *Screen) conflicts(all []shop.Conflict) fyne.CanvasObject {
	list := visitbar.List(0, visitbar.Heading(lang.L("Two values stand against each other")),
		visitbar.Quiet(lang.L("The decision stands on the last one until one is chosen.")))
	for _, f := range all {
		check, ok := s.env.Desk.Catalog.Check(f.Slot.Check)
		if !ok {
			check.Name = f.Slot.Check
		}
		told := visitbar.List(-8, visitbar.Bold(fmt.Sprintf("%s · %s", words.PartAt(check.Name, f.Slot.Leg), words.Stage(f.Slot.Stage))))
		for _, r := range f.Heads {
			told.Add(visitbar.Text(words.Standing(check, r)))
		}
		key := fyne.CanvasObject(visitbar.Quiet(""))
		if !s.data.story.Case.Visit.Closed() {
			key = widgets.NewTextButton(lang.L("Choose one"), false, func() {
				s.env.Go(place.Where{Name: place.Inspect, Visit: s.visit, Check: f.Slot.Check, Leg: f.Slot.Leg, Stage: f.Slot.Stage})
			})
		}
		list.Add(visitbar.Row([]float32{0, 150}, told, key))
	}
	return widgets.NewCard(list)
}
