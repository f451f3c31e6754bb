package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme/tokens"
)

// FineNotFine takes a yes or no answer with two large keys. 1 and 0 press
// them while either has the focus.
type FineNotFine struct {
	widget.BaseWidget

	// OnChanged is called when the user answers.
	OnChanged func(fine bool)

	fine, notFine *padKey
}

// NewFineNotFine returns a pad without an answer, with the words of its keys.
func NewFineNotFine(fine, notFine string, onChanged func(fine bool)) *FineNotFine {
	f := &FineNotFine{OnChanged: onChanged}
	f.fine = newPadKey(fine, "1", false, func() { f.give(true) })
	f.notFine = newPadKey(notFine, "0", false, func() { f.give(false) })
	for _, k := range []*padKey{f.fine, f.notFine} {
		k.onRune = func(r rune) {
			if r == '0' || r == '1' {
				f.give(r == '1')
			}
		}
	}
	f.ExtendBaseWidget(f)
	return f
}

// CreateRenderer implements fyne.Widget.
func (f *FineNotFine) CreateRenderer() fyne.WidgetRenderer {
	layout := func(s fyne.Size) {
		w := (s.Width - tokens.Step) / 2
		place(f.fine, 0, 0, w, s.Height)
		place(f.notFine, w+tokens.Step, 0, w, s.Height)
	}
	least := func() fyne.Size {
		w := max(f.fine.MinSize().Width, f.notFine.MinSize().Width)
		return fyne.NewSize(2*w+tokens.Step, 60)
	}
	refresh := func() { f.fine.Refresh(); f.notFine.Refresh() }
	return newRendered([]fyne.CanvasObject{f.fine, f.notFine}, layout, least, refresh)
}

// Answer returns the answer; ok is false while there is none.
func (f *FineNotFine) Answer() (fine, ok bool) {
	return f.fine.selected, f.fine.selected || f.notFine.selected
}

// SetAnswer shows an answer without calling OnChanged.
func (f *FineNotFine) SetAnswer(fine bool) {
	f.fine.selected, f.notFine.selected = fine, !fine
	f.Refresh()
}

// Clear takes the answer away without calling OnChanged.
func (f *FineNotFine) Clear() {
	f.fine.selected, f.notFine.selected = false, false
	f.Refresh()
}

func (f *FineNotFine) give(fine bool) {
	f.SetAnswer(fine)
	if f.OnChanged != nil {
		f.OnChanged(fine)
	}
}
