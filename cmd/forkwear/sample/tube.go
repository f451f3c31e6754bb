package sample

import (
	"image/color"
	"math"
	"math/rand/v2"

	"forkwear/media/scale"
)

func rgba(t tint) color.RGBA { return color.RGBA{clamp(t[0]), clamp(t[1]), clamp(t[2]), 255} }

// finishes are the coatings of tubes.
var finishes = []tint{{46, 46, 51}, {138, 100, 52}, {92, 94, 98}, {60, 50, 44}}

// lit is what a lamp and a window make of a round thing by the angle of its
// surface: its own colour times body, and the lamp's reflection.
type lit struct{ body, shine [512]float64 }

func newLit(turn float64) *lit {
	var l lit
	strip := func(a, at, w float64) float64 { return 1 / (1 + sq(sq((a-at)/w))) }
	for i := range l.body {
		a := (float64(i)/511 - 0.5) * math.Pi
		l.body[i] = 0.30 + 0.95*math.Max(0, math.Cos(a+0.45+turn)) - 0.35*step(1.15, 1.57, math.Abs(a))
		l.shine[i] = 168*strip(a, -0.62+turn, 0.13) + 42*strip(a, 0.30+turn, 0.34) + 58*strip(a, 0.98+turn, 0.06) + 26*strip(a, -1.25+turn, 0.10)
	}
	return &l
}

func (l *lit) at(angle float64) (body, shine float64) {
	i := int((angle/math.Pi + 0.5) * 511)
	i = max(0, min(i, 511))
	return l.body[i], l.shine[i]
}

// wear is what a tube shows.
type wear struct {
	grade   float64 // of the coating, 0 to 5
	bare    float64 // mm2 of a bare place at u = 0, s = 0
	scratch float64 // mm, from u = -20 down
	place   uint64
}

// band tells how worn a place is: 0 not at all, from 1 bare.
func (w wear) band(u, s float64) float64 {
	if w.grade <= 0 {
		return 0
	}
	k := w.grade / 5
	d := sq((u-6)/(14+26*k)) + sq((s-2)/(5+9*k))
	if d > 6 {
		return 0
	}
	p := float64(w.place % 61)
	streak := 1 + 0.45*noise(u/16+p, s*1.7) + 0.25*noise(u/3, s*4+p)
	return 1.35 * k * math.Exp(-d) * streak
}

// outline is how far the bare place reaches at an angle, as a share of its mean
// radius; along the tube it is bareLong times as long. Its area is
// pi * r^2 * bareLong * (1 + (0.16^2 + 0.10^2)/2).
func (w wear) outline(phi float64) float64 {
	a := float64(w.place%628) / 100
	return 1 + 0.16*math.Sin(2*phi+a) + 0.10*math.Sin(3*phi+2*a)
}

const bareLong = 1.7

func (w wear) bareRadius() float64 {
	return math.Sqrt(w.bare / (math.Pi * bareLong * (1 + (0.16*0.16+0.10*0.10)/2)))
}

// bareness of a place: 1 inside the outline, 0 outside, a soft edge of 0.1 mm.
func (w wear) bareness(u, s float64) float64 {
	r := w.bareRadius()
	x, y := s, u/bareLong
	d := math.Hypot(x, y)
	if w.bare <= 0 || d > 1.5*r {
		return 0
	}
	return 1 - step(-0.06, 0.06, d-r*w.outline(math.Atan2(y, x)))
}

// ring is the outline as places (u, s).
func (w wear) ring(n int) [][2]float64 {
	r := w.bareRadius()
	var out [][2]float64
	for i := range n {
		phi := 2 * math.Pi * float64(i) / float64(n)
		k := r * w.outline(phi)
		out = append(out, [2]float64{bareLong * k * math.Sin(phi), k * math.Cos(phi)})
	}
	return out
}

// scratchLean is how far a scratch goes around the tube, a share of its length
// along it.
const scratchLean = 0.09

// groove is the line of the scratch as places (u, s): a straight one on the
// unrolled tube, as long as it is said to be.
func (w wear) groove(n int) [][2]float64 {
	along := w.scratch / math.Hypot(1, scratchLean)
	var out [][2]float64
	for i := range n {
		d := along * float64(i) / float64(n-1)
		out = append(out, [2]float64{-20 + d, -1.5 + scratchLean*d})
	}
	return out
}

