package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// pointing is the part of a plot that points at one of its marks: by the mouse
// while it is over the plot, by the arrow keys while the plot has the focus. A
// press or Enter opens the mark.
type pointing struct {
	at      int // -1 for none
	focused bool

	near    func(fyne.Position) int // the mark within reach, -1 for none
	walk    func(fyne.KeyName) int  // the mark that an arrow goes to
	changed func(i int)             // -1 for none
	open    func(i int)             // a mark that is pointed at
	redraw  func()
}

// Tapped implements fyne.Tappable.
func (p *pointing) Tapped(e *fyne.PointEvent) {
	if i := p.near(e.Position); i >= 0 {
		p.point(i)
		p.open(i)
	}
}

// FocusGained implements fyne.Focusable.
func (p *pointing) FocusGained() { p.focused = true; p.redraw() }

// FocusLost implements fyne.Focusable.
func (p *pointing) FocusLost() { p.focused = false; p.point(-1); p.redraw() }

// TypedRune implements fyne.Focusable.
func (p *pointing) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (p *pointing) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyRight, fyne.KeyLeft, fyne.KeyUp, fyne.KeyDown:
		p.point(p.walk(e.Name))
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		if p.at >= 0 {
			p.open(p.at)
		}
	}
}

// MouseIn implements desktop.Hoverable.
func (p *pointing) MouseIn(e *desktop.MouseEvent) { p.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable.
func (p *pointing) MouseMoved(e *desktop.MouseEvent) { p.point(p.near(e.Position)) }

// MouseOut implements desktop.Hoverable.
func (p *pointing) MouseOut() { p.point(-1) }

func (p *pointing) point(i int) {
	if i == p.at {
		return
	}
	p.at = i
	p.redraw()
	p.changed(i)
}
