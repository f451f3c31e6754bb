package scratch

import (
	"math"

	"forkwear/media/scale"
)

// Across is a section through the damage at a right angle to its centre line:
// its ends on the outline, in the photo.
type Across struct{ A, B scale.Point }

// Sections cuts the damage every step pixels along a centre line, from half a
// step on; what is no number or under 1 counts as 1. Where the line itself is
// not inside the damage there is no section.
func (m *Mask) Sections(line []scale.Point, step float64) []Across {
	if !(step >= 1) || math.IsInf(step, 0) {
		step = 1
	}
	var out []Across
	reach := math.Hypot(float64(m.rect.Dx()), float64(m.rect.Dy()))
	next, gone := step/2, 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if !(l > 0) || math.IsInf(l, 0) {
			continue
		}
		dx, dy := (b.X-a.X)/l, (b.Y-a.Y)/l
		for ; next <= gone+l && len(out) < MaxPixels; next += step {
			p := scale.Point{X: a.X + (next-gone)*dx, Y: a.Y + (next-gone)*dy}
			if m.between(p.X, p.Y) > half {
				out = append(out, Across{m.edgeFrom(p, -dy, dx, reach), m.edgeFrom(p, dy, -dx, reach)})
			}
		}
		gone += l
	}
	return out
}

// edgeFrom goes from p, inside the damage, to where the level falls to half.
func (m *Mask) edgeFrom(p scale.Point, dx, dy, reach float64) scale.Point {
	const stride = 0.1
	before := m.between(p.X, p.Y)
	for t := stride; t < reach; t += stride {
		now := m.between(p.X+t*dx, p.Y+t*dy)
		if now <= half {
			if before > half {
				t -= stride * (half - now) / (before - now)
			}
			return scale.Point{X: p.X + t*dx, Y: p.Y + t*dy}
		}
		before = now
	}
	return p
}
