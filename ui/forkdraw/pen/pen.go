package pen

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/vector"
)

// maxPixels bounds one side of a drawing; larger wishes are cut.
const maxPixels = 8192

// Pen paints into its own image. Widths and dashes are in pixels, paths in
// units: pixel = unit * scale + shift.
type Pen struct {
	img          *image.RGBA
	scale, dx, y float64
	ras          vector.Rasterizer
	mask         image.Alpha
}

// New returns a pen on a transparent image of w x h pixels (at least 1 x 1).
func New(w, h int) *Pen {
	w, h = min(max(w, 1), maxPixels), min(max(h, 1), maxPixels)
	return &Pen{img: image.NewRGBA(image.Rect(0, 0, w, h)), scale: 1}
}

// Image returns what has been painted.
func (p *Pen) Image() *image.RGBA { return p.img }

// Scale returns pixels per unit.
func (p *Pen) Scale() float64 { return p.scale }

// SetView sets pixels per unit and the pixel at which unit 0, 0 lies.
func (p *Pen) SetView(scale, dx, dy float64) { p.scale, p.dx, p.y = scale, dx, dy }

// Clear paints the whole image with one colour.
func (p *Pen) Clear(c color.Color) {
	draw.Draw(p.img, p.img.Bounds(), image.NewUniform(c), image.Point{}, draw.Src)
}

// Fill paints the area of a path (non-zero rule for lines of one turn).
func (p *Pen) Fill(path *Path, c color.Color) {
	polys := make([][]Pt, 0, len(path.subs))
	for _, s := range path.subs {
		polys = append(polys, p.toPixels(s.pts))
	}
	p.paint(polys, c)
}

// Stroke paints the lines of a path, width in pixels.
func (p *Pen) Stroke(path *Path, width float64, c color.Color) {
	for _, s := range path.subs {
		p.paint(outline(sub{p.toPixels(s.pts), s.closed}, width/2), c)
	}
}

// Dash paints the lines of a path broken into dashes, all in pixels.
func (p *Pen) Dash(path *Path, width, on, off float64, c color.Color) {
	if !(on > 0) || !(off > 0) {
		p.Stroke(path, width, c)
		return
	}
	for _, s := range path.subs {
		for _, d := range dashes(sub{p.toPixels(s.pts), s.closed}, on, off) {
			p.paint(outline(d, width/2), c)
		}
	}
}

func (p *Pen) toPixels(pts []Pt) []Pt {
	out := make([]Pt, len(pts))
	for i, q := range pts {
		out[i] = Pt{q.X*p.scale + p.dx, q.Y*p.scale + p.y}
	}
	return out
}

// paint fills polygons given in pixels. Each shape is rasterised in its own
// bounding box and laid on through a mask, so nothing outside the image is
// ever written.
func (p *Pen) paint(polys [][]Pt, c color.Color) {
	lo, hi, ok := (&Path{subs: asSubs(polys)}).Bounds()
	if !ok || math.IsNaN(lo.X+lo.Y+hi.X+hi.Y) || math.IsInf(lo.X+lo.Y+hi.X+hi.Y, 0) {
		return
	}
	x0, y0 := int(math.Floor(lo.X)), int(math.Floor(lo.Y))
	w, h := int(math.Ceil(hi.X))-x0+1, int(math.Ceil(hi.Y))-y0+1
	box := image.Rect(x0, y0, x0+w, y0+h)
	if box.Intersect(p.img.Bounds()).Empty() || w > 2*maxPixels || h > 2*maxPixels {
		return
	}
	p.ras.Reset(w, h)
	p.ras.DrawOp = draw.Src
	for _, poly := range polys {
		for i, q := range poly {
			x, y := float32(q.X-float64(x0)), float32(q.Y-float64(y0))
			if i == 0 {
				p.ras.MoveTo(x, y)
			} else {
				p.ras.LineTo(x, y)
			}
		}
		p.ras.ClosePath()
	}
	m := p.maskFor(w, h)
	p.ras.Draw(m, m.Bounds(), image.Opaque, image.Point{})
	draw.DrawMask(p.img, box, image.NewUniform(c), image.Point{}, m, image.Point{}, draw.Over)
}

// maskFor returns a mask of w x h, using the old memory again.
func (p *Pen) maskFor(w, h int) *image.Alpha {
	if cap(p.mask.Pix) < w*h {
		p.mask.Pix = make([]uint8, w*h)
	}
	p.mask.Pix = p.mask.Pix[:w*h]
	p.mask.Stride = w
	p.mask.Rect = image.Rect(0, 0, w, h)
	return &p.mask
}

func asSubs(polys [][]Pt) []sub {
	out := make([]sub, len(polys))
	for i, q := range polys {
		out[i] = sub{pts: q, closed: true}
	}
	return out
}
