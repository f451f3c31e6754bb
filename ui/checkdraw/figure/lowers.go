package figure

import (
	"math"

	"forkwear/ui/forkdraw/pen"
)

var lowerFigures = []figure{
	{"lowers_crack", false, lowersCrack}, {"axle", false, axle}, {"mount", false, mount}, {"brake_oil", false, brakeOil}, {"seal_seat", false, sealSeat},
	{"foot_drip", false, footDrip}, {"paint", false, paint}, {"washer", false, washer}, {"foot_thread", false, footThread}, {"paint_mark", false, paintMark},
	{"hex", false, hex}, {"trapped", true, trapped}, {"squeeze", true, squeeze}, {"centred", true, centred}, {"lamp_inside", true, lampInside},
}

// arch is the lowers from the front.
func (s *sketch) arch() {
	p := new(pen.Path).M(18, 82).L(18, 34).C(18, 8, 40, 4, 60, 4).C(80, 4, 102, 8, 102, 34).L(102, 82).L(84, 82).L(84, 36)
	p.C(84, 22, 74, 18, 60, 18).C(46, 18, 36, 22, 36, 36).L(36, 82).Z()
	s.tinted(p, 0.1)
	s.line(pen.Line(18, 40, 36, 40), fine)
	s.line(pen.Line(84, 40, 102, 40), fine)
}

func lowersCrack(s *sketch) {
	s.arch()
	if s.wear > 0.3 {
		s.jag(22, 20, 36, 32)
		s.mark(pen.Circle(29, 27, 13), fine)
	} else {
		s.dash(pen.Circle(29, 27, 13))
		s.dash(pen.Circle(91, 27, 13))
	}
}

func axle(s *sketch) {
	s.lying(6, 78, 30, 54)
	s.tinted(pen.Rect(78, 33, 32, 18), 0.1)
	torn := func(i int) bool { return s.wear > 0.3 && i >= 2 && i <= 5 }
	for _, side := range []struct{ y, d float64 }{{33, -5}, {51, 5}} {
		p := new(pen.Path).M(78, side.y)
		for i := range 8 {
			x := 78 + float64(i)*4
			if torn(i) {
				p.L(x+4, side.y)
				s.mark(new(pen.Path).M(x, side.y).L(x+1.5, side.y+side.d*0.4).L(x+3, side.y+side.d*0.1).L(x+4, side.y), medium)
				continue
			}
			p.L(x+2, side.y+side.d).L(x+4, side.y)
		}
		s.line(p, medium)
	}
	s.tinted(pen.RoundRect(2, 24, 10, 36, 3), 0.25)
}

func mount(s *sketch) {
	s.tinted(new(pen.Path).M(20, 2).L(48, 2).L(48, 82).L(20, 82).Z(), 0.1)
	for _, y := range []float64{14, 50} {
		s.tinted(pen.RoundRect(48, y, 30, 20, 3), 0.16)
		s.body(pen.Rect(58, y+5, 22, 10))
		for i := range 5 {
			x := 59 + float64(i)*4
			if s.wear > 0.3 && y > 40 && i > 0 && i < 4 {
				s.mark(pen.Line(x, y+5, x+3, y+15), medium)
				continue
			}
			s.line(pen.Line(x, y+5, x+2, y+15), fine)
		}
	}
	if s.wear > 0.3 {
		s.jag(46, 48, 40, 72)
	}
}

func brakeOil(s *sketch) {
	s.tinted(pen.Circle(60, 42, 38), 0.12)
	s.body(pen.Circle(60, 42, 24))
	for i := range 12 {
		a := 2 * math.Pi * float64(i) / 12
		s.quiet(pen.Circle(60+31*math.Cos(a), 42+31*math.Sin(a), 2.4), fine)
	}
	s.tinted(pen.RoundRect(84, 26, 26, 32, 4), 0.35)
	if s.wear > 0.3 {
		smear := new(pen.Path).Arc(60, 42, 37, 37, 2.2, 3.6).Arc(60, 42, 26, 26, 3.6, 2.2).Z()
		s.wet(smear, 0.85)
		s.mark(smear, fine)
		s.drop(78, 66, 4)
	}
}

func sealSeat(s *sketch) {
	s.tinted(pen.Ellipse(60, 42, 54, 36), 0.12)
	s.tinted(pen.Ellipse(60, 42, 40, 25), 0.3)
	s.body(pen.Ellipse(60, 45, 33, 19))
	if s.wear > 0.3 {
		gouge := new(pen.Path).M(92, 26).L(100, 30).L(92, 37).L(88, 33).Z()
		s.p.Fill(gouge, s.pal.Panel)
		s.mark(gouge, heavy)
		s.jag(24, 30, 12, 22)
	}
}

func footDrip(s *sketch) {
	s.tinted(pen.RoundRect(42, 2, 36, 40, 4), 0.12)
	s.tinted(pen.Rect(46, 42, 28, 5), 0.45)
	s.tinted(pen.Rect(50, 47, 20, 11), 0.2)
	s.body(new(pen.Path).M(8, 74).L(112, 74).L(118, 82).L(2, 82).Z())
	if s.wear > 0.3 {
		s.wet(pen.RoundRect(45, 45, 30, 5, 2.5), 0.9)
		s.drop(70, 62, 4)
		s.wet(pen.Ellipse(70, 78, 13, 3), 0.85)
		s.mark(pen.Ellipse(70, 78, 13, 3), fine)
	}
}

