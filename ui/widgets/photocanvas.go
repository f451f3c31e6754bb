package widgets

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/marks"
)

// PhotoCanvas shows a photo to look at closely and to draw on. Everything on
// it is given in pixels of the upright full-size photo, whatever the size of
// the pixels shown, and is drawn crisp at any zoom.
//
// The wheel and + and - zoom, dragging and the arrows move, a double tap and 0
// go between the whole photo and one photo pixel for one of the screen. With a
// handle chosen the arrows move it by one photo pixel, with Shift by ten, and a
// magnifier shows its place. Dragging with the middle button, or with Space held,
// moves the photo whatever the tool. Space pressed chooses the next handle, Enter puts a point
// at the cross in the middle, Backspace takes one off, Escape lets go.
type PhotoCanvas struct {
	widget.BaseWidget

	// OnLook is called after the user has zoomed or moved.
	OnLook func(Look)
	// OnHandle is called while a handle moves; done when it was let go.
	OnHandle func(i int, at inspect.Spot, done bool)
	// OnPoint is called with a point that was put, with ToolPoint.
	OnPoint func(at inspect.Spot)
	// OnDrawn is called with the two ends of what was drawn, with ToolDraw.
	OnDrawn func(a, b inspect.Spot)
	// OnBrush is called along a stroke, with ToolBrush; done at its end.
	OnBrush func(at inspect.Spot, done bool)
	// OnBack is called when Backspace or Delete is pressed.
	OnBack func()
	// OnSplit is called after the border between two photos has moved.
	OnSplit func(at float64)
	// OnKey and OnRune get the keys that the canvas has no use for.
	OnKey  func(*fyne.KeyEvent)
	OnRune func(rune)

	photos [2]CanvasPhoto
	show   Shown
	split  float64 // border between the two photos, 0 to 1 of the width
	look   Look

	tool     Tool
	shape    inspect.MarkKind
	brush    float64 // radius in photo pixels
	handles  []Handle
	chosen   int // handle, -1 none
	lens     bool
	focused  bool
	shift    bool
	space    bool // Space is held: a drag moves the photo
	spaced   bool // Space was typed while it is held
	panned   bool // and the photo was moved
	keyed    bool // the keys are at work, not the mouse: the cross is shown
	drag     dragging
	draftA   inspect.Spot // of what is being drawn
	draftB   inspect.Spot
	drafting bool
	mouse    fyne.Position
	over     bool
	ras      *canvas.Raster
}

// CanvasPhoto is a photo with all that is drawn over it. Image may be smaller
// than the photo of Width x Height pixels that it shows.
type CanvasPhoto struct {
	Image         image.Image
	Width, Height int
	Layer         marks.Layer
}

// Look is what of a photo is seen: Zoom 1 shows it whole, X and Y are the place
// in the middle, 0 to 1.
type Look struct{ Zoom, X, Y float64 }

// Whole shows all of a photo.
var Whole = Look{Zoom: 1, X: 0.5, Y: 0.5}

// Handle is a point that can be moved.
type Handle struct {
	At    inspect.Spot
	Label string // a short word or number beside it
	Scale bool   // it belongs to what gives the scale
}

// Tool is what a tap or a drag does.
type Tool int

// The tools. Handles can be moved with each but the brush.
const (
	ToolLook  Tool = iota // a drag moves the photo
	ToolPoint             // a tap puts a point, a drag moves the photo
	ToolDraw              // a drag draws from one place to another
	ToolBrush             // a drag paints
)

// ShapeBox is what ToolDraw draws beside the kinds of marks: a box.
const ShapeBox inspect.MarkKind = "box"

// Shown says which of two photos is shown.
type Shown int

// One photo, the other, or both with a border between them.
const (
	ShowFirst Shown = iota
	ShowSecond
	ShowSplit
)

// NewPhotoCanvas returns an empty canvas.
func NewPhotoCanvas() *PhotoCanvas {
	c := &PhotoCanvas{look: Whole, split: 0.5, chosen: -1, brush: 20}
	c.ras = canvas.NewRaster(c.paint)
	c.ExtendBaseWidget(c)
	return c
}

