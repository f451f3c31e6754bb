package sample

import (
	"math"
	"math/rand/v2"
)

// ringed looks into a lower leg: its mouth, the bore, and the bushing whose
// sliding face is polished through on one side as the grade grows.
func (c *canvas) ringed(grade float64, place uint64) {
	lean := float64(place%628) / 100
	cx, cy := pictureW*0.5+12*math.Cos(lean), pictureH*0.48+8*math.Sin(lean)
	const outer, face, edge, bore = 420.0, 345.0, 300.0, 235.0
	for y := range pictureH {
		for x := range pictureW {
			dx, dy := float64(x)-cx, (float64(y)-cy)*1.06
			d, a := math.Hypot(dx, dy), math.Atan2(dy, dx)
			if d > outer+1 {
				continue
			}
			sun := 0.62 - 0.38*math.Cos(a-0.75*math.Pi+math.Pi) // an inner wall is lit on the side away from the lamp
			c.mix(x, y, c.ringAt(d, a, sun, grade, lean).times(c.light), math.Min(1, outer-d+1))
		}
	}
}

func (c *canvas) ringAt(d, a, sun, grade, lean float64) tint {
	const face, edge, bore = 345.0, 300.0, 235.0
	turned := 1 + 0.03*noise(d*0.9, a*3)
	switch {
	case d > face: // the machined mouth
		return grey(124 * turned * (1.25 - 0.5*sun) * (1 - 0.5*step(400, 420, d)))
	case d > edge: // the upper edge of the bushing
		return tint{118, 100, 74}.times(turned * (1.2 - 0.5*sun) * (1 - 0.35*step(8, 0, d-edge)))
	case d > bore: // its sliding face, foreshortened
		col := tint{92, 96, 92}.times((0.42 + 0.8*sun) * (1 + 0.05*noise(a*60, d/30)))
		k := grade / 5
		worn := k * 1.5 * math.Exp(-sq(math.Remainder(a-lean, 2*math.Pi)/(0.35+0.75*k))) * (1 + 0.35*noise(a*40, d/25))
		col = col.mixed(tint{190, 150, 92}.times(0.5+0.7*sun), math.Min(1, worn))
		if b := step(0.95, 1.1, worn); b > 0 {
			col = col.mixed(tint{214, 214, 210}.times(0.5+0.7*sun), b)
		}
		return col.times(1 - 0.4*step(18, 0, d-bore))
	case d > bore-26:
		return grey((34 + 40*sun) * turned)
	}
	return grey(10 + 26*sun*step(60, bore, d))
}

// boot is the damper's bladder on the mat; dents and scuffs grow with grade.
func (c *canvas) boot(grade float64, place uint64) {
	rng := rand.New(rand.NewPCG(place, 3))
	dentAt, lamp := 330+rng.Float64()*160, newLit(0)
	const top, foot, middle = 70.0, 790.0, pictureW * 0.47
	half := func(y float64) float64 {
		k := (y - top) / (foot - top)
		r := 150 + 26*math.Sin(math.Pi*k)
		if k < 0.12 || k > 0.88 {
			return r - 34 + 6*math.Sin(k*200)
		}
		return r + 15*math.Sin((y-top)/15)
	}
	for y := top; y < foot; y++ {
		dent := 17 * grade * math.Exp(-sq((y-dentAt)/90))
		r := half(y)
		slope := (half(y+1) - half(y-1)) / 2
		left, right := middle-r+dent, middle+r-0.3*dent
		for x := left - 1; x < right+1; x++ {
			t := math.Max(-1, math.Min(1, 2*(x-left)/(right-left)-1))
			body, shine := lamp.at(math.Asin(t) - dent/260)
			v := tint{40, 41, 44}.times(body * (1 - 0.45*slope) * (1 + 0.06*noise(x/3, y/3)))
			v = v.plus(grey(0.3 * shine * math.Max(0, 1-0.9*math.Abs(slope))))
			c.mix(int(x), int(y), v.times(c.light), math.Min(1, math.Min(x-left+1, right+1-x)))
		}
	}
	for range int(grade * 2) {
		x, y, l := middle-90+180*rng.Float64(), dentAt-70+140*rng.Float64(), 20+60*rng.Float64()
		for s := 0.0; s < l; s++ {
			c.dot(x+0.4*s, y+6*math.Sin(s/9), 1.3, grey(128), 0.35*math.Sin(math.Pi*s/l))
		}
	}
}
