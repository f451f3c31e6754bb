package widgets

import "fyne.io/fyne/v2/widget"

// Field is an entry of one line that knows the word it is asked by, and comes
// into sight with the focus.
type Field struct {
	widget.Entry

	caption string
}

// NewField returns an empty field; the caption is the word that stands by it.
func NewField(caption, hint string) *Field {
	f := &Field{caption: caption}
	f.PlaceHolder = hint
	f.ExtendBaseWidget(f)
	return f
}

// SetCaption changes the word.
func (f *Field) SetCaption(caption string) { f.caption = caption }

// Says implements Saying.
func (f *Field) Says() string {
	if f.caption == "" {
		return f.PlaceHolder
	}
	return f.caption
}

// FocusGained implements fyne.Focusable.
func (f *Field) FocusGained() {
	f.Entry.FocusGained()
	revealFocused()
}

// Choice is a list to choose one of, which knows the word it is asked by and
// comes into sight with the focus.
type Choice struct {
	widget.Select

	caption string
}

// NewChoice returns a choice of words; the hint stands until one is chosen.
func NewChoice(caption, hint string, options []string) *Choice {
	c := &Choice{caption: caption}
	c.PlaceHolder, c.Options = hint, options
	c.ExtendBaseWidget(c)
	return c
}

// Says implements Saying.
func (c *Choice) Says() string { return c.caption }

// FocusGained implements fyne.Focusable.
func (c *Choice) FocusGained() {
	c.Select.FocusGained()
	revealFocused()
}
