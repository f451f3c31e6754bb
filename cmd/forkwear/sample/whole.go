package sample

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// limb is a straight round part between two places of the picture.
type limb struct{ x0, y0, x1, y1, r0, r1 float64 }

// rod draws a limb as something round and lit, under a shadow on the mat.
func (c *canvas) rod(l limb, col tint, shine float64, lamp *lit) {
	dx, dy := l.x1-l.x0, l.y1-l.y0
	length := math.Hypot(dx, dy)
	ax, ay := dx/length, dy/length
	most := math.Max(l.r0, l.r1) + 2
	for y := int(math.Min(l.y0, l.y1) - most); y <= int(math.Max(l.y0, l.y1)+most); y++ {
		for x := int(math.Min(l.x0, l.x1) - most); x <= int(math.Max(l.x0, l.x1)+most); x++ {
			px, py := float64(x)-l.x0, float64(y)-l.y0
			u, v := px*ax+py*ay, -px*ay+py*ax
			r := l.r0 + (l.r1-l.r0)*u/length
			cover := math.Min(math.Min(r-math.Abs(v), math.Min(u, length-u))+0.5, 1)
			if cover <= 0 {
				continue
			}
			body, gloss := lamp.at(math.Asin(math.Max(-1, math.Min(1, v/r))))
			c.mix(x, y, col.times(body*(1+0.02*noise(u/3, v/3))).plus(grey(gloss*shine)).times(c.light), cover)
		}
	}
}

// shade darkens the mat below and to the right of a limb.
func (c *canvas) shade(l limb) {
	for _, k := range []float64{1.5, 1.3, 1.1, 0.9} {
		s := limb{l.x0 + 26, l.y0 + 22, l.x1 + 26, l.y1 + 22, l.r0 * k, l.r1 * k}
		dx, dy := s.x1-s.x0, s.y1-s.y0
		length := math.Hypot(dx, dy)
		for y := int(math.Min(s.y0, s.y1) - s.r0*2); y <= int(math.Max(s.y0, s.y1)+s.r0*2); y++ {
			for x := int(math.Min(s.x0, s.x1) - s.r0*2); x <= int(math.Max(s.x0, s.x1)+s.r0*2); x++ {
				u := ((float64(x)-s.x0)*dx + (float64(y)-s.y0)*dy) / length
				v := (-(float64(x)-s.x0)*dy + (float64(y)-s.y0)*dx) / length
				if u > 0 && u < length && math.Abs(v) < s.r0 {
					c.mix(x, y, grey(8), 0.13*step(s.r0, 0.6*s.r0, math.Abs(v)))
				}
			}
		}
	}
}

// fork draws the whole fork lying on the bench, seen from a side.
func (c *canvas) fork(place uint64, left bool) {
	lamp := newLit(0)
	coat, paint := finishes[place%uint64(len(finishes))], []tint{{58, 62, 66}, {120, 38, 32}, {40, 66, 82}, {150, 148, 140}}[place/5%4]
	at := func(u, v float64) (float64, float64) { // along the fork from the steerer's end, across it
		x, y := 90+u*0.985, 400+1.55*v+u*0.06
		if !left {
			x = pictureW - x
		}
		return x, y
	}
	part := func(u0, v0, u1, v1, r0, r1 float64, col tint, shine float64) {
		x0, y0 := at(u0, v0)
		x1, y1 := at(u1, v1)
		c.rod(limb{x0, y0, x1, y1, 1.45 * r0, 1.45 * r1}, col, shine, lamp)
	}
	for _, v := range []float64{-64, 74} {
		x0, y0 := at(300, v)
		x1, y1 := at(985, v)
		c.shade(limb{x0, y0, x1, y1, 52, 52})
	}
	part(0, 5, 270, 5, 27, 27, tint{120, 122, 124}, 0.8) // steerer
	part(265, -112, 265, 122, 44, 44, tint{52, 54, 58}, 0.5)
	for _, v := range []float64{-64, 74} {
		part(300, v, 600, v, 28, 28, coat, 1)
		part(588, v, 612, v, 37, 37, tint{34, 34, 36}, 0.25) // wiper
		part(612, v, 985, v, 39, 33, paint, 0.7)
		part(985, v, 1018, v, 26, 24, tint{70, 72, 74}, 0.5)
	}
	part(650, -64, 650, 74, 20, 20, paint, 0.6)       // arch
	part(1000, -96, 1000, 106, 11, 11, grey(120), .8) // axle
	rng := rand.New(rand.NewPCG(place, 21))
	for range 26 { // mud that dried on it
		u, v := 320+660*rng.Float64(), []float64{-64, 74}[rng.IntN(2)]+26*(rng.Float64()-0.5)
		x, y := at(u, v)
		c.dot(x, y, 1.5+3.5*rng.Float64(), tint{112, 92, 66}, 0.5)
	}
}

// serial draws the stamped number on the back of the crown.
func (c *canvas) serial(number string, place uint64) {
	lamp := newLit(0.2)
	for y := range pictureH {
		a := (float64(y)/pictureH - 0.5) * 2.4
		body, shine := lamp.at(a)
		for x := range pictureW {
			v := tint{96, 98, 102}.times(body * (1 + 0.10*noise(float64(x)/140, float64(y)*0.9) + 0.05*noise(float64(x)/9, float64(y)/2)))
			c.set(x, y, v.plus(grey(0.35*shine)).times(c.light))
		}
	}
	x, y := 250+int(place%60), 480
	c.words(number, x+3, y+3, 132, tint{178, 180, 184}, true, 0)
	c.words(number, x, y, 132, tint{30, 31, 33}, true, 0)
	rng := rand.New(rand.NewPCG(place, 2))
	for range 60 {
		px, py, l := rng.Float64()*pictureW, rng.Float64()*pictureH, 20+120*rng.Float64()
		for s := 0.0; s < l; s++ {
			c.dot(px+s, py+0.15*s, 0.7, grey(178), 0.16)
		}
	}
}

// clock draws the shop's clock, by which a camera's own is learned.
func (c *canvas) clock(hour, minute int) {
	const cx, cy, r = pictureW * 0.5, pictureH * 0.47, 340.0
	for y := range pictureH {
		for x := range pictureW {
			wall := 168 + 8*noise(float64(x)/60, float64(y)/60) + 4*noise(float64(x)/3, float64(y)/3) - float64(x+y)/40
			t := tint{wall, wall * 0.98, wall * 0.93}
			switch d := math.Hypot(float64(x)-cx, float64(y)-cy); {
			case d < r-26:
				t = tint{240, 240, 234}.times(1 - 0.00012*(float64(x)-cx))
			case d < r:
				t = grey(70 + 60*(float64(x+y)-cx-cy)/(-2*r))
			case d < r+30:
				t = t.times(0.72 + 0.28*step(r, r+30, d))
			}
			c.set(x, y, t.times(c.light))
		}
	}
	hand := func(turn, from, to, w float64) {
		sin, cos := math.Sincos(2 * math.Pi * turn)
		for s := from; s < to; s++ {
			c.dot(cx+s*sin, cy-s*cos, w, grey(30), 0.9)
		}
	}
	for i := range 60 {
		if i%5 == 0 {
			hand(float64(i)/60, r-76, r-40, 5)
		} else {
			hand(float64(i)/60, r-54, r-40, 2)
		}
	}
	m := float64(minute) / 60
	hand((float64(hour%12)+m)/12, -20, 170, 9)
	hand(m, -30, 250, 6)
	c.words(fmt.Sprintf("%02d:%02d", hour, minute), int(cx)-62, int(cy)+150, 48, grey(60), true, 0)
}
