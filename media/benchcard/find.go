package benchcard

import (
	"context"
	"image"
	"math"

	"forkwear/media/scale"
)

// Found is a card seen in a photo. Pixels are those of the upright full-size
// photo, from its top left corner.
type Found struct {
	Code string // "" for a plain card
	// Corners of the card's full size, 85.60 x 53.98 mm, clockwise: from its
	// printed top left for a bench card, from the picture's for a plain one.
	// All zero where Placed is false.
	Corners [4]scale.Point
	Sigma   float64 // px, standard deviation of each coordinate; 0 where not placed
}

// Placed tells whether the corners are known. A code can be read although part
// of the card lies outside the photo or under a part.
func (f Found) Placed() bool { return f.Sigma > 0 }

// Plane is the surface the card lies on; it fails as scale.NewPlane does (for a
// bench card, whose code tells its long side, as NewPlaneLongFirst), and for a
// card that is not placed.
func (f Found) Plane() (scale.Plane, error) {
	switch {
	case !f.Placed():
		return scale.Plane{}, errNoFit
	case f.Code != "":
		return scale.NewPlaneLongFirst(f.Corners[:])
	}
	return scale.NewPlane(f.Corners[:])
}

// The sizes of the longer side at which a code is looked for, one after the
// other until there is one: most photos are read at the first; a card seen
// from afar needs more pixels, one out of focus fewer.
var lookedAt = []int{1400, 2200, 640}

// mostCards is how many cards are looked for in one photo.
const mostCards = 8

// Find reads the bench cards in an upright photo, as many as it has: their
// codes, and where their corners are. Nothing found is no error. It fails for
// a cancelled ctx and for a photo over 120 million pixels, and never panics.
func Find(ctx context.Context, img image.Image) (found []Found, err error) {
	defer recovered(&err)
	if ok, err := checkSize(img); !ok || err != nil {
		return nil, err
	}
	b := img.Bounds()
	last := 0
	for _, size := range lookedAt {
		by := max(1, (max(b.Dx(), b.Dy())+size-1)/size)
		if by == last {
			continue
		}
		last = by
		small, err := lumaOf(ctx, img, image.Rect(0, 0, b.Dx(), b.Dy()), by)
		if err != nil {
			return nil, err
		}
		codes, err := small.codes(ctx)
		if err != nil {
			return nil, err
		}
		for _, s := range codes {
			f, err := place(ctx, img, small, s)
			if err != nil {
				return nil, err
			}
			found = append(found, f)
		}
		if len(found) > 0 {
			return found, nil
		}
	}
	return nil, nil
}

// codes reads all codes on a reduced photo.
func (l *luma) codes(ctx context.Context) ([]seen, error) {
	fs, err := finders(ctx, l)
	if err != nil {
		return nil, err
	}
	var out []seen
	used := map[finder]bool{}
	for _, t := range triples(fs) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if used[t.topLeft] || used[t.topRight] || used[t.bottomLeft] || len(out) >= mostCards {
			continue
		}
		if s, ok := l.read(ctx, t); ok {
			used[t.topLeft], used[t.topRight], used[t.bottomLeft] = true, true, true
			out = append(out, s)
		}
	}
	return out, nil
}

// place finds the corners of a card whose code was read: first the code's own
// borders give the perspective, then the inner sides of the frame, at full
// resolution. Only a cancelled ctx is an error; corners that can't be found
// leave the card unplaced.
func place(ctx context.Context, img image.Image, small *luma, s seen) (Found, error) {
	out := Found{Code: s.code}
	rough, err := small.byCode(ctx, s)
	if err != nil {
		return out, ctx.Err()
	}
	full, err := lumaAround(ctx, img, rough.pixels)
	if err != nil {
		return out, ctx.Err()
	}
	start, err := full.byCode(ctx, seen{s.code, s.dark, pixelsOf(rough, qrCorners())})
	if err != nil {
		return out, ctx.Err()
	}
	perMM := start.perMM()
	n := int(min(160, max(24, Height*perMM/3))) // about three pixels apart
	got, err := full.fit(ctx, start, frameBorders(n), 1.6*perMM, max(3, 0.8*perMM), max(2.5, 0.5*perMM), max(2.5, 0.5*perMM))
	if err != nil || !got.believable() {
		return out, ctx.Err()
	}
	out.Corners = [4]scale.Point(got.pixels)
	out.Sigma = math.Hypot(got.sigma, crowding(Frame*got.narrowest(), got.blur))
	return out, nil
}

// byCode fits the borders of the modules and gives the card's corners.
func (l *luma) byCode(ctx context.Context, s seen) (pose, error) {
	p := pose{qrCorners(), s.corners}
	perMM := p.perMM()
	got, err := l.fit(ctx, p, codeBorders(s.dark), max(1.5*float64(l.by), 0.6*Module*perMM), max(1.5*float64(l.by), 0.45*Module*perMM))
	if err != nil {
		return pose{}, err
	}
	card := pose{cardCorners(), pixelsOf(got.pose, cardCorners())}
	if card.pixels == nil {
		return pose{}, errNoFit
	}
	return card, nil
}

// pixelsOf maps places on the card to the photo; nil when one can't be.
func pixelsOf(p pose, mm []scale.Point) []scale.Point {
	h, err := p.toPixel()
	if err != nil {
		return nil
	}
	return mapped(h, mm)
}

func mapped(h scale.Homography, mm []scale.Point) []scale.Point {
	out := make([]scale.Point, len(mm))
	for i := range mm {
		var err error
		if out[i], err = h.Apply(mm[i]); err != nil {
			return nil
		}
	}
	return out
}

// lumaAround takes the part of the photo with the card, in full resolution.
func lumaAround(ctx context.Context, img image.Image, corners []scale.Point) (*luma, error) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, c := range corners {
		x0, y0, x1, y1 = min(x0, c.X), min(y0, c.Y), max(x1, c.X), max(y1, c.Y)
	}
	b := img.Bounds()
	edge := 0.05*(x1-x0+y1-y0) + 12
	whole := func(v float64, most int) int { return int(min(max(v, 0), float64(most))) }
	area := image.Rect(whole(x0-edge, b.Dx()), whole(y0-edge, b.Dy()), whole(x1+edge, b.Dx()), whole(y1+edge, b.Dy()))
	if area.Dx() < 8 || area.Dy() < 8 {
		return nil, errNoFit
	}
	return lumaOf(ctx, img, area, 1)
}

// believable: each side is seen on at least 45 parts in 100, and the corners
// are those of a card seen from its front.
func (f fitted) believable() bool {
	for _, h := range f.held {
		if h < 0.45 {
			return false
		}
	}
	return f.sigma < 6 && convex(f.pixels)
}

// convex tells whether four corners run clockwise without a dent.
func convex(c []scale.Point) bool {
	for i := range c {
		a, b, d := c[i], c[(i+1)%4], c[(i+2)%4]
		if !(cross(minus(b, a), minus(d, b)) > 0) {
			return false
		}
	}
	return true
}
