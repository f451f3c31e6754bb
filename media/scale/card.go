package scale

import (
	"math"

	"forkwear/inspect"
)

// Sides of an ID-1 card in mm (ISO/IEC 7810, from memory).
const (
	CardWidth  = 85.60
	CardHeight = 53.98
)

// Limits for a card that can be used.
const (
	minCardSide   = 30.0 // px; a corner one pixel off is then 3 % already
	minHorizon    = 0.05 // least weight of a point against the card's middle: 20 times as far away
	ambiguousCard = 1.11 // sides nearer than this do not tell which one is long
	leastPrint    = 0.5  // of a printed card's size
	mostPrint     = 2.0
)

// Plane is the flat surface the card lies on.
type Plane struct {
	ToMM     Homography // picture to surface, mm from the card's first corner
	ToPixel  Homography // surface to picture
	Portrait bool       // the card's short side is on top

	width, height float64 // mm as the card lies
	middle        float64 // weight of ToMM in the card's middle
}

// NewPlane finds the card's plane from its four corners in the picture, top
// left first, then clockwise; whether the long side or the short one is on top
// is seen from their lengths. It refuses corners that are not finite, cross
// over, run the other way, are not a card seen from above (not convex, a side
// under 30 px), or are seen so slantwise that the long side is not known.
func NewPlane(corners []Point) (Plane, error) {
	if err := checkCorners(corners); err != nil {
		return Plane{}, err
	}
	c := corners
	ratio := (c[0].distance(c[1]) + c[2].distance(c[3])) / (c[1].distance(c[2]) + c[3].distance(c[0]))
	if ratio < ambiguousCard && ratio > 1/ambiguousCard {
		return Plane{}, inspect.Refuse(inspect.Invalid, "the card is seen so slantwise that its long side cannot be told: take the photo more from above")
	}
	return planeOf(corners, ratio < 1, 1)
}

// NewPlaneLongFirst is NewPlane for a card whose first side is known to be its
// long one, as its code tells: it may be seen from any slant that the other
// limits allow, and Portrait is always false.
func NewPlaneLongFirst(corners []Point) (Plane, error) {
	if err := checkCorners(corners); err != nil {
		return Plane{}, err
	}
	return planeOf(corners, false, 1)
}

// plane is that of the scene's card, in its true size.
func (s Scene) plane() (Plane, error) {
	factor := s.printFactor()
	if !(factor >= leastPrint && factor <= mostPrint) {
		return Plane{}, inspect.Refuse(inspect.Invalid, "a card printed at %g times its size cannot be used: measure its check line again", s.PrintFactor)
	}
	find := NewPlane
	if s.LongFirst {
		find = NewPlaneLongFirst
	}
	p, err := find(s.Card)
	if err != nil || factor == 1 {
		return p, err
	}
	return planeOf(s.Card, p.Portrait, factor)
}

// printFactor is PrintFactor, 1 where none is given.
func (s Scene) printFactor() float64 {
	if s.PrintFactor == 0 {
		return 1
	}
	return s.PrintFactor
}

// planeOf takes a card of factor times its size.
func planeOf(corners []Point, portrait bool, factor float64) (Plane, error) {
	p := Plane{Portrait: portrait, width: factor * CardWidth, height: factor * CardHeight}
	if portrait {
		p.width, p.height = p.height, p.width
	}
	mm := []Point{{0, 0}, {p.width, 0}, {p.width, p.height}, {0, p.height}}
	var err error
	if p.ToMM, err = FitHomography(corners, mm); err != nil {
		return Plane{}, err
	}
	if p.ToPixel, err = p.ToMM.Inverse(); err != nil {
		return Plane{}, err
	}
	middle, err := p.ToPixel.Apply(Point{p.width / 2, p.height / 2})
	if err != nil {
		return Plane{}, err
	}
	p.middle = p.ToMM.weight(middle)
	return p, nil
}

func checkCorners(c []Point) error {
	if len(c) != 4 {
		return inspect.Refuse(inspect.Invalid, "the card has four corners, given are %d points: top left first, then clockwise", len(c))
	}
	if err := finite("card", c...); err != nil {
		return err
	}
	if crossesItself(c) {
		return inspect.Refuse(inspect.Invalid, "the card's corners cross over: give them around the card, top left first, then clockwise")
	}
	left, right := 0, 0
	for i := range c {
		a, b, d := c[i], c[(i+1)%4], c[(i+2)%4]
		if a.distance(b) < minCardSide {
			return inspect.Refuse(inspect.Invalid, "side %d of the card is under %.0f pixels long: mark its corners again, or take the photo from nearer", i+1, minCardSide)
		}
		turn := b.minus(a).cross(d.minus(b)) / (a.distance(b) * math.Max(b.distance(d), 1e-9)) // sine of the turn
		if turn > 0.05 {
			right++
		} else if turn < -0.05 {
			left++
		}
	}
	switch {
	case left == 4:
		return inspect.Refuse(inspect.Invalid, "the card's corners run anticlockwise: give the top left one first, then clockwise")
	case right != 4:
		return inspect.Refuse(inspect.Invalid, "the four corners are not those of a card, three of them lie nearly on one line: mark them again")
	}
	return nil
}

// At gives the place of a pixel on the plane in mm; ErrHorizon for what is not
// on the near part of it.
func (p Plane) At(px Point) (Point, error) {
	if !(p.ToMM.weight(px)/p.middle > minHorizon) {
		return Point{}, ErrHorizon
	}
	return p.ToMM.Apply(px)
}
