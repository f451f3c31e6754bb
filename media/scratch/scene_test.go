package scratch

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"

	"forkwear/media/scale"
)

// vec is a place or direction in the workshop, mm: the tube lies along x with
// its axis through the origin, its crown at z = -radius; z points down.
type vec [3]float64

func (a vec) plus(b vec) vec      { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec) times(k float64) vec { return vec{k * a[0], k * a[1], k * a[2]} }
func (a vec) dot(b vec) float64   { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec) unit() vec           { return a.times(1 / math.Sqrt(a.dot(a))) }
func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// workshop is a pinhole camera of 4032 x 3024 pixels over a tube. It shares no
// formula with media/scale: places are projected, and rays meet the tube in
// its own coordinates.
type workshop struct {
	radius, focal          float64
	eye, right, down, look vec
}

const degree = math.Pi / 180

func newWorkshop(distance, tilt, side, roll, radius float64) workshop {
	look := vec{math.Sin(tilt), math.Cos(tilt) * math.Sin(side), math.Cos(tilt) * math.Cos(side)}
	w := workshop{radius: radius, focal: 3300, look: look, eye: vec{0, 0, -radius}.plus(look.times(-distance))}
	right := vec{1, 0, 0}.plus(look.times(-look[0])).unit()
	down := look.cross(right)
	w.right = right.times(math.Cos(roll)).plus(down.times(math.Sin(roll)))
	w.down = look.cross(w.right)
	return w
}

func (w workshop) project(p vec) scale.Point {
	d := p.plus(w.eye.times(-1))
	z := d.dot(w.look)
	return scale.Point{X: 2016 + w.focal*d.dot(w.right)/z, Y: 1512 + w.focal*d.dot(w.down)/z}
}

func (w workshop) onTube(along, around float64) scale.Point {
	a := around / w.radius
	return w.project(vec{along, w.radius * math.Sin(a), -w.radius * math.Cos(a)})
}

// hit is where the ray of a pixel place meets the tube: mm along and around.
func (w workshop) hit(x, y float64) (along, around float64, ok bool) {
	d := w.look.times(w.focal).plus(w.right.times(x - 2016)).plus(w.down.times(y - 1512))
	a, b := d[1]*d[1]+d[2]*d[2], d[1]*w.eye[1]+d[2]*w.eye[2]
	disc := b*b - a*(w.eye[1]*w.eye[1]+w.eye[2]*w.eye[2]-w.radius*w.radius)
	if disc < 0 {
		return 0, 0, false
	}
	p := w.eye.plus(d.times((-b - math.Sqrt(disc)) / a))
	return p[0], w.radius * math.Atan2(p[1], -p[2]), true
}

// facing is the angle around the tube that looks to the camera.
func (w workshop) facing() float64 { return math.Atan2(w.eye[1], -w.eye[2]) }

func (w workshop) edges() [4]scale.Point {
	a, h := w.facing()*w.radius, math.Acos(w.radius/math.Hypot(w.eye[1], w.eye[2]))*w.radius
	return [4]scale.Point{w.onTube(-40, a-h), w.onTube(40, a-h), w.onTube(-40, a+h), w.onTube(40, a+h)}
}

// card lies beside the tube, low mm under its crown; top left corner first.
func (w workshop) card(low float64) []scale.Point {
	at := func(x, y float64) scale.Point {
		return w.project(vec{x - scale.CardWidth/2, y + w.radius + 5, -w.radius + low})
	}
	return []scale.Point{at(0, 0), at(scale.CardWidth, 0), at(scale.CardWidth, scale.CardHeight), at(0, scale.CardHeight)}
}

// damage is a shape on the unrolled tube (mm).
type damage struct {
	name         string
	away         func(along, around float64) float64 // mm outside of it, negative inside
	length, area float64
	outline      []scale.Point // roughly, for its box
}

// line is a scratch: all that lies within half a width of a slightly bent
// line, so its ends are round.
func line(name string, along, around, way, length, width, bend float64) damage {
	const n = 12
	var mid [n + 1]scale.Point
	core := length - width
	for i := range mid {
		t := float64(i)/n - 0.5
		u, v := t*core, bend*core*(1-4*t*t)
		mid[i] = scale.Point{X: along + u*math.Cos(way) - v*math.Sin(way), Y: around + u*math.Sin(way) + v*math.Cos(way)}
	}
	long := scale.PolylineLength(mid[:])
	return damage{name: name, length: long + width, area: long*width + math.Pi*width*width/4, outline: mid[:],
		away: func(x, y float64) float64 {
			d := math.Inf(1)
			for i := 1; i <= n; i++ {
				d = min(d, fromSegment(scale.Point{X: x, Y: y}, mid[i-1], mid[i]))
			}
			return d - width/2
		}}
}

