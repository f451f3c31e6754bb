package benchcard

import (
	"context"
	"image"
	"math"
	"slices"

	"forkwear/media/scale"
)

// Bounds on the search for plain cards.
const (
	plainSide    = 800 // px of the longer side at which edges are looked for
	mostLines    = 500
	mostSegments = 220
	mostLooks    = 15_000_000 // at edge points for segments
	leastVotes   = 20         // edge points of a line
	widestGap    = 22.0       // px within one side
	shortestSide = 18.0       // px
	mostPlain    = 3
	mostTries    = 20000   // figures that begin with one segment
	mostEffort   = 400_000 // of judging all, in looks at four lines; a look at pixels counts for more
	leastArea    = 0.006   // of the picture
	leastSeen    = 0.4     // of each side must be an edge
	leastMean    = 0.7     // of all four together
	likelyFocal  = 26.0    // mm on 35 mm film, what phones have; common practice, no source
	mostMisfit   = 0.14
	markSigma    = 3.0 // px at the reduced size, of corners that could not be refined
)

// FindPlain proposes where a plain card of bank-card size lies in an upright
// photo, the likeliest first, at most three: four straight edges that a card
// of 85.60 x 53.98 mm could have before a usual lens. It is a proposal, for a
// person to confirm or to drag; a book or a box can be taken for a card. It
// fails as Find does.
func FindPlain(ctx context.Context, img image.Image) (found []Found, err error) {
	defer recovered(&err)
	if ok, err := checkSize(img); !ok || err != nil {
		return nil, err
	}
	b := img.Bounds()
	by := max(1, (max(b.Dx(), b.Dy())+plainSide-1)/plainSide)
	small, err := lumaOf(ctx, img, image.Rect(0, 0, b.Dx(), b.Dy()), by)
	if err != nil {
		return nil, err
	}
	e := small.edges()
	quads, err := e.quads(ctx, e.segments(e.lines()))
	if err != nil {
		return nil, err
	}
	for _, q := range quads {
		if len(found) == mostPlain {
			break
		}
		if slices.ContainsFunc(found, func(f Found) bool { return alike(f.Corners[:], q.corners) }) {
			continue
		}
		f, err := refinePlain(ctx, img, q.corners, by)
		if err != nil {
			return nil, err
		}
		found = append(found, f)
	}
	return found, nil
}

// alike: the middles and sizes of two cards are nearly the same.
func alike(a, b []scale.Point) bool {
	size := apart(a[0], a[2]) + apart(a[1], a[3])
	var off float64
	for _, p := range a {
		near := math.Inf(1)
		for _, q := range b {
			near = min(near, apart(p, q))
		}
		off += near
	}
	return off < 0.25*size
}

// refinePlain fits the card's outer edges at full resolution.
func refinePlain(ctx context.Context, img image.Image, corners []scale.Point, by int) (Found, error) {
	out := Found{Corners: [4]scale.Point(corners), Sigma: markSigma * float64(by)}
	full, err := lumaAround(ctx, img, corners)
	if err != nil {
		return out, ctx.Err()
	}
	start := pose{cardAnchors(corners), corners}
	n := int(min(160, max(24, Height*start.perMM()/3)))
	k := float64(by)
	borders := plainBorders(n)
	if start.anchors[1].X < Width-1 { // the short side is on top
		for i, b := range borders {
			borders[i].at, borders[i].light = scale.Point{X: Height - b.at.Y, Y: b.at.X}, scale.Point{X: -b.light.Y, Y: b.light.X}
		}
	}
	got, err := full.fit(ctx, start, borders, max(6, 4*k), max(4, 1.5*k), 3, 3)
	if err != nil || !got.believable() {
		return out, ctx.Err()
	}
	out.Corners, out.Sigma = [4]scale.Point(got.pixels), got.sigma
	return out, nil
}

// cardAnchors are the card's corners in mm as it lies: the long side is on top
// when it is the longer one in the picture.
func cardAnchors(c []scale.Point) []scale.Point {
	if apart(c[0], c[1])+apart(c[2], c[3]) < apart(c[1], c[2])+apart(c[3], c[0]) {
		return rectangle(0, 0, Height, Width)
	}
	return cardCorners()
}
