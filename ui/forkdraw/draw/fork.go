package draw

import (
	"math"

	"forkwear/ui/forkdraw/pen"
)

// Measures of the drawing in its own units: the fork is 1010 high from the
// cut of the steerer to the foot. Tubes and legs are drawn a little fuller
// than life so that a zone can be filled and pressed.
const (
	spread     = 108.0 // axis of a leg from the middle
	stanchionR = 29.0
	collarR    = 43.0
	crownTop   = 168.0
	crownFoot  = 236.0
	sealTop    = 506.0
	collarTop  = 536.0
	footY      = 976.0
	height     = 1012.0

	columnX    = 252.0 // axis of the parts laid out beside the fork
	halfWide   = 294.0 // half the width of the stripped view without marks
	halfNarrow = 168.0 // of the assembled view
)

func sideSign(side string) float64 {
	if side == Left {
		return -1
	}
	return 1
}

// legAt places a part described round the axis of the right leg, outwards
// positive, on either leg.
func legAt(side string) func(pen.Pt) pen.Pt {
	if side == Left {
		return mirrored(-spread)
	}
	return shift(spread, 0)
}

// axisAt places a part on the axis of a leg without mirroring, so that the
// light falls from the same side.
func axisAt(side string) func(pen.Pt) pen.Pt { return shift(sideSign(side)*spread, 0) }

// fork draws the fork itself, from the far and low parts to the near ones.
func (b *builder) fork(o Options) {
	b.axle()
	b.arch()
	for _, side := range []string{Left, Right} {
		inside := o.LeftInside
		if side == Right {
			inside = o.RightInside
		}
		b.foot(side, inside)
		b.lower(side)
		if side == Left {
			b.brakeMount()
		}
		b.seal(side)
		b.stanchion(side, o.DoubleCrown)
		if o.View == Assembled {
			b.behindWalls(side, inside)
		}
	}
	b.lowerCrown()
	b.steerer(o.DoubleCrown)
	if o.DoubleCrown {
		b.upperCrown()
	}
	b.cap(Left, o.LeftInside, o.DoubleCrown)
	b.cap(Right, o.RightInside, o.DoubleCrown)
}

func (b *builder) axle() {
	b.place(Zone{ID: Fasteners}, nil)
	b.area(pen.Rect(-70, 917, 140, 18), heavy)
	b.line(pen.Line(-70, 929, 70, 929), fine)
	b.line(pen.Line(-70, 932, 70, 932), fine)
	for _, s := range []float64{-1, 1} {
		b.area(pen.Rect(s*56-4, 913, 8, 26), medium)
	}
	b.area(pen.RoundRect(spread+34, 911, 18, 30, 4), heavy)
	b.line(pen.Line(spread+38, 921, spread+52, 921), fine)
	b.line(pen.Line(spread+38, 931, spread+52, 931), fine)
	b.area(pen.RoundRect(-spread-43, 917, 10, 18, 2), medium)
}

func (b *builder) arch() {
	b.place(Zone{ID: Lowers}, nil)
	p := new(pen.Path).M(-98, 560).C(-88, 506, -66, 470, -30, 468)
	p.C(-14, 467, 14, 467, 30, 468).C(66, 470, 88, 506, 98, 560)
	p.L(80, 648).C(70, 648, 66, 636, 64, 620).C(58, 562, 48, 526, 22, 520)
	p.C(8, 518, -8, 518, -22, 520).C(-48, 526, -58, 562, -64, 620).C(-66, 636, -70, 648, -80, 648).Z()
	b.area(p, heavy)
	rib := new(pen.Path).M(-76, 566).C(-68, 514, -52, 485, -27, 483)
	rib.C(-12, 482, 12, 482, 27, 483).C(52, 485, 68, 514, 76, 566)
	b.line(rib, fine)
	rib2 := new(pen.Path).M(-68, 590).C(-62, 540, -48, 508, -24, 506)
	rib2.C(-10, 505, 10, 505, 24, 506).C(48, 508, 62, 540, 68, 590)
	b.line(rib2, fine)
}