// blotch is a roundish loss with a wavy edge.
func blotch(r *rand.Rand, along, around, size float64) damage {
	var k, phase [4]float64
	for i := range k {
		k[i], phase[i] = 0.16*r.Float64()/float64(i+1), 2*math.Pi*r.Float64()
	}
	stretch := 1 + 0.6*r.Float64()
	radius := func(a float64) float64 {
		v := 1.0
		for i := range k {
			v += k[i] * math.Cos(float64(i+2)*a+phase[i])
		}
		return v * size / 2
	}
	d := damage{name: "blotch"}
	for i := range 720 {
		a := float64(i) * degree / 2
		d.outline = append(d.outline, scale.Point{X: along + stretch*radius(a)*math.Cos(a), Y: around + radius(a)*math.Sin(a)})
	}
	d.area = scale.PolygonArea(d.outline)
	d.away = func(x, y float64) float64 {
		u, v := (x-along)/stretch, y-around
		return math.Hypot(u, v) - radius(math.Atan2(v, u))
	}
	return d
}

// light is how the tube looks.
type light struct {
	base, contrast, noise, grain float64
	lamp, shine, wide            [2]float64
	phase                        [6]float64
	falloff                      float64
}

func newLight(r *rand.Rand) light {
	uniform := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	l := light{base: uniform(60, 120), contrast: uniform(15, 60), noise: uniform(3, 6), grain: uniform(0.5, 2), falloff: uniform(-0.6, 0.6)}
	if r.IntN(2) == 0 {
		l.contrast = -min(l.contrast, 0.6*l.base)
	}
	for i := range l.lamp {
		l.lamp[i], l.shine[i], l.wide[i] = uniform(-60, 60)*degree, uniform(20, 60), uniform(6, 14)*degree
	}
	for i := range l.phase {
		l.phase[i] = uniform(0, 2*math.Pi)
	}
	return l
}

// shade is the brightness of sound metal at a place: lit from above, two
// reflections along the tube, fine turning marks around it.
func (l light) shade(along, angle float64) float64 {
	v := l.base*(0.35+0.65*math.Max(0, math.Cos(angle))) + l.falloff*along
	for i := range l.lamp {
		d := (angle - l.lamp[i]) / l.wide[i]
		v += l.shine[i] * math.Exp(-d*d/2)
	}
	for i, p := range l.phase {
		v += l.grain * math.Sin(along*(3+7.3*float64(i))+p)
	}
	return v
}

// photograph renders the part of the photo around a damage: coverage by 4 x 4
// places a pixel at its edge, blur 0.9 px, noise, JPEG 90. truth is which
// pixels are damaged by half or more.
func (w workshop) photograph(r *rand.Rand, d damage, l light, box image.Rectangle) (photo *image.Gray, truth plane) {
	img := newPlane(box.Dx(), box.Dy())
	truth = newPlane(box.Dx(), box.Dy())
	type place struct{ along, around float64 }
	corners := make([]place, (img.w+1)*(img.h+1))
	for y := range img.h + 1 {
		for x := range img.w + 1 {
			a, b, ok := w.hit(float64(box.Min.X+x), float64(box.Min.Y+y))
			if !ok {
				a, b = math.NaN(), math.NaN()
			}
			corners[y*(img.w+1)+x] = place{a, b}
		}
	}
	for y := range img.h {
		for x := range img.w {
			i := y*(img.w+1) + x
			a, b, c, e := corners[i], corners[i+1], corners[i+img.w+1], corners[i+img.w+2]
			at := func(fx, fy float64) (float64, float64) {
				return (a.along*(1-fx)+b.along*fx)*(1-fy) + (c.along*(1-fx)+e.along*fx)*fy,
					(a.around*(1-fx)+b.around*fx)*(1-fy) + (c.around*(1-fx)+e.around*fx)*fy
			}
			along, around := at(0.5, 0.5)
			if math.IsNaN(along + around) {
				img.v[y*img.w+x] = 25 // the bench behind the tube
				continue
			}
			away, share := d.away(along, around), 0.0
			if pixel := math.Hypot(e.along-a.along, e.around-a.around); math.Abs(away) > pixel {
				if away < 0 {
					share = 1
				}
			} else {
				for k := range 16 {
					if u, v := at((float64(k%4)+0.5)/4, (float64(k/4)+0.5)/4); d.away(u, v) < 0 {
						share += 1.0 / 16
					}
				}
			}
			if share >= 0.5 {
				truth.v[y*img.w+x] = 1
			}
			img.v[y*img.w+x] = float32(l.shade(along, around/w.radius) + share*l.contrast*(1+0.1*math.Sin(along*1.7+around)))
		}
	}
	img = img.gauss(0.9)
	grey := image.NewGray(image.Rect(0, 0, img.w, img.h))
	for i, v := range img.v {
		grey.Pix[i] = uint8(min(max(math.Round(float64(v)+l.noise*r.NormFloat64()), 0), 255))
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, grey, &jpeg.Options{Quality: 90}); err != nil {
		panic(err) // into memory: cannot fail
	}
	back, err := jpeg.Decode(&b)
	if err != nil {
		panic(err) // what was just written
	}
	photo = back.(*image.Gray)
	photo.Rect = box
	return photo, truth
}

