package figure

import (
	"math"

	"forkwear/ui/forkdraw/pen"
)

var tubeFigures = []figure{
	{"dent", false, dent}, {"scratch", false, scratch}, {"coating", false, coating}, {"pits", false, pits}, {"chips", false, chips},
	{"micrometer", true, micrometer}, {"straightedge", true, straightedge}, {"parallel", true, parallel}, {"runout", true, runout},
	{"card", true, photoCard}, {"exposed", true, exposed}, {"ring_on_tube", true, ringOnTube}, {"guard", false, guard},
}

// dent: the edge of the tube against the light.
func dent(s *sketch) {
	d := 7 * s.wear
	p := new(pen.Path).M(44, 4).L(44, 30).C(44, 36, 44+d, 36, 44+d, 42).C(44+d, 48, 44, 48, 44, 54).L(44, 80).L(76, 80).L(76, 4).Z()
	s.body(p)
	s.p.Fill(pen.Rect(69, 4, 7, 76), faded(s.pal.Ink, 0.14))
	if s.wear > 0.2 {
		s.mark(new(pen.Path).M(44, 30).C(44, 36, 44+d, 36, 44+d, 42).C(44+d, 48, 44, 48, 44, 54), heavy)
		s.quiet(new(pen.Path).M(44+d+5, 34).C(44+d+9, 40, 44+d+9, 46, 44+d+5, 52), fine)
	}
}

// scratch: a nail drawn across the mark; at the limit it catches.
func scratch(s *sketch) {
	s.upright(34, 74, 2, 82)
	l := 10 + 34*s.wear
	x := 50.0
	if s.wear < 0.2 {
		s.quiet(pen.Line(x, 42-l/2, x+1.5, 42+l/2), fine)
	} else {
		s.mark(pen.Line(x, 42-l/2, x+3, 42+l/2), heavy*math.Min(1.3, s.wear))
		for i := range 4 { // its burr
			y := 42 - l/2 + l*(0.15+0.22*float64(i))
			s.mark(pen.Line(x+3, y, x+6.5, y-2), fine)
		}
	}
	tip := x + 3.0
	if s.wear < 0.2 {
		tip = x + 9
	}
	nail := new(pen.Path).M(tip, 44).C(tip+10, 36, tip+24, 34, 112, 34).L(112, 60).C(tip+26, 60, tip+10, 54, tip, 44).Z()
	s.tinted(nail, 0.08)
	s.line(new(pen.Path).M(tip+3, 42).C(tip+10, 38, tip+16, 39, tip+20, 46).C(tip+12, 50, tip+6, 48, tip, 44), fine)
}

// coating: the band where the bushing runs.
func coating(s *sketch) {
	s.upright(36, 84, 2, 82)
	s.p.Fill(pen.Rect(36, 2, 48, 80), faded(s.pal.Ink, 0.28))
	for _, y := range []float64{16, 50} {
		s.p.Fill(pen.RoundRect(42, y, 30, 20, 6), faded(s.pal.Panel, 0.35+0.3*s.wear))
		if s.wear < 0.3 {
			continue
		}
		w := 22 * math.Min(1.2, s.wear)
		bare := new(pen.Path).M(44, y+10).C(46, y+1, 50+w, y+1, 46+w, y+8).C(52+w, y+14, 46, y+21, 44, y+10).Z()
		s.p.Fill(bare, s.pal.Panel)
		s.mark(bare, medium)
	}
	s.line(pen.Line(36, 2, 36, 82), medium)
	s.line(pen.Line(84, 2, 84, 82), medium)
}

// pits in the swept part.
func pits(s *sketch) {
	s.upright(36, 84, 2, 82)
	n := int(math.Round(1 + 15*s.wear))
	if s.wear < 0.1 {
		n = 0
	}
	spots(n, func(i int, u, v float64) {
		c := pen.Ellipse(42+30*u, 12+60*v, 1.6+1.4*math.Mod(float64(i)*0.37, 1), 1.4)
		s.found(c, 0.55)
		s.mark(c, fine)
	})
}

// chips outside the tracks of the bushings.
func chips(s *sketch) {
	s.upright(36, 84, 2, 82)
	s.p.Fill(pen.Rect(36, 2, 48, 80), faded(s.pal.Ink, 0.28))
	s.dash(pen.Line(26, 30, 94, 30)) // from here on the seal passes
	y := 14.0
	if s.wear > 0.5 {
		y = 52
	}
	chip := new(pen.Path).M(50, y).L(60, y-6).L(68, y+1).L(63, y+8).L(53, y+7).Z()
	s.p.Fill(chip, s.pal.Panel)
	if s.wear > 0.5 {
		s.mark(chip, medium)
	} else {
		s.line(chip, fine)
	}
	s.line(pen.Line(36, 2, 36, 82), medium)
	s.line(pen.Line(84, 2, 84, 82), medium)
}

