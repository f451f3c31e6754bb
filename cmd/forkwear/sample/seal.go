package sample

import "math"

// The lower end of a tube in its seal: u = 0 is the upper edge of the lip.
const (
	lipEnd  = 3.0 // mm
	ringEnd = 8.5
)

// wiper draws a tube that goes into the wiper of its lower leg, with the ring of
// oil above the lip that grows with the grade.
func (c *canvas) wiper(cam camera, t round, grade float64, w wear) {
	lip, ring, lower := t, t, t
	lip.radius, ring.radius, lower.radius = t.radius+1.6, t.radius+4, t.radius+6.5
	lamp := newLit(0)
	paint := []tint{{58, 62, 66}, {120, 38, 32}, {40, 66, 82}, {150, 148, 140}}[w.place%4]
	e := lower.edges(cam)
	base := finishes[w.place/7%uint64(len(finishes))]
	st, sl, sr, sw := t.from(cam), lip.from(cam), ring.from(cam), lower.from(cam)
	layers := sealLayers{&st, &sl, &sr, &sw}
	tubeOnly, lowerOnly := cam.project(t.place(-7, 0)).Y-20, cam.project(lower.place(ringEnd+9, 0)).Y+20
	for y := range pictureH {
		for _, l := range []*sight{&st, &sl, &sr, &sw} {
			l.at(float64(y) + 0.5)
		}
		left, right := between(e[0], e[1], float64(y)+0.5), between(e[2], e[3], float64(y)+0.5)
		for x := max(0, int(left-1)); x < min(pictureW, int(right+2)); x++ {
			px := float64(x) + 0.5
			switch {
			case float64(y) < tubeOnly:
				if u, a, _, hit := st.hit(px); hit {
					c.set(x, y, c.oiled(u, a, t.radius*a, base, lamp, grade, w).times(c.light))
				}
			case float64(y) > lowerOnly:
				if u, a, _, hit := sw.hit(px); hit {
					c.set(x, y, c.painted(u, a, lamp, paint, grade, w).times(c.light))
				}
			default:
				if col, ok := c.nearest(px, cam.ray(px, float64(y)+0.5), layers, lamp, base, paint, grade, w); ok {
					c.set(x, y, col.times(c.light))
				}
			}
		}
	}
}

// sealLayers are the tube, the lip, the ring and the lower leg before the camera.
type sealLayers struct{ tube, lip, ring, lower *sight }

// nearest is the colour of what a ray meets first.
func (c *canvas) nearest(px float64, ray vec, l sealLayers, lamp *lit, base, paint tint, grade float64, w wear) (col tint, ok bool) {
	t, lip, ring, lower, from := l.tube.t, l.lip.t, l.ring.t, l.lower.t, l.tube.cam.at
	best := math.Inf(1)
	take := func(far float64, k func() tint) {
		if far > 0 && far < best {
			best, col, ok = far, k(), true
		}
	}
	disc := func(at float64, in, out round, shade tint) {
		far := (at - from.minus(t.foot).dot(t.axis)) / ray.dot(t.axis)
		p := from.plus(ray.times(far)).minus(t.foot)
		p = p.minus(t.axis.times(p.dot(t.axis)))
		if d := p.dot(p); d >= sq(in.radius) && d <= sq(out.radius) {
			take(far, func() tint { return shade.times(0.8 + 0.25*p.unit().dot(vec{-0.6, 0, -0.8})) })
		}
	}
	rubber := func(angle, u float64) tint {
		body, shine := lamp.at(angle)
		return tint{34, 34, 36}.times(body * (1 + 0.06*noise(u*3, angle*20))).plus(grey(0.22 * shine))
	}
	if u, a, far, hit := l.lower.hit(px); hit && u > ringEnd {
		take(far, func() tint { return c.painted(u, a, lamp, paint, grade, w) })
	}
	if u, a, far, hit := l.ring.hit(px); hit && u > lipEnd && u < ringEnd {
		take(far, func() tint { return rubber(a, u).times(1 - 0.3*math.Exp(-sq((u-5.6)/0.35))) })
	}
	if u, a, far, hit := l.lip.hit(px); hit && u > 0 && u < lipEnd {
		take(far, func() tint { return rubber(a, u).times(1.15 - 0.12*u) })
	}
	if u, a, far, hit := l.tube.hit(px); hit && u <= 0.2 {
		take(far, func() tint { return c.oiled(u, a, t.radius*a, base, lamp, grade, w) })
	}
	disc(0, t, lip, grey(44))
	disc(lipEnd, lip, ring, grey(30))
	disc(ringEnd, ring, lower, paint.times(1.15))
	return col, ok
}

// oiled is the tube above the lip: a film of oil with the dust that it holds.
func (c *canvas) oiled(u, angle, s float64, base tint, lamp *lit, grade float64, w wear) tint {
	col := c.surface(u, angle, s, base, lamp, w).times(1 / c.light)
	high := grade * (2.1 + 1.5*noise(s/3.1, float64(w.place%37)) + 0.5*noise(s*1.3, 5))
	if grade > 0 && -u < high {
		wet := step(0, 1.2, high+u)
		_, shine := lamp.at(angle + 0.1*noise(u*2, s*2))
		col = col.mixed(tint{74, 48, 20}.plus(grey(0.55*shine)), 0.75*wet)
		if high+u < 0.7 { // the rim of the ring stands up
			col = col.mixed(tint{28, 20, 12}, 0.6)
		}
	}
	if d := noise(u*6, s*6+float64(w.place%11)); d > 0.72 && -u < 4+3*grade {
		col = col.mixed(tint{150, 136, 112}, 0.5)
	}
	return col.times(1 - 0.5*math.Exp(u/1.1)) // the lip's shade
}

// painted is the lower leg, with what ran down from a leak.
func (c *canvas) painted(u, angle float64, lamp *lit, paint tint, grade float64, w wear) tint {
	body, shine := lamp.at(angle)
	col := paint.times(body * (1 + 0.03*noise(u*4, angle*30))).plus(grey(0.5 * shine))
	if grade < 3 {
		return col
	}
	for i := range int(grade) - 1 {
		at := 0.9 * noise(float64(i)*3.7+0.5, float64(w.place%53)+0.5)
		wide := 0.05 + 0.02*noise(u/4, float64(i))
		if d := math.Abs(angle - at - 0.02*noise(u/6, float64(i))); d < wide && u < ringEnd+grade*(5+2*float64(i)) {
			col = col.mixed(tint{88, 58, 26}.plus(grey(0.6*shine)), 0.7*step(0, 0.03, wide-d))
		}
	}
	return col
}
