package scale

import (
	"errors"
	"fmt"
	"math"
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
		return Plane{}, errors.New("the card is seen so slantwise that its long side cannot be told: take the photo more from above")
	}
	return planeOf(corners, ratio < 1)
}

func planeOf(corners []Point, portrait bool) (Plane, error) {
	p := Plane{Portrait: portrait, width: CardWidth, height: CardHeight}
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
		return fmt.Errorf("the card has four corners, given are %d points: top left first, then clockwise", len(c))
	}
	if err := finite("card", c...); err != nil {
		return err
	}
	if crossesItself(c) {
		return errors.New("the card's corners cross over: give them around the card, top left first, then clockwise")
	}
	left, right := 0, 0
	for i := range c {
		a, b, d := c[i], c[(i+1)%4], c[(i+2)%4]
		if a.distance(b) < minCardSide {
			return fmt.Errorf("side %d of the card is under %.0f pixels long: mark its corners again, or take the photo from nearer", i+1, minCardSide)
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
		return errors.New("the card's corners run anticlockwise: give the top left one first, then clockwise")
	case right != 4:
		return errors.New("the four corners are not those of a card, three of them lie nearly on one line: mark them again")
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
