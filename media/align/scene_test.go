package align

import (
	"image"
	"math"
	"math/rand/v2"
	"sync"

	"forkwear/media/scale"
)

// The rendered bench: a tube with scratches lying across a textured ground,
// defined for every place, so that a photo of it by a known transform has no
// interpolation in it. All of it is made up here.

// scene gives the brightness of the part at a place of the then photo.
type scene struct {
	texture   float64 // grey levels of the ground's texture; little = bare workshop mat
	tubeGrain float64 // grey levels of the tube's own texture
	highlight float64 // offset of the tube's highlight across it, -1..1 (moves with the lamp)
	newMark   bool    // a scratch that only now has
	seed      uint32  // of the texture; another one is another part on another ground
}

const sceneW, sceneH = 1008, 756

func (s scene) at(x, y float64) float64 {
	// along and across a tube that runs at 12 degrees through the middle
	sin, cos := math.Sincos(12 * math.Pi / 180)
	dx, dy := x-sceneW/2, y-sceneH/2
	along, across := dx*cos+dy*sin, (-dx*sin+dy*cos)/130
	if math.Abs(across) > 1 {
		return 95 + s.texture*cloud(x, y, 40, 1+s.seed) + 0.6*s.texture*cloud(x, y, 9, 2+s.seed)
	}
	v := 70 + 80*math.Sqrt(1-across*across) + 70*math.Exp(-math.Pow((across-s.highlight)/0.08, 2))
	v += s.tubeGrain * cloud(along, 130*across, 14, 3+s.seed)
	for i, m := range []struct{ a, c, length, width, depth float64 }{
		{-300, -0.4, 60, 2, 45}, {-120, 0.3, 90, 1.5, -40}, {80, -0.1, 40, 3, 50}, {230, 0.5, 70, 2, -45}, {330, -0.55, 50, 2.5, 40}, {20, 0.62, 120, 2, 40},
	} {
		slope := 0.25 * float64(i%3-1)
		a, c := along-m.a, 130*(across-m.c)-slope*(along-m.a)
		if math.Abs(a) > m.length/2+8 || math.Abs(c) > m.width+8 {
			continue
		}
		v += m.depth * soft(m.length/2-math.Abs(a)) * soft(m.width-math.Abs(c))
	}
	if s.newMark {
		v += 60 * soft(100-math.Abs(along-150)) * soft(3-math.Abs(130*(across-0.1)))
	}
	return v
}

func soft(d float64) float64 {
	switch {
	case d < -8:
		return 0
	case d > 8:
		return 1
	}
	return 1 / (1 + math.Exp(-2*d))
}

// cloud is value noise of -1 to 1 with a grain of the given size.
func cloud(x, y, grain float64, seed uint32) float64 {
	x, y = x/grain, y/grain
	fx, fy := math.Floor(x), math.Floor(y)
	at := func(i, j float64) float64 {
		h := uint32(int32(i))*0x9E3779B1 ^ uint32(int32(j))*0x85EBCA77 ^ seed*0xC2B2AE3D
		h ^= h >> 15
		h *= 0x2C1B3C6D
		h ^= h >> 12
		h *= 0x297A2D39
		h ^= h >> 15
		return float64(h)/float64(1<<31) - 1
	}
	u, v := x-fx, y-fy
	u, v = u*u*(3-2*u), v*v*(3-2*v)
	return (at(fx, fy)*(1-u)+at(fx+1, fy)*u)*(1-v) + (at(fx, fy+1)*(1-u)+at(fx+1, fy+1)*u)*v
}

