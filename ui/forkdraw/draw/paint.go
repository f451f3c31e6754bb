package draw

import (
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"strconv"

	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme/tokens"
)

// Image draws an assembled fork with the usual options into w x h pixels.
// Sides are pulled into 1 to 8192.
func Image(w, h int, states States, dark bool) image.Image {
	return Paint(w, h, states, DefaultOptions(dark))
}

// RenderPNG writes the drawing as a PNG file.
func RenderPNG(out io.Writer, w, h int, states States, o Options) error {
	return png.Encode(out, Paint(w, h, states, o))
}

// Paint draws the fork into w x h pixels.
func Paint(w, h int, states States, o Options) *image.RGBA {
	p := pen.New(w, h)
	f := newFigure(p.Image().Bounds().Dx(), p.Image().Bounds().Dy(), o)
	if !o.Clear {
		p.Clear(f.opts.Palette.Paper)
	}
	p.SetView(f.scale, f.dx, f.dy)
	f.paintParts(p, states)
	f.paintFocus(p)
	p.SetView(1, 0, 0)
	f.paintMarks(p, states)
	f.paintWords(p, states)
	return p.Image()
}

// ZoneAt returns the zone at pixel x, y of a drawing of w x h pixels.
func ZoneAt(w, h int, x, y float64, o Options) (Zone, bool) {
	return newFigure(w, h, o).zoneAt(x, y)
}

// Zones returns the zones of a drawing in keyboard order.
func Zones(o Options) []Zone { return newFigure(100, 100, o).zones() }

// Bounds returns the pixel box of a zone, empty when it is not drawn.
func Bounds(w, h int, z Zone, o Options) image.Rectangle {
	x0, y0, x1, y1, ok := newFigure(w, h, o).bounds(z)
	if !ok {
		return image.Rectangle{}
	}
	return image.Rect(int(x0), int(y0), int(math.Ceil(x1)), int(math.Ceil(y1)))
}

func (f *figure) paintParts(p *pen.Pen, states States) {
	pal := f.opts.Palette
	base := f.ratio * math.Max(1.15, math.Min(2.4, f.scale/f.ratio*2.3))
	thin := math.Max(0.75*f.ratio, base*0.5)
	small := f.scale/f.ratio < 0.33 // fine lines would run together
	soft := pal.QuietInk
	for _, o := range f.ops {
		if o.fill {
			p.Fill(o.path, pal.Panel)
		}
		if o.tint {
			f.tint(p, o, states)
		}
		switch o.line {
		case heavy:
			p.Stroke(o.path, base, pal.Ink)
		case medium:
			p.Stroke(o.path, math.Max(0.9*f.ratio, base*0.7), pal.Ink)
		case fine:
			if !small {
				p.Stroke(o.path, thin, faded(soft, 0.75))
			}
		case hidden:
			p.Dash(o.path, thin, 4*f.ratio, 3*f.ratio, soft)
		case centred:
			p.Dash(o.path, 0.8*f.ratio, 9*f.ratio, 4*f.ratio, faded(soft, 0.6))
		}
	}
}

func (f *figure) tint(p *pen.Pen, o op, states States) {
	if c, ok := MarkColor(states.of(o.zone).Mark, f.opts.Palette); ok {
		p.Fill(o.path, tokens.Tint(c))
	}
	if h := f.opts.Hover; h != nil && *h == o.zone {
		p.Fill(o.path, faded(f.opts.Palette.Ink, 0.08))
	}
	if s := f.opts.Selected; s != nil && *s == o.zone {
		p.Fill(o.path, faded(f.opts.Palette.Accent, 0.16))
	}
}

// paintFocus outlines the zone under the keyboard.
func (f *figure) paintFocus(p *pen.Pen) {
	for _, o := range f.ops {
		if !o.tint {
			continue
		}
		if z := f.opts.Focus; z != nil && *z == o.zone {
			p.Stroke(o.path, 2.6*f.ratio, f.opts.Palette.Accent)
		} else if z := f.opts.Selected; z != nil && *z == o.zone && o.fill {
			p.Stroke(o.path, 1.6*f.ratio, f.opts.Palette.Accent)
		}
	}
}

// MarkColor returns the colour that goes with a mark; ok is false for marks
// without one.
func MarkColor(m Mark, pal tokens.Palette) (color.NRGBA, bool) {
	switch m {
	case Reuse:
		return pal.Reuse, true
	case Replace:
		return pal.Replace, true
	case Measure:
		return pal.Measure, true
	case DoNotRide:
		return pal.DoNotRide, true
	}
	return color.NRGBA{}, false
}

func (f *figure) markRadius() float64 {
	return f.ratio * math.Max(9.5, math.Min(15, f.scale/f.ratio*24))
}