func paint(s *sketch) {
	s.tinted(pen.RoundRect(24, 2, 72, 80, 10), 0.22)
	s.tinted(pen.Regular(6, 60, 62, 9, 0), 0.4)
	n := int(math.Round(9 * math.Min(1.3, s.wear)))
	spots(n, func(i int, u, v float64) {
		x, y := 34+50*u, 10+44*v
		b := pen.Ellipse(x, y, 3+2.5*v, 2.5+2*u)
		s.p.Fill(b, s.pal.Panel)
		s.mark(b, fine)
		if i%2 == 0 {
			s.found(b, 0.35)
		}
	})
}

// washer in section under the head of its bolt.
func washer(s *sketch) {
	s.tinted(pen.Rect(6, 4, 108, 22), 0.12)
	s.body(pen.Rect(50, 4, 20, 22))
	h := 14 - 8*math.Min(1, s.wear)
	s.tinted(pen.RoundRect(24, 26, 24, h, 3), 0.4)
	s.tinted(pen.RoundRect(72, 26, 24, h, 3), 0.4)
	s.tinted(pen.Rect(50, 4, 20, 22+h), 0.2)
	s.tinted(pen.RoundRect(20, 26+h, 80, 22, 3), 0.2)
	if s.wear > 0.5 {
		s.wet(pen.RoundRect(14, 25, 10, h+2, 3), 0.9)
		s.mark(pen.Line(28, 26+h, 44, 26+h), heavy)
		s.mark(pen.Line(76, 26+h, 92, 26+h), heavy)
		s.drop(18, 60, 4.5)
	}
}

func footThread(s *sketch) {
	s.tinted(pen.Rect(44, 20, 32, 62), 0.1)
	s.tinted(pen.RoundRect(32, 4, 56, 16, 4), 0.25)
	torn := func(i int) bool { return s.wear > 0.3 && i >= 4 && i <= 8 }
	s.thread(76, 22, 82, 6, torn)
	s.thread(44, 22, 82, -6, torn)
}

func paintMark(s *sketch) {
	turn := 0.0
	if s.wear > 0.3 {
		turn = 0.5 * math.Min(1.2, s.wear)
	}
	s.tinted(pen.RoundRect(6, 6, 108, 72, 6), 0.08)
	s.tinted(pen.Circle(60, 42, 27), 0.16)
	s.tinted(pen.Regular(6, 60, 42, 13, turn), 0.5)
	s.p.Stroke(pen.Line(87, 42, 104, 42), 6*s.px, s.pal.Accent)
	c := s.pal.Accent
	if turn > 0 {
		c = s.pal.Replace
	}
	s.p.Stroke(pen.Line(60+14*math.Cos(turn), 42+14*math.Sin(turn), 60+27*math.Cos(turn), 42+27*math.Sin(turn)), 6*s.px, c)
}

func hex(s *sketch) {
	s.tinted(pen.Circle(60, 42, 38), 0.12)
	if s.wear < 0.3 {
		s.tinted(pen.Regular(6, 60, 42, 25, 0), 0.3)
		return
	}
	p := new(pen.Path)
	for i := range 144 { // corners worn round
		a := 2 * math.Pi * float64(i) / 144
		c := math.Mod(a, math.Pi/3) - math.Pi/6
		p.L(60+math.Min(22.6/math.Cos(c), 23.6)*math.Cos(a), 42+math.Min(22.6/math.Cos(c), 23.6)*math.Sin(a))
	}
	s.tinted(p.Z(), 0.3)
	for i := range 6 {
		a := math.Pi / 3 * float64(i)
		s.mark(new(pen.Path).Arc(60, 42, 23.6, 23.6, a-0.22, a+0.22), heavy)
	}
}

// trapped: a thin strap past the wiper lets it hiss; away from the eyes.
func trapped(s *sketch) {
	s.upright(46, 72, 2, 50)
	s.collar(59, 13, 46)
	s.line(new(pen.Path).M(72.5, 66).L(73, 40).C(74, 30, 82, 26, 90, 22), heavy)
	for i := range 3 {
		y := 44 - float64(i)*7
		s.p.Stroke(new(pen.Path).M(84, y+6).C(92, y, 96, y+6, 104, y), medium*s.px, s.pal.Accent)
	}
}

func squeeze(s *sketch) {
	s.tinted(pen.RoundRect(14, 4, 18, 66, 4), 0.1)
	s.tinted(pen.RoundRect(88, 4, 18, 66, 4), 0.1)
	s.line(pen.Line(8, 60, 112, 60), heavy)
	s.tinted(pen.Rect(42, 50, 36, 20), 0.25)
	s.arrow(2, 76, 14, 64)
	s.arrow(118, 76, 106, 64)
	s.both(60, 10, 60, 44)
}

func centred(s *sketch) {
	s.arch()
	s.tinted(pen.RoundRect(48, 28, 24, 54, 10), 0.35)
	s.both(37, 56, 47, 56)
	s.both(73, 56, 83, 56)
}

func lampInside(s *sketch) {
	s.tinted(pen.Rect(34, 14, 9, 68), 0.15)
	s.tinted(pen.Rect(77, 14, 9, 68), 0.15)
	s.tinted(pen.Rect(34, 74, 52, 8), 0.15)
	s.p.Fill(new(pen.Path).M(60, 16).L(46, 73).L(74, 73).Z(), faded(s.pal.DoNotRide, 0.45))
	s.tinted(pen.RoundRect(54, 2, 12, 14, 3), 0.4)
	spots(5, func(_ int, u, v float64) { s.mark(pen.Circle(46+28*u, 66+6*v, 1.4), fine) })
}
