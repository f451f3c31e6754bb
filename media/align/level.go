package align

import (
	"image"
	"math"
)

// cell is one pixel of a level: the evened-out brightness, its slope in both
// directions per pixel of the level, and how much the place counts, 0-1.
type cell struct{ v, dx, dy, weight float32 }

// level is a smaller copy of a photo. Its places are given in unit
// coordinates: 0,0 is the photo's centre and 1 half of its longer side, the
// same on all levels, so that one transform serves them all.
type level struct {
	w, h   int
	cells  []cell
	cx, cy float64 // the photo's centre in pixels of the level
	unit   float64 // half of the longer side in pixels of the level
}

// plane is brightness without slopes.
type plane struct {
	w, h int
	v    []float32
}

// shrunk divides the photo by a factor of 1 or more, as exact means over the
// area of each new pixel; a rest at the right and bottom is left away.
func shrunk(g *image.Gray, factor float64) plane {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	out := plane{w: max(1, int(float64(w)/factor+1e-9)), h: max(1, int(float64(h)/factor+1e-9))}
	out.v = make([]float32, out.w*out.h)
	cols, rows := shares(out.w, w, factor), shares(out.h, h, factor)
	sums := make([]float32, out.w)
	for y, r := range rows {
		clear(sums)
		var total float32
		for sy := r.first; sy <= r.last; sy++ {
			weight := r.weight(sy)
			total += weight
			line := g.Pix[g.PixOffset(g.Rect.Min.X, g.Rect.Min.Y+sy):][:w]
			for x := range cols {
				c := &cols[x]
				s := c.head*float32(line[c.first]) + c.tail*float32(line[c.last])
				for _, v := range line[c.first+1 : max(c.first+1, c.last)] {
					s += float32(v)
				}
				sums[x] += weight * s / c.total
			}
		}
		for x, s := range sums {
			out.v[y*out.w+x] = s / total
		}
	}
	return out
}

// share tells which old pixels a new one covers: the first and the last
// partly, those between wholly. With one pixel alone the tail is 0.
type share struct {
	first, last       int
	head, tail, total float32
}

func shares(n, old int, factor float64) []share {
	out := make([]share, n)
	for i := range out {
		a, b := float64(i)*factor, math.Min(float64(i+1)*factor, float64(old))
		s := share{first: min(int(a), old-1)}
		s.last = max(s.first, min(int(math.Ceil(b-1e-9))-1, old-1))
		if s.last == s.first {
			s.head = 1
		} else {
			s.head, s.tail = float32(float64(s.first+1)-a), float32(b-float64(s.last))
		}
		s.total = s.head + s.tail + float32(max(0, s.last-s.first-1))
		out[i] = s
	}
	return out
}

func (s share) weight(i int) float32 {
	switch i {
	case s.first:
		return s.head
	case s.last:
		return s.tail
	}
	return 1
}

func (p plane) halved() plane {
	out := plane{w: p.w / 2, h: p.h / 2}
	out.v = make([]float32, out.w*out.h)
	for y := range out.h {
		a, b := p.v[2*y*p.w:], p.v[(2*y+1)*p.w:]
		for x := range out.w {
			out.v[y*out.w+x] = (a[2*x] + a[2*x+1] + b[2*x] + b[2*x+1]) / 4
		}
	}
	return out
}

// smoothed weights each pixel with its neighbours 1 2 1 in both directions,
// which takes away most noise of single pixels.
func (p plane) smoothed() plane {
	mid := make([]float32, len(p.v))
	for y := range p.h {
		row := p.v[y*p.w:][:p.w]
		for x, v := range row {
			mid[y*p.w+x] = (row[max(0, x-1)] + 2*v + row[min(p.w-1, x+1)]) / 4
		}
	}
	out := plane{p.w, p.h, make([]float32, len(p.v))}
	for y := range p.h {
		up, here, down := mid[max(0, y-1)*p.w:], mid[y*p.w:], mid[min(p.h-1, y+1)*p.w:]
		for x := range p.w {
			out.v[y*p.w+x] = (up[x] + 2*here[x] + down[x]) / 4
		}
	}
	return out
}

// How brightness is evened out.
const (
	flatNoise   = 4.0 // grey levels: contrast below this is taken for noise and not blown up
	maxContrast = 2.5 // standard deviations: what stands out more, such as a highlight, counts no more
)

// evened takes the local mean away and divides by the local spread, both over
// a square of 2 radius + 1 pixels, so that other light and highlights that
// moved weigh little.
func (p plane) evened(radius int) plane {
	mean := p.boxed(radius)
	square := plane{p.w, p.h, make([]float32, len(p.v))}
	for i, v := range p.v {
		d := v - mean.v[i]
		square.v[i] = d * d
	}
	spread := square.boxed(radius)
	for i, v := range p.v {
		c := float64(v-mean.v[i]) / (math.Sqrt(float64(spread.v[i])) + flatNoise)
		square.v[i] = float32(max(-maxContrast, min(maxContrast, c)))
	}
	return square
}

