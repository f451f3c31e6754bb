package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Note is an entry of several lines that the Tab key leaves: who works with
// keys alone must not be held in it.
type Note struct {
	widget.Entry

	caption string
}

// NewNote returns an empty note.
func NewNote() *Note {
	n := &Note{}
	n.MultiLine, n.Wrapping = true, fyne.TextWrapWord
	n.ExtendBaseWidget(n)
	return n
}

// AcceptsTab implements fyne.Tabbable.
func (n *Note) AcceptsTab() bool { return false }

// SetCaption gives the note the word it is asked by.
func (n *Note) SetCaption(caption string) { n.caption = caption }

// Says implements Saying.
func (n *Note) Says() string {
	if n.caption == "" {
		return n.PlaceHolder
	}
	return n.caption
}

// FocusGained implements fyne.Focusable.
func (n *Note) FocusGained() {
	n.Entry.FocusGained()
	revealFocused()
}
