package visitbar

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// New returns the bar of a visit with current as the step that is open. A
// pressed step opens its place of the same visit.
func New(env *place.Env, c *shop.Case, current inspect.Step) fyne.CanvasObject {
	var names []string
	for _, s := range inspect.Steps() {
		names = append(names, words.Step(s))
	}
	bar := widgets.NewStepBar(names, func(i int) { env.Go(PlaceOf(inspect.Steps()[i], c)) })
	bar.Set(Number(current), min(Number(c.Visit.Step), len(inspect.Steps())))
	who := widget.NewLabel(Title(c))
	who.Alignment, who.Truncation = fyne.TextAlignTrailing, fyne.TextTruncateEllipsis
	return container.NewVBox(Row([]float32{bar.MinSize().Width, 0}, bar, who), widget.NewSeparator())
}

// Title names a visit: "#12 · Sample Trail 120 2023 · First Customer".
func Title(c *shop.Case) string {
	return fmt.Sprintf("#%d · %s · %s", c.Visit.Ticket, c.Fork.Label(), c.Customer.Name)
}

// Number is the place of a step in the order of work, from 0; a collected visit
// is past them all.
func Number(s inspect.Step) int {
	if i := slices.Index(inspect.Steps(), s); i >= 0 {
		return i
	}
	return len(inspect.Steps())
}

// PlaceOf is the place of a step of this visit.
func PlaceOf(s inspect.Step, c *shop.Case) place.Where {
	w := place.Where{Name: place.Inspect, Visit: c.Visit.ID}
	switch s {
	case inspect.StepDropOff:
		w.Name, w.Fork = place.DropOff, c.Fork.ID
	case inspect.StepDecide:
		w.Name = place.Decide
	case inspect.StepService:
		w.Name = place.Service
	case inspect.StepHandBack, inspect.StepDone:
		w.Name = place.HandBack
	}
	return w
}
