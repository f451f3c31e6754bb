package widgets

import (
	"image"
	"image/color"
	"math"

	"forkwear/ui/forkdraw/pen"
)

// chartView lays a chart into pixels, on the frame of a trend.
type chartView struct {
	trendView
	chart     Chart
	curve, at int // pointed at, -1 for none
}

// named is how many curves are told apart by their look and by a name at their
// end; more are drawn alike, and the one pointed at stands out.
const named = 6

// spanAll finds the ranges of both axes.
func (v *chartView) spanAll() {
	v.x0, v.x1, v.y0, v.y1 = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	add := func(x, y float64) {
		v.x0, v.x1 = math.Min(v.x0, x), math.Max(v.x1, x)
		v.y0, v.y1 = math.Min(v.y0, y), math.Max(v.y1, y)
	}
	for _, c := range v.chart.Curves {
		for _, m := range c.Marks {
			add(m.Hours, m.Value-m.U)
			add(m.Hours, m.Value+m.U)
		}
		for _, b := range c.Line {
			add(b.Hours, b.Mid)
		}
	}
	if v.chart.HasLimit && v.x0 <= v.x1 {
		add(v.x0, v.chart.Limit)
	}
	v.x0, v.x1 = widened(v.x0, v.x1, 0.03)
	if v.chart.High > v.chart.Low {
		v.y0, v.y1 = v.chart.Low, v.chart.High
		v.y0, v.y1 = widened(v.y0, v.y1, 0.03)
		return
	}
	v.y0, v.y1 = widened(v.y0, v.y1, 0.08)
}

// labelRoom is the room for the names at the ends of the curves.
func (v *chartView) labelRoom(w float64) float64 {
	room := 0.0
	if n := len(v.chart.Curves); n < 2 || n > named {
		return 0
	}
	for _, c := range v.chart.Curves {
		room = math.Max(room, v.font.Width(c.Name, v.size)+8*v.k)
	}
	return math.Min(room, w/4)
}

func (v *chartView) paint(w, h int) image.Image {
	p := pen.New(w, h)
	if v.right-v.left < 4 || v.bottom-v.top < 4 {
		return p.Image()
	}
	if !v.any() {
		p.Stroke(pen.Line(v.left, v.crisp(v.bottom), v.right, v.crisp(v.bottom)), math.Max(1, math.Round(v.k)), v.pal.Line)
		p.Text(v.font, v.chart.EmptyWord, float64(w)/2, float64(h)/2, v.size, pen.Middle, v.pal.QuietInk)
		v.paintFocus(p, w, h)
		return p.Image()
	}
	v.paintAxes(p)
	if n := len(v.chart.Curves); n <= named { // more bands would lie over each other
		for i, c := range v.chart.Curves {
			p.Fill(v.band(c), alpha(v.look(i), 0x26))
		}
	} else if v.curve >= 0 {
		p.Fill(v.band(v.chart.Curves[v.curve]), alpha(v.pal.Accent, 0x26))
	}
	v.paintLimit(p)
	for i := range v.chart.Curves {
		if i != v.curve {
			v.paintCurve(p, i)
		}
	}
	if v.curve >= 0 {
		v.paintCurve(p, v.curve)
	}
	v.paintNames(p)
	v.paintTold(p, float64(w))
	v.paintFocus(p, w, h)
	return p.Image()
}

func (v *chartView) paintFocus(p *pen.Pen, w, h int) {
	if v.focused {
		p.Stroke(pen.RoundRect(1.5*v.k, 1.5*v.k, float64(w)-3*v.k, float64(h)-3*v.k, 6*v.k), 3*v.k, v.pal.Accent)
	}
}

func (v *chartView) any() bool {
	for _, c := range v.chart.Curves {
		if len(c.Line)+len(c.Marks) > 0 {
			return true
		}
	}
	return false
}

// look is the ink of a curve.
func (v *chartView) look(i int) color.NRGBA {
	if len(v.chart.Curves) > named {
		if i == v.curve {
			return v.pal.Accent
		}
		return v.pal.QuietInk
	}
	return []color.NRGBA{v.pal.Accent, v.pal.Ink, v.pal.Replace, v.pal.Reuse, v.pal.Measure, v.pal.QuietInk}[i%named]
}

