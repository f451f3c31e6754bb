package figure

import (
	"math"

	"forkwear/ui/forkdraw/pen"
)

var damperFigures = []figure{
	{"shaft", false, shaft}, {"seal_head", false, sealHead}, {"fluid", false, fluid}, {"glitter", false, glitter}, {"water", false, water},
	{"boot", false, boot}, {"bore", false, bore}, {"shims", false, shims},
	{"stroke", true, stroke}, {"overnight", true, overnight}, {"depth", true, depth}, {"oil_height", true, oilHeight}, {"cup", true, cup},
}

// shaft: a dull band, then lines that a nail feels.
func shaft(s *sketch) {
	s.lying(6, 96, 32, 52)
	s.tinted(pen.RoundRect(92, 26, 22, 32, 3), 0.25)
	for i := range 4 {
		s.quiet(pen.Line(96+float64(i)*4, 28, 96+float64(i)*4, 56), fine)
	}
	if s.wear < 0.2 {
		s.quiet(pen.Line(14, 37, 84, 37), fine)
		return
	}
	s.p.Fill(pen.Rect(26, 32, 44, 20), faded(s.pal.Ink, 0.16))
	n := int(math.Round(4 * s.wear))
	for i := range n {
		y := 36 + 14*(float64(i)+0.5)/float64(n)
		s.mark(pen.Line(28+float64(i%2)*4, y, 66-float64(i%3)*5, y+0.8), medium)
	}
}

// sealHead: oil on the shaft where it leaves its head.
func sealHead(s *sketch) {
	s.upright(52, 68, 30, 82)
	s.tinted(pen.RoundRect(36, 4, 48, 12, 3), 0.12)
	s.tinted(pen.RoundRect(40, 16, 40, 18, 2), 0.25)
	s.line(pen.Line(40, 22, 80, 22), fine)
	s.line(pen.Line(40, 28, 80, 28), fine)
	switch {
	case s.wear < 0.2:
	case s.wear < 0.7:
		s.wet(pen.Rect(52, 34, 16, 10), 0.4)
	default:
		s.wet(pen.Rect(52, 34, 16, 40), 0.45)
		s.wet(pen.RoundRect(49, 34, 22, 6, 3), 0.9)
		s.mark(pen.RoundRect(49, 34, 22, 6, 3), fine)
		if s.wear > 1.2 {
			s.drop(60, 78, 4)
		}
	}
}

// glass is a white cup from the side, filled to a height.
func (s *sketch) glass(y float64) {
	s.body(new(pen.Path).M(26, 10).L(94, 10).L(86, 78).L(34, 78).Z())
	l := (y - 10) / 68 * 8
	s.p.Fill(new(pen.Path).M(26+l, y).L(94-l, y).L(86, 78).L(34, 78).Z(), s.pal.Panel)
	s.line(new(pen.Path).M(26, 10).L(34, 78).L(86, 78).L(94, 10), heavy)
}

func (s *sketch) filled(y float64) *pen.Path {
	l := (y - 10) / 68 * 8
	return new(pen.Path).M(27+l, y).L(93-l, y).L(85.4, 77).L(34.6, 77).Z()
}

// fluid: clear, then cloudy, then black with foam.
func fluid(s *sketch) {
	s.glass(28)
	s.wet(s.filled(28), 0.35+0.5*math.Min(1, s.wear))
	s.p.Fill(s.filled(28), faded(soot, 0.75*math.Min(1, s.wear)))
	s.line(pen.Line(29, 28, 91, 28), fine)
	if s.wear < 0.5 {
		s.quiet(pen.Line(44, 38, 47, 66), fine) // light goes through
		s.quiet(pen.Line(50, 38, 52, 56), fine)
		return
	}
	spots(int(10*s.wear), func(_ int, u, v float64) { s.body(pen.Circle(34+52*u, 24+5*v, 2+1.5*v)) })
}

func glitter(s *sketch) {
	s.glass(28)
	s.wet(s.filled(28), 0.45)
	if s.wear > 0.3 {
		spots(int(26*s.wear), func(i int, u, v float64) {
			x, y := 40+40*u, 34+38*v
			s.mark(new(pen.Path).M(x-1.6, y).L(x+1.6, y).M(x, y-1.6).L(x, y+1.6), fine)
		})
	}
	s.tinted(pen.Rect(48, 79, 24, 5), 0.5)
}

func water(s *sketch) {
	s.glass(28)
	s.wet(s.filled(28), 0.45)
	if s.wear > 0.3 {
		s.p.Fill(s.filled(28), faded(s.pal.Panel, 0.5)) // milky
		s.p.Fill(s.filled(62), faded(s.pal.Reuse, 0.5))
		s.mark(pen.Line(33, 62, 87, 62), medium)
		for _, q := range [][2]float64{{48, 50}, {66, 44}, {74, 55}} {
			s.p.Fill(pen.Circle(q[0], q[1], 3), faded(s.pal.Reuse, 0.6))
		}
	}
}