// photo takes the scene through a transform of this photo to the then photo,
// with a lighting gradient (gain from one side to the other) and noise. k is
// the size of the photo against 1008 x 756.
func (s scene) photo(t Transform, k, gradient, offset, noise float64, seed uint64) *image.Gray {
	g := image.NewGray(image.Rect(0, 0, int(sceneW*k), int(sceneH*k)))
	var group sync.WaitGroup
	for y := range g.Rect.Dy() {
		group.Go(func() {
			r := rand.New(rand.NewPCG(seed, uint64(y)))
			for x := range g.Rect.Dx() {
				var sum float64
				for _, d := range [2][2]float64{{0.25, 0.35}, {0.75, 0.65}} {
					p, _ := t.Apply(scale.Point{X: (float64(x) + d[0]) / k, Y: (float64(y) + d[1]) / k})
					sum += s.at(p.X, p.Y) / 2
				}
				light := 1 + gradient*(float64(x)/float64(g.Rect.Dx())-0.5) - 0.6*gradient*(float64(y)/float64(g.Rect.Dy())-0.5)
				g.Pix[y*g.Stride+x] = byte(max(0, min(255, math.Round(sum*light+offset+noise*r.NormFloat64()))))
			}
		})
	}
	group.Wait()
	return g
}

// turned makes a transform about the photo's centre: degrees, zoom, shift, and
// a tilt of the camera in degrees at a focal length of 1.1 widths.
func turned(degrees, zoom, dx, dy, tilt float64) Transform {
	s, c := math.Sincos(degrees * math.Pi / 180)
	st, ct := math.Sincos(tilt * math.Pi / 180)
	const f = 1.1 * sceneW
	centre := Transform{1, 0, -sceneW / 2, 0, 1, -sceneH / 2, 0, 0, 1}
	back := Transform{1, 0, sceneW/2 + dx, 0, 1, sceneH/2 + dy, 0, 0, 1}
	tilted := Transform{ct, 0, 0, 0, 1, 0, -st / f, 0, 1}
	return settled(times(back, times(Transform{zoom * c, -zoom * s, 0, zoom * s, zoom * c, 0, 0, 0, 1}, times(tilted, centre))))
}

// cornerError is the mean distance between two transforms at now's corners.
func cornerError(a, b Transform, w, h float64) float64 {
	var sum float64
	for _, c := range []scale.Point{{}, {X: w}, {X: w, Y: h}, {Y: h}} {
		p, err := a.Apply(c)
		q, err2 := b.Apply(c)
		if err != nil || err2 != nil {
			return math.Inf(1)
		}
		sum += math.Hypot(p.X-q.X, p.Y-q.Y) / 4
	}
	return sum
}

// clicks marks places of the now photo with an error on both photos.
func clicks(truth Transform, at []scale.Point, sigma float64, seed uint64) []Pair {
	r := rand.New(rand.NewPCG(seed, 77))
	shake := func(p scale.Point) scale.Point {
		return scale.Point{X: p.X + sigma*r.NormFloat64(), Y: p.Y + sigma*r.NormFloat64()}
	}
	var out []Pair
	for _, p := range at {
		q, _ := truth.Apply(p)
		out = append(out, Pair{Then: shake(q), Now: shake(p)})
	}
	return out
}

var fourPlaces = []scale.Point{{X: 150, Y: 120}, {X: 860, Y: 130}, {X: 850, Y: 640}, {X: 160, Y: 650}}

// changes are the true changes of the table: OpenCV ORB, AKAZE and ECC were
// tried on such ones beforehand.
var changes = []struct {
	name  string
	truth Transform
}{
	{"shift 7,-4", turned(0, 1, 7, -4, 0)},
	{"3 deg, x1.05", turned(3, 1.05, 0, 0, 0)},
	{"8 deg, x0.9", turned(8, 0.9, 10, 5, 0)},
	{"15 deg, x1.2", turned(15, 1.2, -20, 10, 0)},
	{"5 deg, x1.1, tilt 10", turned(5, 1.1, 0, 8, 10)},
	{"25 deg, x0.8, tilt 15", turned(25, 0.8, 15, -10, 15)},
}

func scalePoint(x, y int) scale.Point { return scale.Point{X: float64(x) + 0.5, Y: float64(y) + 0.5} }
