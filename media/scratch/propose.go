package scratch

import (
	"context"
	"fmt"
	"image"
	"math"

	"forkwear/inspect"
	"forkwear/media/scale"
)

// Kind of damage to look for.
type Kind int

// The kinds.
const (
	Scratch Kind = iota // a line
	Loss                // an area
)

// Tone is how the damage stands off its surroundings.
type Tone int

// The tones.
const (
	EitherTone Tone = iota
	Bright
	Dark
)

// Options of a proposal; the zero value looks for a scratch of either tone.
type Options struct {
	Kind  Kind
	Tone  Tone
	Width float64       // expected width of a scratch in pixels; 0 for up to 30
	Line  []scale.Point // drawn by a person along the damage, in the photo; may be empty
}

// ErrNothing: the region shows nothing that stands off.
var ErrNothing = inspect.Refuse(inspect.Invalid, "nothing in the region stands off its surroundings: draw the rectangle closer around the damage, or paint it by hand")

// Limits of what is looked for.
const (
	usualSide   = 31   // px, side of the top-hat: 1.5 mm at 20 px/mm
	widest      = 200. // px, of an expected width
	leastRegion = 12   // px, a side of the region
	calmSigma   = 1.0  // px, blur before the threshold
)

// Propose marks the damage that it takes for the largest in a region of the
// photo, or the largest that touches the line. img is the upright photo or any
// part of it whose Bounds are its place in the photo. axis is the direction of
// the tube in the picture in radians from the x axis towards y, NaN where it
// is no tube; only Loss uses it.
//
// A scratch: what is brighter (white top-hat) or darker (black top-hat) than
// its surroundings within a square, above Otsu's threshold. A loss: what
// differs from the median along the tube's axis, or without axis from the
// opening or closing by a square of half the region. Then the edge is laid
// where the picture is half-way between the damage and its surroundings near
// by. ErrNothing when nothing stands off the noise; a region outside the
// picture, too small or over 4 megapixels is refused.
func Propose(ctx context.Context, img image.Image, region image.Rectangle, axis float64, o Options) (*Mask, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	if img == nil || img.Bounds().Empty() {
		return nil, inspect.Refuse(inspect.Invalid, "the photo has no pixels")
	}
	inside := region.Intersect(img.Bounds())
	if inside.Empty() {
		return nil, inspect.Refuse(inspect.Invalid, "the region %v lies outside the photo %v: draw it on the photo", region, img.Bounds())
	}
	if inside.Dx() < leastRegion || inside.Dy() < leastRegion {
		return nil, inspect.Refuse(inspect.Invalid, "the region of %d x %d pixels is too small to tell damage from its surroundings: draw it larger than the damage", inside.Dx(), inside.Dy())
	}
	m, err := New(inside)
	if err != nil {
		return nil, err
	}
	s := search{ctx: ctx, o: o, axis: axis, region: inside}
	s.read(img)
	best, err := s.best()
	if err != nil {
		return nil, err
	}
	return m, s.fill(m, best)
}

func (o Options) check() error {
	if o.Kind < Scratch || o.Kind > Loss || o.Tone < EitherTone || o.Tone > Dark {
		return inspect.Refuse(inspect.Invalid, "this kind or tone of damage is not known")
	}
	if math.IsNaN(o.Width) || o.Width < 0 || o.Width > widest {
		return inspect.Refuse(inspect.Invalid, "a scratch %g pixels wide is not looked for: give 0 to %.0f, or look for a loss", o.Width, widest)
	}
	for i, p := range o.Line {
		if sum := p.X + p.Y; math.IsNaN(sum) || math.IsInf(sum, 0) {
			return fmt.Errorf("point %d of the line along the damage is not a number: draw it again", i+1)
		}
	}
	return nil
}

// sides of the squares of the top-hat: for the expected width, or three where
// it is not known: the smaller one leaves less of the shine of a tube, the
// larger one takes wider scratches.
func (o Options) sides() []int {
	if o.Kind == Loss {
		return []int{0}
	}
	if o.Width == 0 {
		return []int{usualSide, 21, 13}
	}
	return []int{2*int(math.Ceil(max(o.Width+4, 1.5*o.Width)/2)) + 1}
}

// search is one proposal at work.
type search struct {
	ctx    context.Context
	o      Options
	axis   float64
	region image.Rectangle // in the photo
	outer  image.Rectangle // the region and what is read around it
	inner  image.Rectangle // the region in the planes
	raw    plane           // brightness of outer
	calm   plane           // the same, blurred a little
}

// finding is a candidate and the picture less its background in which it is
// positive.
type finding struct {
	over  plane // of outer, raw less background
	seed  plane // of outer, 1 where the candidate is
	limit float32
	score float64
}

func (s *search) read(img image.Image) {
	margin := s.o.sides()[0]
	if s.o.Kind == Loss {
		margin = max(s.region.Dx(), s.region.Dy()) / 2
	}
	s.outer = s.region.Inset(-margin).Intersect(img.Bounds())
	for int64(s.outer.Dx())*int64(s.outer.Dy()) > 2*MaxPixels { // a loss that fills the picture needs no surroundings
		margin /= 2
		s.outer = s.region.Inset(-margin).Intersect(img.Bounds())
	}
	s.inner = s.region.Sub(s.outer.Min)
	s.raw = greyPlane(img, s.outer)
	s.calm = s.raw.gauss(calmSigma)
}

// best looks in both tones where either may be, and with all squares.
func (s *search) best() (finding, error) {
	var best finding
	for _, t := range []struct {
		tone Tone
		sign float32
	}{{Bright, 1}, {Dark, -1}} {
		if s.o.Tone != EitherTone && s.o.Tone != t.tone {
			continue
		}
		raw, calm := s.raw.scaled(t.sign), s.calm.scaled(t.sign)
		for _, side := range s.o.sides() {
			if err := s.ctx.Err(); err != nil {
				return best, err
			}
			ground := s.background(calm, side)
			if f := s.candidate(calm.minus(ground)); f.score > best.score {
				best = f
				best.over = raw.minus(ground)
			}
		}
	}
	if best.score == 0 {
		return best, ErrNothing
	}
	return best, s.ctx.Err()
}

// background of the picture in which the damage is bright.
func (s *search) background(calm plane, side int) plane {
	switch {
	case s.o.Kind == Scratch:
		return opening(calm, side)
	case !math.IsNaN(s.axis) && !math.IsInf(s.axis, 0):
		return medianAlong(calm, s.axis, s.inner)
	}
	return opening(calm, min(s.region.Dx(), s.region.Dy())/2)
}
