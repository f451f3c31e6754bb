package bench

import (
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// rebuild shows the rows that the filter keeps.
func (s *screen) rebuild() {
	if len(s.rows) == 0 {
		return
	}
	counts := map[filter]int{}
	list := container.New(&column{})
	first := true // the one action of the screen: what was promised first and waits for nothing
	for _, r := range s.rows {
		for f := all; f <= ready; f++ {
			if f.kept(r.Visit) {
				counts[f]++
			}
		}
		if s.show.kept(r.Visit) {
			list.Add(s.card(r, first && r.Visit.WaitsFor == ""))
			first = first && r.Visit.WaitsFor != ""
		}
	}
	for i, w := range []string{lang.L("All"), lang.L("Waiting"), lang.L("Ready to collect")} {
		s.chips[i].SetText(fmt.Sprintf("%s  %d", w, counts[filter(i)]))
		s.chips[i].SetSelected(filter(i) == s.show)
	}
	s.summary.SetText(s.sum())
	s.top.Show()
	var shown fyne.CanvasObject = container.NewVScroll(container.New(layout.NewCustomPaddedLayout(0, 0, 0, 2*tokens.Step), list))
	if len(list.Objects) == 0 {
		shown = widgets.NewEmptyState(lang.L("None of the forks here"), lang.L("No fork on the bench is in this list. The others are under All."), lang.L("Show all"), func() { s.onFilter(all) })
	} else if old := s.scroll(); old != nil {
		shown.(*container.Scroll).Offset = old.Offset
	}
	s.body.Objects = []fyne.CanvasObject{shown}
	s.root.Refresh()
}

// scroll is the list that is shown, if one is.
func (s *screen) scroll() *container.Scroll {
	if len(s.body.Objects) == 1 {
		if sc, ok := s.body.Objects[0].(*container.Scroll); ok {
			return sc
		}
	}
	return nil
}

// sum says in one line how the day looks.
func (s *screen) sum() string {
	over, today := 0, 0
	now := s.env.Desk.Clock()
	for _, r := range s.rows {
		switch p := r.Visit.Promised; {
		case words.Overdue(p, now) && isReady(r.Visit): // its work is done: nobody waits for it
		case words.Overdue(p, now):
			over++
		case !p.IsZero() && words.Days(now, p) == 0:
			today++
		}
	}
	switch {
	case over > 0 && today > 0:
		return fmt.Sprintf(lang.L("%d overdue, %d promised for today"), over, today)
	case over > 0:
		return fmt.Sprintf(lang.L("%d overdue"), over)
	case today > 0:
		return fmt.Sprintf(lang.L("%d promised for today"), today)
	}
	return lang.L("Nothing is overdue")
}

// card is one fork on the bench.
func (s *screen) card(r inspect.VisitRow, main bool) fyne.CanvasObject {
	v := r.Visit
	ticket := widget.NewLabel(fmt.Sprintf("%d", v.Ticket))
	ticket.SizeName, ticket.TextStyle = fynetheme.SizeNameHeadingText, fyne.TextStyle{Bold: true}
	waitsWord := lang.L("Waits for ...")
	if v.WaitsFor != "" {
		waitsWord = lang.L("Change")
	}
	waits := widgets.NewTextButton(waitsWord, false, func() { s.onWaits(v.ID) })
	next := widgets.NewTextButton(actionWord(v), main, func() { s.env.Go(NextPlace(v)) })
	keys := container.NewHBox(middle(container.New(atLeast{116, 44}, waits)), middle(container.New(atLeast{120, 44}, next)))
	left := container.New(atLeast{60, 0}, middle(ticket))
	facts := container.New(&thirds{width: across}, s.who(r), s.what(v), s.state(v))
	row := fyne.CanvasObject(container.New(&rowOf{width: sideBySide}, left, facts, keys))
	if s.waitsOpen == v.ID {
		row = container.NewVBox(row, s.waitsLine(v))
	}
	return widgets.NewCard(container.New(layout.NewCustomPaddedLayout(-8, -8, -8, -4), row))
}

func middle(o fyne.CanvasObject) fyne.CanvasObject {
	return container.NewVBox(layout.NewSpacer(), o, layout.NewSpacer())
}

func (s *screen) who(r inspect.VisitRow) fyne.CanvasObject {
	second := r.Customer.Name
	if r.Fork.Tag != "" {
		second = r.Fork.Tag + " · " + second
	}
	return lines(line(r.Fork.Label(), true, widget.MediumImportance), line(second, false, widget.LowImportance))
}

func (s *screen) what(v inspect.Visit) fyne.CanvasObject {
	level := v.Level
	if l, ok := s.env.Desk.Catalog.Level(v.Level); ok {
		level = l.Name
	}
	if v.Purpose != "" && v.Purpose != "paid" {
		level = fmt.Sprintf("%s, %s", level, tongue.Say(v.Purpose))
	}
	now := s.env.Desk.Clock()
	over := words.Overdue(v.Promised, now) && !isReady(v)
	loud := widget.LowImportance
	if over {
		loud = widget.WarningImportance
	}
	return lines(line(level, false, widget.MediumImportance), line(promisedText(v, now), over, loud))
}

// promisedText is the promise and how near it is; of a fork that is ready only
// the day, as it keeps nobody waiting.
func promisedText(v inspect.Visit, now time.Time) string {
	if isReady(v) && words.Overdue(v.Promised, now) {
		return fmt.Sprintf(lang.L("Promised for %s"), words.Date(v.Promised))
	}
	return words.Promised(v.Promised, now)
}

func (s *screen) state(v inspect.Visit) fyne.CanvasObject {
	now := s.env.Desk.Clock()
	step := words.Step(v.Step)
	second, loud := fmt.Sprintf(lang.L("Here %s"), words.SinceDay(v.DroppedOff, now)), widget.LowImportance
	switch {
	case v.WaitsFor != "":
		second, loud = strings.TrimSpace(fmt.Sprintf("%s %s", WaitsText(v.WaitsFor), words.SinceDay(v.WaitsSince, now))), widget.MediumImportance
	case isReady(v):
		step = lang.L("Ready to collect")
		if !v.Ready.IsZero() {
			second = fmt.Sprintf(lang.L("Ready %s"), words.SinceDay(v.Ready, now))
		}
	}
	return lines(line(step, true, widget.MediumImportance), line(second, false, loud))
}

// lines sets two labels close together.
func lines(ls ...fyne.CanvasObject) fyne.CanvasObject {
	return middle(container.New(layout.NewCustomPaddedVBoxLayout(-10), ls...))
}

func line(text string, bold bool, loud widget.Importance) *widget.Label {
	l := widget.NewLabel(text)
	l.TextStyle.Bold, l.Importance, l.Truncation = bold, loud, fyne.TextTruncateEllipsis
	return l
}

// NextPlace is where the next thing of a visit is done.
func NextPlace(v inspect.Visit) place.Where {
	w := place.Where{Name: place.Inspect, Visit: v.ID, Fork: v.ForkID}
	switch v.Step {
	case inspect.StepDecide:
		w.Name = place.Decide
	case inspect.StepService:
		w.Name = place.Service
	case inspect.StepHandBack, inspect.StepDone:
		w.Name = place.HandBack
	}
	return w
}

func actionWord(v inspect.Visit) string {
	switch v.Step {
	case inspect.StepDecide:
		return lang.L("Decide")
	case inspect.StepService:
		return lang.L("Service")
	case inspect.StepHandBack, inspect.StepDone:
		return lang.L("Hand back")
	}
	return lang.L("Inspect")
}