// tube draws a coated tube with its damage.
func (c *canvas) tube(cam camera, t round, w wear) {
	base, lamp := finishes[w.place%uint64(len(finishes))], newLit(0)
	e, seen := t.edges(cam), t.from(cam)
	for y := range pictureH {
		seen.at(float64(y) + 0.5)
		left, right := between(e[0], e[1], float64(y)+0.5), between(e[2], e[3], float64(y)+0.5)
		for x := max(0, int(left-1)); x < min(pictureW, int(right+2)); x++ {
			px := float64(x) + 0.5
			cover := math.Min(1, math.Min(px-left, right-px)+0.5)
			u, angle, _, ok := seen.hit(math.Max(left+0.3, math.Min(px, right-0.3)))
			if !ok || cover <= 0 {
				continue
			}
			if col := c.surface(u, angle, t.radius*angle, base, lamp, w); cover < 1 {
				c.mix(x, y, col, cover)
			} else {
				c.set(x, y, col)
			}
		}
	}
	c.printed(cam, t, base)
	c.scratches(cam, t, w)
}

// surface is the colour of one place of a tube.
func (c *canvas) surface(u, angle, s float64, base tint, lamp *lit, w wear) tint {
	body, shine := lamp.at(angle)
	fine := 1 + 0.020*noise(u*5, 3) + 0.03*noise(u/4, s/9) + 0.012*noise(s*6, u/40)
	col := base
	gloss := 1.0
	if k := w.band(u, s); k > 0 {
		pale := math.Min(1, 1.6*k)
		col = base.mixed(tint{176, 160, 128}, 0.62*pale)
		gloss += 0.35 * pale
		if b := step(0.78, 0.90, k); b > 0 {
			col = col.mixed(tint{202, 203, 202}, b)
		}
	}
	if b := w.bareness(u, s); b > 0 {
		col = col.mixed(tint{226, 226, 222}.times(1+0.10*noise(s*7, u/3)), b)
		body += b * (0.75 - 0.5*body)
	}
	return col.times(body * fine).plus(grey(shine * gloss * (0.9 + 0.1*fine))).times(c.light)
}

// printed is the scale for the sag that is printed along the tube: short pale
// lines, the same at every visit.
func (c *canvas) printed(cam camera, t round, base tint) {
	ink := base.mixed(tint{214, 212, 204}, 0.7)
	for i := -9; i <= 9; i++ {
		u := float64(i) * 10
		half := 2.0
		if i%2 == 0 {
			half = 3.6
		}
		for s := 9 - half; s < 9+half; s += 0.06 {
			p := cam.project(t.place(u, s))
			c.dot(p.X, p.Y, 0.9, ink.times(c.light*(0.62+0.03*(9-s))), 0.5)
		}
	}
}

// scratches are the planted one, and fine ones that come with wear.
func (c *canvas) scratches(cam camera, t round, w wear) {
	rng := rand.New(rand.NewPCG(w.place, 7))
	for range 3 + int(3*w.grade) {
		u, s := -45+90*rng.Float64(), (rng.Float64()-0.5)*1.5*t.radius
		length, lean := 2+rng.Float64()*(4+3*w.grade), (rng.Float64()-0.5)*0.3
		c.cut(cam, t, [][2]float64{{u, s}, {u + length, s + lean*length}}, 0.10+0.05*rng.Float64(), 0.35)
	}
	if w.scratch > 0 {
		c.cut(cam, t, w.groove(2), 0.34, 1)
	}
}

// cut draws a straight groove: a bright flank to the lamp, a dark one behind.
func (c *canvas) cut(cam camera, t round, ends [][2]float64, width, strength float64) {
	a, b := ends[0], ends[1]
	length := math.Hypot(b[0]-a[0], b[1]-a[1])
	px := cam.focal / math.Abs(cam.at[2]) * width
	n := int(length / 0.05)
	for i := range n + 1 {
		k := float64(i) / float64(max(n, 1))
		edge := math.Min(1, math.Min(k, 1-k)*length/0.25+0.25)
		u, s := a[0]+(b[0]-a[0])*k, a[1]+(b[1]-a[1])*k
		rough := 0.85 + 0.15*noise(u*3, a[1])
		p, q := cam.project(t.place(u, s)), cam.project(t.place(u, s+0.9*width))
		c.dot(q.X, q.Y, 0.45*px*edge, grey(14), 0.34*strength)
		c.dot(p.X, p.Y, 0.55*px*edge*rough, tint{238, 236, 228}.times(c.light), 0.42*strength)
	}
}

func spotsOf(cam camera, t round, places [][2]float64) []scale.Point {
	var out []scale.Point
	for _, p := range places {
		out = append(out, cam.project(t.place(p[0], p[1])))
	}
	return out
}
