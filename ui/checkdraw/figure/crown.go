package figure

import (
	"math"

	"forkwear/ui/forkdraw/pen"
)

var crownFigures = []figure{
	{"crown_crack", false, crownCrack}, {"crown_gap", false, crownGap}, {"race", false, race}, {"steerer", false, steerer}, {"clamp", false, clamp},
	{"knob", false, knob}, {"needle", false, needle}, {"cable", false, cable},
	{"twist", true, twist}, {"headset", true, headset}, {"heights", true, heights}, {"clicks", true, clicks}, {"lock", true, lock},
	{"rebound", true, rebound},
}

// crown from the front with its steerer; the tubes end in it. gap lifts one
// tube, lean turns the steerer.
func (s *sketch) crown(gap, lean float64) {
	s.upright(16, 36, 54+gap, 84)
	s.upright(84, 104, 54, 84)
	st := new(pen.Path).M(50, 40).L(50+lean, 2).L(70+lean, 2).L(70, 40).Z()
	s.body(st)
	p := new(pen.Path).M(10, 54).L(10, 42).C(30, 40, 40, 32, 48, 30).L(72, 30).C(80, 32, 90, 40, 110, 42).L(110, 58).L(80, 58).C(70, 50, 50, 50, 40, 58).L(10, 58).Z()
	s.tinted(p, 0.14)
}

func crownCrack(s *sketch) {
	s.crown(0, 0)
	if s.wear > 0.3 {
		s.jag(46, 30, 58, 48)
		s.mark(pen.Circle(52, 36, 15), fine)
		return
	}
	s.dash(pen.Circle(50, 34, 13))
	s.dash(pen.Circle(26, 50, 13))
}

func crownGap(s *sketch) {
	g := 0.0
	if s.wear > 0.3 {
		g = 6 * math.Min(1.2, s.wear)
	}
	s.crown(g, g*0.8)
	if g > 0 {
		s.found(pen.Rect(12, 58, 28, g), 0.8)
		s.mark(pen.Rect(12, 58, 28, g), fine)
		s.mark(pen.Line(48, 30, 72, 30), heavy)
	}
}

func race(s *sketch) {
	s.upright(50, 70, 2, 50)
	s.tinted(pen.RoundRect(18, 54, 84, 26, 6), 0.14)
	lift := 0.0
	if s.wear > 0.3 {
		lift = 7 * math.Min(1.2, s.wear)
	}
	s.tinted(new(pen.Path).M(36, 54).L(40, 44).L(80, 44-lift).L(84, 54-lift).Z(), 0.45)
	if lift > 0 {
		s.found(new(pen.Path).M(36, 54).L(84, 54).L(84, 54-lift).Z(), 0.8)
		s.mark(new(pen.Path).M(36, 54).L(84, 54-lift), medium)
	}
}

func steerer(s *sketch) {
	s.upright(44, 76, 10, 82)
	s.line(pen.Line(44, 10, 76, 10), heavy)
	for _, y := range []float64{20, 40} {
		s.dash(pen.Line(36, y, 84, y)) // where the stem sits
	}
	if s.wear > 0.3 {
		d := new(pen.Path).M(44, 24).C(50, 28, 50, 32, 44, 36).Z()
		s.found(d, 0.8)
		s.mark(d, heavy)
		s.mark(pen.Line(58, 34, 76, 34), heavy)
	}
}

// clamp from above: its slot even, or pulled shut on one side.
func clamp(s *sketch) {
	s.tinted(pen.Circle(46, 42, 34), 0.14)
	s.body(pen.Circle(46, 42, 24))
	pinch := 0.0
	if s.wear > 0.3 {
		pinch = 5 * math.Min(1, s.wear)
	}
	slot := new(pen.Path).M(69, 38).L(104, 36+pinch*0.9).L(104, 48-pinch*0.9).L(69, 46).Z()
	s.tinted(pen.RoundRect(72, 22, 30, 15, 2), 0.14)
	s.tinted(pen.RoundRect(72, 47, 30, 15, 2), 0.14)
	s.p.Fill(slot, s.pal.Panel)
	s.line(slot, fine)
	s.tinted(pen.Rect(84, 14, 8, 56), 0.3)
	if pinch > 0 {
		s.mark(slot, heavy)
		s.jag(76, 60, 66, 70)
	}
}

func knob(s *sketch) {
	p := new(pen.Path)
	for i := range 48 {
		a, r := 2*math.Pi*float64(i)/48, 30.0
		if i%4 < 2 {
			r = 33
		}
		p.L(60+r*math.Cos(a), 42+r*math.Sin(a))
	}
	s.tinted(p.Z(), 0.14)
	off := 0.0
	if s.wear > 0.3 {
		off = 0.7
	}
	s.tinted(pen.Regular(6, 60, 42, 11, off), 0.4)
	for i := range 8 {
		a := 2 * math.Pi * float64(i) / 8
		if s.wear > 0.3 && i > 4 {
			s.mark(new(pen.Path).Arc(60+21*math.Cos(a), 42+21*math.Sin(a), 2.6, 2.6, 0.4, 2.6), medium)
			continue
		}
		s.tinted(pen.Circle(60+21*math.Cos(a), 42+21*math.Sin(a), 2.6), 0.6)
	}
	if s.wear > 0.3 {
		s.mark(new(pen.Path).Arc(60, 42, 38, 38, -1.2, 0.4), heavy)
	}
}