func (f *figure) paintMarks(p *pen.Pen, states States) {
	for _, z := range f.order {
		st, own := states[z]
		if !own && !f.standsFor(z, states) {
			continue
		}
		if !own {
			st = states.of(z)
		}
		if st.Mark == NoMark {
			continue
		}
		c := f.marks[z]
		x, y := f.places[z].X, f.places[z].Y
		if c.lead {
			tx, ty := c.toX*f.scale+f.dx, c.toY*f.scale+f.dy
			p.Stroke(pen.Line(x, y, tx, ty), 0.9*f.ratio, f.opts.Palette.QuietInk)
			p.Fill(pen.Circle(tx, ty, 1.8*f.ratio), f.opts.Palette.QuietInk)
		}
		PaintMark(p, st, x, y, f.markRadius(), f.ratio, f.opts.Palette, f.opts.Font)
	}
}

// standsFor says that a state without side is shown at z, because the
// drawing has no place of its own for it.
func (f *figure) standsFor(z Zone, states States) bool {
	if z.Side != Left {
		return false
	}
	whole := Zone{ID: z.ID}
	_, has := states[whole]
	_, placed := f.marks[whole]
	return has && !placed
}

// PaintMark draws the mark of a state round x, y in pixels: r is the half
// size, ratio device pixels per unit.
func PaintMark(p *pen.Pen, st State, x, y, r, ratio float64, pal tokens.Palette, font *pen.Font) {
	line := math.Max(1.5*ratio, r*0.17)
	size := r * 1.12
	text := ""
	if st.Count > 0 {
		text = strconv.Itoa(st.Count)
	}
	ink := pal.Ink
	switch st.Mark {
	case Missing:
		text = strconv.Itoa(st.Done) + "/" + strconv.Itoa(st.Of)
		half := math.Max(r, font.Width(text, size)/2+r*0.45)
		box := pen.RoundRect(x-half, y-r*0.8, 2*half, r*1.6, r*0.8)
		p.Fill(box, pal.Panel)
		p.Stroke(box, 1*ratio, pal.QuietInk)
	case Reuse:
		p.Fill(pen.Circle(x, y, r), pal.Panel)
		p.Stroke(pen.Circle(x, y, r-line/2), line, pal.Reuse)
	case Replace:
		p.Fill(pen.RoundRect(x-r*0.9, y-r*0.9, r*1.8, r*1.8, 1.5*ratio), pal.Replace)
		ink = pal.Panel
		if pal.Dark {
			ink = pal.Paper
		}
	case Measure:
		d := pen.Regular(4, x, y, r*1.22, 0)
		p.Fill(d, pal.Panel)
		side := math.Sqrt2 * r * 1.22
		gap := line + side*0.09 // round ends take the width of the line
		p.Dash(d, line, side/3-gap, gap, pal.Measure)
		size *= 0.9
	case DoNotRide:
		d := pen.Regular(8, x, y, r*1.08, math.Pi/8)
		p.Fill(d, pal.DoNotRide)
		p.Stroke(d, math.Max(1.3*ratio, r*0.12), pal.OnDoNotRide)
		ink = pal.OnDoNotRide
		if text == "" {
			text = "!"
		}
	default:
		return
	}
	if text != "" {
		p.Text(font, text, x, y+size*0.36, size, pen.Middle, ink)
	}
}

// paintWords writes the sides, whose sides they are, and the warning that
// no do-not-ride mark goes without.
func (f *figure) paintWords(p *pen.Pen, states States) {
	o := f.opts
	left, right, note := orElse(o.LeftWord, "left"), orElse(o.RightWord, "right"), orElse(o.SideNote, "as the rider sees it")
	y := f.dy + height*f.scale + f.labelSize*1.15
	x := spread * f.scale
	lw := o.Font.Width(left, f.labelSize) + o.Font.Width(right, f.labelSize)
	x = math.Max(x, lw/2+4*f.ratio)
	p.Text(o.Font, left, f.dx-x, y, f.labelSize, pen.Middle, o.Palette.QuietInk)
	p.Text(o.Font, right, f.dx+x, y, f.labelSize, pen.Middle, o.Palette.QuietInk)
	y += f.labelSize * 1.35
	for _, st := range states {
		if st.Mark == DoNotRide {
			f.paintWarning(p, y)
			return
		}
	}
	small := f.labelSize * 0.92
	if o.Font.Width(note, small) <= float64(f.w) {
		p.Text(o.Font, note, f.dx, y, small, pen.Middle, o.Palette.QuietInk)
	}
}

func (f *figure) paintWarning(p *pen.Pen, y float64) {
	word := orElse(f.opts.DoNotRideWord, "do not ride")
	w := f.opts.Font.Width(word, f.labelSize)
	box := pen.RoundRect(f.dx-w/2-6*f.ratio, y-f.labelSize*1.0, w+12*f.ratio, f.labelSize*1.4, 3*f.ratio)
	p.Fill(box, f.opts.Palette.DoNotRide)
	p.Stroke(box, f.ratio, f.opts.Palette.OnDoNotRide)
	p.Text(f.opts.Font, word, f.dx, y+f.labelSize*0.06, f.labelSize, pen.Middle, f.opts.Palette.OnDoNotRide)
}

func faded(c color.NRGBA, k float64) color.NRGBA {
	c.A = uint8(math.Round(float64(c.A) * k))
	return c
}

func orElse(s, def string) string {
	if s == "" {
		return def
	}
	return s
}
