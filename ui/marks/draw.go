package marks

import (
	"image"
	"image/color"
	"math"

	xdraw "golang.org/x/image/draw"

	"forkwear/inspect"
	"forkwear/ui/forkdraw/pen"
)

// Inks over a photo. They are the same by day and by night: the photo is the
// ground.
var (
	Ink      = color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF} // what a person marked
	Scale    = color.NRGBA{0x56, 0xB4, 0xE9, 0xFF} // what gives the scale
	Measured = color.NRGBA{0x3C, 0xC7, 0xA4, 0xFF} // what was measured
	Casing   = color.NRGBA{0x16, 0x19, 0x18, 0xFF}
	Plate    = color.NRGBA{0x16, 0x19, 0x18, 0xD0} // under words
)

const (
	lineWidth = 2.5 // units
	casing    = 1.5
	letters   = 16
	arrowHead = 16
)

// Paint draws a layer: masks first, then measures, then marks.
func Paint(p *pen.Pen, l Layer, v View, unit float64) {
	for _, m := range l.Measures {
		Damage(p, m.Damage, m.Window, v)
	}
	var taken plates
	for _, m := range l.Measures {
		paintMeasure(p, m.PhotoMeasure, v, unit, &taken)
	}
	for _, m := range l.Marks {
		paintMark(p, m, v, unit, &taken)
	}
}

// plates are the grounds of the words that were written, so that no word lies
// upon another.
type plates []image.Rectangle

// Over draws a layer onto a copy of a picture that shows a photo of width x
// height pixels.
func Over(img image.Image, width, height int, l Layer) *image.RGBA {
	b := img.Bounds()
	p := pen.New(b.Dx(), b.Dy())
	out := p.Image()
	xdraw.Draw(out, out.Rect, img, b.Min, xdraw.Src)
	if width > 0 && height > 0 {
		k := float64(b.Dx()) / float64(width)
		Paint(p, l, View{Scale: k}, math.Max(1, float64(max(b.Dx(), b.Dy()))/700))
	}
	return out
}

// PaintMark draws one mark; one with too few points is not drawn.
func PaintMark(p *pen.Pen, m inspect.Mark, v View, unit float64) { paintMark(p, m, v, unit, &plates{}) }

func paintMark(p *pen.Pen, m inspect.Mark, v View, unit float64, taken *plates) {
	if len(m.Points) == 0 || m.Kind != inspect.MarkText && len(m.Points) < 2 {
		return
	}
	pts := places(m.Points, v)
	if len(pts) == 0 {
		return
	}
	last := pts[len(pts)-1]
	switch m.Kind {
	case inspect.MarkCircle:
		r := math.Hypot(pts[1].X-pts[0].X, pts[1].Y-pts[0].Y)
		Lines(p, ring(pts[0], r), true, lineWidth*unit, unit, Ink)
		last = pen.Pt{X: pts[0].X + r*math.Sqrt2/2, Y: pts[0].Y - r*math.Sqrt2/2}
	case inspect.MarkArrow:
		arrow(p, pts[0], pts[1], unit)
		last = pts[0]
	case inspect.MarkLine:
		Lines(p, pts, false, lineWidth*unit, unit, Ink)
	}
	if m.Text != "" {
		if m.Kind != inspect.MarkText {
			last.X += 10 * unit
		}
		caption(p, m.Text, last, unit, Ink, taken)
	}
}

// paintMeasure draws what gave the scale and what was measured, with its value
// beside it where there is one.
func paintMeasure(p *pen.Pen, m inspect.PhotoMeasure, v View, unit float64, taken *plates) {
	thin := 1.5 * unit
	if len(m.Card) == 4 {
		Lines(p, places(m.Card, v), true, thin, unit, Scale)
	}
	if m.Known != nil {
		Lines(p, places([]inspect.Spot{m.Known.A, m.Known.B}, v), false, thin, unit, Scale)
	}
	if m.Tube != nil && len(places(m.Tube.Edges[:], v)) == 4 {
		Lines(p, places(m.Tube.Edges[:2], v), false, thin, unit, Scale)
		Lines(p, places(m.Tube.Edges[2:], v), false, thin, unit, Scale)
	}
	line, out := places(m.Line, v), places(m.Outline, v)
	if len(line) > 1 {
		Lines(p, line, false, lineWidth*unit, unit, Measured)
		for _, e := range []int{0, len(line) - 1} {
			dot(p, line[e], unit)
		}
	}
	if len(out) > 1 {
		Lines(p, out, len(out) > 2, lineWidth*unit, unit, Measured)
	}
	at := append(line, out...)
	if m.Value > 0 && len(at) > 0 {
		end := at[0]
		for _, q := range at {
			if q.X > end.X {
				end = q
			}
		}
		end.X += 12 * unit
		caption(p, Value(m), end, unit, Measured, taken)
	}
}

// places are points on the surface; none where one of them is no place that
// could be drawn.
func places(ss []inspect.Spot, v View) []pen.Pt {
	out := make([]pen.Pt, len(ss))
	for i, s := range ss {
		out[i] = v.At(s)
		if !(math.Abs(out[i].X)+math.Abs(out[i].Y) < 1e8) {
			return nil
		}
	}
	return out
}

