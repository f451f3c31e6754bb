package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Note is an entry of several lines that the Tab key leaves: who works with
// keys alone must not be held in it.
type Note struct{ widget.Entry }

// NewNote returns an empty note.
func NewNote() *Note {
	n := &Note{}
	n.MultiLine, n.Wrapping = true, fyne.TextWrapWord
	n.ExtendBaseWidget(n)
	return n
}

// AcceptsTab implements fyne.Tabbable.
func (n *Note) AcceptsTab() bool { return false }

// Says implements Saying.
func (n *Note) Says() string { return n.PlaceHolder }
