package align

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"forkwear/media/scale"
)

// Report tells what came of an alignment.
type Report struct {
	CorrelationBefore float64 // at the start, 0-1 (0 also when lower), 800-pixel copies
	CorrelationAfter  float64 // of what was found, accepted or not
	CornerShift       float64 // largest move of now's corners, pixels of then
	Overlap           float64 // share of now that lies on then, 0-1
	Accepted          bool    // false: the transform given back is the start
	Why               string  // one sentence for the person
}

// What Refine may correct, as a share of then's longer side. More than
// MaxCornerShift is no correction of marks but another place, unless the
// photos agree well there (MinFound) and much better than at the start
// (MinStrongGain): then up to MaxStrongShift, which two or three marks need,
// as they tell nothing of perspective.
const (
	MaxCornerShift = 0.03
	MaxStrongShift = 0.10
	MinStrongGain  = 0.10
)

// MinGain is how much the correlation must rise at the least.
const MinGain = 0.0005

// littleCommon is a correlation that wrong marks reach as well.
const littleCommon = 0.15

// MinSide is the shortest side, in pixels, of a photo that can be aligned.
const MinSide = 48

var (
	errSmall = fmt.Errorf("the photo is too small to align, it needs %d pixels along its shorter side: take the original", MinSide)
	errStart = errors.New("the start of the alignment is no map of the newer photo onto the older one: mark the places again")
)

// Refine corrects a transform of pixels of now to pixels of then by the
// brightness of both, by ECC on three to four levels of at most 800 pixels.
// The work is bounded by these sizes, about a second for photos of any size,
// and ends soon after ctx is done. Where the correlation does not rise, or a
// corner moves further than MaxCornerShift allows, the start is given back with
// Accepted false and the reason. Errors: a photo too small, a start that is no
// map, ctx.
func Refine(ctx context.Context, then, now *image.Gray, start Transform) (Transform, Report, error) {
	p, err := newPair(then, now)
	if err != nil {
		return start, Report{}, err
	}
	h, err := p.toUnit(start)
	if err != nil {
		return start, Report{}, err
	}
	var first Report
	for try, skip := range []int{0, max(0, len(p.then)-2)} { // all levels, and then only the two largest
		found, r, err := p.refine(ctx, h, skip)
		if err != nil {
			return start, r, err
		}
		r.judge(p.longer())
		if r.Accepted {
			return p.toPixels(found), r, nil
		}
		if try == 0 {
			first = r
		}
	}
	return start, first, nil
}

func (r *Report) judge(longer float64) {
	limit := MaxCornerShift * longer
	if r.CorrelationAfter >= MinFound && r.CorrelationAfter-r.CorrelationBefore >= MinStrongGain {
		limit = MaxStrongShift * longer
	}
	switch {
	case r.Overlap < leastShare:
		r.Why = "The photos hardly overlap: mark the places again."
	case r.CornerShift > limit:
		r.Why = fmt.Sprintf("The photos agree best %.0f pixels away from the marks, too far to be trusted: mark the places again, more exactly.", r.CornerShift)
	case r.CorrelationAfter < r.CorrelationBefore+MinGain && r.CorrelationAfter < littleCommon:
		r.Why = "The photos hardly agree at the marks: look whether the part's edges lie on one another, and mark the places again if not."
	case r.CorrelationAfter < r.CorrelationBefore+MinGain:
		r.Why = "The marks already fit as well as the photos can tell."
	default:
		r.Accepted = true
		r.Why = fmt.Sprintf("Corrected by up to %.1f pixels; the agreement rose from %.2f to %.2f.", r.CornerShift, r.CorrelationBefore, r.CorrelationAfter)
	}
}

// pair holds the levels of two photos.
type pair struct {
	then, now         []*level // smallest first, equally many
	thenSize, nowSize image.Point
}

func newPair(then, now *image.Gray) (*pair, error) {
	for _, g := range []*image.Gray{then, now} {
		if g == nil || min(g.Rect.Dx(), g.Rect.Dy()) < MinSide {
			return nil, errSmall
		}
	}
	p := &pair{thenSize: then.Rect.Size(), nowSize: now.Rect.Size()}
	top := min(finest, p.longer(), float64(max(p.nowSize.X, p.nowSize.Y)))
	p.then, p.now = levels(then, top, true), levels(now, top, true)
	n := min(len(p.then), len(p.now))
	p.then, p.now = p.then[len(p.then)-n:], p.now[len(p.now)-n:]
	return p, nil
}

func (p *pair) longer() float64 { return float64(max(p.thenSize.X, p.thenSize.Y)) }

func (p *pair) toUnit(t Transform) (Transform, error) {
	for _, v := range t {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return t, errStart
		}
	}
	to, _ := unitOf(p.thenSize)
	_, from := unitOf(p.nowSize)
	h := times(to, times(t, from))
	if h[8] == 0 {
		return t, errStart
	}
	h = settled(h)
	if !upright(h, corners(p.now[0])) {
		return t, errStart
	}
	return h, nil
}

func (p *pair) toPixels(h Transform) Transform {
	_, from := unitOf(p.thenSize)
	to, _ := unitOf(p.nowSize)
	return settled(times(from, times(h, to)))
}

// refine climbs from level skip on. The smallest levels may only shift, turn
// and scale, as they show too little for more; what perspective the start has
// is kept.
func (p *pair) refine(ctx context.Context, start Transform, skip int) (Transform, Report, error) {
	last := len(p.then) - 1
	var r Report
	before := pass(p.then[last], p.now[last], start, 0, edgesLittle)
	r.CorrelationBefore = max(0, before.correlation())
	h := start
	for i := skip; i <= last; i++ {
		m, edges, until := byHomography, edgesLittle, roughly
		if i >= last-1 {
			edges = edgesFully
		}
		if i == last {
			until = enough
		}
		switch long := max(p.now[i].w, p.now[i].h); {
		case long < 150 && i < last:
			m = bySimilarity
		case long < 300 && i < last:
			m = byAffine
		}
		next, err := climb(ctx, p.then[i], p.now[i], h, m, edges, until)
		if err != nil {
			return start, r, err
		}
		if moved, ok := cornerShift(p.now[i], start, next); i < last && (!ok || moved > 2*MaxStrongShift) {
			continue // led astray by too little detail: a larger level may know better
		}
		h = next
	}
	after := pass(p.then[last], p.now[last], h, 0, edgesLittle)
	r.CorrelationAfter, r.Overlap = max(0, after.correlation()), after.share(p.now[last])
	shift, ok := cornerShift(p.now[last], start, h)
	if !ok {
		r.Overlap = 0
		return start, r, nil
	}
	r.CornerShift = shift * p.longer() / 2
	return h, r, nil
}

// corners of a photo in unit coordinates.
func corners(l *level) []scale.Point {
	x, y := l.cx/l.unit, l.cy/l.unit
	return []scale.Point{{X: -x, Y: -y}, {X: x, Y: -y}, {X: x, Y: y}, {X: -x, Y: y}}
}
