package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme/tokens"
)

// StatusLine stands in for message boxes: at the left what was done, with
// one action such as undo; while the mouse is over something its hint; at
// the right what runs in the background, with cancel.
type StatusLine struct {
	widget.BaseWidget

	text, hint, work   string
	action, cancel     *TextButton
	onAction, onCancel func()
}

// NewStatusLine returns an empty line.
func NewStatusLine() *StatusLine {
	s := &StatusLine{}
	s.action = NewTextButton("", false, func() { call(s.onAction) })
	s.cancel = NewTextButton("", false, func() { call(s.onCancel) })
	s.ExtendBaseWidget(s)
	return s
}

// CreateRenderer implements fyne.Widget.
func (s *StatusLine) CreateRenderer() fyne.WidgetRenderer {
	line, text, work := canvas.NewRectangle(nil), canvas.NewText("", nil), canvas.NewText("", nil)
	var layout func(fyne.Size)
	refresh := func() {
		pal := paletteOf(s)
		line.FillColor = pal.Line
		setText(work, s.work, captionSize(s), pal.QuietInk, false)
		s.action.Hidden = s.onAction == nil || s.hint != ""
		s.cancel.Hidden = s.onCancel == nil
		line.Refresh()
		layout(s.Size())
	}
	layout = func(z fyne.Size) {
		pal := paletteOf(s)
		place(line, 0, 0, z.Width, 1)
		right := z.Width - tokens.Step
		if !s.cancel.Hidden {
			w := s.cancel.MinSize().Width
			right -= w
			place(s.cancel, right, 2, w, tokens.Target)
			right -= tokens.Step
		}
		m := work.MinSize()
		right -= m.Width
		place(work, right, (z.Height-m.Height)/2, m.Width, m.Height)
		room := right - 4*tokens.Step
		actionW := float32(0)
		if !s.action.Hidden {
			actionW = s.action.MinSize().Width + tokens.Step
		}
		shown, ink := s.text, pal.Ink
		if s.hint != "" {
			shown, ink = s.hint, pal.QuietInk
		}
		setText(text, shorten(shown, max(room-actionW, 0), captionSize(s), fyne.TextStyle{}), captionSize(s), ink, false)
		m = text.MinSize()
		place(text, 2*tokens.Step, (z.Height-m.Height)/2, m.Width, m.Height)
		place(s.action, 2*tokens.Step+m.Width+tokens.Step, 2, max(actionW-tokens.Step, 0), tokens.Target)
	}
	least := func() fyne.Size { return fyne.NewSize(320, tokens.Target+4) }
	return newRendered([]fyne.CanvasObject{line, text, s.action, work, s.cancel}, layout, least, refresh)
}

// SetText says what was done; it stays until the next one.
func (s *StatusLine) SetText(text string) { s.text = text; s.Refresh() }

// Text returns what was said last.
func (s *StatusLine) Text() string { return s.text }

// SetHint says what the mouse is over; "" takes it away.
func (s *StatusLine) SetHint(hint string) { s.hint = hint; s.Refresh() }

// SetAction offers one action beside the text; a nil do takes it away.
func (s *StatusLine) SetAction(word string, do func()) {
	s.onAction = do
	s.action.SetWord(word)
	s.Refresh()
}

// SetWork says what runs in the background, with the word of its cancel
// button; a nil cancel shows no button.
func (s *StatusLine) SetWork(text, cancelWord string, cancel func()) {
	s.work, s.onCancel = text, cancel
	s.cancel.SetWord(cancelWord)
	s.Refresh()
}

func call(do func()) {
	if do != nil {
		do()
	}
}
