package tray

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/screens/rows"
	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
)

// cell shows one shot of the sheet, and another one after scrolling.
type cell struct {
	widget.BaseWidget

	grid       *grid
	shot       shot
	looks      looks
	hovered    bool
	held       held // at the last press of the mouse
	box        *canvas.Rectangle
	img        *canvas.Image
	line, note *canvas.Text
	failed     bool
}

// looks is how a cell stands out.
type looks struct{ chosen, cursor bool }

var (
	_ fyne.Tappable     = (*cell)(nil)
	_ desktop.Mouseable = (*cell)(nil)
	_ desktop.Hoverable = (*cell)(nil)
)

func newCell(g *grid) *cell {
	c := &cell{grid: g, box: canvas.NewRectangle(nil), img: canvas.NewImageFromImage(nil), line: canvas.NewText("", nil), note: canvas.NewText("", nil)}
	c.img.FillMode = canvas.ImageFillCover
	c.img.ScaleMode = canvas.ImageScaleFastest
	c.img.CornerRadius = tokens.Inner
	c.img.Hide()
	c.ExtendBaseWidget(c)
	return c
}

// bind gives the cell to a shot.
func (c *cell) bind(s shot, l looks, img image.Image, failed bool) {
	same := c.shot.key == s.key && c.looks == l && c.failed == failed
	if c.shot.key != s.key {
		c.hovered = false
	}
	c.shot, c.looks, c.failed = s, l, failed
	c.setImage(img)
	if !same {
		c.Refresh()
	}
}

func (c *cell) setImage(img image.Image) {
	if c.img.Image == img {
		return
	}
	c.img.Image = img
	c.img.Hidden = img == nil
	c.img.Refresh()
}

// Tapped implements fyne.Tappable.
func (c *cell) Tapped(*fyne.PointEvent) {
	h := c.held
	c.held = held{}
	c.grid.pressed(c.shot, h)
}

// MouseDown implements desktop.Mouseable: only it tells what keys are held.
func (c *cell) MouseDown(e *desktop.MouseEvent) { c.held = heldIn(e.Modifier) }

// MouseUp implements desktop.Mouseable.
func (c *cell) MouseUp(*desktop.MouseEvent) {}

// MouseIn implements desktop.Hoverable.
func (c *cell) MouseIn(*desktop.MouseEvent) {
	c.hovered = true
	c.grid.hover(c.shot, true)
	c.Refresh()
}

// MouseMoved implements desktop.Hoverable.
func (c *cell) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (c *cell) MouseOut() { c.hovered = false; c.grid.hover(c.shot, false); c.Refresh() }

// Cursor implements desktop.Cursorable.
func (c *cell) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer implements fyne.Widget.
func (c *cell) CreateRenderer() fyne.WidgetRenderer {
	r := &cellRenderer{c}
	r.Refresh()
	return r
}

type cellRenderer struct{ c *cell }

func (r *cellRenderer) Destroy()           {}
func (r *cellRenderer) MinSize() fyne.Size { return fyne.NewSize(112, 104) }
func (r *cellRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.c.box, r.c.img, r.c.line, r.c.note}
}

func (r *cellRenderer) Layout(s fyne.Size) {
	c := r.c
	c.box.Resize(s)
	c.img.Move(fyne.NewPos(tokens.Inner, tokens.Inner))
	c.img.Resize(fyne.NewSize(max(0, s.Width-2*tokens.Inner), max(0, s.Height-textRoom-tokens.Inner)))
	c.line.Move(fyne.NewPos(tokens.Inner+2, s.Height-textRoom+2))
	c.note.Move(fyne.NewPos(tokens.Inner+2, s.Height-textRoom+22))
	r.texts()
}

func (r *cellRenderer) Refresh() {
	c := r.c
	th := c.Theme()
	pal := theme.PaletteOf(th, fyne.CurrentApp().Settings().ThemeVariant())
	c.box.CornerRadius = tokens.Radius
	c.box.FillColor, c.box.StrokeColor, c.box.StrokeWidth = pal.Panel, pal.Line, 1
	if c.hovered {
		ink := pal.Ink
		ink.A = 0x10
		c.box.FillColor = tokens.Over(ink, pal.Panel)
	}
	if c.looks.chosen {
		c.box.FillColor, c.box.StrokeColor, c.box.StrokeWidth = tokens.Over(tokens.Tint(pal.Accent), pal.Panel), pal.Accent, 2
	}
	if c.looks.cursor {
		c.box.StrokeColor, c.box.StrokeWidth = pal.Accent, 3
	}
	small := th.Size(fynetheme.SizeNameCaptionText)
	c.line.TextSize, c.note.TextSize = small, small
	c.line.Color, c.note.Color = pal.Ink, pal.QuietInk
	if _, doubtful := c.shot.note(); doubtful || c.failed {
		c.note.Color = pal.Replace
	}
	r.texts()
	c.box.Refresh()
	c.line.Refresh()
	c.note.Refresh()
}

// texts cuts the lines to the width of the cell.
func (r *cellRenderer) texts() {
	c := r.c
	line := c.shot.line()
	note, _ := c.shot.note()
	if c.failed {
		note = lostWords(c.shot)
	}
	c.line.Text = rows.Shorten(line, c.Size().Width-2*tokens.Step, c.line.TextSize, fyne.TextStyle{})
	c.note.Text = rows.Shorten(note, c.Size().Width-2*tokens.Step, c.note.TextSize, fyne.TextStyle{})
}
