package draw

import (
	"math"

	"forkwear/ui/forkdraw/pen"
)

// column lays the inside of a leg out beside the fork, in the order in
// which it comes out.
func (b *builder) column(side string, in Inside) {
	at := shift(sideSign(side)*columnX, 0)
	b.place(Zone{}, at)
	b.line(pen.Line(0, 24, 0, height-4), centred)
	b.footParts(side, in, at)
	b.sealParts(side, at)
	b.bushingParts(side, at)
	switch in {
	case Air:
		b.airSpring(side, at)
	case Coil:
		b.coilSpring(side, at)
	case DamperOnly:
		b.damper(side, at)
	case AirAndDamper:
		b.airSpring(side, squeezed(at, 150, 560, 150, 335))
		b.damper(side, squeezed(at, 150, 560, 372, 562))
	}
	b.topParts(side, in, at)
}

// squeezed maps the heights from a0..a1 to b0..b1 before placing.
func squeezed(at func(pen.Pt) pen.Pt, a0, a1, b0, b1 float64) func(pen.Pt) pen.Pt {
	return func(p pen.Pt) pen.Pt {
		p.Y = b0 + (p.Y-a0)*(b1-b0)/(a1-a0)
		return at(p)
	}
}

func (b *builder) topParts(side string, in Inside, at func(pen.Pt) pen.Pt) {
	b.place(Zone{Controls, side}, at)
	b.band(24, 24, 86, 112, medium)
	b.threads(24, 84, 112, 5)
	b.tube(31, 31, 66, 86, heavy)
	b.facets(31, 66, 86)
	switch in {
	case Air:
		b.tube(6, 7, 44, 64, heavy)
		b.threads(7, 44, 62, 4)
	case Empty:
	default:
		b.tube(19, 20, 40, 62, heavy)
		b.knurl(20, 41, 62, 11)
	}
}

func (b *builder) airSpring(side string, at func(pen.Pt) pen.Pt) {
	b.place(Zone{Spring, side}, at)
	b.band(5, 5, 545, 560, medium)
	b.threads(5, 545, 560, 3)
	b.band(8, 8, 452, 546, heavy)
	b.tube(14, 14, 504, 512, medium) // bottom-out rubber
	b.tube(14, 14, 494, 502, medium)
	b.tube(14, 14, 484, 492, medium)
	b.tube(27, 27, 416, 450, heavy) // shaft seal head
	b.area(tubePath(29, 29, 425, 430), medium)
	b.area(tubePath(29, 29, 437, 442), medium)
	b.band(8, 8, 186, 417, heavy)
	b.shade(8, 8, 196, 376)
	b.tube(13, 13, 384, 404, medium) // top-out rubber
	b.tube(26, 26, 152, 186, heavy)  // piston
	b.area(tubePath(28, 28, 161, 167), medium)
	b.area(tubePath(28, 28, 174, 180), medium)
	b.tube(9, 9, 149, 153, fine)
}

func (b *builder) coilSpring(side string, at func(pen.Pt) pen.Pt) {
	b.place(Zone{Spring, side}, at)
	b.band(5, 5, 545, 560, medium)
	b.threads(5, 545, 560, 3)
	b.band(8, 8, 460, 546, heavy)
	b.shade(8, 8, 470, 540)
	b.tube(24, 24, 442, 460, heavy)
	const turns, y0, pitch = 10, 156.0, 28.0
	for i := 0; i < turns; i++ { // far strands
		y := y0 + float64(i)*pitch
		b.line(strand(22, y+pitch/2, -22, y+pitch), fine)
	}
	for i := turns - 1; i >= 0; i-- {
		y := y0 + float64(i)*pitch
		b.area(strandArea(y, y+pitch/2), medium)
	}
	b.tube(24, 24, 146, 152, heavy)
}

func strand(x0, y0, x1, y1 float64) *pen.Path { return pen.Line(x0, y0, x1, y1) }

// strandArea is the near half of one turn of a coil.
func strandArea(y0, y1 float64) *pen.Path {
	const r = 5.0
	p := new(pen.Path).Arc(-22, y0, r, r, math.Pi/2, 1.5*math.Pi)
	p.C(-8, y0+1, 10, y1-r-2, 22, y1-r).Arc(22, y1, r, r, -math.Pi/2, math.Pi/2)
	return p.C(8, y1+r-1, -10, y0+r+2, -22, y0+r).Z()
}

