package scratch

import (
	"image"
	"math"
	"slices"
)

// Around the seed, pixels.
const (
	fringe = 14 // looked at for the edge
	gap    = 3  // between the damage and what counts as its surroundings
)

// mostRounds bounds how often the edge is laid: a faint end grows by up to
// fringe pixels each time.
const mostRounds = 8

// fill lays the edge of a finding and writes it into the mask: the level is
// 255 (v - b)/(f - b) of the picture v between the surroundings b and the
// damage f near by, so that it is half at half the local peak. It is laid again
// from the new seed until that grows no more.
func (s *search) fill(m *Mask, f finding) error {
	whole := image.Rect(0, 0, f.seed.w, f.seed.h)
	seed := f.seed
	var levels plane
	var box image.Rectangle
	for round := range mostRounds {
		if err := s.ctx.Err(); err != nil {
			return err
		}
		box = boundsOf(seed).Inset(-2 * fringe).Intersect(whole)
		over, part := f.over.cut(box), seed.cut(box)
		if s.o.Kind == Scratch {
			over = alongGrain(over, part)
		} else {
			over = over.gauss(calmSigma)
		}
		levels = halfPeak(over, part, f.limit)
		kept := keepTouching(levels, part, s.inner.Sub(box.Min))
		if s.o.Kind == Scratch {
			kept = evenWidth(kept)
		}
		before, now := count(part), count(kept)
		if now == 0 {
			return ErrNothing
		}
		seed = newPlane(whole.Dx(), whole.Dy())
		for y := range kept.h {
			copy(seed.row(y + box.Min.Y)[box.Min.X:], kept.row(y))
		}
		if round > 0 && now <= before+before/50 {
			break
		}
	}
	part := seed.cut(box)
	if len(s.o.Line) == 0 {
		dropSmall(part)
	}
	s.write(m, levels, part, box.Min.Add(s.outer.Min))
	return nil
}

// write copies the levels of the seed and of the two pixels around it.
func (s *search) write(m *Mask, levels, seed plane, origin image.Point) {
	soft := grown(seed, 2)
	for y := range levels.h {
		for x := range levels.w {
			p, i := origin.Add(image.Pt(x, y)), y*levels.w+x
			if !p.In(m.rect) || soft.v[i] == 0 || (seed.v[i] == 0 && levels.v[i] > half) {
				continue
			}
			m.level[(p.Y-m.rect.Min.Y)*m.rect.Dx()+p.X-m.rect.Min.X] = uint8(math.Round(float64(levels.v[i])))
		}
	}
	m.Clean(s.speck(count(seed)))
}

// dropSmall takes away components under a quarter of the largest: what hung
// together only at the lower threshold.
func dropSmall(set plane) {
	all := components(set, 0.5, 0.5)
	most := 0
	for _, c := range all {
		most = max(most, len(c.pixels))
	}
	for _, c := range all {
		if 4*len(c.pixels) < most {
			for _, i := range c.pixels {
				set.v[i] = 0
			}
		}
	}
}

// speck is how many pixels a hole or a spot has that is taken for noise, in a
// damage of n pixels.
func (s *search) speck(n int) int {
	if s.o.Kind == Scratch {
		return min(12, n/4)
	}
	return min(max(25, n/200), n/4)
}

// count is the number of pixels that are set.
func count(p plane) int {
	n := 0
	for _, v := range p.v {
		if v > 0 {
			n++
		}
	}
	return n
}

func boundsOf(p plane) image.Rectangle {
	box := image.Rectangle{Min: image.Pt(p.w, p.h)}
	for i, v := range p.v {
		if v > 0 {
			x, y := i%p.w, i/p.w
			box.Min.X, box.Min.Y = min(box.Min.X, x), min(box.Min.Y, y)
			box.Max.X, box.Max.Y = max(box.Max.X, x+1), max(box.Max.Y, y+1)
		}
	}
	return box
}

