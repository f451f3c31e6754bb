package scale

import (
	"math"

	"forkwear/inspect"
)

// KnownLength is two points in the picture and their distance in mm.
type KnownLength struct {
	A, B Point
	MM   float64
}

// Scene is what was marked in a photo to scale it by. Card (four corners),
// Known and Tube may be left nil; at least one must fit.
type Scene struct {
	Camera Camera
	Card   []Point
	Known  *KnownLength
	Tube   *Tube
	// LongFirst: the card's first side is its long one, whatever it looks like.
	LongFirst bool
	// PrintFactor is the true size of a printed card by that of ISO/IEC 7810,
	// where the printer did not keep it; 0 is 1.
	PrintFactor float64
	Tongue      inspect.Tongue // of the remarks; nil is English
}

// Zoomed is the scene as it is marked in the same picture shown k times as
// large (k < 1: reduced). What is measured stays the same; uncertainties, which
// are in pixels, then count in those of that picture.
func (s Scene) Zoomed(k float64) Scene {
	by := func(p Point) Point { return Point{k * p.X, k * p.Y} }
	out := s
	out.Camera = Camera{k * s.Camera.Focal, by(s.Camera.Centre)}
	if s.Card != nil {
		out.Card = make([]Point, len(s.Card))
		for i, p := range s.Card {
			out.Card[i] = by(p)
		}
	}
	if s.Known != nil {
		out.Known = &KnownLength{by(s.Known.A), by(s.Known.B), s.Known.MM}
	}
	if s.Tube != nil {
		t := *s.Tube
		for i, p := range t.Edges {
			t.Edges[i] = by(p)
		}
		out.Tube = &t
	}
	return out
}

// Ways a value was reached.
const (
	ByTube      = "tube"                       // on the unrolled tube
	ByCard      = "card"                       // in the card's plane
	ByCardAlong = "card, along the tube only"  // in the card's plane although it is a tube
	ByKnown     = "scale"                      // two points a known distance apart
	ByKnownTube = "scale, along the tube only" // the same although it is a tube
)

// Uncertainty says how exactly points are marked. Standard deviations.
type Uncertainty struct {
	Redraws     int     // how often all points are marked again at random
	Seed        uint64  // the same seed gives the same range
	ClickSigma  float64 // px, each coordinate of a measured or scale point
	CornerSigma float64 // px, each coordinate of a card corner or tube edge point
	HeightSigma float64 // mm, height of the surface above the card or scale
	FocalSigma  float64 // part of the focal length
	EdgeSigma   float64 // px, where the edge of a mask lies, too far out or in all around
	EndSigma    float64 // px, where the centre line of a mask ends, each end
	BlurMost    float64 // px, greatest sigma of the blur, which widens thin lines
}

// DefaultUncertainty: 500 redraws, clicks 1.5 px, corners 1 px, height 1 mm (a
// card is 0.76 mm thick), focal length 3 % (it is written in whole mm); common
// practice, no source. The edge of a mask 0.12 px, its ends 0.5 px: measured on
// rendered scenes with masks that the program proposed (media/scratch). Blur up
// to 1.2 px: a photo that is more blurred looks so.
func DefaultUncertainty() Uncertainty {
	return Uncertainty{Redraws: 500, Seed: 1, ClickSigma: 1.5, CornerSigma: 1, HeightSigma: 1, FocalSigma: 0.03,
		EdgeSigma: 0.12, EndSigma: 0.5, BlurMost: 1.2}
}

// ByHand is the uncertainty of a mask that was painted, not proposed: its edge
// is known to half a pixel, its ends as a click. Common practice, no source.
func (u Uncertainty) ByHand() Uncertainty {
	u.EdgeSigma, u.EndSigma = math.Max(u.EdgeSigma, 0.5), math.Max(u.EndSigma, u.ClickSigma)
	return u
}

// Measured is a value in mm or mm2 with the range that holds the truth 95
// times in 100.
type Measured struct {
	Value, Low, High float64
	Method           string
	Remarks          []string
	Below            bool // too small to measure: the truth is below High, which Value repeats; Low is 0
}

// usualDistance stands in, mm, when the distance of the lens is not known.
const usualDistance = 300

// surface gives places on a part for places in the picture. distance is that
// of the lens, mm, for the height term; 0 when heights do not matter.
type surface struct {
	at       func(Point) (Point, error)
	distance float64
	method   string
}

// Length measures a polyline of two or more points, straight on the surface
// between neighbours, in mm.
func (s Scene) Length(line []Point, u Uncertainty) (Measured, error) {
	if len(line) < 2 {
		return Measured{}, inspect.Refuse(inspect.Invalid, "a line needs two points or more, given are %d", len(line))
	}
	return s.measure("line", line, 1, PolylineLength, u)
}

