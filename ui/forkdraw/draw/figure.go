package draw

import (
	"math"

	"forkwear/ui/forkdraw/pen"
)

// figure is a drawing with its zones, laid into a rectangle of pixels.
type figure struct {
	*builder
	opts       Options
	scale      float64 // pixels per unit
	dx, dy     float64
	ratio      float64
	w, h       int
	labelSize  float64
	footHeight float64
	places     map[Zone]pen.Pt // of the marks, in pixels
}

// newFigure builds the drawing for w x h pixels.
func newFigure(w, h int, o Options) *figure {
	if !(o.PixelRatio > 0) || math.IsInf(o.PixelRatio, 0) {
		o.PixelRatio = 1
	}
	if o.Palette.Ink.A == 0 {
		o.Palette = DefaultOptions(false).Palette
	}
	if o.Font == nil {
		o.Font = pen.DefaultFont()
	}
	f := &figure{builder: &builder{marks: map[Zone]callout{}}, opts: o, ratio: o.PixelRatio, w: w, h: h}
	if o.View == Stripped {
		f.column(Left, o.LeftInside)
		f.column(Right, o.RightInside)
	}
	f.fork(o)
	f.fixMarks(o)
	f.fit()
	return f
}

// fit finds scale and shift: the drawing stands in the middle, the words
// under it.
func (f *figure) fit() {
	half := halfNarrow
	if f.opts.View == Stripped {
		half = halfWide
	}
	margin := 2*maxMarkHalf*f.ratio + 4*f.ratio
	f.labelSize = f.ratio * math.Max(11, math.Min(15, float64(f.h)/f.ratio*0.03))
	f.footHeight = f.labelSize * 2.9
	top := 4 * f.ratio
	f.scale = math.Max(0.001, math.Min((float64(f.w)-2*margin)/(2*half), (float64(f.h)-f.footHeight-top)/height))
	f.dx = float64(f.w) / 2
	f.dy = top + math.Max(0, (float64(f.h)-f.footHeight-top-height*f.scale)/2)
	f.standMarks(half)
}

// maxMarkHalf is half the width of the widest usual mark, in pixels of the
// window: a count such as 4/9 in a small drawing.
const maxMarkHalf = 16

// standMarks turns the places of the marks into pixels. Those beside the
// drawing stand in one line on each side and are moved apart where they
// would touch, so that a small drawing stays readable.
func (f *figure) standMarks(half float64) {
	r := f.markRadius()
	f.at = nil
	f.places = make(map[Zone]pen.Pt, len(f.marks))
	last := map[bool]float64{}
	for _, z := range f.order {
		c := f.marks[z]
		q := pen.Pt{X: c.x*f.scale + f.dx, Y: c.y*f.scale + f.dy}
		if c.lead {
			out := half*f.scale + math.Max(maxMarkHalf*f.ratio, r*1.3)
			q.X = f.dx + math.Copysign(out, c.x)
			if y, ok := last[c.x < 0]; ok {
				q.Y = math.Max(q.Y, y+2.3*r)
			}
			last[c.x < 0] = q.Y
		}
		f.places[z] = q
	}
	f.liftMarks(r)
}

// liftMarks moves the lowest marks up again when they were pushed off the
// drawing.
func (f *figure) liftMarks(r float64) {
	limit := map[bool]float64{}
	for i := len(f.order) - 1; i >= 0; i-- {
		z := f.order[i]
		c := f.marks[z]
		if !c.lead {
			continue
		}
		most, ok := limit[c.x < 0]
		if !ok {
			most = f.dy + height*f.scale - r
		}
		q := f.places[z]
		q.Y = math.Min(q.Y, most)
		f.places[z] = q
		limit[c.x < 0] = q.Y - 2.3*r
	}
}

// fixMarks gives every zone the fixed place of its mark, in keyboard order:
// left leg from top to bottom, the parts without a side, right leg.
func (f *figure) fixMarks(o Options) {
	place := f.assembledMarks
	if o.View == Stripped {
		place = f.strippedMarks
	}
	up := 0.0
	if o.DoubleCrown {
		up = 36 - crownTop
	}
	place(Left, o.LeftInside, up)
	f.mark(Zone{ID: Crown}, callout{x: 0, y: 189})
	f.mark(Zone{ID: Lowers}, callout{x: 0, y: 494})
	f.mark(Zone{ID: Fasteners}, callout{x: 0, y: 926})
	place(Right, o.RightInside, up)
}

func (f *figure) assembledMarks(side string, in Inside, up float64) {
	s := sideSign(side)
	at := func(id string, y, r, toY float64) {
		f.mark(Zone{id, side}, callout{x: s * 208, y: y, toX: s * (spread + r), toY: toY, lead: true})
	}
	at(Controls, 152+up, 22, 152+up)
	at(Stanchions, 350, stanchionR, 350)
	at(Seals, 505, 41, 527)
	at(Bushings, 606, 34, 573)
	at(Lowers, 712, 35, 712)
	if in != Empty {
		at(insideZone(in), 822, 7, 838)
	}
	at(Fasteners, 978, 14, 983)
}

func (f *figure) strippedMarks(side string, in Inside, up float64) {
	s := sideSign(side)
	at := func(id string, y, r float64) {
		f.mark(Zone{id, side}, callout{x: s * 328, y: y, toX: s * (columnX + r), toY: y, lead: true})
	}
	at(Controls, 78, 31)
	f.mark(Zone{Stanchions, side}, callout{x: s * spread, y: 350})
	switch in {
	case AirAndDamper:
		at(Spring, 240, 8)
		at(Damper, 465, 22)
	case Air:
		at(Spring, 300, 8)
	case Coil:
		at(Spring, 300, 27)
	case DamperOnly:
		at(Damper, 345, 22)
	}
	at(Bushings, 634, 31)
	at(Seals, 742, 33)
	f.mark(Zone{Lowers, side}, callout{x: s * spread, y: 700})
	at(Fasteners, 898, 18)
}

// zoneAt returns the zone at a pixel: the one drawn last there, else the
// nearest within reach.
func (f *figure) zoneAt(x, y float64) (Zone, bool) {
	for _, z := range f.order {
		q := f.places[z]
		if f.marks[z].lead && math.Hypot(q.X-x, q.Y-y) <= f.markRadius()*1.15 {
			return z, true
		}
	}
	ux, uy := (x-f.dx)/f.scale, (y-f.dy)/f.scale
	reach := 22 * f.ratio / f.scale
	best, bestD := Zone{}, math.Inf(1)
	for i := len(f.ops) - 1; i >= 0; i-- {
		o := f.ops[i]
		if !o.tint || o.zone.ID == "" {
			continue
		}
		d := o.path.Distance(ux, uy)
		if d == 0 {
			return o.zone, true
		}
		if d < bestD {
			best, bestD = o.zone, d
		}
	}
	return best, bestD <= reach
}

// zones returns the zones in keyboard order.
func (f *figure) zones() []Zone { return append([]Zone(nil), f.order...) }

// bounds returns the pixel box of a zone.
func (f *figure) bounds(z Zone) (x0, y0, x1, y1 float64, ok bool) {
	all := new(pen.Path)
	for _, o := range f.ops {
		if o.tint && o.zone == z {
			all.Add(o.path)
		}
	}
	lo, hi, ok := all.Bounds()
	if !ok {
		return 0, 0, 0, 0, false
	}
	return lo.X*f.scale + f.dx, lo.Y*f.scale + f.dy, hi.X*f.scale + f.dx, hi.Y*f.scale + f.dy, true
}
