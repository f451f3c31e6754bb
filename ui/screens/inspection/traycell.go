package inspection

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/widgets"
)

// trayCell is a photo of the tray: a tap attaches it to the check at work, and
// so does dragging it onto the card.
type trayCell struct {
	photo  *widgets.PhotoCell
	object fyne.CanvasObject
}

func newTrayCell(s *Screen) *trayCell {
	c := &trayCell{photo: widgets.NewPhotoCell(func(id string) { s.attach(inspect.ID(id)) })}
	c.object = container.NewStack(c.photo, newGrip(s, c.photo))
	return c
}

// grip lies over a cell and takes the mouse for it: taps and hovering go on to
// the cell, dragging is its own.
type grip struct {
	widget.BaseWidget

	screen *Screen
	cell   *widgets.PhotoCell
	last   fyne.Position
	moving bool
}

var (
	_ fyne.Draggable    = (*grip)(nil)
	_ fyne.Tappable     = (*grip)(nil)
	_ desktop.Hoverable = (*grip)(nil)
)

func newGrip(s *Screen, cell *widgets.PhotoCell) *grip {
	g := &grip{screen: s, cell: cell}
	g.ExtendBaseWidget(g)
	return g
}

// CreateRenderer implements fyne.Widget.
func (g *grip) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(color.Transparent))
}

// Tapped implements fyne.Tappable.
func (g *grip) Tapped(e *fyne.PointEvent) { g.cell.Tapped(e) }

// MouseIn implements desktop.Hoverable.
func (g *grip) MouseIn(e *desktop.MouseEvent) {
	g.cell.MouseIn(e)
	hint := lang.L("Tap, or drag onto the card, to attach this photo to the check")
	if why := g.screen.hintOn(inspect.ID(g.cell.ID())); why != "" {
		hint = why
	}
	g.screen.env.Say.Hint(hint)
}

// MouseMoved implements desktop.Hoverable.
func (g *grip) MouseMoved(e *desktop.MouseEvent) { g.cell.MouseMoved(e) }

// MouseOut implements desktop.Hoverable.
func (g *grip) MouseOut() { g.cell.MouseOut(); g.screen.env.Say.Hint("") }

// Cursor implements desktop.Cursorable.
func (g *grip) Cursor() desktop.Cursor { return desktop.PointerCursor }

// Dragged implements fyne.Draggable.
func (g *grip) Dragged(e *fyne.DragEvent) {
	g.last, g.moving = e.AbsolutePosition, true
	g.cell.SetSelected(true)
	if g.overCard() {
		g.screen.env.Say.Hint(lang.L("Let go to attach the photo to this check"))
	}
}

// DragEnd implements fyne.Draggable.
func (g *grip) DragEnd() {
	g.cell.SetSelected(false)
	if g.moving && g.overCard() {
		g.cell.Tapped(nil)
	}
	g.moving = false
}

func (g *grip) overCard() bool {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(g.screen.middle)
	size := g.screen.middle.Size()
	d := g.last.Subtract(at)
	return d.X >= 0 && d.Y >= 0 && d.X < size.Width && d.Y < size.Height
}

// photoPair shows now large and then smaller below it, where there is one.
type photoPair struct{}

func (photoPair) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(160, 150) }

func (photoPair) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	h := size.Height
	if objs[1].Visible() {
		h = (size.Height - tokens.Step) * 0.55
		objs[1].Move(fyne.NewPos(0, h+tokens.Step))
		objs[1].Resize(fyne.NewSize(size.Width, size.Height-h-tokens.Step))
	}
	objs[0].Move(fyne.NewPos(0, 0))
	objs[0].Resize(fyne.NewSize(size.Width, h))
}