// dashes tell the curves apart without colour.
var dashes = [named][2]float64{{0, 0}, {9, 5}, {2, 4}, {14, 4}, {5, 3}, {2, 8}}

// path is the line of a curve, in pixels.
func (v *chartView) path(c Curve) *pen.Path {
	path, last := new(pen.Path), 0.0
	for i, b := range c.Line {
		y := v.y(v.inside(b.Mid))
		if c.Steps && i > 0 {
			path.L(v.x(b.Hours), last)
		}
		path.L(v.x(b.Hours), y)
		last = y
	}
	return path
}

func (v *chartView) inside(y float64) float64 { return math.Max(v.y0, math.Min(y, v.y1)) }

// band is the area between Low and High, piece by piece: where a limit does not
// exist there is none.
func (v *chartView) band(c Curve) *pen.Path {
	area := new(pen.Path)
	for i := 0; i+1 < len(c.Line); i++ {
		a, b := c.Line[i], c.Line[i+1]
		if c.Steps {
			b.Low, b.High = a.Low, a.High
		}
		if math.IsNaN(a.Low + a.High + b.Low + b.High) {
			continue
		}
		area.M(v.x(a.Hours), v.y(v.inside(a.Low))).L(v.x(b.Hours), v.y(v.inside(b.Low))).
			L(v.x(b.Hours), v.y(v.inside(b.High))).L(v.x(a.Hours), v.y(v.inside(a.High))).Z()
	}
	return area
}

func (v *chartView) paintCurve(p *pen.Pen, i int) {
	c, ink := v.chart.Curves[i], v.look(i)
	width := 1.8 * v.k
	if i == v.curve {
		width = 3 * v.k
	}
	if d := dashes[i%named]; d[0] > 0 && len(v.chart.Curves) <= named {
		p.Dash(v.path(c), width, d[0]*v.k, d[1]*v.k, ink)
	} else {
		p.Stroke(v.path(c), width, ink)
	}
	for j, m := range c.Marks {
		x, y := v.x(m.Hours), v.y(v.inside(m.Value))
		if m.U > 0 {
			p.Stroke(pen.Line(x, v.y(v.inside(m.Value-m.U)), x, v.y(v.inside(m.Value+m.U))), 1.2*v.k, ink)
		}
		radius, fill := 3.2*v.k, ink
		if i == v.curve && j == v.at {
			radius, fill = 6*v.k, v.pal.Accent
		}
		p.Fill(pen.Circle(x, y, radius+1.2*v.k), v.pal.Panel)
		p.Fill(pen.Circle(x, y, radius), fill)
	}
}

// paintNames writes each curve's name at its end.
func (v *chartView) paintNames(p *pen.Pen) {
	n := len(v.chart.Curves)
	if n < 2 || n > named {
		return
	}
	at, end := make([]float64, n), make([]float64, n)
	for i, c := range v.chart.Curves {
		at[i], end[i] = v.bottom, v.right
		if len(c.Line) > 0 {
			b := c.Line[len(c.Line)-1]
			at[i], end[i] = v.y(v.inside(b.Mid)), v.x(b.Hours)
		} else if len(c.Marks) > 0 {
			b := c.Marks[len(c.Marks)-1]
			at[i], end[i] = v.y(v.inside(b.Value)), v.x(b.Hours)
		}
	}
	for i := range at { // a name that would lie on an earlier one goes under it
		for j := 0; j < i; j++ {
			wide := v.font.Width(v.chart.Curves[j].Name, v.size) + 8*v.k
			if math.Abs(end[i]-end[j]) < wide && math.Abs(at[i]-at[j]) < v.size*1.1 {
				at[i] = at[j] + v.size*1.15
				j = -1
			}
		}
		p.Text(v.font, v.chart.Curves[i].Name, math.Min(end[i], v.right)+8*v.k, at[i]+v.size*0.35, v.size, pen.Start, v.look(i))
	}
}

// paintTold writes the label of the mark pointed at beside it.
func (v *chartView) paintTold(p *pen.Pen, w float64) {
	if v.curve < 0 {
		return
	}
	m := v.chart.Curves[v.curve].Marks[v.at]
	v.trendView.t.Readings, v.pointed = []Reading{m}, 0
	v.paintPointed(p, w)
	v.trendView.t.Readings, v.pointed = nil, -1
}
