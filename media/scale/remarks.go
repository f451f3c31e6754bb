package scale

import (
	"math"

	"forkwear/inspect"
)

// Where a remark begins.
const (
	shortSegment = 10.0 // px
	steepTube    = 60.0 // degrees from the line nearest to the lens
	steepMisfit  = 0.1
)

// remarks are sentences on how far the value can be trusted.
func (s Scene) remarks(surf surface, points []Point) []string {
	out := []string{}
	switch surf.method {
	case ByTube:
		out = append(out, s.tubeRemarks(surf, points)...)
	case ByCard, ByCardAlong:
		out = append(out, s.cardRemarks()...)
	case ByKnown, ByKnownTube:
		out = append(out, s.Tongue.Say("The scale holds only for a surface seen straight from above and as far away as the two scale points; a slant is neither seen nor in the range."))
	}
	if surf.method == ByCardAlong || surf.method == ByKnownTube {
		out = append(out, s.Tongue.Say("The photo does not state the focal length: the value holds along the tube only; around it, it can be wrong by 15 % and more."))
	}
	if surf.distance == usualDistance && !s.Camera.known() {
		out = append(out, s.Tongue.Sayf("The distance of the camera is not known, %d mm is taken for the part of the range that comes from height.", usualDistance))
	}
	for i := 1; i < len(points); i++ {
		if points[i].distance(points[i-1]) < shortSegment {
			out = append(out, s.Tongue.Sayf("Some points are under %.0f pixels apart, which makes a line look longer than it is: mark fewer points.", shortSegment))
			break
		}
	}
	return out
}

func (s Scene) cardRemarks() []string {
	p, err := s.plane()
	if err != nil {
		return nil
	}
	out := []string{s.Tongue.Say("The value holds in the plane of the card: every mm the surface lies nearer to the camera makes it about 0.3 % too large at 300 mm.")}
	if f := s.printFactor(); f != 1 {
		out = append(out, s.Tongue.Sayf("The card is printed at %.1f %% of its size, as its check line measures; lengths and areas are corrected for it.", 100*f))
	}
	if p.Portrait {
		out = append(out, s.Tongue.Say("The card is taken to lie with its short side on top."))
	}
	if pose, err := p.Pose(s.Camera); err == nil && pose.Misfit > steepMisfit {
		out = append(out, s.Tongue.Say("The card's corners do not agree with the focal length in the photo: check the corners, and whether the photo was cut."))
	}
	return out
}

func (s Scene) tubeRemarks(surf surface, points []Point) []string {
	c, err := NewCylinder(s.Camera, *s.Tube)
	if err != nil {
		return nil
	}
	out := []string{s.Tongue.Sayf("Measured on the unrolled tube; its axis is about %.0f mm from the camera.", c.Distance)}
	for _, p := range points {
		if at, err := surf.at(p); err == nil && math.Abs(at.Y)/c.Radius > steepTube*math.Pi/180 {
			out = append(out, s.Tongue.Say("Some points lie far around the tube, where it is seen slantwise: turn the tube and take another photo."))
			break
		}
	}
	if s.Known != nil {
		out = append(out, s.Tongue.Say("The known length was not used: the tube's diameter gives the scale."))
	}
	if s.Card == nil {
		return out
	}
	plane, err := s.plane()
	if err != nil {
		return append(out, s.Tongue.Sayf("The card was not used: %v.", inspect.SaidIn(s.Tongue, err)))
	}
	pose, err := plane.Pose(s.Camera)
	if err != nil {
		return append(out, s.Tongue.Sayf("The card was not used: %v.", inspect.SaidIn(s.Tongue, err)))
	}
	return append(out, s.cardAgainstTube(pose, c))
}

// cardAgainstTube compares two ways to the distance: the card must lie
// somewhere between the tube's crown and the bench under it.
func (s Scene) cardAgainstTube(pose Pose, c Cylinder) string {
	above := c.Radius - vec(pose.Away).dot(c.foot.minus(pose.Corner)) // mm of the crown above the card's plane
	above = math.Round(above) + 0                                     // no "-0 mm"
	if above < -0.05*c.Distance || above > 2*c.Radius+0.1*c.Distance {
		return s.Tongue.Sayf("The card and the tube's diameter disagree: by them the tube's top lies %.0f mm above the card. Check the diameter, the edges and the card's corners.", above)
	}
	return s.Tongue.Sayf("The card agrees with the tube's diameter; by it the tube's top lies %.0f mm above the card.", above)
}