// boot: full and round, or flat with air where oil should be.
func boot(s *sketch) {
	s.tinted(pen.RoundRect(6, 28, 14, 28, 2), 0.25)
	s.tinted(pen.RoundRect(100, 28, 14, 28, 2), 0.25)
	flat := 17 * math.Min(1.2, s.wear)
	p := new(pen.Path).M(20, 30).C(34, 18, 44, 16, 60, 16+flat).C(76, 16, 86, 18, 100, 30).L(100, 54)
	p.C(86, 66, 76, 68, 60, 68-flat*0.3).C(44, 68, 34, 66, 20, 54).Z()
	s.tinted(p, 0.22)
	if s.wear > 0.3 {
		s.mark(new(pen.Path).M(36, 19).C(46, 16, 50, 16, 60, 16+flat).C(70, 16, 74, 16, 84, 19), heavy)
	}
	for _, x := range []float64{32, 88} {
		s.quiet(pen.Line(x, 26, x, 58), fine)
	}
}

// bore: along the inside, with the lamp from the front.
func bore(s *sketch) {
	s.tinted(pen.Circle(60, 42, 39), 0.12)
	s.body(pen.Circle(60, 42, 31))
	s.quiet(pen.Circle(60, 42, 20), fine)
	s.tinted(pen.Circle(60, 42, 10), 0.7)
	if s.wear < 0.2 {
		return
	}
	n := int(math.Round(1 + 4*s.wear))
	for i := range n {
		a := 0.5 + 0.22*float64(i)
		s.mark(pen.Line(60+11*math.Cos(a), 42+11*math.Sin(a), 60+(24+6*s.wear)*math.Cos(a), 42+(24+6*s.wear)*math.Sin(a)), medium)
	}
}

// shims: a flat stack under its piston with a sharp ring, or a bent shim and a
// ring worn round.
func shims(s *sketch) {
	s.line(pen.Line(60, 4, 60, 80), heavy)
	s.tinted(pen.RoundRect(26, 14, 68, 22, 2), 0.18)
	r := 5 * math.Min(1, s.wear)
	s.tinted(pen.RoundRect(20, 19, 6, 12, r), 0.6)
	s.tinted(pen.RoundRect(94, 19, 6, 12, r), 0.6)
	for i, h := range []float64{32, 27, 22, 17} {
		y := 41 + float64(i)*7
		if i == 0 && s.wear > 0.5 {
			s.mark(new(pen.Path).M(60-h, y).L(60, y).C(70, y, 80, y+2, 60+h, y+9*s.wear), heavy)
			continue
		}
		s.line(pen.Line(60-h, y, 60+h, y), heavy)
	}
	if s.wear > 0.5 {
		s.mark(pen.RoundRect(94, 19, 6, 12, r), medium)
	}
}

// stroke: slowly, both ways, from the first millimetre.
func stroke(s *sketch) {
	s.tinted(pen.RoundRect(46, 4, 28, 44, 4), 0.15)
	s.line(pen.Rect(49, 20, 22, 6), medium)
	s.upright(56, 64, 26, 70)
	s.tinted(pen.RoundRect(48, 70, 24, 8, 3), 0.3)
	s.both(90, 30, 90, 74)
	s.quiet(new(pen.Path).Arc(24, 38, 8, 10, -0.9, 0.9), fine) // heard
	s.quiet(new(pen.Path).Arc(20, 38, 16, 18, -0.8, 0.8), fine)
}

func overnight(s *sketch) {
	s.body(new(pen.Path).M(8, 56).L(98, 56).L(114, 78).L(2, 78).Z())
	s.tinted(pen.RoundRect(14, 42, 12, 22, 2), 0.25)
	s.tinted(new(pen.Path).M(26, 44).C(44, 34, 66, 34, 84, 44).L(84, 62).C(66, 72, 44, 72, 26, 62).Z(), 0.22)
	s.tinted(pen.RoundRect(84, 42, 12, 22, 2), 0.25)
	s.line(new(pen.Path).Arc(98, 18, 11, 11, math.Pi*0.65, math.Pi*1.9).Arc(103, 14, 10, 10, math.Pi*1.75, math.Pi*0.75).Z(), medium)
}

func depth(s *sketch) {
	s.tinted(pen.Rect(34, 22, 8, 62), 0.15)
	s.tinted(pen.Rect(78, 22, 8, 62), 0.15)
	s.tinted(pen.Rect(42, 58, 36, 14), 0.4)
	s.tinted(pen.RoundRect(28, 14, 64, 8, 2), 0.25)
	s.line(pen.Line(60, 2, 60, 58), heavy)
	s.both(100, 22, 100, 58)
	s.dash(pen.Line(86, 58, 106, 58))
}

func oilHeight(s *sketch) {
	s.tinted(pen.Rect(36, 14, 7, 70), 0.15)
	s.tinted(pen.Rect(77, 14, 7, 70), 0.15)
	s.wet(pen.Rect(43, 46, 34, 38), 0.55)
	s.line(pen.Line(43, 46, 77, 46), medium)
	s.upright(56, 64, 50, 84)
	s.rule(47, 6, 47, 50)
	s.both(98, 14, 98, 46)
	s.dash(pen.Line(84, 14, 104, 14))
	s.dash(pen.Line(84, 46, 104, 46))
}

// cup: what comes out, into a cup with marks.
func cup(s *sketch) {
	s.glass(40)
	s.wet(s.filled(40), 0.55)
	s.line(pen.Line(30, 40, 90, 40), fine)
	for i := range 5 {
		y := 70 - float64(i)*11
		s.line(pen.Line(76, y, 84, y), fine)
	}
	s.drop(58, 24, 4)
	s.arrow(106, 14, 106, 38)
}