func micrometer(s *sketch) {
	s.upright(34, 62, 2, 82)
	for _, y := range []float64{18, 66} {
		s.dash(pen.Line(22, y, 74, y))
	}
	frame := new(pen.Path).M(34, 38).L(24, 38).L(24, 42).C(24, 70, 72, 70, 72, 46).L(72, 46).L(66, 46).C(66, 62, 30, 62, 30, 46).L(34, 46).Z()
	s.tinted(frame, 0.16)
	s.tinted(pen.Rect(62, 38, 16, 8), 0.05)
	s.tinted(pen.Rect(78, 36, 26, 12), 0.16)
	for i := range 5 {
		s.quiet(pen.Line(82+float64(i)*4, 37, 82+float64(i)*4, 47), fine)
	}
	s.both(98, 16, 98, 30)
	s.both(98, 54, 98, 68)
}

func straightedge(s *sketch) {
	tube := new(pen.Path).M(4, 46).C(40, 42, 80, 42, 116, 46).L(116, 68).C(80, 64, 40, 64, 4, 68).Z()
	s.body(tube)
	s.tinted(pen.Rect(4, 30, 112, 12), 0.14)
	s.mark(new(pen.Path).M(4, 45.5).C(10, 44.8, 14, 44.3, 20, 43.8), medium)
	s.tinted(new(pen.Path).M(2, 43.4).L(22, 42.6).L(22, 44.4).L(2, 45.4).Z(), 0.9) // feeler
	s.arrow(4, 22, 14, 39)
	for i := range 11 {
		s.quiet(pen.Line(9+float64(i)*10, 30, 9+float64(i)*10, 34), fine)
	}
}

func parallel(s *sketch) {
	s.tinted(pen.RoundRect(24, 4, 72, 14, 4), 0.12)
	s.upright(34, 50, 18, 82)
	s.upright(70, 86, 18, 82)
	for _, y := range []float64{26, 74} {
		s.p.Stroke(new(pen.Path).M(30, y+5).L(30, y).L(90, y).L(90, y+5), medium*s.px, s.pal.Accent)
		s.head(60, y, 34, y)
		s.head(60, y, 86, y)
	}
}

func runout(s *sketch) {
	for _, x := range []float64{22, 98} {
		s.tinted(new(pen.Path).M(x-14, 80).L(x-14, 62).L(x-9, 54).L(x, 66).L(x+9, 54).L(x+14, 62).L(x+14, 80).Z(), 0.16)
	}
	s.lying(4, 116, 40, 62)
	s.dial(60, 18, 60, 40, 0.14)
	s.p.Stroke(new(pen.Path).Arc(112, 51, 5, 14, -2.2, 2.2), medium*s.px, s.pal.Accent)
	s.head(106, 36, 108, 63)
}

// photoCard: a card of known size beside the mark, at one distance.
func photoCard(s *sketch) {
	s.upright(12, 44, 2, 82)
	s.mark(pen.Line(24, 26, 28, 58), heavy)
	s.body(pen.RoundRect(54, 24, 54, 34, 3))
	s.rule(58, 46, 104, 46)
	for _, q := range [][2]float64{{60, 30}, {68, 30}, {60, 37}, {72, 36}, {78, 30}} {
		s.p.Fill(pen.Rect(q[0], q[1], 4, 4), s.pal.Ink)
	}
	for _, c := range [][4]float64{{6, 6, 1, 1}, {114, 6, -1, 1}, {6, 78, 1, -1}, {114, 78, -1, -1}} { // what the camera sees
		s.p.Stroke(new(pen.Path).M(c[0], c[1]+10*c[3]).L(c[0], c[1]).L(c[0]+10*c[2], c[1]), medium*s.px, s.pal.Accent)
	}
}

// exposed: from the wiper to the crown.
func exposed(s *sketch) {
	s.upright(38, 64, 14, 60)
	s.tinted(pen.RoundRect(28, 2, 46, 13, 4), 0.16)
	s.collar(51, 13, 58)
	s.rule(84, 15, 84, 57)
	s.dash(pen.Line(64, 15, 100, 15))
	s.dash(pen.Line(66, 56, 100, 56))
	s.both(102, 16, 102, 55)
}

// ringOnTube: how far the O-ring was pushed.
func ringOnTube(s *sketch) {
	s.upright(40, 66, 2, 60)
	s.collar(53, 13, 58)
	s.tinted(pen.RoundRect(36, 26, 34, 5, 2.5), 0.8)
	s.dash(pen.Line(70, 28, 100, 28))
	s.dash(pen.Line(72, 56, 100, 56))
	s.both(94, 29, 94, 55)
}

func guard(s *sketch) {
	s.upright(46, 68, 2, 82)
	s.tinted(new(pen.Path).M(38, 10).L(46, 10).L(46, 74).L(38, 70).Z(), 0.2)
	if s.wear > 0.3 {
		s.jag(38, 36, 46, 44)
		s.jag(46, 52, 39, 60)
		s.found(new(pen.Path).M(38, 46).L(46, 48).L(46, 58).L(38, 56).Z(), 0.4)
	}
	s.line(pen.RoundRect(36, 14, 12, 5, 2), medium)
	s.line(pen.RoundRect(36, 64, 12, 5, 2), medium)
}