// Lines draws a line through points, width in pixels, with its casing.
func Lines(p *pen.Pen, pts []pen.Pt, closed bool, width, unit float64, ink color.Color) {
	box := p.Image().Bounds().Inset(-int(width+4*casing*unit) - 2)
	for _, pass := range []struct {
		w float64
		c color.Color
	}{{width + 2*casing*unit, Casing}, {width, ink}} {
		for i := range pts {
			j := i + 1
			if j == len(pts) {
				if !closed || len(pts) < 3 {
					break
				}
				j = 0
			}
			if a, b, ok := clipped(pts[i], pts[j], box); ok {
				p.Stroke(pen.Line(a.X, a.Y, b.X, b.Y), pass.w, pass.c)
			}
		}
	}
}

// ring is a circle in pieces short enough to look round.
func ring(at pen.Pt, r float64) []pen.Pt {
	n := int(math.Max(24, math.Min(r/2, 720)))
	out := make([]pen.Pt, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = pen.Pt{X: at.X + r*c, Y: at.Y + r*s}
	}
	return out
}

func dot(p *pen.Pen, at pen.Pt, unit float64) {
	p.Fill(pen.Circle(at.X, at.Y, 5*unit), Casing)
	p.Fill(pen.Circle(at.X, at.Y, 3.5*unit), Measured)
}

func arrow(p *pen.Pen, tail, tip pen.Pt, unit float64) {
	l := math.Hypot(tip.X-tail.X, tip.Y-tail.Y)
	if l < 1 {
		return
	}
	ux, uy := (tip.X-tail.X)/l, (tip.Y-tail.Y)/l
	h := math.Min(arrowHead*unit, l)
	neck := pen.Pt{X: tip.X - ux*h*0.8, Y: tip.Y - uy*h*0.8}
	Lines(p, []pen.Pt{tail, neck}, false, lineWidth*unit, unit, Ink)
	head := func(grow float64) *pen.Path {
		b := pen.Pt{X: tip.X - ux*(h+grow), Y: tip.Y - uy*(h+grow)}
		w := h*0.45 + grow
		return new(pen.Path).M(tip.X+ux*2*grow, tip.Y+uy*2*grow).L(b.X-uy*w, b.Y+ux*w).L(b.X+uy*w, b.Y-ux*w).Z()
	}
	p.Fill(head(casing*unit), Casing)
	p.Fill(head(0), Ink)
}

// Words writes a line on a dark plate that begins at a place, or ends there
// where the surface has no room to the right.
func Words(p *pen.Pen, s string, at pen.Pt, unit float64, ink color.Color) {
	caption(p, s, at, unit, ink, &plates{})
}

func caption(p *pen.Pen, s string, at pen.Pt, unit float64, ink color.Color, taken *plates) {
	f, size, b := pen.DefaultFont(), letters*unit, p.Image().Bounds()
	w, pad := f.Width(s, size), 5*unit
	if !(at.X > float64(b.Min.X)-w && at.X < float64(b.Max.X)+w && at.Y > -2*size && at.Y < float64(b.Max.Y)+2*size) {
		return
	}
	x := at.X
	if x+w+2*pad > float64(b.Max.X) {
		x = math.Max(at.X-w-2*pad-14*unit, 0)
	}
	y := math.Max(size, math.Min(at.Y+size*0.35, float64(b.Max.Y)-pad)) // the baseline
	plate := func() image.Rectangle {
		return image.Rect(int(x), int(y-size), int(x+w+2*pad)+1, int(y+size*0.35)+1)
	}
	for range 6 { // farther down where another word stands
		if !taken.meet(plate()) {
			break
		}
		y += size * 1.5
	}
	*taken = append(*taken, plate())
	p.Fill(pen.RoundRect(x, y-size, w+2*pad, size*1.35, 4*unit), Plate)
	p.Text(f, s, x+pad, y, size, pen.Start, ink)
}

func (t *plates) meet(r image.Rectangle) bool {
	for _, o := range *t {
		if o.Overlaps(r) {
			return true
		}
	}
	return false
}

// Damage tints the pixels of a mask that covers a window of the photo.
func Damage(p *pen.Pen, mask *image.Alpha, window [4]float64, v View) {
	if mask == nil || !(window[2] > 0 && window[3] > 0) || mask.Rect.Empty() || v.Scale == 0 {
		return
	}
	dst := p.Image()
	a := v.At(inspect.Spot{X: window[0], Y: window[1]})
	b := v.At(inspect.Spot{X: window[0] + window[2], Y: window[1] + window[3]})
	if math.IsNaN(a.X + a.Y + b.X + b.Y) {
		return
	}
	r := image.Rect(cut(a.X), cut(a.Y), cut(b.X)+1, cut(b.Y)+1).Intersect(dst.Rect)
	kx, ky := float64(mask.Rect.Dx())/(b.X-a.X), float64(mask.Rect.Dy())/(b.Y-a.Y)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		my := int(math.Floor((float64(y) + 0.5 - a.Y) * ky))
		if my < 0 || my >= mask.Rect.Dy() {
			continue
		}
		for x := r.Min.X; x < r.Max.X; x++ {
			mx := int(math.Floor((float64(x) + 0.5 - a.X) * kx))
			if mx < 0 || mx >= mask.Rect.Dx() || mask.Pix[my*mask.Stride+mx] < 128 {
				continue
			}
			i := dst.PixOffset(x, y)
			for c, ink := range [3]uint8{Measured.R, Measured.G, Measured.B} {
				dst.Pix[i+c] = uint8((int(dst.Pix[i+c])*9 + int(ink)*11) / 20)
			}
		}
	}
}

// cut keeps a place within what a surface can have.
func cut(x float64) int { return int(math.Floor(math.Max(-1e6, math.Min(x, 1e6)))) }
