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
	pan    bool // by the middle button, or with Space held: it moves the photo whatever the tool
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
	c.drag, c.keyed = dragging{pan: c.space || e.Button == desktop.MouseButtonTertiary}, false
	if e.Button == desktop.MouseButtonSecondary || c.drag.pan {
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
	if e.Button == desktop.MouseButtonSecondary || c.drag.moved || c.drag.pan {
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
	c.drag.moved, c.panned = true, c.panned || c.drag.pan
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
	case c.drag.pan:
		c.drag.grip = gripPhoto
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
	case c.space:
		return desktop.PointerCursor
	case c.onBorder(c.mouse):
		return desktop.HResizeCursor
	case c.handleAt(c.mouse) >= 0:
		return desktop.PointerCursor
	case c.tool == ToolLook:
		return desktop.DefaultCursor
	}
	return desktop.CrosshairCursor
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
