package visitbar

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Field is an entry that keeps what was typed when Enter is pressed and when it
// is left, so that nothing is lost by walking away.
type Field struct {
	widget.Entry

	// OnKept is called with a text that differs from the last one kept.
	OnKept func(text string)

	kept string
}

// NewField returns a field with what is on record.
func NewField(kept, placeholder string, onKept func(text string)) *Field {
	f := &Field{OnKept: onKept, kept: kept}
	f.ExtendBaseWidget(f)
	f.Text, f.PlaceHolder = kept, placeholder
	f.OnSubmitted = func(string) { f.Keep() }
	return f
}

// Keep hands on what was typed, once.
func (f *Field) Keep() {
	if f.Text == f.kept {
		return
	}
	f.kept = f.Text
	if f.OnKept != nil {
		f.OnKept(f.Text)
	}
}

// Put shows what is on record by now, in place of what stood there.
func (f *Field) Put(kept string) {
	f.kept = kept
	f.SetText(kept)
}

// Typing tells whether something was typed that is not kept yet.
func (f *Field) Typing() bool { return f.Text != f.kept }

// Again lets a text be kept that was refused before.
func (f *Field) Again() { f.kept = "\x00" }

// FocusLost implements fyne.Focusable.
func (f *Field) FocusLost() {
	f.Entry.FocusLost()
	f.Keep()
}

// MinSize implements fyne.CanvasObject: high enough for a glove.
func (f *Field) MinSize() fyne.Size {
	m := f.Entry.MinSize()
	return fyne.NewSize(max(m.Width, 60), max(m.Height, 44))
}
