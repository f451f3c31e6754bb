package decide

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// foot has what the decision comes to, what the customer said, the customer's
// limit, and the ways on.
func (s *Screen) foot() fyne.CanvasObject {
	b := s.data.bill
	told := words.Agreed(b)
	limit := words.GoAhead(b)
	if limit != "" && !b.Over() {
		told, limit = told+" · "+limit, ""
	}
	over := visitbar.Bold(limit)
	over.Importance = widget.WarningImportance
	report := widgets.NewTextButton(lang.L("Report")+"  R", false, s.Report)
	show := widgets.NewTextButton(lang.L("Show the customer")+"  C", false, s.ShowCustomer)
	goOn := widgets.NewTextButton(lang.L("Go on to service")+"  G", true, s.GoOn)
	goOn.SetEnabled(!s.data.story.Case.Visit.Closed())
	hint := visitbar.Quiet(lang.L("↑ ↓ choose · Enter opens · A the answer · O another verdict"))
	hint.Alignment = fyne.TextAlignTrailing
	keys := container.NewHBox(layout.NewSpacer(), report, show, goOn)
	return container.NewVBox(widget.NewSeparator(), container.New(layout.NewCustomPaddedLayout(0, 4, 8, 16),
		container.New(&foot{over: limit != ""}, visitbar.Bold(words.Proposed(b)), visitbar.Quiet(told), over, keys, hint)))
}

// foot lays the sums beside the keys; in a small window one sum over the keys
// has to do, so that the lines keep their room.
type foot struct {
	over   bool
	narrow bool
}

const (
	footKeys = 500 // width of the keys
	footBest = 860 // less than this is a small window
	footPull = 10  // lines of text stand closer than their padding
)

// Layout implements fyne.Layout: sum, answers, limit, keys, hint.
func (f *foot) Layout(os []fyne.CanvasObject, size fyne.Size) {
	f.narrow = size.Width < footBest
	keys, hint := os[3], os[4]
	left := size.Width
	if !f.narrow {
		left = size.Width - footKeys - 8
	}
	y := float32(0)
	for i, o := range os[:3] {
		if o.Visible() != f.seen(i) {
			if f.seen(i) {
				o.Show()
			} else {
				o.Hide()
			}
		}
		if !f.seen(i) {
			continue
		}
		o.Resize(fyne.NewSize(left, o.MinSize().Height))
		h := o.MinSize().Height // words wrap by the width, so it is asked again
		o.Resize(fyne.NewSize(left, h))
		o.Move(fyne.NewPos(0, y))
		y += h - footPull
	}
	kh := keys.MinSize().Height
	if f.narrow {
		hint.Hide()
		keys.Resize(fyne.NewSize(left, kh))
		keys.Move(fyne.NewPos(0, y+footPull))
		return
	}
	hint.Show()
	keys.Resize(fyne.NewSize(footKeys, kh))
	keys.Move(fyne.NewPos(left+8, 8))
	hint.Resize(fyne.NewSize(footKeys, hint.MinSize().Height))
	hint.Move(fyne.NewPos(left+8, 8+kh-2))
}

// seen tells which of the three lines has room: all, or the one that matters
// most in a small window.
func (f *foot) seen(i int) bool {
	if i == 2 {
		return f.over
	}
	return !f.narrow || i == 0 && !f.over
}

// MinSize implements fyne.Layout: as it stood at the last width.
func (f *foot) MinSize(os []fyne.CanvasObject) fyne.Size {
	sums := float32(0)
	for i, o := range os[:3] {
		if f.seen(i) {
			sums += o.MinSize().Height - footPull
		}
	}
	kh := os[3].MinSize().Height
	if f.narrow {
		return fyne.NewSize(os[3].MinSize().Width, sums+footPull+kh)
	}
	return fyne.NewSize(os[3].MinSize().Width, max(sums+footPull, 8+kh+os[4].MinSize().Height-2))
}
