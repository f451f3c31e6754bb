package phototest

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"

	"forkwear/inspect"
	"forkwear/media/scale"
)

// spot is a place or direction over the bench, mm: the tube lies along x, its
// axis through 0; z points down, away from the camera.
type spot [3]float64

func (a spot) plus(b spot) spot     { return spot{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a spot) times(k float64) spot { return spot{k * a[0], k * a[1], k * a[2]} }
func (a spot) dot(b spot) float64   { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a spot) unit() spot           { return a.times(1 / math.Sqrt(a.dot(a))) }
func (a spot) cross(b spot) spot {
	return spot{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// Tube is a scratched tube before a pinhole camera: places are projected and
// lines of sight meet the tube in its own coordinates, which is another way
// than media/scale goes. Lengths are mm, angles radians, Focal is in pixels of
// the full photo.
type Tube struct {
	Distance, Tilt, Side, Roll float64 // of the camera to the tube's top; leaning along it and across; turned
	Focal                      float64
	Along, Around              float64 // the middle of the scratch on the unrolled tube, from the top line
	Way                        float64 // its direction there, 0 is along
	Length, Wide               float64
	Blur                       float64 // standard deviation, photo pixels
	Light                      float64 // of the scratch against the tube, grey levels
	Noise                      float64 // standard deviation, grey levels
	Seed                       uint64

	eye, look, right, down spot
}

// Before sets the camera up.
func (b Tube) Before() Tube {
	b.look = spot{math.Sin(b.Tilt), math.Cos(b.Tilt) * math.Sin(b.Side), math.Cos(b.Tilt) * math.Cos(b.Side)}
	b.eye = spot{0, 0, -Radius}.plus(b.look.times(-b.Distance))
	right := spot{1, 0, 0}.plus(b.look.times(-b.look[0])).unit()
	down := b.look.cross(right)
	s, c := math.Sincos(b.Roll)
	b.right = right.times(c).plus(down.times(s))
	b.down = b.look.cross(b.right)
	return b
}

func (b Tube) project(p spot) inspect.Spot {
	d := p.plus(b.eye.times(-1))
	z := d.dot(b.look)
	return inspect.Spot{X: Width/2 + b.Focal*d.dot(b.right)/z, Y: Height/2 + b.Focal*d.dot(b.down)/z}
}

// At is the place in the full photo of a place on the unrolled tube.
func (b Tube) At(along, around float64) inspect.Spot {
	s, c := math.Sincos(around / Radius)
	return b.project(spot{along, Radius * s, -Radius * c})
}

// Ends are the ends of the scratch in the full photo.
func (b Tube) Ends() (p, q inspect.Spot) {
	s, c := math.Sincos(b.Way)
	return b.At(b.Along-c*b.Length/2, b.Around-s*b.Length/2), b.At(b.Along+c*b.Length/2, b.Around+s*b.Length/2)
}

// Edges are two places on each edge of the tube: the line of sight touches it
// at acos(radius/distance) to both sides of where it faces the camera.
func (b Tube) Edges() [4]inspect.Spot {
	at, half := math.Atan2(b.eye[1], -b.eye[2])*Radius, math.Acos(Radius/math.Hypot(b.eye[1], b.eye[2]))*Radius
	return [4]inspect.Spot{b.At(-30, at-half), b.At(30, at-half), b.At(-30, at+half), b.At(30, at+half)}
}

// Card are the corners of a card beside the tube, low mm under its top.
func (b Tube) Card(low float64) []inspect.Spot {
	at := func(x, y float64) inspect.Spot {
		return b.project(spot{x - scale.CardWidth/2, y + Radius + 5, low - Radius})
	}
	return []inspect.Spot{at(0, 0), at(scale.CardWidth, 0), at(scale.CardWidth, scale.CardHeight), at(0, scale.CardHeight)}
}

// hit is where the line of sight of a place in the full photo meets the tube.
func (b Tube) hit(x, y float64) (along, around float64, ok bool) {
	d := b.look.times(b.Focal).plus(b.right.times(x - Width/2)).plus(b.down.times(y - Height/2))
	p, q := d[1]*d[1]+d[2]*d[2], d[1]*b.eye[1]+d[2]*b.eye[2]
	disc := q*q - p*(b.eye[1]*b.eye[1]+b.eye[2]*b.eye[2]-Radius*Radius)
	if disc < 0 {
		return 0, 0, false
	}
	at := b.eye.plus(d.times((-q - math.Sqrt(disc)) / p))
	return at[0], Radius * math.Atan2(at[1], -at[2]), true
}

// Box is where the scratch lies in a picture px pixels wide, with a margin.
func (b Tube) Box(px, margin int) image.Rectangle {
	k := Width / float64(px)
	p, q := b.Ends()
	return image.Rect(int(min(p.X, q.X)/k)-margin, int(min(p.Y, q.Y)/k)-margin, int(max(p.X, q.X)/k)+margin, int(max(p.Y, q.Y)/k)+margin)
}

// DrawPart draws a part of the photo px pixels wide, as grey: metal with two
// reflections and turning marks, noise, and the scratch with straight ends,
// blurred.
func (b Tube) DrawPart(px int, part image.Rectangle) *image.RGBA {
	img := image.NewRGBA(part)
	r := rand.New(rand.NewPCG(b.Seed, 16))
	k := Width / float64(px)
	perMM := b.Focal / b.Distance
	blur := math.Hypot(b.Blur, 0.29*k) / perMM // and a pixel's own width
	s, c := math.Sincos(b.Way)
	band := func(v, half float64) float64 {
		return (math.Erf((v+half)/(blur*math.Sqrt2)) - math.Erf((v-half)/(blur*math.Sqrt2))) / 2
	}
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			g := 60.0
			if along, around, ok := b.hit((float64(x)+.5)*k, (float64(y)+.5)*k); ok {
				a := around / Radius
				g = 40 + 60*math.Cos(a) + 40*math.Exp(-math.Pow((a+0.5)/0.2, 2)) + 25*math.Exp(-math.Pow((a-0.6)/0.25, 2)) + 1.5*math.Sin(9*along)
				u, v := along-b.Along, around-b.Around
				g += b.Light * band(c*u+s*v, b.Length/2) * band(-s*u+c*v, b.Wide/2)
			}
			q := uint8(math.Max(0, math.Min(255, math.Round(g+b.Noise*r.NormFloat64()))))
			img.SetRGBA(x, y, color.RGBA{q, q, q, 255})
		}
	}
	return img
}
