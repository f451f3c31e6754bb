package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"forkwear/inspect"
)

// FocusGained implements fyne.Focusable.
func (c *PhotoCanvas) FocusGained() { c.focused = true; c.Refresh() }

// FocusLost implements fyne.Focusable.
func (c *PhotoCanvas) FocusLost() {
	c.focused, c.shift, c.lens, c.space, c.spaced = false, false, false, false, false
	c.Refresh()
}

// KeyDown implements desktop.Keyable.
func (c *PhotoCanvas) KeyDown(e *fyne.KeyEvent) {
	c.shifted(e, true)
	if e.Name == fyne.KeySpace && !c.space {
		c.space, c.panned, c.spaced = true, false, false
	}
}

// KeyUp implements desktop.Keyable. A Space that moved nothing was pressed, not
// held: what it does is done now.
func (c *PhotoCanvas) KeyUp(e *fyne.KeyEvent) {
	c.shifted(e, false)
	if e.Name != fyne.KeySpace || !c.space {
		return
	}
	c.space = false
	if c.spaced && !c.panned {
		c.spaced = false
		c.TypedKey(e)
	}
}

func (c *PhotoCanvas) shifted(e *fyne.KeyEvent, on bool) {
	if e.Name == desktop.KeyShiftLeft || e.Name == desktop.KeyShiftRight {
		c.shift = on
	}
}

// TypedRune implements fyne.Focusable.
func (c *PhotoCanvas) TypedRune(r rune) {
	switch {
	case r == '+' || r == '=':
		c.zoomAt(1.4, c.focus())
	case r == '-':
		c.zoomAt(1/1.4, c.focus())
	case r == '0':
		c.flip(c.focus())
	case r == ' ' && len(c.handles) > 0: // TypedKey has it
	case c.OnRune != nil:
		c.OnRune(r)
	}
}

// focus is round what a key zooms: the chosen handle, else the middle.
func (c *PhotoCanvas) focus() fyne.Position {
	if c.chosen >= 0 {
		q := c.view().At(c.handles[c.chosen].At)
		if q.X >= 0 && q.Y >= 0 && float32(q.X) <= c.Size().Width && float32(q.Y) <= c.Size().Height {
			return fyne.NewPos(float32(q.X), float32(q.Y))
		}
	}
	return c.middle()
}

// TypedKey implements fyne.Focusable.
func (c *PhotoCanvas) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeySpace && c.space { // held: KeyUp tells what it was for
		c.spaced = true
		return
	}
	dx, dy := 0.0, 0.0
	c.keyed = true
	switch e.Name {
	case fyne.KeyLeft:
		dx = -1
	case fyne.KeyRight:
		dx = 1
	case fyne.KeyUp:
		dy = -1
	case fyne.KeyDown:
		dy = 1
	case fyne.KeySpace:
		if len(c.handles) > 0 {
			c.next()
			return
		}
	case fyne.KeyReturn, fyne.KeyEnter:
		if c.tool != ToolLook {
			c.atCross()
			return
		}
	case fyne.KeyBackspace, fyne.KeyDelete:
		if c.OnBack != nil {
			c.OnBack()
			return
		}
	case fyne.KeyEscape:
		if c.chosen >= 0 || c.drafting {
			c.chosen, c.lens, c.drafting = -1, false, false
			c.Refresh()
			return
		}
	}
	switch {
	case dx == 0 && dy == 0:
		if c.OnKey != nil {
			c.OnKey(e)
		}
	case c.chosen >= 0:
		c.nudge(dx, dy)
	default:
		step := 0.08 / c.look.Zoom
		if c.shift {
			step /= 8
		}
		c.turn(Look{c.look.Zoom, c.look.X + dx*step, c.look.Y + dy*step})
		if c.drafting {
			c.draftB = c.crossSpot()
			c.Refresh()
		}
	}
}

// nudge moves the chosen handle by one photo pixel, with Shift by ten.
func (c *PhotoCanvas) nudge(dx, dy float64) {
	k := 1.0
	if c.shift {
		k = 10
	}
	at := c.handles[c.chosen].At
	c.lens = true
	c.moveHandle(c.chosen, inspect.Spot{X: at.X + dx*k, Y: at.Y + dy*k}, true)
}

// next chooses the handle after the chosen one and brings it into sight.
func (c *PhotoCanvas) next() {
	c.chosen, c.lens = (c.chosen+1)%len(c.handles), true
	q, s, p := c.view().At(c.handles[c.chosen].At), c.Size(), c.photos[0]
	if q.X < 0 || q.Y < 0 || q.X > float64(s.Width) || q.Y > float64(s.Height) {
		at := c.handles[c.chosen].At
		c.turn(Look{c.look.Zoom, at.X / float64(p.Width), at.Y / float64(p.Height)})
	}
	c.Refresh()
}

// atCross does at the cross in the middle what a press does at the mouse.
func (c *PhotoCanvas) atCross() {
	at := c.crossSpot()
	switch {
	case c.tool == ToolPoint:
		c.put(at)
	case c.tool == ToolDraw && c.shape == inspect.MarkText:
		c.drawn(at, at)
	case c.tool == ToolDraw && !c.drafting:
		c.drafting, c.draftA, c.draftB = true, at, at
		c.Refresh()
	case c.tool == ToolDraw:
		c.drafting = false
		c.drawn(c.draftA, at)
		c.Refresh()
	case c.tool == ToolBrush:
		c.stroke(at, false)
		c.stroke(at, true)
	}
}

func (c *PhotoCanvas) crossSpot() inspect.Spot {
	m := c.middle()
	return c.inside(c.view().Spot(float64(m.X), float64(m.Y)))
}
