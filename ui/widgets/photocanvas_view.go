package widgets

import (
	"image"
	"image/draw"
	"math"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/ui/marks"
	"forkwear/ui/theme/tokens"
)

// solid brings the pixels into the form that is quick to draw.
func solid(p CanvasPhoto) CanvasPhoto {
	if p.Image == nil {
		return p
	}
	b := p.Image.Bounds()
	if p.Width <= 0 || p.Height <= 0 {
		p.Width, p.Height = b.Dx(), b.Dy()
	}
	if r, ok := p.Image.(*image.RGBA); ok && b.Min == (image.Point{}) {
		p.Image = r
		return p
	}
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(out, out.Rect, p.Image, b.Min, draw.Src)
	p.Image = out
	return p
}

// viewOf is where a photo lies in a room of w x h, in whatever pixels.
func (c *PhotoCanvas) viewOf(p CanvasPhoto, w, h float64) marks.View {
	if p.Width <= 0 || p.Height <= 0 || w <= 0 || h <= 0 {
		return marks.View{}
	}
	k := math.Min(w/float64(p.Width), h/float64(p.Height)) * c.look.Zoom
	return marks.View{Scale: k, X: w/2 - k*float64(p.Width)*c.look.X, Y: h/2 - k*float64(p.Height)*c.look.Y}
}

// view is where the first photo lies, in the units of events.
func (c *PhotoCanvas) view() marks.View {
	s := c.Size()
	return c.viewOf(c.photos[0], float64(s.Width), float64(s.Height))
}

// oneToOne is the zoom at which a photo pixel has the size of one unit.
func (c *PhotoCanvas) oneToOne() float64 {
	p, s := c.photos[0], c.Size()
	if p.Width <= 0 || p.Height <= 0 || s.Width <= 0 || s.Height <= 0 {
		return 1
	}
	return math.Max(1, math.Max(float64(p.Width)/float64(s.Width), float64(p.Height)/float64(s.Height)))
}

func (c *PhotoCanvas) most() float64 { return math.Max(8, 4*c.oneToOne()) }

// keepIn pulls the middle in, so that a photo larger than its room fills it.
func (c *PhotoCanvas) keepIn() {
	s, v, p := c.Size(), c.view(), c.photos[0]
	if v.Scale == 0 {
		return
	}
	c.look.X = pulled(c.look.X, float64(s.Width), v.Scale*float64(p.Width))
	c.look.Y = pulled(c.look.Y, float64(s.Height), v.Scale*float64(p.Height))
}

func (c *PhotoCanvas) turn(l Look) {
	c.SetLook(l)
	if c.OnLook != nil {
		c.OnLook(c.look)
	}
}

// zoomAt zooms so that the place under a point stays under it.
func (c *PhotoCanvas) zoomAt(by float64, at fyne.Position) {
	s, v, p := c.Size(), c.view(), c.photos[0]
	if v.Scale == 0 {
		return
	}
	zoom := math.Max(1, math.Min(c.look.Zoom*by, c.most()))
	k := v.Scale * zoom / c.look.Zoom
	under := v.Spot(float64(at.X), float64(at.Y))
	c.turn(Look{zoom,
		(under.X + (float64(s.Width)/2-float64(at.X))/k) / float64(p.Width),
		(under.Y + (float64(s.Height)/2-float64(at.Y))/k) / float64(p.Height)})
}

func (c *PhotoCanvas) middle() fyne.Position {
	s := c.Size()
	return fyne.NewPos(s.Width/2, s.Height/2)
}

// inside pulls a place into the photo.
func (c *PhotoCanvas) inside(s inspect.Spot) inspect.Spot {
	p := c.photos[0]
	return inspect.Spot{X: math.Max(0, math.Min(s.X, float64(p.Width))), Y: math.Max(0, math.Min(s.Y, float64(p.Height)))}
}

// handleReach is how near a press takes a handle: half of what a finger needs.
const handleReach = tokens.Target / 2
