package widgets

import (
	"image"
	"image/draw"
	"math"

	xdraw "golang.org/x/image/draw"

	"forkwear/inspect"
	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/marks"
)

const (
	lensRadius = 64.0 // units
	lensZoom   = 4.0  // over what is seen, at least
)

// paint makes the picture of w x h device pixels.
func (c *PhotoCanvas) paint(w, h int) image.Image {
	p := pen.New(w, h)
	pal := paletteOf(c)
	p.Clear(pal.Line)
	if c.Size().Width <= 0 {
		return p.Image()
	}
	unit := float64(w) / float64(c.Size().Width)
	border := int(math.Round(c.split * float64(w)))
	switch c.show {
	case ShowFirst:
		c.paintPhoto(p, c.photos[0], p.Image().Rect, unit)
	case ShowSecond:
		c.paintPhoto(p, c.photos[1], p.Image().Rect, unit)
	case ShowSplit:
		c.paintPhoto(p, c.photos[0], image.Rect(0, 0, border, h), unit)
		c.paintPhoto(p, c.photos[1], image.Rect(border, 0, w, h), unit)
		paintBorder(p, float64(border), unit)
	}
	v := c.viewOf(c.photos[0], float64(w), float64(h))
	if c.drafting {
		c.paintDraft(p, v, unit)
	}
	for i, hd := range c.handles {
		paintHandle(p, hd, v.At(hd.At), i == c.chosen, unit)
	}
	if c.tool == ToolBrush && c.over {
		marks.Lines(p, circle(float64(c.mouse.X)*unit, float64(c.mouse.Y)*unit, c.brush*v.Scale), true, 1.5*unit, unit, marks.Ink)
	}
	if c.focused && c.keyed && c.tool != ToolLook && c.chosen < 0 {
		paintCross(p, float64(w)/2, float64(h)/2, unit)
	}
	if c.lens && c.chosen >= 0 {
		c.paintLens(p, v, unit)
	}
	return p.Image()
}

// paintPhoto draws a photo and its layer into a part of the surface.
func (c *PhotoCanvas) paintPhoto(p *pen.Pen, ph CanvasPhoto, part image.Rectangle, unit float64) {
	src, ok := ph.Image.(*image.RGBA)
	if !ok || part.Empty() {
		return
	}
	b := p.Image().Bounds()
	v := c.viewOf(ph, float64(b.Dx()), float64(b.Dy()))
	if part == b {
		drawPixels(p.Image(), src, ph, v)
		marks.Paint(p, ph.Layer, v, unit)
		return
	}
	whole := pen.New(b.Dx(), b.Dy())
	whole.Clear(paletteOf(c).Line)
	drawPixels(whole.Image(), src, ph, v)
	marks.Paint(whole, ph.Layer, v, unit)
	draw.Draw(p.Image(), part, whole.Image(), part.Min, draw.Src)
}

func drawPixels(dst *image.RGBA, src *image.RGBA, ph CanvasPhoto, v marks.View) {
	r := image.Rect(int(math.Round(v.X)), int(math.Round(v.Y)),
		int(math.Round(v.X+v.Scale*float64(ph.Width))), int(math.Round(v.Y+v.Scale*float64(ph.Height))))
	if r.Empty() {
		return
	}
	xdraw.ApproxBiLinear.Scale(dst, r, src, src.Rect, xdraw.Src, nil)
}

func circle(x, y, r float64) []pen.Pt {
	out := make([]pen.Pt, 72)
	for i := range out {
		s, k := math.Sincos(2 * math.Pi * float64(i) / 72)
		out[i] = pen.Pt{X: x + r*k, Y: y + r*s}
	}
	return out
}