func (b *builder) lower(side string) {
	b.place(Zone{Lowers, side}, legAt(side))
	p := new(pen.Path).Arc(0, collarTop, collarR, collarR*sag, math.Pi, 2*math.Pi)
	p.L(43, 604).C(43, 634, 38, 640, 37, 674).L(32, 880)
	p.C(32, 895, 37, 896, 37, 908).L(37, 944).C(37, 958, 23, 958, 21, 970)
	p.Arc(0, footY, 21, 21*sag, 0, math.Pi)
	p.L(-21, 970).C(-23, 962, -28, 956, -34, 952).L(-45, 952).L(-49, 948).L(-49, 904).L(-45, 900)
	p.C(-36, 898, -32, 894, -32, 880).L(-37, 674).C(-38, 640, -43, 634, -43, 604).Z()
	b.area(p, heavy)
	b.line(new(pen.Path).M(-43, 604).C(-20, 616, 20, 616, 43, 604), fine)
	b.line(pen.Line(-37, 904, -37, 948), fine)
	b.line(new(pen.Path).M(-32, 880).C(-14, 889, 14, 889, 32, 880), fine)
	b.at = axisAt(side)
	b.shade(37, 32, 680, 872)
	b.shade(43, 43, 552, 598)
}

// brakeMount is the bracket on the left leg (as the rider sees it) that
// carries the brake.
func (b *builder) brakeMount() {
	b.place(Zone{Lowers, Left}, legAt(Left))
	p := new(pen.Path).M(-30, 738).C(-44, 742, -70, 744, -70, 762).L(-70, 778)
	p.C(-70, 794, -45, 792, -45, 808).L(-45, 826).C(-45, 842, -70, 840, -70, 856)
	p.L(-70, 872).C(-70, 888, -44, 890, -28, 896).C(-24, 850, -24, 790, -30, 738).Z()
	b.area(p, medium)
	for _, y := range []float64{770, 864} {
		b.line(pen.Circle(-54, y, 11), fine)
		b.line(pen.Circle(-54, y, 6), medium)
	}
}

func (b *builder) foot(side string, in Inside) {
	if in == DamperOnly || in == AirAndDamper {
		b.place(Zone{Controls, side}, axisAt(side))
		b.band(10, 10, 988, 1005, heavy)
		b.knurl(10, 988, 1005, 7)
	}
	b.place(Zone{Fasteners, side}, axisAt(side))
	b.band(14, 14, 976, 990, heavy)
	b.facets(14, 976, 990)
}

func (b *builder) seal(side string) {
	b.place(Zone{Seals, side}, axisAt(side))
	b.tube(41, 41, sealTop+16, collarTop-2, heavy)
	b.tube(34, 39, sealTop, sealTop+16, medium)
	b.line(front(36, sealTop+7), fine)
}

func (b *builder) stanchion(side string, double bool) {
	b.place(Zone{Stanchions, side}, axisAt(side))
	top := crownFoot - 20
	if double {
		top = 26
	}
	b.band(stanchionR, stanchionR, top, sealTop+1, heavy)
	b.shade(stanchionR, stanchionR, crownFoot+12, sealTop-4)
	if double {
		b.shade(stanchionR, stanchionR, 84, crownTop-4)
	}
	b.area(tubePath(stanchionR+1.5, stanchionR+1.5, 462, 467), medium) // travel ring
}

// behindWalls draws what a leg hides as dashed lines.
func (b *builder) behindWalls(side string, in Inside) {
	at := axisAt(side)
	b.place(Zone{Stanchions, side}, at)
	b.line(pen.Line(-stanchionR, 548, -stanchionR, 800), hidden)
	b.line(pen.Line(stanchionR, 548, stanchionR, 800), hidden)
	b.line(pen.Line(-stanchionR, 800, stanchionR, 800), hidden)
	b.place(Zone{Bushings, side}, at)
	b.ghost(pen.Rect(-34, 556, 68, 34))
	b.ghost(pen.Rect(-33, 690, 66, 34))
	if in == Empty {
		return
	}
	b.place(Zone{insideZone(in), side}, at)
	if in == Coil {
		p := new(pen.Path).M(-19, 734)
		for i := 0; i < 6; i++ {
			y := 734 + float64(i)*10
			p.L(19, y+5).L(-19, y+10)
		}
		b.line(p, hidden)
		b.ghost(pen.Rect(-20, 734, 40, 60))
	} else {
		b.ghost(pen.Rect(-20, 734, 40, 56))
	}
	b.ghost(pen.Rect(-7, 802, 14, 166))
}

