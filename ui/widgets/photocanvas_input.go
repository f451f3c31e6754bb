package widgets

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"forkwear/inspect"
	"forkwear/ui/marks"
)

var (
	_ fyne.Draggable         = (*PhotoCanvas)(nil)
	_ fyne.Scrollable        = (*PhotoCanvas)(nil)
	_ fyne.DoubleTappable    = (*PhotoCanvas)(nil)
	_ fyne.Focusable         = (*PhotoCanvas)(nil)
	_ desktop.Keyable        = (*PhotoCanvas)(nil)
	_ desktop.Mouseable      = (*PhotoCanvas)(nil)
	_ desktop.Hoverable      = (*PhotoCanvas)(nil)
	_ desktop.Cursorable     = (*PhotoCanvas)(nil)
	_ fyne.Tappable          = (*PhotoCanvas)(nil)
	_ fyne.SecondaryTappable = (*PhotoCanvas)(nil)
)

// what a drag moves.
type grip int

const (
	gripNone grip = iota
	gripPhoto
	gripHandle
	gripBorder
	gripDraw
	gripBrush
)

type dragging struct {
	grip   grip
	dx, dy float64 // from the pointer to the handle, in photo pixels
	moved  bool
}

// Tapped implements fyne.Tappable; what a press does is done by MouseUp, which
// does not wait for a second tap.
func (c *PhotoCanvas) Tapped(*fyne.PointEvent) {}

// TappedSecondary implements fyne.SecondaryTappable: it takes the last point
// off.
func (c *PhotoCanvas) TappedSecondary(*fyne.PointEvent) {
	if c.OnBack != nil && c.tool == ToolPoint {
		c.OnBack()
	}
}

// DoubleTapped implements fyne.DoubleTappable.
func (c *PhotoCanvas) DoubleTapped(e *fyne.PointEvent) {
	if c.tool == ToolLook {
		c.flip(e.Position)
	}
}

// flip goes between the whole photo and one to one.
func (c *PhotoCanvas) flip(at fyne.Position) {
	if c.look.Zoom > 1 {
		c.turn(Whole)
		return
	}
	c.zoomAt(math.Max(c.oneToOne(), 2), at)
}

// MouseDown implements desktop.Mouseable.
func (c *PhotoCanvas) MouseDown(e *desktop.MouseEvent) {
	c.drag, c.keyed = dragging{}, false
	if e.Button == desktop.MouseButtonSecondary {
		return
	}
	if c.tool != ToolLook || len(c.handles) > 0 {
		c.takeFocus()
	}
	if i := c.handleAt(e.Position); i >= 0 && c.tool != ToolBrush {
		c.chosen, c.lens = i, true
		c.Refresh()
	}
}

// MouseUp implements desktop.Mouseable.
func (c *PhotoCanvas) MouseUp(e *desktop.MouseEvent) {
	if e.Button == desktop.MouseButtonSecondary || c.drag.moved {
		return
	}
	if i := c.handleAt(e.Position); i >= 0 && c.tool != ToolBrush {
		return // it was chosen
	}
	at, ok := c.spotAt(e.Position)
	switch {
	case !ok:
	case c.tool == ToolPoint:
		c.put(at)
	case c.tool == ToolDraw && c.shape == inspect.MarkText:
		c.drawn(at, at)
	case c.tool == ToolBrush:
		c.stroke(at, false)
		c.stroke(at, true)
	case c.tool == ToolLook && c.chosen >= 0:
		c.Choose(-1)
	}
}

// Dragged implements fyne.Draggable.
func (c *PhotoCanvas) Dragged(e *fyne.DragEvent) {
	if c.drag.grip == gripNone {
		c.begin(e.Position.Subtract(e.Dragged))
	}
	c.drag.moved = true
	v, s := c.view(), c.Size()
	if v.Scale == 0 {
		return
	}
	at := v.Spot(float64(e.Position.X), float64(e.Position.Y))
	switch c.drag.grip {
	case gripPhoto:
		p := c.photos[0]
		c.turn(Look{c.look.Zoom, c.look.X - float64(e.Dragged.DX)/v.Scale/float64(p.Width), c.look.Y - float64(e.Dragged.DY)/v.Scale/float64(p.Height)})
	case gripHandle:
		c.moveHandle(c.chosen, inspect.Spot{X: at.X + c.drag.dx, Y: at.Y + c.drag.dy}, false)
	case gripBorder:
		c.SetSplit(float64(e.Position.X / max(s.Width, 1)))
		if c.OnSplit != nil {
			c.OnSplit(c.split)
		}
	case gripDraw:
		c.draftB = c.inside(at)
		c.Refresh()
	case gripBrush:
		c.mouse = e.Position
		c.stroke(c.inside(at), false)
	}
}

