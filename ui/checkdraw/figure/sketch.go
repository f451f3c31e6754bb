package figure

import (
	"image/color"
	"math"

	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme/tokens"
)

// sketch draws in units of 120 by 84 with the colours of the theme.
type sketch struct {
	p    *pen.Pen
	pal  tokens.Palette
	wear float64
	px   float64 // a hairline in pixels
}

// Line weights in hairlines.
const (
	fine   = 1.0
	medium = 1.5
	heavy  = 2.4
)

// What oil and what dirt look like on either ground; no verdict.
var (
	oil  = color.NRGBA{0xC8, 0x8A, 0x2A, 0xFF}
	soot = color.NRGBA{0x1A, 0x15, 0x10, 0xFF}
)

func faded(c color.NRGBA, share float64) color.NRGBA {
	c.A = uint8(math.Round(255 * math.Max(0, math.Min(share, 1))))
	return c
}

func (s *sketch) line(p *pen.Path, w float64) { s.p.Stroke(p, w*s.px, s.pal.Ink) }

func (s *sketch) quiet(p *pen.Path, w float64) { s.p.Stroke(p, w*s.px, s.pal.QuietInk) }

func (s *sketch) dash(p *pen.Path) { s.p.Dash(p, s.px, 4*s.px, 3*s.px, s.pal.QuietInk) }

// mark draws what is found, so that the eye goes there first.
func (s *sketch) mark(p *pen.Path, w float64) { s.p.Stroke(p, w*s.px, s.pal.Replace) }

// body is a shape of the panel's colour with an outline.
func (s *sketch) body(p *pen.Path) {
	s.p.Fill(p, s.pal.Panel)
	s.line(p, medium)
}

// tinted is a body filled with ink: 0 panel, 1 ink.
func (s *sketch) tinted(p *pen.Path, share float64) {
	s.p.Fill(p, s.pal.Panel)
	s.p.Fill(p, faded(s.pal.Ink, share))
	s.line(p, medium)
}

func (s *sketch) wet(p *pen.Path, share float64) { s.p.Fill(p, faded(oil, share)) }

// found fills what is found.
func (s *sketch) found(p *pen.Path, share float64) { s.p.Fill(p, faded(s.pal.Replace, share)) }

func (s *sketch) drop(x, y, r float64) {
	p := new(pen.Path).M(x, y-2*r).C(x+r*0.3, y-r, x+r, y-r*0.4, x+r, y+r*0.2)
	p.C(x+r, y+r*1.3, x-r, y+r*1.3, x-r, y+r*0.2).C(x-r, y-r*0.4, x-r*0.3, y-r, x, y-2*r).Z()
	s.wet(p, 0.9)
	s.line(p, fine)
}

func (s *sketch) arrow(x1, y1, x2, y2 float64) {
	s.p.Stroke(pen.Line(x1, y1, x2, y2), medium*s.px, s.pal.Accent)
	s.head(x1, y1, x2, y2)
}

func (s *sketch) head(x1, y1, x2, y2 float64) {
	a := math.Atan2(y2-y1, x2-x1)
	const l, open = 6.0, 0.45
	p := new(pen.Path).M(x2, y2).L(x2-l*math.Cos(a-open), y2-l*math.Sin(a-open)).L(x2-l*math.Cos(a+open), y2-l*math.Sin(a+open)).Z()
	s.p.Fill(p, s.pal.Accent)
}

// both is an arrow with two heads.
func (s *sketch) both(x1, y1, x2, y2 float64) {
	s.arrow(x1, y1, x2, y2)
	s.head(x2, y2, x1, y1)
}

// upright is a standing tube from the side, with the shade of its roundness.
func (s *sketch) upright(x0, x1, y0, y1 float64) {
	s.p.Fill(pen.Rect(x0, y0, x1-x0, y1-y0), s.pal.Panel)
	w := x1 - x0
	s.p.Fill(pen.Rect(x0+w*0.76, y0, w*0.24, y1-y0), faded(s.pal.Ink, 0.12))
	s.p.Fill(pen.Rect(x0+w*0.88, y0, w*0.12, y1-y0), faded(s.pal.Ink, 0.12))
	s.p.Fill(pen.Rect(x0, y0, w*0.08, y1-y0), faded(s.pal.Ink, 0.10))
	s.line(pen.Line(x0, y0, x0, y1), medium)
	s.line(pen.Line(x1, y0, x1, y1), medium)
}