// insideZone is the zone that the inside of a leg is looked at as.
func insideZone(in Inside) string {
	if in == Air || in == Coil {
		return Spring
	}
	return Damper
}

func (b *builder) lowerCrown() {
	b.place(Zone{ID: Crown}, nil)
	p := new(pen.Path).M(-148, 182).C(-148, 172, -145, 168, -136, crownTop)
	p.L(-86, crownTop).C(-62, 166, -52, 150, -38, 148).L(38, 148)
	p.C(52, 150, 62, 166, 86, crownTop).L(136, crownTop).C(145, 168, 148, 172, 148, 182)
	p.L(147, crownFoot).Arc(spread, crownFoot, 39, 39*sag, 0, math.Pi)
	p.C(62, 220, 40, 211, 0, 211).C(-40, 211, -62, 220, -69, crownFoot)
	p.Arc(-spread, crownFoot, 39, 39*sag, 0, math.Pi).Z()
	b.area(p, heavy)
	pocket := new(pen.Path).M(-56, 190).C(-40, 176, 40, 176, 56, 190).C(48, 202, 24, 200, 0, 200).C(-24, 200, -48, 202, -56, 190).Z()
	b.line(pocket, fine)
	for _, s := range []float64{-1, 1} {
		b.at = shift(s*spread, 0)
		b.line(front(36, crownTop+3), fine)
		b.line(pen.Line(-s*39, 192, -s*39, 232), fine)
		b.shade(39, 39, 182, 232)
	}
}

func (b *builder) upperCrown() {
	b.place(Zone{ID: Crown}, nil)
	p := new(pen.Path).M(-147, 44).L(-147, 78).Arc(-spread, 80, 39, 39*sag, math.Pi, 0)
	p.C(-50, 72, -40, 76, -34, 80).L(34, 80).C(40, 76, 50, 72, 69, 80)
	p.Arc(spread, 80, 39, 39*sag, math.Pi, 0).L(147, 44).C(147, 38, 142, 36, 136, 36)
	p.L(80, 36).C(60, 34, 50, 28, 34, 28).L(-34, 28).C(-50, 28, -60, 34, -80, 36)
	p.L(-136, 36).C(-142, 36, -147, 38, -147, 44).Z()
	b.area(p, heavy)
	for _, x := range []float64{-66, 66} {
		b.line(pen.Circle(x, 57, 6), medium)
	}
	b.area(tubePath(20, 20, 12, 28), heavy)
}

func (b *builder) steerer(double bool) {
	b.place(Zone{ID: Crown}, nil)
	b.tube(38, 38, 140, 149, heavy)
	if double {
		b.band(23, 31, 70, 140, heavy)
		b.shade(23, 29, 90, 134)
		return
	}
	p := new(pen.Path).M(-23, 14).C(-14, 3, -8, 4, 0, 11).C(8, 18, 14, 18, 23, 8)
	p.L(23, 92).C(23, 112, 31, 122, 31, 139).Arc(0, 139, 31, 31*sag, 0, math.Pi)
	p.C(-31, 122, -23, 112, -23, 92).Z()
	b.area(p, heavy)
	b.line(new(pen.Path).M(-23, 22).C(-14, 11, -8, 12, 0, 19).C(8, 26, 14, 26, 23, 16), fine)
	b.shade(23, 23, 28, 94)
}

// cap closes the top of a leg: valve cap, dial or plain cap.
func (b *builder) cap(side string, in Inside, double bool) {
	dy := 0.0
	if double {
		dy = 36 - crownTop
	}
	b.place(Zone{Controls, side}, shift(sideSign(side)*spread, dy))
	b.tube(25, 25, 159, 168, heavy)
	b.facets(25, 159, 168)
	switch in {
	case Air:
		b.tube(9, 10, 138, 157, heavy)
		b.knurl(10, 140, 157, 6)
	case Empty:
		b.tube(12, 12, 154, 157, medium)
	default:
		b.tube(19, 20, 141, 157, heavy)
		b.knurl(20, 142, 157, 11)
		b.line(front(11, 140), fine)
	}
}
