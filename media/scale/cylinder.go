package scale

import (
	"math"

	"forkwear/inspect"
)

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
var ErrMissesTube = inspect.Refuse(inspect.Invalid, "the point does not lie on the tube, it is outside the two marked edges: mark it between them, or mark the edges again")

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
		return Cylinder{}, inspect.Refuse(inspect.Invalid, "a tube of diameter %g mm cannot be measured: give its outer diameter in mm, above 0 and at most %d", t.Diameter, maxTube)
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
		return Cylinder{}, inspect.Refuse(inspect.Invalid, "the two edges do not fit a tube: mark two points on each of its edges again")
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
		return inspect.Refuse(inspect.Invalid, "the two points on one edge of the tube are under %.0f pixels apart: mark them farther apart", minTubeWidth)
	}
	s := [4]float64{a.cross(e[2].minus(e[0])) / la, a.cross(e[3].minus(e[0])) / la, b.cross(e[0].minus(e[2])) / lb, b.cross(e[1].minus(e[2])) / lb}
	if s[0]*s[1] <= 0 || s[2]*s[3] <= 0 {
		return inspect.Refuse(inspect.Invalid, "the tube's two edges cross: give two points of the one edge, then two of the other")
	}
	for _, d := range s {
		if math.Abs(d) < minTubeWidth {
			return inspect.Refuse(inspect.Invalid, "the tube's two edges are under %.0f pixels apart: mark them again, or take the photo from nearer", minTubeWidth)
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