// lying is a tube on its side.
func (s *sketch) lying(x0, x1, y0, y1 float64) {
	s.p.Fill(pen.Rect(x0, y0, x1-x0, y1-y0), s.pal.Panel)
	h := y1 - y0
	s.p.Fill(pen.Rect(x0, y0+h*0.76, x1-x0, h*0.24), faded(s.pal.Ink, 0.12))
	s.p.Fill(pen.Rect(x0, y0+h*0.9, x1-x0, h*0.10), faded(s.pal.Ink, 0.12))
	s.line(pen.Line(x0, y0, x1, y0), medium)
	s.line(pen.Line(x0, y1, x1, y1), medium)
}

// collar is the top of a lower leg with its wiper, round a tube.
func (s *sketch) collar(cx, half, y float64) {
	s.body(pen.RoundRect(cx-half-8, y+8, 2*half+16, Height-2-(y+8), 3))
	s.tinted(pen.RoundRect(cx-half-6, y+3, 2*half+12, 6, 2), 0.55)
	s.tinted(new(pen.Path).M(cx-half-4, y+3).L(cx-half, y-3).L(cx+half, y-3).L(cx+half+4, y+3).Z(), 0.35)
}

// dial is a dial gauge with its stem down to x, y and its needle turned by a
// share of a turn.
func (s *sketch) dial(cx, cy, x, y, turn float64) {
	s.line(pen.Line(cx, cy, x, y), heavy)
	s.body(pen.Circle(cx, cy, 12))
	for i := range 12 {
		a := 2 * math.Pi * float64(i) / 12
		s.quiet(pen.Line(cx+10*math.Cos(a), cy+10*math.Sin(a), cx+11.5*math.Cos(a), cy+11.5*math.Sin(a)), fine)
	}
	a := 2*math.Pi*turn - math.Pi/2
	s.mark(pen.Line(cx, cy, cx+9*math.Cos(a), cy+9*math.Sin(a)), medium)
}

// rule is a rule with its divisions, standing or lying.
func (s *sketch) rule(x0, y0, x1, y1 float64) {
	if x0 == x1 {
		s.tinted(pen.Rect(x0, y0, 9, y1-y0), 0.06)
		for i := 0; float64(i)*4 < y1-y0; i++ {
			l := 3.0
			if i%5 == 0 {
				l = 6
			}
			s.quiet(pen.Line(x0, y0+float64(i)*4, x0+l, y0+float64(i)*4), fine)
		}
		return
	}
	s.tinted(pen.Rect(x0, y0, x1-x0, 9), 0.06)
	for i := 0; float64(i)*4 < x1-x0; i++ {
		l := 3.0
		if i%5 == 0 {
			l = 6
		}
		s.quiet(pen.Line(x0+float64(i)*4, y0, x0+float64(i)*4, y0+l), fine)
	}
}

// jag is a crack from one place to another.
func (s *sketch) jag(x1, y1, x2, y2 float64) {
	p := new(pen.Path).M(x1, y1)
	const n = 6
	dx, dy := (x2-x1)/n, (y2-y1)/n
	for i := 1; i <= n; i++ {
		side := 0.45
		if i%2 == 0 {
			side = -0.45
		}
		if i == n {
			side = 0
		}
		p.L(x1+dx*float64(i)-dy*side, y1+dy*float64(i)+dx*side)
	}
	s.mark(p, medium)
}

// thread is the saw-toothed edge of a bolt between two heights; torn teeth are
// drawn flat.
func (s *sketch) thread(x, y0, y1, depth float64, torn func(i int) bool) {
	p := new(pen.Path).M(x, y0)
	i := 0
	for y := y0; y+4 <= y1; y, i = y+4, i+1 {
		if torn(i) {
			s.mark(new(pen.Path).M(x, y).L(x+depth*0.25, y+1.4).L(x+depth*0.1, y+2.6).L(x, y+4), medium)
			p.L(x, y+4)
			p.M(x, y+4)
			continue
		}
		p.L(x+depth, y+2).L(x, y+4)
	}
	s.line(p, medium)
}

func none(int) bool { return false }

// spots scatters n places evenly and always the same.
func spots(n int, do func(i int, u, v float64)) {
	for i := range n {
		u := math.Mod(0.5+float64(i)*0.7548776662, 1) // a plastic-number sequence fills a square evenly
		v := math.Mod(0.5+float64(i)*0.5698402910, 1)
		do(i, u, v)
	}
}
