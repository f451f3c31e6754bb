package figure

import (
	"math"

	"forkwear/ui/forkdraw/pen"
)

var sealFigures = []figure{
	{"weep", false, weep}, {"lip", false, lip}, {"square", false, square}, {"garter", false, garter}, {"dry", false, dry},
	{"rubber", false, rubber}, {"foam", false, foam}, {"scale", true, springScale},
}

// weep: what stands on the tube after the second wipe.
func weep(s *sketch) {
	s.upright(44, 76, 2, 50)
	s.collar(60, 16, 46)
	switch w := s.wear; {
	case w < 0.2:
	case w < 0.7:
		s.wet(pen.Rect(44, 37, 32, 4), 0.5)
	default:
		s.wet(pen.RoundRect(43, 34, 34, 8, 4), 0.85)
		s.mark(pen.RoundRect(43, 34, 34, 8, 4), fine)
		if w > 1.2 {
			s.drop(70, 60, 5)
			s.drop(66, 74, 4)
		}
	}
}

// lip in section: its edge runs on the tube at the left.
func lip(s *sketch) {
	s.lipSection(0, s.wear)
}

// lipSection is a wiper cut open; up lifts it.
func (s *sketch) lipSection(up, wear float64) {
	s.upright(8, 40, 2, 82)
	r := 6 * math.Min(1, wear)
	p := new(pen.Path).M(40.5, 26-up)
	p.C(44, 28-up, 56, 34-up, 60, 40-up).L(92, 40-up).L(92, 70-up).L(66, 70-up).L(66, 56-up).C(56, 52-up, 50, 46-up, 40.5+r, 30-up+r).Z()
	s.tinted(p, 0.35)
	s.tinted(pen.Rect(72, 46-up, 20, 24), 0.1) // its metal case
	s.body(pen.Circle(58, 37-up, 2.6))
	if wear > 0.3 {
		nick := new(pen.Path).M(40, 24-up).L(48, 30-up).L(44, 35-up).L(40+r, 32-up).Z()
		s.p.Fill(nick, s.pal.Panel)
		s.mark(new(pen.Path).M(41, 25-up).L(47, 30-up).L(44, 34-up), heavy)
	}
}

func square(s *sketch) {
	tilt := 0.0
	if s.wear > 0.3 {
		tilt = 6 * math.Min(1.2, s.wear)
	}
	s.upright(44, 76, 2, 44)
	s.body(pen.RoundRect(32, 54, 56, 30, 3))
	s.tinted(new(pen.Path).M(34, 54).L(34, 48-tilt).L(86, 48+tilt*0.5).L(86, 54).Z(), 0.45)
	s.tinted(new(pen.Path).M(38, 48-tilt).L(44, 41-tilt).L(76, 41).L(82, 48+tilt*0.4).Z(), 0.3)
	if tilt > 0 {
		s.mark(pen.Line(28, 53, 28, 48-tilt), heavy)
		s.mark(pen.Line(92, 53, 92, 49+tilt*0.5), heavy)
	}
}

func garter(s *sketch) {
	s.lipSection(0, 0)
	groove := pen.Circle(58, 37, 4.4)
	s.p.Fill(groove, s.pal.Panel)
	s.line(groove, fine)
	if s.wear < 0.3 {
		s.tinted(pen.Circle(58, 37, 3.2), 0.75)
		return
	}
	s.mark(pen.Circle(58, 37, 4.6), medium)
	p := new(pen.Path).M(62, 22) // jumped out
	for i := range 9 {
		x := 62 + float64(i)*5
		p.C(x+1, 12, x+4, 12, x+5, 22)
	}
	s.mark(p, medium)
}

func dry(s *sketch) {
	s.lipSection(0, 0)
	if s.wear < 0.5 {
		s.wet(new(pen.Path).M(40.5, 30).C(46, 44, 54, 52, 64, 56).L(64, 62).L(41, 62).Z(), 0.7)
		return
	}
	s.mark(new(pen.Path).M(42, 32).C(48, 44, 56, 50, 64, 55), medium)
}

// rubber bent: soft, or cracked with age.
func rubber(s *sketch) {
	ring := new(pen.Path).Arc(60, 92, 54, 62, math.Pi*1.12, math.Pi*1.88)
	inner := new(pen.Path).Arc(60, 92, 38, 44, math.Pi*1.88, math.Pi*1.12)
	s.tinted(ring.Add(inner), 0)
	band := new(pen.Path).Arc(60, 92, 54, 62, math.Pi*1.12, math.Pi*1.88).Arc(60, 92, 38, 44, math.Pi*1.88, math.Pi*1.12).Z()
	s.tinted(band, 0.4)
	n := int(math.Round(7 * s.wear))
	for i := range n {
		a := math.Pi * (1.2 + 0.6*(float64(i)+0.5)/float64(max(n, 1)))
		s.jag(60+53*math.Cos(a), 92+61*math.Sin(a), 60+46*math.Cos(a), 92+53*math.Sin(a))
	}
	s.arrow(14, 26, 22, 44)
	s.arrow(106, 26, 98, 44)
}

func foam(s *sketch) {
	ring := pen.Ellipse(60, 44, 46, 28)
	s.tinted(ring, 0.12)
	s.p.Fill(ring, faded(soot, 0.8*math.Min(1, s.wear)))
	s.line(ring, medium)
	s.body(pen.Ellipse(60, 42, 28, 15))
	spots(26, func(i int, u, v float64) {
		a, r := 2*math.Pi*u, 0.68+0.26*v
		x, y := 60+46*r*math.Cos(a), 44+28*r*math.Sin(a)
		if math.Hypot((x-60)/30, (y-42)/17) < 1 {
			return
		}
		if s.wear < 0.5 {
			s.wet(pen.Circle(x, y, 2.4), 0.75)
		} else {
			s.p.Fill(pen.Circle(x, y, 1.6), faded(oil, 0.35))
		}
	})
	if s.wear > 0.8 {
		gap := new(pen.Path).M(84, 20).L(92, 26).L(84, 36).L(78, 31).Z()
		s.p.Fill(gap, s.pal.Panel)
		s.mark(new(pen.Path).M(84, 20).L(80, 25).L(83, 28).L(78, 31), medium)
		s.mark(new(pen.Path).M(92, 26).L(88, 29).L(89, 33).L(84, 36), medium)
	}
}

// springScale: pulled slowly at the axle.
func springScale(s *sketch) {
	s.upright(20, 34, 2, 40)
	s.upright(60, 74, 2, 40)
	s.tinted(pen.RoundRect(12, 2, 70, 8, 3), 0.16)
	s.tinted(pen.RoundRect(16, 30, 22, 36, 4), 0.1)
	s.tinted(pen.RoundRect(56, 30, 22, 36, 4), 0.1)
	s.line(pen.Line(10, 62, 84, 62), heavy)
	s.line(new(pen.Path).M(47, 62).C(47, 70, 60, 70, 70, 70), medium)
	s.body(pen.RoundRect(70, 62, 30, 16, 4))
	for i := range 6 {
		s.quiet(pen.Line(75+float64(i)*4, 64, 75+float64(i)*4, 69), fine)
	}
	s.mark(pen.Line(87, 64, 87, 76), medium)
	s.arrow(100, 70, 116, 70)
}