func needle(s *sketch) {
	s.tinted(pen.RoundRect(4, 28, 30, 28, 4), 0.2)
	s.lying(34, 78, 34, 50)
	tip := 114.0
	if s.wear > 0.3 {
		tip = 96
	}
	s.tinted(new(pen.Path).M(78, 36).L(tip, 42-(114-tip)*0.18).L(tip, 42+(114-tip)*0.18).L(78, 48).Z(), 0.25)
	s.tinted(pen.RoundRect(66, 31, 6, 22, 3), 0.7)
	if s.wear > 0.3 {
		s.jag(96, 38, 96, 47)
	}
}

func cable(s *sketch) {
	s.tinted(pen.RoundRect(2, 30, 40, 24, 4), 0.2)
	s.line(pen.Line(42, 42, 84, 42), heavy)
	if s.wear < 0.3 {
		s.line(pen.Line(84, 42, 104, 42), heavy)
		s.tinted(pen.RoundRect(98, 37, 14, 10, 3), 0.5)
		return
	}
	for i := range 6 {
		a := (float64(i) - 2.5) * 0.2
		s.mark(new(pen.Path).M(80, 42).C(90, 42, 96, 42+10*a, 112, 42+44*a*math.Min(1, s.wear)), medium)
	}
}

// twist: wheel between the knees, the bar turned hard.
func twist(s *sketch) {
	s.crown(0, 0)
	s.p.Stroke(new(pen.Path).Arc(60, 12, 34, 8, 0.35, math.Pi-0.35), medium*s.px, s.pal.Accent)
	s.head(40, 19, 27, 14)
	s.head(80, 19, 93, 14)
	s.quiet(new(pen.Path).M(112, 34).C(117, 40, 117, 46, 112, 52), medium) // does it creak
	s.quiet(new(pen.Path).M(8, 34).C(3, 40, 3, 46, 8, 52), medium)
}

// headset: a finger over the gap while the bike is rocked.
func headset(s *sketch) {
	s.tinted(pen.RoundRect(36, 6, 48, 44, 3), 0.1)
	s.tinted(pen.RoundRect(32, 50, 56, 7, 2), 0.45)
	s.tinted(pen.RoundRect(22, 60, 76, 20, 6), 0.14)
	s.tinted(new(pen.Path).M(74, 58.5).C(84, 50, 96, 48, 119, 48).L(119, 70).C(96, 70, 84, 68, 74, 58.5).Z(), 0.06)
	s.both(4, 26, 32, 26)
}

func heights(s *sketch) {
	s.upright(24, 42, 10, 84)
	s.upright(78, 96, 16, 84)
	s.line(pen.Line(24, 10, 42, 10), heavy)
	s.line(pen.Line(78, 16, 96, 16), heavy)
	s.tinted(pen.RoundRect(10, 44, 100, 16, 5), 0.14)
	s.both(14, 11, 14, 43)
	s.both(106, 17, 106, 43)
	s.dash(pen.Line(42, 10, 100, 10))
}

func clicks(s *sketch) {
	s.tinted(pen.Circle(60, 44, 28), 0.14)
	s.line(pen.Line(60, 44, 60, 20), heavy)
	for i := range 12 {
		a := 2*math.Pi*float64(i)/12 - math.Pi/2
		s.quiet(pen.Line(60+31*math.Cos(a), 44+31*math.Sin(a), 60+35*math.Cos(a), 44+35*math.Sin(a)), medium)
	}
	s.p.Stroke(new(pen.Path).Arc(60, 44, 20, 20, -1.2, 2.6), medium*s.px, s.pal.Accent)
	s.head(47, 58, 43.5, 54)
}

// lock: closed, leant on: it holds.
func lock(s *sketch) {
	s.upright(50, 70, 14, 46)
	s.tinted(pen.RoundRect(40, 2, 40, 12, 4), 0.2)
	s.collar(60, 10, 42)
	s.arrow(96, 4, 96, 34)
	s.p.Stroke(pen.Line(86, 38, 106, 38), heavy*s.px, s.pal.Accent)
	s.tinted(pen.RoundRect(14, 32, 20, 16, 3), 0.5)
	s.line(new(pen.Path).M(18, 32).L(18, 26).C(18, 18, 30, 18, 30, 26).L(30, 32), heavy)
}

// rebound: pushed down and let go, open and closed.
func rebound(s *sketch) {
	for i, x := range []float64{30, 84} {
		s.upright(x-8, x+8, 4, 46)
		s.collar(x, 8, 40)
		s.arrow(x+18, 60, x+18, 28-14*float64(1-i))
	}
	s.line(new(pen.Path).Arc(30, 70, 6, 6, -2.6, 2.6), medium)
	s.tinted(pen.Circle(84, 70, 6), 0.6)
}
