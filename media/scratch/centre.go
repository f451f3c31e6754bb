package scratch

import (
	"container/heap"
	"context"
	"math"
	"slices"

	"forkwear/inspect"
	"forkwear/media/scale"
)

// ErrEmpty: nothing is marked.
var ErrEmpty = inspect.Refuse(inspect.Invalid, "the mask is empty: paint the damage")

// searched is about how many pixels of a mask are searched for its centre
// line; of larger ones every second, third... pixel is.
const searched = 60000

// CentreLine goes from one end of the largest damage to the other in its
// middle, as points in the photo: the two pixels farthest apart on ways inside
// the damage, the way between them that keeps off the edges, smoothed, and
// drawn on straight to the outline at both ends. Its length on the surface is
// the length of the damage; of a roundish one, its greatest extent.
func (m *Mask) CentreLine(ctx context.Context) ([]scale.Point, error) {
	p, step, origin := m.largest()
	if p.w == 0 {
		return nil, ErrEmpty
	}
	depth := distances(p)
	plain := func(float32) float64 { return 1 }
	deepest := depth.greatest()
	middle := func(d float32) float64 { return 1 + 5*float64(deepest/d-1) }
	start := slices.Index(depth.v, deepest)
	var ends [2]int
	for i := range ends {
		way, err := explore(ctx, depth, start, -1, plain)
		if err != nil {
			return nil, err
		}
		ends[i], start = way.last, way.last
	}
	way, err := explore(ctx, depth, ends[0], ends[1], middle)
	if err != nil {
		return nil, err
	}
	var line []scale.Point
	for i := ends[1]; i >= 0; i = way.before[i] {
		line = append(line, scale.Point{X: origin.X + step*(float64(i%p.w)+0.5), Y: origin.Y + step*(float64(i/p.w)+0.5)})
	}
	return m.finished(line, step*float64(deepest)), nil
}

// largest is the largest component, 1 inside and 0 outside, as every step-th
// pixel of its box, and where the box begins.
func (m *Mask) largest() (p plane, step float64, origin scale.Point) {
	var best component
	for _, c := range components(m.plane(), half, half) {
		if len(c.pixels) > len(best.pixels) {
			best = c
		}
	}
	if len(best.pixels) == 0 {
		return plane{}, 1, scale.Point{}
	}
	k := int(math.Ceil(math.Sqrt(float64(len(best.pixels)) / searched)))
	p = newPlane((best.box.Dx()+k-1)/k, (best.box.Dy()+k-1)/k)
	w := m.rect.Dx()
	for _, i := range best.pixels {
		x, y := i%w-best.box.Min.X, i/w-best.box.Min.Y
		p.v[y/k*p.w+x/k] = 1
	}
	at := best.box.Min.Add(m.rect.Min)
	return p, float64(k), scale.Point{X: float64(at.X), Y: float64(at.Y)}
}

// journey is the shortest way from a start to each pixel.
type journey struct {
	before []int
	last   int // the pixel reached last, the farthest; or the goal
}

type visit struct {
	cost float64
	at   int
}

type visits []visit

func (v visits) Len() int           { return len(v) }
func (v visits) Less(i, j int) bool { return v[i].cost < v[j].cost }
func (v visits) Swap(i, j int)      { v[i], v[j] = v[j], v[i] }
func (v *visits) Push(x any)        { *v = append(*v, x.(visit)) }
func (v *visits) Pop() any {
	old := *v
	x := old[len(old)-1]
	*v = old[:len(old)-1]
	return x
}

