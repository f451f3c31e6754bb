package figure

import (
	"math"

	"forkwear/ui/forkdraw/pen"
)

var bushingFigures = []figure{
	{"rock", false, rock}, {"bushing", false, bushing}, {"polish", false, polish}, {"polish_load", false, polishLoad}, {"seated", false, seated},
	{"two_forces", true, twoForces}, {"slide", true, slide}, {"bore_gauge", true, boreGauge},
}

// rock: finger on seal and tube while the fork is rocked; the gap opens.
func rock(s *sketch) {
	tilt := 5 * math.Min(1.4, s.wear)
	tube := new(pen.Path).M(50-tilt, 2).L(76-tilt, 2).L(76+tilt*0.6, 82).L(50+tilt*0.6, 82).Z()
	s.body(pen.RoundRect(36, 40, 54, 44, 3))
	s.p.Fill(pen.Rect(49, 40, 28, 44), s.pal.Panel)
	s.body(tube)
	s.tinted(pen.Rect(40, 46, 9, 12), 0.5)
	s.tinted(pen.Rect(77, 46, 9, 12), 0.5)
	if s.wear > 0.2 {
		s.found(new(pen.Path).M(77, 40).L(77, 60).L(76-tilt*0.1, 60).L(76-tilt*0.5, 40).Z(), 0.75)
		s.mark(pen.Line(77, 40, 77, 60), medium)
	}
	s.both(30, 14, 96-tilt, 14)
}

// bushing in section: sliding layer on its backing.
func bushing(s *sketch) {
	left := 12 * math.Max(0, 1-s.wear)
	s.tinted(pen.Rect(70, 4, 34, 76), 0.1) // the lowers
	s.tinted(pen.Rect(52, 10, 18, 64), 0.45)
	layer := pen.Rect(52-left, 10, left, 64)
	if left > 0.5 {
		s.tinted(layer, 0.18)
		spots(22, func(_ int, u, v float64) { s.p.Fill(pen.Circle(52-left*u, 13+58*v, 0.9), faded(s.pal.Ink, 0.6)) })
	}
	if s.wear >= 0.7 {
		s.mark(pen.Line(52, 18, 52, 64), heavy)
		for i := range 5 {
			y := 24 + float64(i)*8
			s.mark(pen.Line(52, y, 57, y+3), fine)
		}
	}
	s.upright(12, 38, 2, 82)
}

// places draws the two bushings of a leg, unrolled: front, side, back, side.
func (s *sketch) places(shine func(row, col int) float64) {
	for row := range 2 {
		for col := range 4 {
			x, y := 8+float64(col)*26.5, 10+float64(row)*38.0
			s.tinted(pen.Rect(x, y, 24, 28), 0.22)
			if g := shine(row, col); g > 0 {
				e := pen.Ellipse(x+12, y+14, 9, 10*g)
				s.p.Fill(e, s.pal.Panel)
				s.mark(e, medium)
			}
		}
	}
}

func polish(s *sketch) {
	s.places(func(_, col int) float64 {
		if col == 1 && s.wear > 0.3 {
			return math.Min(1, s.wear)
		}
		return 0
	})
}

func polishLoad(s *sketch) {
	s.places(func(row, col int) float64 {
		if s.wear > 0.3 && (row == 0 && col == 0 || row == 1 && col == 2) {
			return math.Min(1, s.wear)
		}
		return 0
	})
}

func seated(s *sketch) {
	s.tinted(pen.Rect(22, 2, 18, 80), 0.1)
	s.tinted(pen.Rect(80, 2, 18, 80), 0.1)
	crept := 0.0
	if s.wear > 0.3 {
		crept = 14 * math.Min(1.2, s.wear)
	}
	s.dash(pen.Line(16, 26, 104, 26))
	s.tinted(pen.Rect(40, 26, 7, 30), 0.5)
	s.tinted(pen.Rect(73, 26+crept, 7, 30), 0.5)
	if crept > 0 {
		s.mark(pen.Rect(73, 26+crept, 7, 30), medium)
		s.arrow(62, 26, 62, 26+crept+10)
	}
}

// twoForces: a dial gauge at the seal, rocked with F and with 2 F.
func twoForces(s *sketch) {
	s.upright(30, 54, 2, 46)
	s.collar(42, 12, 42)
	s.dial(92, 32, 54, 32, 0.2)
	s.line(new(pen.Path).M(92, 44).L(92, 62).L(64, 62), medium)
	s.arrow(2, 10, 24, 10)
	s.arrow(2, 22, 24, 22)
	s.arrow(2, 26, 24, 26)
}

// slide: lifted and let go, the lowers come down by themselves.
func slide(s *sketch) {
	s.tinted(pen.RoundRect(30, 2, 60, 8, 3), 0.16)
	s.upright(38, 50, 10, 60)
	s.upright(70, 82, 10, 60)
	s.tinted(pen.RoundRect(32, 36, 24, 40, 4), 0.08)
	s.tinted(pen.RoundRect(64, 36, 24, 40, 4), 0.08)
	s.line(new(pen.Path).M(36, 37).C(40, 22, 80, 22, 84, 37), heavy)
	s.dash(pen.Line(26, 74, 94, 74))
	s.arrow(102, 34, 102, 72)
}

func boreGauge(s *sketch) {
	s.tinted(pen.Circle(60, 42, 38), 0.1)
	s.tinted(pen.Circle(60, 42, 29), 0.45)
	s.body(pen.Circle(60, 42, 24))
	for i := range 3 {
		a := -math.Pi/2 + 2*math.Pi*float64(i)/3
		s.line(pen.Line(60+8*math.Cos(a), 42+8*math.Sin(a), 60+23*math.Cos(a), 42+23*math.Sin(a)), heavy)
		s.head(60, 42, 60+24*math.Cos(a), 42+24*math.Sin(a))
	}
	s.tinted(pen.Circle(60, 42, 8), 0.2)
}
