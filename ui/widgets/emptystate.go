package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme/tokens"
)

// EmptyState stands where a list is still empty: what goes here, and the
// action that begins it.
type EmptyState struct {
	widget.BaseWidget

	title    string
	sentence *widget.Label
	action   *TextButton
}

// NewEmptyState returns a state; with an empty action word it has no button.
func NewEmptyState(title, sentence, action string, onAction func()) *EmptyState {
	e := &EmptyState{title: title, sentence: widget.NewLabel(sentence)}
	e.sentence.Wrapping = fyne.TextWrapWord
	e.sentence.Alignment = fyne.TextAlignCenter
	if action != "" {
		e.action = NewTextButton(action, true, func() { call(onAction) })
	}
	e.ExtendBaseWidget(e)
	return e
}

// CreateRenderer implements fyne.Widget.
func (e *EmptyState) CreateRenderer() fyne.WidgetRenderer {
	title := canvas.NewText("", nil)
	objs := []fyne.CanvasObject{title, e.sentence}
	if e.action != nil {
		objs = append(objs, e.action)
	}
	const width = 420
	refresh := func() {
		setText(title, e.title, sizeOf(e, fynetheme.SizeNameSubHeadingText), paletteOf(e).Ink, true)
		e.sentence.Refresh()
	}
	layout := func(s fyne.Size) {
		w := min(width, s.Width)
		e.sentence.Resize(fyne.NewSize(w, 1))
		th, sh := title.MinSize().Height, e.sentence.MinSize().Height
		total := th + tokens.Step + sh
		if e.action != nil {
			total += 2*tokens.Step + tokens.Target
		}
		y := max(0, (s.Height-total)/2)
		centre(title, 0, y, s.Width, th)
		y += th + tokens.Step
		place(e.sentence, (s.Width-w)/2, y, w, sh)
		if e.action != nil {
			centre(e.action, 0, y+sh+2*tokens.Step, s.Width, tokens.Target)
		}
	}
	least := func() fyne.Size {
		w := max(title.MinSize().Width, 280)
		h := title.MinSize().Height + 3*tokens.Step + 2*e.sentence.MinSize().Height
		if e.action != nil {
			h += tokens.Target
		}
		return fyne.NewSize(w, h)
	}
	return newRendered(objs, layout, least, refresh)
}
