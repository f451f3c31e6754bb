package scale

import (
	"errors"
	"fmt"
	"math"
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

var errFocal = errors.New("the photo does not state the camera's focal length, so the distance is not known: use a photo straight from the camera")

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

// Tube is a cylinder of known diameter in mm and its two edges in the picture:
// two points on the one, two on the other.
type Tube struct {
	Diameter float64
	Edges    [4]Point
}

// Cylinder is a tube before the camera.
type Cylinder struct {
	Radius   float64 // mm
	Distance float64 // mm from the lens to the axis

	camera           Camera
	axis, foot       vec // direction of the axis; its point nearest to the lens
	toward, sideward vec // at right angles to the axis: to the lens, and around
}

// Limits for a tube that can be used.
const (
	minTubeWidth = 20.0 // px between the two edges
	maxTube      = 1000 // mm
)

// ErrMissesTube: the point is not between the tube's edges.
var ErrMissesTube = errors.New("the point does not lie on the tube, it is outside the two marked edges: mark it between them, or mark the edges again")

// NewCylinder places a tube before the camera. Each edge and the lens span a
// plane that touches the tube; with unit normals n1, n2 turned to the axis and
// radius R the axis runs along n1 x n2 through R (n1 + n2)/(1 + n1.n2). It
// fails without a focal length, for a diameter that is not between 0 and 1000
// mm, and for edges that are too short, too near or cross between the marks.
func NewCylinder(c Camera, t Tube) (Cylinder, error) {
	if !c.known() {
		return Cylinder{}, errFocal
	}
	if !(t.Diameter > 0 && t.Diameter <= maxTube) {
		return Cylinder{}, fmt.Errorf("a tube of diameter %g mm cannot be measured: give its outer diameter in mm, above 0 and at most %d", t.Diameter, maxTube)
	}
	if err := checkEdges(t.Edges); err != nil {
		return Cylinder{}, err
	}
	var r [4]vec
	for i, p := range t.Edges {
		r[i] = c.ray(p)
	}
	n1, n2 := r[0].cross(r[1]).unit(), r[2].cross(r[3]).unit()
	if n1.dot(r[2]) < 0 {
		n1 = n1.times(-1)
	}
	if n2.dot(r[0]) < 0 {
		n2 = n2.times(-1)
	}
	radius := t.Diameter / 2
	out := Cylinder{Radius: radius, camera: c, axis: n1.cross(n2).unit(),
		foot: n1.plus(n2).times(radius / (1 + n1.dot(n2)))}
	out.Distance = out.foot.length()
	out.toward = out.foot.unit().times(-1)
	out.sideward = out.axis.cross(out.toward)
	if bad(out.Distance) || bad(out.axis[0]) || !(out.Distance > radius) {
		return Cylinder{}, errors.New("the two edges do not fit a tube: mark two points on each of its edges again")
	}
	return out, nil
}

func checkEdges(e [4]Point) error {
	if err := finite("tube's edges", e[:]...); err != nil {
		return err
	}
	a, b := e[1].minus(e[0]), e[3].minus(e[2])
	la, lb := math.Hypot(a.X, a.Y), math.Hypot(b.X, b.Y)
	if la < minTubeWidth || lb < minTubeWidth {
		return fmt.Errorf("the two points on one edge of the tube are under %.0f pixels apart: mark them farther apart", minTubeWidth)
	}
	s := [4]float64{a.cross(e[2].minus(e[0])) / la, a.cross(e[3].minus(e[0])) / la, b.cross(e[0].minus(e[2])) / lb, b.cross(e[1].minus(e[2])) / lb}
	if s[0]*s[1] <= 0 || s[2]*s[3] <= 0 {
		return errors.New("the tube's two edges cross: give two points of the one edge, then two of the other")
	}
	for _, d := range s {
		if math.Abs(d) < minTubeWidth {
			return fmt.Errorf("the tube's two edges are under %.0f pixels apart: mark them again, or take the photo from nearer", minTubeWidth)
		}
	}
	return nil
}

// At gives the place of a pixel on the unrolled tube: mm along the axis and mm
// around from the line nearest to the lens. ErrMissesTube when the line of
// sight passes the tube.
func (c Cylinder) At(px Point) (Point, error) {
	ray := c.camera.ray(px)
	across := ray.minus(c.axis.times(ray.dot(c.axis)))
	a, b := across.dot(across), across.dot(c.foot)
	disc := b*b - a*(c.Distance*c.Distance-c.Radius*c.Radius)
	if !(disc >= 0 && b > 0) {
		return Point{}, ErrMissesTube
	}
	hit := ray.times((b - math.Sqrt(disc)) / a)
	out := hit.minus(c.foot)
	around := c.Radius * math.Atan2(out.dot(c.sideward), out.dot(c.toward))
	p := Point{hit.dot(c.axis), around}
	if bad(p.X) || bad(p.Y) {
		return Point{}, ErrMissesTube
	}
	return p, nil
}
