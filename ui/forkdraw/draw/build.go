package draw

import (
	"math"

	"forkwear/ui/forkdraw/pen"
)

// weight is the width of a line in the hierarchy of the drawing.
type weight int

const (
	noLine  weight = iota
	fine           // surface and thread lines, left out when small
	medium         // edges inside an outline
	heavy          // outlines
	hidden         // dashed: what lies behind a wall
	centred        // dash and dot: an axis
)

// op is one step of the drawing, painted in order.
type op struct {
	path *pen.Path
	fill bool // cover what is behind with panel
	tint bool // lay the state of the zone over it
	line weight
	zone Zone
}

// callout is the fixed place of a zone's mark: at x, y, with a leader to
// toX, toY when lead is set.
type callout struct {
	x, y, toX, toY float64
	lead           bool
}

// builder collects the steps. Parts are described round their own axis and
// moved to their place by at.
type builder struct {
	ops   []op
	marks map[Zone]callout
	order []Zone
	zone  Zone
	at    func(pen.Pt) pen.Pt
}

// sag is the depth of the curved edges of a round part per half width: it
// is seen from a little above.
const sag = 0.15

func (b *builder) place(zone Zone, at func(pen.Pt) pen.Pt) { b.zone, b.at = zone, at }

func (b *builder) add(p *pen.Path, o op) {
	if b.at != nil {
		p = p.Map(b.at)
	}
	o.path, o.zone = p, b.zone
	b.ops = append(b.ops, o)
}

// area covers what is behind, takes the tint and is outlined.
func (b *builder) area(p *pen.Path, w weight) { b.add(p, op{fill: true, tint: true, line: w}) }

// line only draws.
func (b *builder) line(p *pen.Path, w weight) { b.add(p, op{line: w}) }

// ghost takes the tint but covers nothing: a part behind a wall.
func (b *builder) ghost(p *pen.Path) { b.add(p, op{tint: true, line: hidden}) }

// tube adds a round part of half width h0 at the top y0 and h1 at y1, with
// the rim of its top.
func (b *builder) tube(h0, h1, y0, y1 float64, w weight) {
	b.area(tubePath(h0, h1, y0, y1), w)
	b.line(front(h0, y0), min(w, medium))
}

// band is a tube whose top is hidden by what stands in it.
func (b *builder) band(h0, h1, y0, y1 float64, w weight) { b.area(tubePath(h0, h1, y0, y1), w) }

func tubePath(h0, h1, y0, y1 float64) *pen.Path {
	return new(pen.Path).
		Arc(0, y0, h0, h0*sag, math.Pi, 2*math.Pi).
		Arc(0, y1, h1, h1*sag, 0, math.Pi).Z()
}

// front is the near half of a rim.
func front(h, y float64) *pen.Path { return new(pen.Path).Arc(0, y, h, h*sag, math.Pi, 0) }

// threads draws n fine rims between y0 and y1.
func (b *builder) threads(h, y0, y1 float64, n int) {
	for i := 1; i <= n; i++ {
		b.line(front(h, y0+(y1-y0)*float64(i)/float64(n+1)), fine)
	}
}

// knurl draws n upright lines on a round part, closer towards its edges.
func (b *builder) knurl(h, y0, y1 float64, n int) {
	for i := 1; i < n; i++ {
		a := math.Pi * float64(i) / float64(n)
		x, d := -h*math.Cos(a), h*sag*math.Sin(a)
		b.line(pen.Line(x, y0+d, x, y1+d), fine)
	}
}

// facets draws the two edges of a hexagon seen on a corner-to-corner width.
func (b *builder) facets(h, y0, y1 float64) {
	for _, x := range []float64{-h * 0.42, h * 0.5} {
		d := sag * math.Sqrt(h*h-x*x)
		b.line(pen.Line(x, y0+d, x, y1+d), fine)
	}
}

// shade draws the two fine lines that make a surface look round.
func (b *builder) shade(h0, h1, y0, y1 float64) {
	for _, k := range []float64{0.62, 0.76} {
		b.line(pen.Line(h0*k, y0, h1*k, y1), fine)
	}
}

// mark fixes the place of the mark of the zone in hand.
func (b *builder) mark(z Zone, c callout) {
	if _, ok := b.marks[z]; ok {
		return
	}
	b.marks[z] = c
	b.order = append(b.order, z)
}

func shift(dx, dy float64) func(pen.Pt) pen.Pt {
	return func(p pen.Pt) pen.Pt { return pen.Pt{X: p.X + dx, Y: p.Y + dy} }
}

func mirrored(dx float64) func(pen.Pt) pen.Pt {
	return func(p pen.Pt) pen.Pt { return pen.Pt{X: dx - p.X, Y: p.Y} }
}