// begin decides what a drag that starts at a place moves.
func (c *PhotoCanvas) begin(from fyne.Position) {
	at, ok := c.spotAt(from)
	i := c.handleAt(from)
	switch {
	case c.tool == ToolBrush && ok:
		c.drag.grip = gripBrush
		c.stroke(at, false)
	case i >= 0 && c.tool != ToolBrush:
		c.chosen, c.lens, c.drag.grip = i, true, gripHandle
		under := c.view().Spot(float64(from.X), float64(from.Y))
		c.drag.dx, c.drag.dy = c.handles[i].At.X-under.X, c.handles[i].At.Y-under.Y
	case c.onBorder(from):
		c.drag.grip = gripBorder
	case c.tool == ToolDraw && ok && c.shape != inspect.MarkText:
		c.drag.grip, c.drafting, c.draftA, c.draftB = gripDraw, true, at, at
	default:
		c.drag.grip = gripPhoto
	}
}

// DragEnd implements fyne.Draggable.
func (c *PhotoCanvas) DragEnd() {
	g := c.drag.grip
	c.drag.grip = gripNone
	switch g {
	case gripHandle:
		if c.chosen >= 0 {
			c.lens = false
			c.moveHandle(c.chosen, c.handles[c.chosen].At, true)
		}
	case gripDraw:
		c.drafting = false
		if k := c.view().Scale; math.Hypot(c.draftA.X-c.draftB.X, c.draftA.Y-c.draftB.Y)*k > 6 {
			c.drawn(c.draftA, c.draftB)
		}
		c.Refresh()
	case gripBrush:
		at, _ := c.spotAt(c.mouse)
		c.stroke(at, true)
	}
}

// Scrolled implements fyne.Scrollable: it zooms round the mouse.
func (c *PhotoCanvas) Scrolled(e *fyne.ScrollEvent) {
	c.zoomAt(math.Pow(1.0035, float64(e.Scrolled.DY)), e.Position)
}

// MouseIn implements desktop.Hoverable.
func (c *PhotoCanvas) MouseIn(e *desktop.MouseEvent) { c.over = true; c.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable.
func (c *PhotoCanvas) MouseMoved(e *desktop.MouseEvent) {
	c.mouse = e.Position
	if c.tool == ToolBrush {
		c.Refresh()
	}
}

// MouseOut implements desktop.Hoverable.
func (c *PhotoCanvas) MouseOut() { c.over = false; c.Refresh() }

// Cursor implements desktop.Cursorable.
func (c *PhotoCanvas) Cursor() desktop.Cursor {
	switch {
	case c.onBorder(c.mouse):
		return desktop.HResizeCursor
	case c.handleAt(c.mouse) >= 0:
		return desktop.PointerCursor
	case c.tool == ToolLook:
		return desktop.DefaultCursor
	}
	return desktop.CrosshairCursor
}

// FocusGained implements fyne.Focusable.
func (c *PhotoCanvas) FocusGained() { c.focused = true; c.Refresh() }

// FocusLost implements fyne.Focusable.
func (c *PhotoCanvas) FocusLost() { c.focused, c.shift, c.lens = false, false, false; c.Refresh() }

// KeyDown implements desktop.Keyable.
func (c *PhotoCanvas) KeyDown(e *fyne.KeyEvent) { c.shifted(e, true) }

// KeyUp implements desktop.Keyable.
func (c *PhotoCanvas) KeyUp(e *fyne.KeyEvent) { c.shifted(e, false) }

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

func (c *PhotoCanvas) put(at inspect.Spot) {
	if c.OnPoint != nil {
		c.OnPoint(at)
	}
}

func (c *PhotoCanvas) drawn(a, b inspect.Spot) {
	if c.OnDrawn != nil {
		c.OnDrawn(a, b)
	}
}

func (c *PhotoCanvas) stroke(at inspect.Spot, done bool) {
	if c.OnBrush != nil {
		c.OnBrush(at, done)
	}
}

func (c *PhotoCanvas) moveHandle(i int, at inspect.Spot, done bool) {
	at = c.inside(at)
	c.handles[i].At = at
	c.Refresh()
	if c.OnHandle != nil {
		c.OnHandle(i, at, done)
	}
}

// spotAt is the place in the photo under a point; false outside of it.
func (c *PhotoCanvas) spotAt(q fyne.Position) (inspect.Spot, bool) {
	v, p := c.view(), c.photos[0]
	if v == (marks.View{}) || p.Image == nil {
		return inspect.Spot{}, false
	}
	s := v.Spot(float64(q.X), float64(q.Y))
	return s, s.X >= 0 && s.Y >= 0 && s.X <= float64(p.Width) && s.Y <= float64(p.Height)
}

// handleAt is the handle nearest to a point within reach, -1 without; the
// chosen one is preferred where two are as near.
func (c *PhotoCanvas) handleAt(q fyne.Position) int {
	v, best, at := c.view(), float64(handleReach), -1
	for i, h := range c.handles {
		p := v.At(h.At)
		d := math.Hypot(p.X-float64(q.X), p.Y-float64(q.Y))
		if i == c.chosen {
			d -= 2
		}
		if d < best {
			best, at = d, i
		}
	}
	return at
}

// onBorder tells whether a point takes the border between two photos.
func (c *PhotoCanvas) onBorder(q fyne.Position) bool {
	return c.show == ShowSplit && math.Abs(float64(q.X)-c.split*float64(c.Size().Width)) < handleReach
}

func (c *PhotoCanvas) takeFocus() {
	if w := fyne.CurrentApp().Driver().CanvasForObject(c); w != nil {
		w.Focus(c)
	}
}
