package bench

import (
	"context"
	"errors"
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/run"
	"forkwear/ui/widgets"
)

// reasons are what a visit can wait for; "" is nothing.
var reasons = []string{"", "customer", "part", "tool", "sent away"}

// WaitsText says what a visit waits for.
func WaitsText(reason string) string {
	switch reason {
	case "":
		return lang.L("Waits for nothing")
	case "customer":
		return lang.L("Waits for the customer")
	case "part":
		return lang.L("Waits for a part")
	case "tool":
		return lang.L("Waits for a tool")
	case "sent away":
		return lang.L("Sent away")
	}
	return fmt.Sprintf(lang.L("Waits for %s"), reason)
}

// onWaits opens or closes the choice under one row.
func (s *screen) onWaits(id inspect.ID) {
	if s.waitsOpen == id {
		id = ""
	}
	s.waitsOpen = id
	s.rebuild()
}

func (s *screen) waitsLine(v inspect.Visit) fyne.CanvasObject {
	bar := container.NewHBox(layout.NewSpacer(), line(lang.L("Waits for"), false, widget.LowImportance))
	bar.Objects[1].(*widget.Label).Truncation = fyne.TextTruncateOff
	words := map[string]string{"": lang.L("nothing"), "customer": lang.L("the customer"), "part": lang.L("a part"), "tool": lang.L("a tool"), "sent away": lang.L("sent away")}
	for _, r := range reasons {
		c := widgets.NewChip(words[r], func() { s.setWaits(v.ID, r) })
		c.SetSelected(v.WaitsFor == r)
		bar.Add(c)
	}
	return bar
}

// setWaits keeps what a visit waits for, since now where it is another thing.
func (s *screen) setWaits(id inspect.ID, reason string) {
	s.keepWaits(id, reason, s.env.Desk.Clock(), true)
}

func (s *screen) keepWaits(id inspect.ID, reason string, since time.Time, undoable bool) {
	run.Go(s.env.Run, func(ctx context.Context) (inspect.Visit, error) {
		old, err := s.env.Desk.Lib.Visit(ctx, id)
		if err != nil || old.WaitsFor == reason {
			return old, err
		}
		v := old
		v.WaitsFor, v.WaitsSince = reason, since
		if reason == "" {
			v.WaitsSince = time.Time{}
		}
		return old, s.env.Desk.Lib.SaveVisit(ctx, v)
	}, func(old inspect.Visit, err error) {
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		s.waitsOpen = ""
		var undo func()
		if undoable {
			undo = func() { s.keepWaits(id, old.WaitsFor, old.WaitsSince, false) }
		}
		s.env.Say.Saved(fmt.Sprintf("%d: %s", old.Ticket, WaitsText(reason)), undo)
		s.load()
	})
}

// emptyLibrary offers the two ways to begin.
func (s *screen) emptyLibrary() fyne.CanvasObject {
	text := lang.L("Take in the first fork, or look round in an invented shop first: forks with two years of visits, photos and wear.")
	if s.env.Demo == nil {
		return widgets.NewEmptyState(lang.L("No fork has been taken in yet"), lang.L("Forks that are here stand here, by the day they were promised."), lang.L("New drop-off"), s.onDropOff)
	}
	state := widgets.NewEmptyState(lang.L("No fork has been taken in yet"), text, lang.L("Start with the sample shop"), s.onDemo)
	first := widgets.NewTextButton(lang.L("New drop-off"), false, s.onDropOff)
	return container.NewCenter(container.NewVBox(container.New(atLeast{520, 190}, state), container.NewCenter(first)))
}

// onDemo fills the library with the sample shop, beside the window.
func (s *screen) onDemo() {
	s.progress = widget.NewProgressBar()
	word := widget.NewLabelWithStyle(lang.L("Filling the sample shop ..."), fyne.TextAlignCenter, fyne.TextStyle{Bold: true})
	cancel := widgets.NewTextButton(lang.L("Cancel"), false, func() { s.demoStop() })
	s.put(container.NewCenter(container.NewVBox(word, container.New(atLeast{420, 24}, s.progress), container.NewCenter(cancel))))
	update, done := s.env.Say.Working(lang.L("Filling the sample shop"), func() { s.demoStop() })
	s.demoStop = run.Go(s.env.Run, func(ctx context.Context) (struct{}, error) {
		return struct{}{}, s.env.Demo(ctx, func(n, total int) {
			s.env.Run.Tell(func() {
				if total > 0 {
					s.progress.SetValue(float64(n) / float64(total))
				}
				update(fmt.Sprintf(lang.L("Filling the sample shop, %d of %d"), n, total))
			})
		})
	}, func(_ struct{}, err error) {
		done()
		switch {
		case errors.Is(err, context.Canceled):
			s.env.Say.Hint(lang.L("Stopped. What was filled in so far is kept."))
		case err != nil:
			s.env.Say.Failed(err)
		default:
			s.env.Say.Saved(lang.L("The sample shop"), nil)
		}
		s.load()
	})
}
