package figure

import (
	"math"

	"forkwear/ui/forkdraw/pen"
)

var springFigures = []figure{
	{"bubbles", false, bubbles}, {"o_ring", false, oRing}, {"bumper", false, bumper}, {"coil_rub", false, coilRub}, {"coil_guide", false, coilGuide},
	{"rust", false, rust}, {"transfer", false, transfer},
	{"pressure", true, pressure}, {"spacers", true, spacers}, {"coil_length", true, coilLength}, {"preload", true, preload}, {"knock", true, knock},
}

func bubbles(s *sketch) {
	s.tinted(pen.RoundRect(30, 40, 60, 42, 4), 0.12)
	s.tinted(pen.Rect(52, 22, 16, 18), 0.25)
	s.thread(68, 22, 40, 3, none)
	s.thread(52, 22, 40, -3, none)
	s.tinted(pen.Rect(57, 16, 6, 6), 0.5)
	s.quiet(new(pen.Path).M(40, 40).C(50, 34, 70, 34, 80, 40), fine) // soapy water
	if s.wear > 0.3 {
		for i, q := range [][3]float64{{60, 9, 6}, {70, 14, 4}, {51, 14, 3}, {66, 3, 2.5}} {
			if float64(i) <= 4*s.wear {
				s.mark(pen.Circle(q[0], q[1], q[2]), medium)
			}
		}
	}
}

// oRing in section between two walls: round, or flat all round.
func oRing(s *sketch) {
	s.tinted(new(pen.Path).M(2, 20).L(38, 20).L(38, 40).L(82, 40).L(82, 20).L(118, 20).L(118, 2).L(2, 2).Z(), 0.15)
	s.tinted(pen.Rect(2, 64, 116, 18), 0.15)
	f := 0.5 * math.Min(1.2, s.wear)
	rx, ry := 15+6*f, 16-4*f
	cy := 60 - ry*0.75
	p := new(pen.Path)
	for i := range 72 { // between a circle and a box
		a := 2 * math.Pi * float64(i) / 72
		n := 1 / (1 + 1.6*f)
		x := math.Copysign(rx*math.Pow(math.Abs(math.Cos(a)), n), math.Cos(a))
		y := math.Copysign(ry*math.Pow(math.Abs(math.Sin(a)), n), math.Sin(a))
		p.L(60+x, cy+3+y)
	}
	s.tinted(p.Z(), 0.55)
	if s.wear > 0.5 {
		s.mark(pen.Line(60-rx*0.8, cy+3+ry, 60+rx*0.8, cy+3+ry), heavy)
	}
}

func bumper(s *sketch) {
	low := 10 * math.Min(1, s.wear)
	s.tinted(pen.RoundRect(30, 18+low, 60, 16, 8), 0.35)
	s.tinted(pen.RoundRect(26, 32+low, 68, 18, 9), 0.35)
	s.tinted(pen.RoundRect(30, 48+low*0.6, 60, 18-low*0.4, 8), 0.35)
	s.tinted(pen.Rect(20, 66, 80, 10), 0.12)
	s.line(pen.Line(60, 4, 60, 18+low), heavy)
	if s.wear > 0.3 {
		s.jag(40, 32+low, 46, 50+low)
		if s.wear > 0.7 {
			s.jag(80, 20+low, 74, 48+low)
		}
	}
}

// turns draws a standing coil between two heights.
func (s *sketch) turns(x0, x1, y0, y1 float64, n int) {
	d := (y1 - y0) / float64(n)
	for i := range n {
		y := y0 + float64(i)*d
		s.quiet(pen.Line(x1, y+d*0.5, x0, y+d), medium)
	}
	for i := range n {
		y := y0 + float64(i)*d
		p := new(pen.Path).M(x0, y).L(x1, y+d*0.5)
		s.p.Stroke(p, 4.6*s.px, s.pal.Ink)
		s.p.Stroke(p, 2*s.px, s.pal.Panel)
	}
}

func coilRub(s *sketch) {
	s.turns(40, 80, 8, 78, 7)
	if s.wear > 0.3 {
		for i := range 5 {
			y := 18 + float64(i)*10.0
			s.mark(pen.Line(74, y+2, 82, y+4), heavy)
		}
		s.dash(pen.Line(86, 6, 86, 78))
	}
}

