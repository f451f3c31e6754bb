package scratch

import (
	"math"

	"forkwear/media/scale"
)

// straight is how far an outline may leave its corners out, pixels.
const straight = 0.05

// Outlines are the closed outlines of the damage in the photo, between the
// pixels where the level is half (marching squares), without the corners that
// lie within 0.05 pixel of the line. They run clockwise as seen, those of
// holes anticlockwise, so that scale's signed areas of all of them add up. Pixels
// that touch by a corner are joined where the mean of the four is at least half.
func (m *Mask) Outlines() [][]scale.Point {
	t := tracer{m: m, next: map[int]int{}, w: m.rect.Dx() + 1}
	t.cells()
	var out [][]scale.Point
	for _, start := range t.starts {
		if _, left := t.next[start]; !left {
			continue
		}
		var ring []scale.Point
		for at := start; ; {
			to, ok := t.next[at]
			if !ok {
				break
			}
			delete(t.next, at)
			ring = append(ring, t.crossing(at))
			at = to
		}
		if ring = simplifyRing(ring, straight); len(ring) >= 3 {
			out = append(out, ring)
		}
	}
	return out
}

// tracer links the crossings of one cell, four neighbouring pixel middles, to
// the next. A crossing lies on the edge from a pixel to its right (even) or
// its lower neighbour (odd).
type tracer struct {
	m      *Mask
	w      int // pixels a row, one more on the left
	next   map[int]int
	starts []int
}

func (t *tracer) edge(x, y, down int) int { return 2*((y+1)*t.w+x+1) + down }

// value of a pixel counted from the mask's corner, 0 outside.
func (t *tracer) value(x, y int) float64 {
	r := t.m.rect
	return float64(t.m.Level(r.Min.X+x, r.Min.Y+y))
}

func (t *tracer) cells() {
	box := t.m.Bounds().Sub(t.m.rect.Min)
	for y := box.Min.Y - 1; y < box.Max.Y; y++ {
		for x := box.Min.X - 1; x < box.Max.X; x++ {
			t.cell(x, y)
		}
	}
}

// cell goes around the four corners clockwise: an outline that keeps the
// damage on its right begins where the way leaves the damage, and ends where
// it comes back.
func (t *tracer) cell(x, y int) {
	corner := [4]float64{t.value(x, y), t.value(x+1, y), t.value(x+1, y+1), t.value(x, y+1)}
	edges := [4]int{t.edge(x, y, 0), t.edge(x+1, y, 1), t.edge(x, y+1, 0), t.edge(x, y, 1)}
	var from, to []int
	for i := range 4 {
		in, after := corner[i] > half, corner[(i+1)%4] > half
		if in && !after {
			from = append(from, i)
		} else if !in && after {
			to = append(to, i)
		}
	}
	link := func(a, b int) {
		t.next[edges[a]] = edges[b]
		t.starts = append(t.starts, edges[a])
	}
	switch len(from) {
	case 1:
		link(from[0], to[0])
	case 2:
		joined := corner[0]+corner[1]+corner[2]+corner[3] >= 4*half
		for _, a := range from {
			if joined {
				link(a, (a+1)%4) // around the sound corner
			} else {
				link(a, (a+3)%4) // around the damaged one
			}
		}
	}
}

// crossing is where the level is half on an edge.
func (t *tracer) crossing(edge int) scale.Point {
	down, i := edge%2, edge/2
	x, y := i%t.w-1, i/t.w-1
	a, b := t.value(x, y), t.value(x+1-down, y+down)
	at := (half - a) / (b - a)
	p := scale.Point{X: float64(t.m.rect.Min.X+x) + 0.5, Y: float64(t.m.rect.Min.Y+y) + 0.5}
	if down == 1 {
		p.Y += at
	} else {
		p.X += at
	}
	return p
}

// simplifyRing parts the ring at the point farthest from its first one.
func simplifyRing(ring []scale.Point, tolerance float64) []scale.Point {
	if len(ring) < 4 {
		return ring
	}
	far, most := 0, 0.0
	for i, p := range ring {
		if d := math.Hypot(p.X-ring[0].X, p.Y-ring[0].Y); d > most {
			far, most = i, d
		}
	}
	closed := append(append([]scale.Point(nil), ring...), ring[0])
	one, two := simplify(closed[:far+1], tolerance), simplify(closed[far:], tolerance)
	return append(one[:len(one)-1], two[:len(two)-1]...)
}

// simplify leaves out points that lie within tolerance of the line between
// those that stay (Douglas and Peucker 1973; from memory).
func simplify(line []scale.Point, tolerance float64) []scale.Point {
	stay := make([]bool, len(line))
	stay[0], stay[len(line)-1] = true, true
	parts := [][2]int{{0, len(line) - 1}}
	for len(parts) > 0 {
		a, b := parts[len(parts)-1][0], parts[len(parts)-1][1]
		parts = parts[:len(parts)-1]
		far, most := 0, tolerance
		for i := a + 1; i < b; i++ {
			if d := fromSegment(line[i], line[a], line[b]); d > most {
				far, most = i, d
			}
		}
		if far > 0 {
			stay[far] = true
			parts = append(parts, [2]int{a, far}, [2]int{far, b})
		}
	}
	var out []scale.Point
	for i, p := range line {
		if stay[i] {
			out = append(out, p)
		}
	}
	return out
}