// explore finds the cheapest ways over pixels with depth > 0, a step costing
// its length times toll of the depth where it ends (Dijkstra). It ends at goal.
func explore(ctx context.Context, depth plane, start, goal int, toll func(float32) float64) (journey, error) {
	j := journey{before: make([]int, len(depth.v)), last: start}
	cost := make([]float64, len(depth.v))
	for i := range cost {
		cost[i] = math.Inf(1)
		j.before[i] = -1
	}
	cost[start] = 0
	open := &visits{{0, start}}
	for n := 0; open.Len() > 0; n++ {
		if n%10000 == 0 && ctx.Err() != nil {
			return j, ctx.Err()
		}
		v := heap.Pop(open).(visit)
		if v.cost > cost[v.at] {
			continue
		}
		if j.last = v.at; v.at == goal {
			break
		}
		x, y := v.at%depth.w, v.at/depth.w
		for ny := max(y-1, 0); ny <= min(y+1, depth.h-1); ny++ {
			for nx := max(x-1, 0); nx <= min(x+1, depth.w-1); nx++ {
				i := ny*depth.w + nx
				if !(depth.v[i] > 0) || i == v.at {
					continue
				}
				c := v.cost + math.Hypot(float64(nx-x), float64(ny-y))*toll(depth.v[i])
				if c < cost[i] {
					cost[i], j.before[i] = c, v.at
					heap.Push(open, visit{c, i})
				}
			}
		}
	}
	return j, nil
}

// finished smooths a way of pixel steps, takes off its ends, where it bends
// into a corner, and draws them on to the outline. deep is half the greatest
// width, pixels.
func (m *Mask) finished(line []scale.Point, deep float64) []scale.Point {
	line = smooth(evenly(line), max(3, min(deep, 8)))
	off := int(min(1.5*deep+2, float64(len(line))/4))
	line = line[off : len(line)-off]
	if len(line) < 2 {
		return m.dot(line[0])
	}
	reach := 3*float64(off) + 10
	first := m.end(line, reach, deep)
	slices.Reverse(line)
	last := m.end(line, reach, deep)
	slices.Reverse(line)
	return simplify(slices.Concat([]scale.Point{first}, line, []scale.Point{last}), 0.3)
}

// dot stands in for the centre line of a damage of a pixel or two: across it.
func (m *Mask) dot(p scale.Point) []scale.Point {
	return []scale.Point{{X: p.X - 0.5, Y: p.Y}, {X: p.X + 0.5, Y: p.Y}}
}

// end is where the line, drawn on straight beyond its first point, meets the
// outline.
func (m *Mask) end(line []scale.Point, reach, deep float64) scale.Point {
	a, b := line[min(int(max(8, 3*deep)), len(line)-1)], line[0]
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if !(l > 0) {
		return b
	}
	return m.edgeFrom(b, (b.X-a.X)/l, (b.Y-a.Y)/l, reach)
}

// between is the level at a place of the photo, between pixel middles by the
// four nearest (bilinear).
func (m *Mask) between(x, y float64) float64 {
	x, y = x-0.5, y-0.5
	x0, y0 := math.Floor(x), math.Floor(y)
	fx, fy := x-x0, y-y0
	level := func(dx, dy int) float64 { return float64(m.Level(int(x0)+dx, int(y0)+dy)) }
	return (level(0, 0)*(1-fx)+level(1, 0)*fx)*(1-fy) + (level(0, 1)*(1-fx)+level(1, 1)*fx)*fy
}

// evenly is the line with a point every pixel, its ends kept.
func evenly(line []scale.Point) []scale.Point {
	out := []scale.Point{line[0]}
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		n := max(int(math.Round(math.Hypot(b.X-a.X, b.Y-a.Y))), 1)
		for k := 1; k <= n; k++ {
			t := float64(k) / float64(n)
			out = append(out, scale.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)})
		}
	}
	return out
}

// smooth takes for each point the mean of its neighbours, weighted by a bell
// of sigma points; near an end by fewer on both sides, so that the ends stay.
func smooth(line []scale.Point, sigma float64) []scale.Point {
	out := make([]scale.Point, len(line))
	for i := range line {
		k := min(int(3*sigma), i, len(line)-1-i)
		var sum float64
		for d := -k; d <= k; d++ {
			w := math.Exp(-float64(d*d) / (2 * sigma * sigma))
			out[i].X += w * line[i+d].X
			out[i].Y += w * line[i+d].Y
			sum += w
		}
		out[i].X /= sum
		out[i].Y /= sum
	}
	return out
}