func coilGuide(s *sketch) {
	s.tinted(pen.RoundRect(44, 4, 32, 76, 3), 0.15)
	s.turns(36, 84, 8, 78, 6)
	if s.wear > 0.3 {
		h := pen.Ellipse(60, 44, 8, 14*math.Min(1, s.wear))
		s.p.Fill(h, s.pal.Panel)
		s.found(h, 0.35)
		s.mark(h, medium)
	}
}

func rust(s *sketch) {
	s.tinted(pen.Regular(6, 36, 42, 24, 0), 0.12)
	s.body(pen.Circle(36, 42, 11))
	s.turns(74, 108, 10, 76, 5)
	n := int(math.Round(14 * math.Min(1.2, s.wear)))
	spots(n, func(i int, u, v float64) {
		x, y := 18+36*u, 24+36*v
		if i%2 == 1 {
			x, y = 76+30*u, 14+58*v
		}
		b := pen.Ellipse(x, y, 3.2, 2.4)
		s.found(b, 0.6)
		s.mark(b, fine)
	})
}

// transfer: the dimple where the two chambers equalise.
func transfer(s *sketch) {
	s.tinted(pen.Rect(4, 10, 112, 10), 0.2)
	s.tinted(new(pen.Path).M(4, 64).L(46, 64).C(50, 74, 70, 74, 74, 64).L(116, 64).L(116, 78).L(4, 78).Z(), 0.2)
	s.tinted(pen.RoundRect(50, 22, 20, 40, 2), 0.3)
	s.tinted(pen.Circle(60, 61, 4), 0.7)
	if s.wear < 0.5 {
		s.p.Stroke(new(pen.Path).M(38, 52).C(46, 62, 50, 70, 60, 70).C(70, 70, 74, 62, 82, 54), medium*s.px, s.pal.Accent)
		s.head(74, 62, 83, 52)
		return
	}
	plug := new(pen.Path).M(48, 65).C(52, 73, 68, 73, 72, 65).Z()
	s.found(plug, 0.7)
	s.mark(plug, medium)
}

func pressure(s *sketch) {
	s.body(pen.Circle(42, 36, 30))
	for i := range 11 {
		a := math.Pi*0.75 + 1.5*math.Pi*float64(i)/10
		s.quiet(pen.Line(42+25*math.Cos(a), 36+25*math.Sin(a), 42+29*math.Cos(a), 36+29*math.Sin(a)), fine)
	}
	a := math.Pi * 1.75
	s.mark(pen.Line(42, 36, 42+23*math.Cos(a), 36+23*math.Sin(a)), heavy)
	s.tinted(pen.Circle(42, 36, 3), 0.8)
	s.line(new(pen.Path).M(42, 66).C(42, 84, 90, 84, 94, 60), heavy)
	s.tinted(pen.Rect(88, 40, 12, 20), 0.25)
	s.tinted(pen.RoundRect(80, 22, 28, 18, 3), 0.12)
}

func spacers(s *sketch) {
	s.tinted(pen.Rect(34, 6, 52, 14), 0.2)
	s.tinted(pen.Regular(6, 60, 13, 7, 0), 0.4)
	for i := range 3 {
		s.tinted(pen.RoundRect(42, 24+float64(i)*17, 36, 14, 3), 0.12)
		s.line(pen.Line(60, 38+float64(i)*17, 60, 41+float64(i)*17), heavy)
	}
	s.both(100, 24, 100, 74)
}

func coilLength(s *sketch) {
	s.turns(38, 70, 12, 72, 7)
	s.line(pen.Line(20, 74, 110, 74), heavy)
	s.rule(86, 10, 86, 74)
	s.dash(pen.Line(34, 10, 86, 10))
}

func preload(s *sketch) {
	s.turns(44, 76, 38, 82, 4)
	s.tinted(pen.Rect(38, 30, 44, 7), 0.3)
	s.tinted(pen.Rect(52, 18, 16, 12), 0.2)
	s.tinted(pen.RoundRect(38, 4, 44, 14, 4), 0.2)
	s.p.Stroke(new(pen.Path).Arc(60, 11, 44, 9, 0.3, math.Pi-0.3), medium*s.px, s.pal.Accent)
	s.head(30, 21, 17, 13)
}

func knock(s *sketch) {
	s.upright(50, 70, 4, 46)
	s.collar(60, 10, 40)
	s.arrow(24, 24, 24, 64)
	s.arrow(96, 64, 96, 24)
	s.quiet(new(pen.Path).M(84, 10).L(90, 4).M(86, 16).L(94, 14).M(34, 10).L(28, 4), medium)
}