func (b *builder) damper(side string, at func(pen.Pt) pen.Pt) {
	b.place(Zone{Damper, side}, at)
	b.band(5, 5, 545, 560, medium)
	b.threads(5, 545, 560, 3)
	b.band(7, 7, 454, 546, heavy)
	b.shade(7, 7, 462, 540)
	b.tube(25, 25, 428, 456, heavy) // seal head
	b.area(tubePath(27, 27, 438, 443), medium)
	b.tube(22, 22, 268, 428, heavy) // cartridge, cut open
	b.line(pen.RoundRect(-14, 292, 28, 118, 6), medium)
	b.line(new(pen.Path).M(-5, 352).L(-5, 410).M(5, 352).L(5, 410), medium)
	b.area(pen.RoundRect(-14, 338, 28, 15, 2), medium)
	for i, h := range []float64{12, 10, 8, 6} { // shim stack
		y := 335 - float64(i)*3.6
		b.line(pen.Line(-h, y, h, y), fine)
	}
	b.line(pen.Line(-4, 320, 4, 320), medium)
	b.shade(22, 22, 278, 290)
	b.boot()
}

// boot is the rubber that takes up the oil the shaft pushes away.
func (b *builder) boot() {
	b.tube(20, 20, 256, 268, medium)
	p := new(pen.Path).Arc(0, 158, 16, 16*sag, math.Pi, 2*math.Pi)
	const ribs = 6
	step := (252.0 - 162) / ribs
	for i := 0; i < ribs; i++ {
		y := 162 + float64(i)*step
		p.C(26, y+2, 26, y+step-2, 19, y+step)
	}
	p.Arc(0, 254, 18, 18*sag, 0, math.Pi)
	for i := ribs; i > 0; i-- {
		y := 162 + float64(i)*step
		p.C(-26, y-2, -26, y-step+2, -19, y-step)
	}
	b.area(p.Z(), heavy)
	for i := 1; i < ribs; i++ {
		b.line(front(19.5, 162+float64(i)*step), fine)
	}
	b.tube(18, 18, 148, 160, medium)
}

func (b *builder) bushingParts(side string, at func(pen.Pt) pen.Pt) {
	b.place(Zone{Bushings, side}, at)
	for _, y := range []float64{640, 594} {
		b.tube(31, 31, y, y+32, heavy)
		b.line(pen.Ellipse(0, y, 31, 31*sag), medium)
		b.line(pen.Ellipse(0, y, 27, 27*sag), fine)
		b.line(pen.Line(-16, y+31*sag*0.85, -9, y+32+31*sag*0.95), medium) // split
		b.shade(31, 31, y+6, y+32)
	}
}

func (b *builder) sealParts(side string, at func(pen.Pt) pen.Pt) {
	b.place(Zone{Seals, side}, at)
	b.tube(30, 30, 776, 794, medium) // foam ring
	b.line(pen.Ellipse(0, 776, 24, 24*sag), fine)
	for i := 0; i < 14; i++ {
		x := -25 + float64(i)*3.9
		y := 784 + 7*math.Mod(float64(i)*0.618, 1) + 29*sag*math.Sqrt(1-x*x/900)*0.8
		b.line(pen.Line(x, y, x+1.2, y), fine)
	}
	b.tube(33, 33, 728, 754, heavy)
	b.line(front(33, 741), fine)
	b.tube(26, 30, 710, 728, heavy)
	b.line(pen.Ellipse(0, 710, 26, 26*sag), medium)
	b.line(pen.Ellipse(0, 710, 22, 22*sag), fine)
	b.line(front(28, 718), fine)
}

func (b *builder) footParts(side string, in Inside, at func(pen.Pt) pen.Pt) {
	if in == DamperOnly || in == AirAndDamper {
		b.place(Zone{Controls, side}, at)
		b.tube(14, 14, 958, 986, heavy)
		b.knurl(14, 958, 986, 9)
	}
	b.place(Zone{Fasteners, side}, at)
	b.band(18, 18, 886, 912, heavy)
	b.facets(18, 886, 912)
	b.tube(22, 22, 880, 886, medium)
	b.band(9, 9, 862, 882, medium)
	b.threads(9, 860, 880, 4)
	b.line(front(9, 862), medium)
	b.tube(20, 20, 838, 843, medium) // crush washer
	b.line(pen.Ellipse(0, 838, 10, 10*sag), fine)
}