// boxed is the mean over a square, cut off at the borders.
func (p plane) boxed(radius int) plane {
	mid := make([]float32, len(p.v))
	for y := range p.h {
		slide(p.v[y*p.w:], mid[y*p.w:], p.w, 1, radius)
	}
	out := plane{p.w, p.h, make([]float32, len(p.v))}
	for x := range p.w {
		slide(mid[x:], out.v[x:], p.h, p.w, radius)
	}
	return out
}

// slide writes running means of n values that stand step apart.
func slide(in, out []float32, n, step, radius int) {
	var sum float64
	for i := range min(radius, n) {
		sum += float64(in[i*step])
	}
	for i := range n {
		if i+radius < n {
			sum += float64(in[(i+radius)*step])
		}
		if i > radius {
			sum -= float64(in[(i-radius-1)*step])
		}
		out[i*step] = float32(sum / float64(min(n-1, i+radius)-max(0, i-radius)+1))
	}
}

// leveled adds the slopes; perPixel is the level's pixels for one of the
// photo, whose size is given for the exact centre.
func (p plane) leveled(size image.Point, perPixel float64) *level {
	l := &level{w: p.w, h: p.h, cells: make([]cell, len(p.v)),
		cx: float64(size.X) / 2 * perPixel, cy: float64(size.Y) / 2 * perPixel,
		unit: float64(max(size.X, size.Y)) / 2 * perPixel}
	for y := range p.h {
		up, here, down := p.v[max(0, y-1)*p.w:], p.v[y*p.w:], p.v[min(p.h-1, y+1)*p.w:]
		for x := range p.w {
			l.cells[y*p.w+x] = cell{here[x], (here[min(p.w-1, x+1)] - here[max(0, x-1)]) / 2, (down[x] - up[x]) / 2, 1}
		}
	}
	return l
}

// How places are weighed.
const (
	cornerWindow = 5    // pixels around a place whose slopes tell its kind
	edgeWeight   = 0.04 // of a place that shows one straight edge
)

// weigh lets places count that can be told from their neighbours in all
// directions, and hardly those with one straight edge, which looks the same
// all along: the outlines of a tube and its highlights fit one another after
// any shift along the tube. The measure is 4 det/trace^2 of the structure
// tensor: 1 for slopes in all directions alike, 0 for one direction (Harris
// and Stephens 1988; Noble 1988; from memory).
func (l *level) weigh() {
	xx, xy, yy := plane{l.w, l.h, make([]float32, len(l.cells))}, plane{l.w, l.h, make([]float32, len(l.cells))}, plane{l.w, l.h, make([]float32, len(l.cells))}
	for i, c := range l.cells {
		xx.v[i], xy.v[i], yy.v[i] = c.dx*c.dx, c.dx*c.dy, c.dy*c.dy
	}
	xx, xy, yy = xx.boxed(cornerWindow), xy.boxed(cornerWindow), yy.boxed(cornerWindow)
	for i := range l.cells {
		trace := xx.v[i] + yy.v[i] + 1e-6
		l.cells[i].weight = edgeWeight + (1-edgeWeight)*max(0, 4*(xx.v[i]*yy.v[i]-xy.v[i]*xy.v[i])/(trace*trace))
	}
}

// Sizes of levels, in pixels along the longer side.
const (
	finest   = 800
	coarsest = 90
)

// levels gives the pyramid of a photo, the smallest first and the largest top
// pixels along its longer side. Without evening out, brightness stays as it is
// and all places count alike.
func levels(g *image.Gray, top float64, even bool) []*level {
	size := image.Pt(g.Rect.Dx(), g.Rect.Dy())
	factor := max(1, float64(max(size.X, size.Y))/top)
	var out []*level
	for p := shrunk(g, factor); ; p = p.halved() {
		q := p
		if even {
			q = p.smoothed().evened(max(4, max(p.w, p.h)/20))
		}
		l := q.leveled(size, 1/factor)
		if even {
			l.weigh()
		}
		out = append(out, l)
		if max(p.w, p.h) < 2*coarsest || min(p.w, p.h) < 2*minSide {
			break
		}
		factor *= 2
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// minSide is the shortest side, in pixels, of what can be aligned.
const minSide = 24

// unitOf takes pixels of a photo to unit coordinates, and back.
func unitOf(size image.Point) (to, from Transform) {
	cx, cy, u := float64(size.X)/2, float64(size.Y)/2, float64(max(size.X, size.Y))/2
	return Transform{1 / u, 0, -cx / u, 0, 1 / u, -cy / u, 0, 0, 1}, Transform{u, 0, cx, 0, u, cy, 0, 0, 1}
}