// boxOf is where a damage shows in the photo, grown by margin pixels.
func (w workshop) boxOf(d damage, margin float64) image.Rectangle {
	lo, hi := scale.Point{X: 1e9, Y: 1e9}, scale.Point{X: -1e9, Y: -1e9}
	for _, p := range d.outline {
		q := w.onTube(p.X, p.Y)
		lo.X, lo.Y = min(lo.X, q.X), min(lo.Y, q.Y)
		hi.X, hi.Y = max(hi.X, q.X), max(hi.Y, q.Y)
	}
	return image.Rect(int(lo.X-margin), int(lo.Y-margin), int(hi.X+margin), int(hi.Y+margin))
}

// scene is one rendered photo and what is known of it.
type scene struct {
	w        workshop
	d        damage
	l        light
	straight bool // taken from straight above
	photo    *image.Gray
	truth    plane
	region   image.Rectangle
	axis     float64
	seed     uint64
}

// newScene draws the n-th scene: a scratch along, around or across the tube,
// or a blotch.
func newScene(n int) scene {
	r := rand.New(rand.NewPCG(uint64(n), 2027))
	uniform := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	s := scene{straight: n/4%2 == 0, seed: uint64(n)}
	lean := 25.0
	if s.straight {
		lean = 5
	}
	s.w = newWorkshop(uniform(170, 330), uniform(-lean, lean)*degree, uniform(-lean, lean)*degree, uniform(-30, 30)*degree, uniform(16, 20))
	along, facing := uniform(-12, 12), s.w.facing()
	width := uniform(0.15, 0.8)
	switch n % 4 {
	case 0:
		s.d = line("along", along, s.w.radius*uniform(-12, 12)*degree, 0, uniform(4, 15), width, uniform(-0.03, 0.03))
	case 1:
		s.d = line("around", along, s.w.radius*(facing+uniform(-20, 20)*degree), math.Pi/2, uniform(4, 11), width, uniform(-0.03, 0.03))
	case 2:
		s.d = line("diagonal", along, s.w.radius*(facing+uniform(-20, 20)*degree), uniform(20, 70)*degree, uniform(4, 12), width, uniform(-0.03, 0.03))
	case 3:
		s.d = blotch(r, along, s.w.radius*(facing+uniform(-20, 20)*degree), uniform(2.5, 6))
	}
	s.l = newLight(r)
	margin := uniform(40, 60)
	if s.d.length == 0 {
		margin += 30
	}
	box := s.w.boxOf(s.d, margin)
	s.photo, s.truth = s.w.photograph(r, s.d, s.l, box)
	s.region = s.w.boxOf(s.d, uniform(14, 35))
	a, b := s.w.onTube(-10, facing*s.w.radius), s.w.onTube(10, facing*s.w.radius)
	s.axis = math.Atan2(b.Y-a.Y, b.X-a.X)
	return s
}

// propose finds the damage as the program does.
func (s scene) options() Options {
	if s.d.name == "blotch" {
		return Options{Kind: Loss}
	}
	return Options{}
}

// overlap is the share of what is damaged in truth or mask that is so in both.
func (s scene) overlap(m *Mask) float64 {
	both, either := 0, 0
	for i, v := range s.truth.v {
		x, y := s.photo.Rect.Min.X+i%s.truth.w, s.photo.Rect.Min.Y+i/s.truth.w
		a, b := v > 0, m.Level(x, y) > 127
		if a && b {
			both++
		}
		if a || b {
			either++
		}
	}
	return float64(both) / float64(either)
}

func testRand(n int) *rand.Rand { return rand.New(rand.NewPCG(uint64(n), 5)) }