// Area measures the inside of a closed outline of three or more points, its
// sides straight on the surface, in mm2. An outline that crosses itself is
// refused.
func (s Scene) Area(outline []Point, u Uncertainty) (Measured, error) {
	if len(outline) < 3 {
		return Measured{}, inspect.Refuse(inspect.Invalid, "an area needs three points or more, given are %d", len(outline))
	}
	if finite("area", outline...) == nil && crossesItself(outline) {
		return Measured{}, inspect.Refuse(inspect.Invalid, "the outline of the area crosses itself: give its points in order around it")
	}
	return s.measure("area", outline, 2, PolygonArea, u)
}

func (s Scene) measure(what string, points []Point, power float64, size func([]Point) float64, u Uncertainty) (Measured, error) {
	if err := u.check(); err != nil {
		return Measured{}, err
	}
	if err := finite(what, points...); err != nil {
		return Measured{}, err
	}
	surf, err := s.surface()
	if err != nil {
		return Measured{}, err
	}
	places, err := mapAll(surf, points)
	if err != nil {
		return Measured{}, err
	}
	out := Measured{Value: size(places), Method: surf.method, Remarks: s.remarks(surf, points)}
	if !(out.Value > 0) || bad(out.Value) {
		if power == 2 {
			return Measured{}, inspect.Refuse(inspect.Invalid, "the area has no size, its points lie on one place or on one line: mark it again")
		}
		return Measured{}, inspect.Refuse(inspect.Invalid, "the line has no size, its points lie on one place: mark it again")
	}
	out.Low, out.High, err = s.redraw(points, power, size, u)
	if err != nil {
		return Measured{}, err
	}
	out.Low, out.High = math.Min(out.Low, out.Value), math.Max(out.High, out.Value)
	return out, nil
}

func (u Uncertainty) check() error {
	for _, v := range []float64{u.ClickSigma, u.CornerSigma, u.HeightSigma, u.FocalSigma, u.EdgeSigma, u.EndSigma, u.BlurMost} {
		if bad(v) || v < 0 {
			return inspect.Refuse(inspect.Invalid, "an uncertainty of %g cannot be used: give 0 or more", v)
		}
	}
	if u.Redraws < 100 || u.Redraws > 100000 {
		return inspect.Refuse(inspect.Invalid, "%d redraws cannot give a 95 %% range: use 100 to 100000", u.Redraws)
	}
	return nil
}

func mapAll(s surface, points []Point) ([]Point, error) {
	out := make([]Point, len(points))
	for i, p := range points {
		var err error
		if out[i], err = s.at(p); err != nil {
			return nil, inspect.Refuse(inspect.Invalid, "point %d: %w", i+1, err)
		}
	}
	return out, nil
}

// surface picks the best way the marks allow.
func (s Scene) surface() (surface, error) {
	along := s.Tube != nil
	switch {
	case s.Tube != nil && s.Camera.known():
		c, err := NewCylinder(s.Camera, *s.Tube)
		return surface{at: c.At, method: ByTube}, err
	case s.Card != nil:
		p, err := s.plane()
		out := surface{at: p.At, method: pick(along, ByCardAlong, ByCard), distance: usualDistance}
		if err == nil && s.Camera.known() {
			var pose Pose
			pose, err = p.Pose(s.Camera)
			out.distance = pose.Distance
		}
		return out, err
	case s.Known != nil:
		k, err := s.Known.perPixel()
		out := surface{method: pick(along, ByKnownTube, ByKnown), distance: usualDistance,
			at: func(p Point) (Point, error) { return Point{p.X * k, p.Y * k}, nil }}
		if s.Camera.known() {
			out.distance = s.Camera.Focal * k
		}
		return out, err
	case s.Tube != nil:
		return surface{}, inspect.Refuse(inspect.Invalid, "the photo does not state the camera's focal length, so a tube alone gives no scale: mark a card or a known length too")
	}
	return surface{}, inspect.Refuse(inspect.Invalid, "nothing in the photo gives its scale: mark a card, a known length or a tube's edges")
}

func pick(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

// perPixel is mm per pixel.
func (k KnownLength) perPixel() (float64, error) {
	if err := finite("scale", k.A, k.B); err != nil {
		return 0, err
	}
	if !(k.MM > 0) || k.MM > maxCoordinate {
		return 0, inspect.Refuse(inspect.Invalid, "a known length of %g mm cannot be used: give a length above 0", k.MM)
	}
	d := k.A.distance(k.B)
	if d < minTubeWidth {
		return 0, inspect.Refuse(inspect.Invalid, "the two scale points are under %.0f pixels apart: mark a longer known length", minTubeWidth)
	}
	return k.MM / d, nil
}
