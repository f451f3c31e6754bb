package scratch

import (
	"image"
	"slices"

	"forkwear/media/scale"
)

// candidate picks the component that stands out most, above Otsu's threshold
// or, where a reflection has pulled that up, above the noise.
func (s *search) candidate(calm plane) finding {
	r := calm.cut(s.inner)
	d := spreadOf(r.v, r.v)
	if out := outside(calm, s.inner); s.o.Kind == Loss && len(out) > len(r.v)/4 {
		d = spreadOf(r.v, out) // a loss may fill more than half of the region
	}
	floor := d.median + 4*d.noise
	best := s.above(calm, r, d, max(d.otsu, floor))
	if d.otsu > 1.2*floor {
		if f := s.above(calm, r, d, floor); f.score > best.score {
			best = f
		}
	}
	return best
}

func (s *search) above(calm, r plane, d spread, high float32) finding {
	low := min(high, max(d.median+2.5*d.noise, (d.median+high)/2))
	f := finding{limit: low}
	all := components(r, low, high)
	scores := make([]float64, len(all))
	for i, c := range all {
		scores[i] = s.score(c, r, calm, d)
		f.score = max(f.score, scores[i])
	}
	if f.score == 0 {
		return f
	}
	f.seed = newPlane(calm.w, calm.h)
	for i, c := range all {
		if scores[i] < f.score && (len(s.o.Line) == 0 || scores[i] < f.score/10) {
			continue
		}
		for _, at := range c.pixels {
			f.seed.v[(at/r.w+s.inner.Min.Y)*calm.w+at%r.w+s.inner.Min.X] = 1
		}
	}
	return f
}

// outside is what of p does not lie in the region.
func outside(p plane, region image.Rectangle) []float32 {
	var out []float32
	for y := range p.h {
		row := p.row(y)
		if y < region.Min.Y || y >= region.Max.Y {
			out = append(out, row...)
			continue
		}
		out = append(append(out, row[:region.Min.X]...), row[region.Max.X:]...)
	}
	return out
}

const leastStrong = 4 // pixels above the higher threshold

// score is how much a component stands out: its pixels times its step to what
// lies 3 to 5 pixels outside of it, times the square of the share of that step
// in its height above the median; of a scratch, its length rather than its
// pixels (these by its depth). The step must hold all around, so that the
// outside is taken at its upper quarter: a reflection fades out, and a bright
// strip between a reflection and a dark scratch fades out on one side. One that
// runs from border to border of the region is rather a reflection, too, and
// counts a tenth.
func (s *search) score(c component, r, calm plane, d spread) float64 {
	if c.strong < leastStrong || !s.touches(c, r.w) {
		return 0
	}
	const near, far = 2, 5
	box := c.box.Add(s.inner.Min).Inset(-far).Intersect(image.Rect(0, 0, calm.w, calm.h))
	set := newPlane(box.Dx(), box.Dy())
	var in float64
	for _, at := range c.pixels {
		set.v[(at/r.w+s.inner.Min.Y-box.Min.Y)*set.w+at%r.w+s.inner.Min.X-box.Min.X] = 1
		in += float64(r.v[at])
	}
	in /= float64(len(c.pixels))
	inner, outer := grown(set, near), grown(set, far)
	var ring []float32
	for i, v := range outer.v {
		if v > 0 && inner.v[i] == 0 {
			ring = append(ring, calm.v[(i/set.w+box.Min.Y)*calm.w+i%set.w+box.Min.X])
		}
	}
	step := in
	if len(ring) > 0 {
		slices.Sort(ring)
		step = in - float64(ring[len(ring)*3/4])
	}
	if !(step > 0) {
		return 0
	}
	share := min(1, step/max(in-float64(d.median), 0.1))
	score := float64(len(c.pixels)) * step * share * share
	if s.o.Kind == Scratch {
		score /= float64(distances(set).greatest())
	}
	if (c.box.Min.X == 0 && c.box.Max.X == r.w) || (c.box.Min.Y == 0 && c.box.Max.Y == r.h) {
		score /= 10
	}
	return score
}

// touches tells whether the component comes near the person's line, where
// there is one.
func (s *search) touches(c component, w int) bool {
	if len(s.o.Line) == 0 {
		return true
	}
	near := max(6, s.o.Width/2)
	for _, at := range c.pixels {
		p := scale.Point{X: float64(s.region.Min.X+at%w) + 0.5, Y: float64(s.region.Min.Y+at/w) + 0.5}
		for i := range s.o.Line {
			if fromSegment(p, s.o.Line[max(i-1, 0)], s.o.Line[i]) <= near {
				return true
			}
		}
	}
	return false
}
