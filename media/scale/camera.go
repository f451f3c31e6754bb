package scale

import (
	"math"

	"forkwear/inspect"
)

// vec is a direction or place before the camera: x right, y down, z away, mm.
type vec [3]float64

func (a vec) plus(b vec) vec      { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec) times(k float64) vec { return vec{a[0] * k, a[1] * k, a[2] * k} }
func (a vec) minus(b vec) vec     { return a.plus(b.times(-1)) }
func (a vec) dot(b vec) float64   { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec) length() float64     { return math.Sqrt(a.dot(a)) }
func (a vec) unit() vec           { return a.times(1 / a.length()) }
func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// Camera is a pinhole: focal length in pixels (0 when not known) and the point
// of the picture the lens looks at, its middle. Lens distortion is left out.
type Camera struct {
	Focal  float64
	Centre Point
}

// CameraOf gives the camera of a picture of width x height pixels whose focal
// length is film35 mm on 35 mm film (EXIF FocalLengthIn35mmFilm), by the
// diagonal: focal = film35 * diagonal / 43.27 mm. It holds for the uncropped
// picture only. With film35 0 the focal length stays unknown.
func CameraOf(width, height int, film35 float64) Camera {
	c := Camera{Centre: Point{float64(width) / 2, float64(height) / 2}}
	if film35 > 0 && !bad(film35) && width > 0 && height > 0 {
		c.Focal = film35 * math.Hypot(float64(width), float64(height)) / math.Hypot(36, 24)
	}
	return c
}

func (c Camera) known() bool { return c.Focal > 0 && !math.IsInf(c.Focal, 1) }

func (c Camera) ray(p Point) vec {
	return vec{(p.X - c.Centre.X) / c.Focal, (p.Y - c.Centre.Y) / c.Focal, 1}
}

// Pose is where the card lies before the camera, in mm.
type Pose struct {
	Right, Down, Away [3]float64 // the card's own directions; Away points from the camera into the surface
	Corner            [3]float64 // its first corner
	Distance          float64    // from the lens to the card's middle
	Misfit            float64    // how far corners and focal length disagree, 0 is agreement: the larger of |1 - ratio of the two axes| and the cosine between them
}

var errFocal = inspect.Refuse(inspect.Invalid, "the photo does not state the camera's focal length, so the distance is not known: use a photo straight from the camera")

// Pose finds the card before the camera: K^-1 H = s (r1 r2 t), made orthogonal
// evenly on both axes (Zhang 2000, section 3.1; from memory). It needs the
// focal length.
func (p Plane) Pose(c Camera) (Pose, error) {
	if !c.known() {
		return Pose{}, errFocal
	}
	h := p.ToPixel
	column := func(i int) vec {
		return vec{(h[i] - c.Centre.X*h[6+i]) / c.Focal, (h[3+i] - c.Centre.Y*h[6+i]) / c.Focal, h[6+i]}
	}
	a, b, t := column(0), column(1), column(2)
	la, lb := a.length(), b.length()
	if !(la > 0 && lb > 0) || t[2] == 0 {
		return Pose{}, errDegenerate
	}
	s := 2 / (la + lb)
	if t[2] < 0 {
		s = -s
	}
	ra, rb := a.times(math.Copysign(1/la, s)), b.times(math.Copysign(1/lb, s))
	sum, diff := ra.plus(rb).unit(), ra.minus(rb).unit()
	r1, r2 := sum.plus(diff).times(math.Sqrt2/2), sum.minus(diff).times(math.Sqrt2/2)
	corner := t.times(s)
	middle := corner.plus(r1.times(p.width / 2)).plus(r2.times(p.height / 2))
	out := Pose{Right: r1, Down: r2, Away: r1.cross(r2), Corner: corner, Distance: middle.length(),
		Misfit: math.Max(math.Abs(1-la/lb), math.Abs(ra.dot(rb)))}
	if bad(out.Distance) || bad(out.Misfit) {
		return Pose{}, errDegenerate
	}
	return out, nil
}
