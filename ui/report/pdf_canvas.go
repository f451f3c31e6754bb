package report

import (
	"image/color"

	"codeberg.org/go-pdf/fpdf"
)

// penAt is a canvas on a PDF page with its origin at x, y.
type penAt struct {
	p    *sheet
	x, y float64
}

func (c penAt) set(s stroke) {
	c.p.f.SetDrawColor(int(s.Color.R), int(s.Color.G), int(s.Color.B))
	c.p.f.SetLineWidth(s.Width)
	c.p.f.SetDashPattern(s.Dash, 0)
}

func (c penAt) lines(points []xy, closed bool, s stroke) {
	if len(points) < 2 {
		return
	}
	c.set(s)
	if closed {
		c.p.f.Polygon(c.places(points), "D")
	} else {
		c.p.f.MoveTo(c.x+points[0].X, c.y+points[0].Y)
		for _, q := range points[1:] {
			c.p.f.LineTo(c.x+q.X, c.y+q.Y)
		}
		c.p.f.DrawPath("D")
	}
	c.p.f.SetDashPattern(nil, 0)
}

func (c penAt) fill(points []xy, k color.NRGBA) {
	c.p.f.SetFillColor(int(k.R), int(k.G), int(k.B))
	c.p.f.Polygon(c.places(points), "F")
}

func (c penAt) ring(at xy, r float64, s stroke) {
	c.set(s)
	c.p.f.Circle(c.x+at.X, c.y+at.Y, r, "D")
}

func (c penAt) dot(at xy, r float64, k color.NRGBA) {
	c.p.f.SetFillColor(int(k.R), int(k.G), int(k.B))
	c.p.f.Circle(c.x+at.X, c.y+at.Y, r, "F")
}

func (c penAt) text(at xy, a anchor, size float64, k color.NRGBA, words string) {
	c.p.font("", size/mmOfPt, k)
	words = c.p.g.shown(words)
	x := c.x + at.X
	switch a {
	case atMiddle:
		x -= c.p.f.GetStringWidth(words) / 2
	case atEnd:
		x -= c.p.f.GetStringWidth(words)
	}
	c.p.text(x, c.y+at.Y, words)
}

func (c penAt) places(points []xy) []fpdf.PointType {
	out := make([]fpdf.PointType, len(points))
	for i, q := range points {
		out[i] = fpdf.PointType{X: c.x + q.X, Y: c.y + q.Y}
	}
	return out
}
