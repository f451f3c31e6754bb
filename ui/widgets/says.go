package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Saying is anything on screen that has a word a person knows it by: what a
// screen reader would speak, and what a rehearsal of the window looks for.
type Saying interface{ Says() string }

// WordOf is the word a person knows a focusable thing by: its own, an entry's
// hint, a tick's text; "" where it has none.
func WordOf(o fyne.CanvasObject) string {
	switch w := o.(type) {
	case Saying:
		return w.Says()
	case *widget.Entry:
		return w.PlaceHolder
	case *widget.Check:
		return w.Text
	case *widget.Button:
		return w.Text
	case *widget.Select:
		return w.PlaceHolder
	}
	return ""
}

// Says implements Saying.
func (b *TextButton) Says() string { return b.word }

// Says implements Saying.
func (c *Chip) Says() string { return c.text }

// Says implements Saying.
func (b *RailButton) Says() string { return b.word }

// Says implements Saying.
func (k *stepKey) Says() string { return k.word }

// Says implements Saying.
func (k *padKey) Says() string { return k.top }

// Says implements Saying.
func (d *digits) Says() string { return "value" }
