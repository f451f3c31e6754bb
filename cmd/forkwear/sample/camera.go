package sample

import (
	"math"

	"forkwear/media/scale"
)

// The drawn photos: 1200 x 900, through a lens of 26 mm on 35 mm film, as their
// EXIF says.
const (
	pictureW = 1200
	pictureH = 900
	film35   = 26
)

type vec [3]float64

func (a vec) plus(b vec) vec      { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec) minus(b vec) vec     { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func (a vec) times(k float64) vec { return vec{a[0] * k, a[1] * k, a[2] * k} }
func (a vec) dot(b vec) float64   { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec) unit() vec           { return a.times(1 / math.Sqrt(a.dot(a))) }
func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// camera is a pinhole over the bench. The world is in mm: x to the right, y
// down the picture, z away from the camera; z = 0 touches the front of the part.
type camera struct {
	at                 vec
	right, down, ahead vec
	focal              float64 // px
}

// lookAt puts a camera at a place, turned to another, rolled by an angle.
func lookAt(at, target vec, roll float64) camera {
	ahead := target.minus(at).unit()
	right := vec{0, 1, 0}.cross(ahead).unit()
	down := ahead.cross(right)
	sin, cos := math.Sincos(roll)
	return camera{at: at, ahead: ahead, right: right.times(cos).plus(down.times(sin)), down: down.times(cos).minus(right.times(sin)),
		focal: scale.CameraOf(pictureW, pictureH, film35).Focal}
}

// ray is the direction through a pixel.
func (c camera) ray(x, y float64) vec {
	return c.right.times((x - pictureW/2) / c.focal).plus(c.down.times((y - pictureH/2) / c.focal)).plus(c.ahead)
}

// project gives the pixel of a place.
func (c camera) project(p vec) scale.Point {
	q := p.minus(c.at)
	z := q.dot(c.ahead)
	return scale.Point{X: pictureW/2 + c.focal*q.dot(c.right)/z, Y: pictureH/2 + c.focal*q.dot(c.down)/z}
}

// round is a tube: its axis, a point of it, and its radius. Places on it are u
// mm along the axis and s mm around from the line nearest to the camera.
type round struct {
	foot, axis, front, side vec
	radius                  float64
}

// tubeAt lies with its front at z = 0, its axis down the picture and turned by an
// angle, through x at the middle of the picture.
func tubeAt(x, radius, turn float64) round {
	sin, cos := math.Sincos(turn)
	return round{foot: vec{x, 0, radius}, axis: vec{-sin, cos, 0}, front: vec{0, 0, -1}, side: vec{cos, sin, 0}, radius: radius}
}

// place is a point on the unrolled tube.
func (t round) place(u, s float64) vec {
	sin, cos := math.Sincos(s / t.radius)
	return t.foot.plus(t.axis.times(u)).plus(t.front.times(t.radius * cos)).plus(t.side.times(t.radius * sin))
}

// sight is a tube before a camera, with what all pixels of a row share.
type sight struct {
	t         round
	cam       camera
	m, across vec // the camera, and a step of one pixel to the right, along axis, side and front
	row       vec // the ray through the left end of the row
	gap       float64
}

func (t round) own(v vec) vec { return vec{v.dot(t.axis), v.dot(t.side), v.dot(t.front)} }

func (t round) from(c camera) sight {
	s := sight{t: t, cam: c, m: t.own(c.at.minus(t.foot)), across: t.own(c.right.times(1 / c.focal))}
	s.gap = s.m[1]*s.m[1] + s.m[2]*s.m[2] - t.radius*t.radius
	return s
}

// at moves to a row.
func (s *sight) at(y float64) { s.row = s.t.own(s.cam.ray(0, y)) }

// hit is where the ray through a pixel of the row meets the tube: u, the angle
// around and the distance; false where it passes.
func (s *sight) hit(x float64) (u, angle, far float64, ok bool) {
	side, front := s.row[1]+x*s.across[1], s.row[2]+x*s.across[2]
	a, b := side*side+front*front, s.m[1]*side+s.m[2]*front
	disc := b*b - a*s.gap
	if disc < 0 {
		return 0, 0, 0, false
	}
	far = (-b - math.Sqrt(disc)) / a
	return s.m[0] + far*(s.row[0]+x*s.across[0]), math.Atan2(s.m[1]+far*side, s.m[2]+far*front), far, far > 0
}

// edges are two points on each silhouette of the tube, left first.
func (t round) edges(c camera) [4]scale.Point {
	m := c.at.minus(t.foot)
	mp := m.minus(t.axis.times(m.dot(t.axis)))
	dist := math.Sqrt(mp.dot(mp))
	lean := math.Atan2(mp.dot(t.side), mp.dot(t.front))
	turn := math.Acos(t.radius / dist)
	at := func(u, angle float64) scale.Point { return c.project(t.place(u, t.radius*angle)) }
	return [4]scale.Point{at(-40, lean-turn), at(40, lean-turn), at(-40, lean+turn), at(40, lean+turn)}
}

// between gives the x of an edge at a row.
func between(a, b scale.Point, y float64) float64 { return a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y) }