// halfPeak gives the levels about a seed. The damage f is the mean of the
// core, the pixels of the seed at least 0.6 as deep in it as the deepest near
// by; the surroundings b are the mean of what is near but not damaged. Both
// are taken in squares as large as the damage is wide.
func halfPeak(v, seed plane, limit float32) plane {
	depth := distances(seed)
	deep := int(math.Ceil(float64(depth.greatest())))
	r := min(max(2*deep, 8), 40)
	deepest := leastAround(depth.scaled(-1), min(2*deep, 40)).scaled(-1)
	near, wide := grown(seed, gap), grown(seed, fringe)
	core, around := newPlane(v.w, v.h), newPlane(v.w, v.h)
	coreSum, aroundSum := newPlane(v.w, v.h), newPlane(v.w, v.h)
	for i, x := range v.v {
		switch {
		case depth.v[i] > 0 && depth.v[i] >= 0.6*deepest.v[i]:
			core.v[i], coreSum.v[i] = 1, x
		case near.v[i] == 0 && wide.v[i] > 0 && x < max(limit, 1)*2:
			around.v[i], aroundSum.v[i] = 1, x
		}
	}
	far := r + fringe
	nf, nb := core.boxSum(r), around.boxSum(far)
	sf, sb := coreSum.boxSum(r), aroundSum.boxSum(far)
	out := newPlane(v.w, v.h)
	for i, x := range v.v {
		if wide.v[i] == 0 || nf.v[i] < 0.5 {
			continue
		}
		b := float32(0)
		if nb.v[i] >= 0.5 {
			b = sb.v[i] / nb.v[i]
		}
		if f := sf.v[i] / nf.v[i]; f-b > 0.5 {
			out.v[i] = 255 * min(max((x-b)/(f-b), 0), 1)
		}
	}
	return out
}

// keepTouching is 1 on the components above half that share a pixel with the
// seed, inside the region.
func keepTouching(levels, seed plane, region image.Rectangle) plane {
	out := newPlane(levels.w, levels.h)
	for _, c := range components(levels, half, half) {
		for _, i := range c.pixels {
			if seed.v[i] > 0 {
				for _, j := range c.pixels {
					if image.Pt(j%out.w, j/out.w).In(region) {
						out.v[j] = 1
					}
				}
				break
			}
		}
	}
	return out
}

// evenWidth takes off what is more than about twice as wide as the damage is
// in the middle of its length, and no part of a line: a reflection that the
// scratch runs into.
func evenWidth(set plane) plane {
	depth := distances(set)
	deepest := leastAround(depth.scaled(-1), 1).scaled(-1)
	var ridge []float32
	for i, d := range depth.v {
		if d > 0 && d >= deepest.v[i] {
			ridge = append(ridge, d)
		}
	}
	if len(ridge) == 0 {
		return set
	}
	slices.Sort(ridge)
	k := 2*ridge[len(ridge)/2] + 1
	if depth.greatest() <= k {
		return set
	}
	deep := newPlane(set.w, set.h)
	for i, d := range depth.v {
		if d > k {
			deep.v[i] = 1
		}
	}
	wide := grown(deep, int(k)+1)
	out := newPlane(set.w, set.h)
	for i, v := range set.v {
		if wide.v[i] == 0 {
			out.v[i] = v
		}
	}
	return out
}

// alongGrain averages the picture along the scratch, where noise goes and the
// edge stays: by a bell of 2.5 pixels in the direction in which the picture
// changes least (the smaller axis of the structure tensor); less in a wide
// scratch, whose round ends it would cut. Away from the seed the picture stays
// as it is.
func alongGrain(v, seed plane) plane {
	calm := v.gauss(1.5)
	xx, xy, yy := newPlane(v.w, v.h), newPlane(v.w, v.h), newPlane(v.w, v.h)
	near := grown(seed, fringe)
	for y := 1; y < v.h-1; y++ {
		for x := 1; x < v.w-1; x++ {
			i := y*v.w + x
			if near.v[i] == 0 {
				continue
			}
			gx, gy := calm.v[i+1]-calm.v[i-1], calm.v[i+v.w]-calm.v[i-v.w]
			xx.v[i], xy.v[i], yy.v[i] = gx*gx, gx*gy, gy*gy
		}
	}
	xx, xy, yy = xx.gauss(5), xy.gauss(5), yy.gauss(5)
	const taps = 6
	sigma := min(2.5, max(1, 6/float64(distances(seed).greatest())))
	var bell [taps + 1]float32
	for i := range bell {
		bell[i] = float32(math.Exp(-float64(i*i) / (2 * sigma * sigma)))
	}
	out := newPlane(v.w, v.h)
	copy(out.v, v.v)
	for i := range v.v {
		if near.v[i] == 0 {
			continue
		}
		x, y := float64(i%v.w), float64(i/v.w)
		across := 0.5 * math.Atan2(2*float64(xy.v[i]), float64(xx.v[i]-yy.v[i]))
		dx, dy := -math.Sin(across), math.Cos(across)
		sum, weight := bell[0]*v.v[i], bell[0]
		for k := 1; k <= taps; k++ {
			t := float64(k)
			sum += bell[k] * (v.at(x+t*dx, y+t*dy) + v.at(x-t*dx, y-t*dy))
			weight += 2 * bell[k]
		}
		out.v[i] = sum / weight
	}
	return out
}
