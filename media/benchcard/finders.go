package benchcard

import (
	"context"
	"math"
	"slices"

	"github.com/makiuchi-d/gozxing"

	"forkwear/media/scale"
)

// Bounds on the search, so that a picture full of pattern ends it too.
const (
	mostFinders = 400 // places looked at as a finder
	keptFinders = 24  // of them, those seen most often
	mostTriples = 48  // tried as a code
)

// finder is a place that looks like the corner square of a QR code: dark and
// light runs of 1:1:3:1:1 across, down and aslant (ISO/IEC 18004, from memory).
type finder struct {
	at     scale.Point
	module float64 // px
	seen   int     // lines that crossed it
}

// finders looks for finder patterns on a reduced photo.
func finders(ctx context.Context, l *luma) ([]finder, error) {
	// The slice is only read; chroma is not asked for.
	src, err := gozxing.NewPlanarYUVLuminanceSource(l.pix, l.w, l.h, 0, 0, l.w, l.h, false)
	if err != nil {
		return nil, err
	}
	m, err := gozxing.NewHybridBinarizer(src).GetBlackMatrix()
	if err != nil {
		return nil, nil //nolint:nilerr // nothing dark and light in it
	}
	f := finderScan{m: m}
	for y := 1; y < l.h && len(f.found) < mostFinders; y += 2 {
		if y%64 == 1 {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
		}
		f.row(y)
	}
	var out []finder
	for _, c := range f.found {
		if c.seen >= 2 {
			k := float64(l.by)
			c.at = scale.Point{X: c.at.X*k + float64(l.x0), Y: c.at.Y*k + float64(l.y0)}
			c.module *= k
			out = append(out, c)
		}
	}
	// Larger ones are crossed by more lines: what counts is lines for the size.
	slices.SortStableFunc(out, func(a, b finder) int {
		return cmpFloat(float64(b.seen)/b.module, float64(a.seen)/a.module)
	})
	return out[:min(len(out), keptFinders)], nil
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// finderScan gathers finders row by row. The library has such a search, but it
// wants squares seen nearly from above; lines through the middle keep their
// proportions however slantwise the square is seen.
type finderScan struct {
	m     *gozxing.BitMatrix
	found []finder
}

// row looks at every run of five in the right proportions.
func (f *finderScan) row(y int) {
	var runs [5]int // the last five runs; the newest last
	dark := f.m.Get(0, y)
	start := 0
	for x := 1; x <= f.m.GetWidth(); x++ {
		if x < f.m.GetWidth() && f.m.Get(x, y) == dark {
			continue
		}
		copy(runs[:], runs[1:])
		runs[4] = x - start
		if dark && runs[0] > 0 && likeFinder(runs) {
			f.check(x-runs[4]-runs[3]-(runs[2]+1)/2, y)
		}
		dark, start = !dark, x
	}
}

// check looks down and across through the middle of a run.
func (f *finderScan) check(x, y int) {
	down, top, ok := f.through(x, y, 0, 1)
	if !ok {
		return
	}
	cy := top + float64(down[0]+down[1]) + float64(down[2])/2
	across, left, ok := f.through(x, int(cy), 1, 0)
	if !ok {
		return
	}
	cx := left + float64(across[0]+across[1]) + float64(across[2])/2
	wide, high := sumOf(across), sumOf(down)
	if wide > 4*high || high > 4*wide {
		return
	}
	c := finder{scale.Point{X: cx, Y: cy}, (wide + high) / 14, 1}
	for i, o := range f.found {
		if apart(o.at, c.at) < 1.5*o.module && c.module < 1.5*o.module && o.module < 1.5*c.module {
			n := float64(o.seen)
			f.found[i] = finder{times(moved(times(o.at, n), c.at), 1/(n+1)), (o.module*n + c.module) / (n + 1), o.seen + 1}
			return
		}
	}
	f.found = append(f.found, c)
}

// through counts the five runs around a dark place along dx, dy and gives the
// coordinate where they begin.
func (f *finderScan) through(x, y, dx, dy int) (runs [5]int, begin float64, ok bool) {
	const longest = 400
	w, h := f.m.GetWidth(), f.m.GetHeight()
	if x < 0 || y < 0 || x >= w || y >= h || !f.m.Get(x, y) {
		return runs, 0, false
	}
	for _, way := range [2]int{-1, 1} {
		i, j, dark := x, y, true
		if way == 1 {
			i, j = x+dx, y+dy
		}
		for n := 2; n >= 0 && n <= 4; n += way {
			count := 0
			for i >= 0 && j >= 0 && i < w && j < h && f.m.Get(i, j) == dark && count < longest {
				count++
				i, j = i+way*dx, j+way*dy
			}
			runs[n] += count
			dark = !dark
		}
		if way == -1 {
			begin = float64((i+1)*dx + (j+1)*dy)
		}
	}
	return runs, begin, likeFinder(runs)
}

func sumOf(runs [5]int) float64 { return float64(runs[0] + runs[1] + runs[2] + runs[3] + runs[4]) }

// likeFinder: five runs of 1:1:3:1:1, each module within half of one, or
// within what a pixel at each end makes.
func likeFinder(runs [5]int) bool {
	m := sumOf(runs) / 7
	if m < 1 {
		return false
	}
	within := max(m/2, 0.9)
	for i, want := range [5]float64{1, 1, 3, 1, 1} {
		slack := within
		if i == 2 {
			slack *= 2
		}
		if runs[i] == 0 || math.Abs(float64(runs[i])-want*m) >= slack {
			return false
		}
	}
	return true
}

// triple is three finders as they lie in a code: top left, top right, bottom
// left.
type triple struct {
	topLeft, topRight, bottomLeft finder
	odd                           float64 // how unlike a square seen from above
}

// triples lists the finders that may belong to one code of ours, the most
// square ones first. The middles are 18 modules apart (version 2).
func triples(fs []finder) []triple {
	var out []triple
	for i := range fs {
		for j := range i {
			for k := range j {
				if t, ok := ordered(fs[i], fs[j], fs[k]); ok {
					out = append(out, t)
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b triple) int { return cmpFloat(a.odd, b.odd) })
	return out[:min(len(out), mostTriples)]
}

func ordered(a, b, c finder) (triple, bool) {
	least, most := min(a.module, b.module, c.module), max(a.module, b.module, c.module)
	if most > 1.7*least {
		return triple{}, false
	}
	// The corner of the code is opposite the longest side.
	for range 2 {
		if apart(b.at, c.at) < max(apart(a.at, b.at), apart(a.at, c.at)) {
			a, b, c = b, c, a
		}
	}
	p, q := minus(b.at, a.at), minus(c.at, a.at)
	lp, lq := math.Hypot(p.X, p.Y), math.Hypot(q.X, q.Y)
	turn := cross(p, q) / (lp * lq)
	if turn < 0 {
		b, c, turn = c, b, -turn
	}
	const between = qrSize - 7
	for _, side := range []float64{lp, lq} {
		if m := side / between; m < 0.45*least || m > 1.5*most {
			return triple{}, false
		}
	}
	if !(turn > 0.6) || lp > 1.8*lq || lq > 1.8*lp {
		return triple{}, false
	}
	return triple{a, b, c, math.Abs(math.Log(lp/lq)) + (1 - turn) + math.Log(most/least)}, true
}

func minus(a, b scale.Point) scale.Point         { return scale.Point{X: a.X - b.X, Y: a.Y - b.Y} }
func cross(a, b scale.Point) float64             { return a.X*b.Y - a.Y*b.X }
func apart(a, b scale.Point) float64             { return math.Hypot(a.X-b.X, a.Y-b.Y) }
func moved(p, d scale.Point) scale.Point         { return scale.Point{X: p.X + d.X, Y: p.Y + d.Y} }
func times(p scale.Point, k float64) scale.Point { return scale.Point{X: p.X * k, Y: p.Y * k} }