func paintBorder(p *pen.Pen, x, unit float64) {
	h := float64(p.Image().Rect.Dy())
	marks.Lines(p, []pen.Pt{{X: x, Y: -9}, {X: x, Y: h + 9}}, false, 2*unit, unit, marks.Ink)
	y := math.Max(h/2, h-40*unit) // low, so that it does not hide what is looked at
	p.Fill(pen.Circle(x, y, 22*unit), marks.Casing)
	p.Fill(pen.Circle(x, y, 20*unit), marks.Ink)
	for _, d := range []float64{-1, 1} { // two arrow heads: it goes both ways
		p.Fill(new(pen.Path).M(x+d*14*unit, y).L(x+d*5*unit, y-7*unit).L(x+d*5*unit, y+7*unit).Z(), marks.Casing)
	}
}

// paintDraft draws what is being drawn.
func (c *PhotoCanvas) paintDraft(p *pen.Pen, v marks.View, unit float64) {
	a, b := c.draftA, c.draftB
	if c.shape == ShapeBox {
		pts := []pen.Pt{v.At(a), v.At(inspect.Spot{X: b.X, Y: a.Y}), v.At(b), v.At(inspect.Spot{X: a.X, Y: b.Y})}
		marks.Lines(p, pts, true, 2*unit, unit, marks.Measured)
		return
	}
	marks.PaintMark(p, inspect.Mark{Kind: c.shape, Points: []inspect.Spot{a, b}}, v, unit)
}

// paintHandle draws a ring that leaves the place itself open.
func paintHandle(p *pen.Pen, h Handle, at pen.Pt, chosen bool, unit float64) {
	b := p.Image().Rect
	if at.X < -40*unit || at.Y < -40*unit || at.X > float64(b.Dx())+40*unit || at.Y > float64(b.Dy())+40*unit {
		return
	}
	ink, r, w := marks.Measured, 9*unit, 2.5*unit
	if h.Scale {
		ink = marks.Scale
	}
	if chosen {
		r, w = 13*unit, 4*unit
	}
	marks.Lines(p, circle(at.X, at.Y, r), true, w, unit, ink)
	p.Fill(pen.Circle(at.X, at.Y, 1.8*unit), marks.Casing)
	p.Fill(pen.Circle(at.X, at.Y, 1.1*unit), marks.Ink)
	if h.Label != "" {
		marks.Words(p, h.Label, pen.Pt{X: at.X + r + 4*unit, Y: at.Y}, unit*0.875, ink)
	}
}

func paintCross(p *pen.Pen, x, y, unit float64) {
	for _, d := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		marks.Lines(p, []pen.Pt{{X: x + d[0]*5*unit, Y: y + d[1]*5*unit}, {X: x + d[0]*18*unit, Y: y + d[1]*18*unit}}, false, 2*unit, unit, marks.Ink)
	}
}

// paintLens shows the place of the chosen handle larger, beside it so that the
// finger does not hide it.
func (c *PhotoCanvas) paintLens(p *pen.Pen, v marks.View, unit float64) {
	ph := c.photos[0]
	src, ok := ph.Image.(*image.RGBA)
	if !ok {
		return
	}
	at, r := v.At(c.handles[c.chosen].At), lensRadius*unit
	b := p.Image().Rect
	x, y := at.X+r*1.4, at.Y-r*1.4
	if x+r > float64(b.Dx()) {
		x = at.X - r*1.4
	}
	if y-r < 0 {
		y = at.Y + r*1.4
	}
	d := int(2 * r)
	in := pen.New(d, d)
	in.Clear(paletteOf(c).Line)
	k := math.Max(v.Scale*lensZoom, 2*unit)
	spot := c.handles[c.chosen].At
	lv := marks.View{Scale: k, X: r - spot.X*k, Y: r - spot.Y*k}
	drawPixels(in.Image(), src, ph, lv)
	paintCross(in, r, r, unit)
	mask := pen.New(d, d)
	mask.Fill(pen.Circle(r, r, r-unit), marks.Ink)
	o := image.Pt(int(x-r), int(y-r))
	draw.DrawMask(p.Image(), image.Rect(o.X, o.Y, o.X+d, o.Y+d), in.Image(), image.Point{}, mask.Image(), image.Point{}, draw.Over)
	marks.Lines(p, circle(float64(o.X)+r, float64(o.Y)+r, r), true, 2.5*unit, unit, marks.Ink)
}