// CreateRenderer implements fyne.Widget.
func (c *PhotoCanvas) CreateRenderer() fyne.WidgetRenderer {
	frame := canvas.NewRectangle(nil)
	refresh := func() {
		pal := paletteOf(c)
		frame.FillColor, frame.StrokeColor, frame.StrokeWidth = alpha(pal.Paper, 0), pal.Line, 1
		if c.focused {
			frame.StrokeColor, frame.StrokeWidth = pal.Accent, 3
		}
		frame.Refresh()
		c.ras.Refresh()
	}
	layout := func(s fyne.Size) {
		place(c.ras, 0, 0, s.Width, s.Height)
		place(frame, 0, 0, s.Width, s.Height)
		c.keepIn()
	}
	least := func() fyne.Size { return fyne.NewSize(200, 160) }
	return newRendered([]fyne.CanvasObject{c.ras, frame}, layout, least, refresh)
}

// SetPhoto shows a photo whole; one without an image shows an empty canvas.
func (c *PhotoCanvas) SetPhoto(p CanvasPhoto) {
	c.photos[0] = solid(p)
	c.look, c.drafting, c.lens = Whole, false, false
	c.Refresh()
}

// SetDetail shows finer pixels of the same photo without moving.
func (c *PhotoCanvas) SetDetail(img image.Image) {
	p := c.photos[0]
	p.Image = img
	c.photos[0] = solid(p)
	c.Refresh()
}

// SetOther gives a second photo for the border and for showing by turns.
func (c *PhotoCanvas) SetOther(p CanvasPhoto) { c.photos[1] = solid(p); c.Refresh() }

// SetLayer changes what is drawn over the photo.
func (c *PhotoCanvas) SetLayer(l marks.Layer) { c.photos[0].Layer = l; c.Refresh() }

// Photo returns what is shown first.
func (c *PhotoCanvas) Photo() CanvasPhoto { return c.photos[0] }

// Other returns the second photo.
func (c *PhotoCanvas) Other() CanvasPhoto { return c.photos[1] }

// SetShown chooses between the two photos.
func (c *PhotoCanvas) SetShown(s Shown) { c.show = s; c.Refresh() }

// Showing tells which photo is shown.
func (c *PhotoCanvas) Showing() Shown { return c.show }

// SetSplit moves the border between the photos; what is no place is pulled in.
func (c *PhotoCanvas) SetSplit(at float64) {
	if math.IsNaN(at) {
		return
	}
	c.split = math.Max(0, math.Min(at, 1))
	c.Refresh()
}

// Split returns the place of the border, 0 to 1.
func (c *PhotoCanvas) Split() float64 { return c.split }

// Look returns what is seen.
func (c *PhotoCanvas) Look() Look { return c.look }

// SetLook zooms and moves without calling OnLook; values out of range are
// pulled in.
func (c *PhotoCanvas) SetLook(l Look) {
	if math.IsNaN(l.Zoom + l.X + l.Y) {
		return
	}
	c.look = Look{math.Max(1, math.Min(l.Zoom, c.most())), l.X, l.Y}
	c.keepIn()
	c.Refresh()
}

// SetTool chooses what taps and drags do; shape is that of ToolDraw.
func (c *PhotoCanvas) SetTool(t Tool, shape inspect.MarkKind) {
	c.tool, c.shape, c.drafting = t, shape, false
	c.Refresh()
}

// Tool returns what taps and drags do.
func (c *PhotoCanvas) Tool() (Tool, inspect.MarkKind) { return c.tool, c.shape }

// SetBrush sets the radius of the brush in photo pixels.
func (c *PhotoCanvas) SetBrush(radius float64) {
	if radius > 0 && !math.IsInf(radius, 0) {
		c.brush = radius
		c.Refresh()
	}
}

// SetHandles shows the points that can be moved. The chosen one stays chosen
// where it still exists.
func (c *PhotoCanvas) SetHandles(hs []Handle) {
	c.handles = append([]Handle(nil), hs...)
	if c.chosen >= len(hs) {
		c.chosen, c.lens = -1, false
	}
	c.Refresh()
}

// Handles returns the points as they lie now.
func (c *PhotoCanvas) Handles() []Handle { return append([]Handle(nil), c.handles...) }

// Choose chooses a handle for the arrow keys; -1 none.
func (c *PhotoCanvas) Choose(i int) {
	if i >= len(c.handles) || i < 0 {
		i = -1
	}
	c.chosen = i
	c.lens = c.lens && i >= 0
	c.Refresh()
}

// Chosen returns the chosen handle, -1 without.
func (c *PhotoCanvas) Chosen() int { return c.chosen }

// Pixel is how many photo pixels one pixel of the picture shown stands for: how
// coarse a place can be marked.
func (c *PhotoCanvas) Pixel() float64 {
	p := c.photos[0]
	if p.Image == nil || p.Image.Bounds().Dx() == 0 {
		return 1
	}
	return math.Max(1, float64(p.Width)/float64(p.Image.Bounds().Dx()))
}
