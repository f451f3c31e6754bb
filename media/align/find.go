package align

import (
	"cmp"
	"context"
	"image"
	"math"
	"runtime"
	"slices"

	"golang.org/x/sync/errgroup"
)

// What Find searches, and what it believes.
const (
	maxTurn   = 30.0 // degrees either way
	turnStep  = 6.0
	minZoom   = 0.7
	maxZoom   = 1.42
	zoomStep  = 1.12
	searchOn  = 128 // pixels along the longer side of the searched copies
	fieldSide = 192 // of the squares of the correlation by Fourier transform; they wrap around
	largeSide = 256 // the same for copies larger than searchOn

	// MinFound is the correlation that Find asks for. Unrelated photos reach
	// less after the same search (see TestFindUnrelated).
	MinFound = 0.40
	// MinOverlap is the share of now that must lie on then.
	MinOverlap = 0.35
)

// Find looks for the transform without marks: turns of up to 30 degrees and
// zooms of 0.7 to 1.4 with any shift are tried on small copies by correlation
// with the Fourier phase, the best ones refined by ECC. It believes only what
// reaches MinFound and MinOverlap and distorts plausibly; else Accepted is
// false and the transform merely lays centre on centre at the same size.
// It loses photos with little to hold on to (a bare shining tube), greater
// turns, and pictures that repeat themselves. Errors as of Refine.
func Find(ctx context.Context, then, now *image.Gray) (Transform, Report, error) {
	p, err := newPair(then, now)
	if err != nil {
		return Transform{1, 0, 0, 0, 1, 0, 0, 0, 1}, Report{}, err
	}
	plain := Transform{1, 0, 0, 0, 1, 0, 0, 0, 1}
	guesses, err := p.search(ctx)
	if err != nil {
		return p.toPixels(plain), Report{}, err
	}
	best, report := plain, Report{CorrelationAfter: -1}
	for _, g := range guesses {
		if g.merit < 0.75*guesses[0].merit {
			break
		}
		h, r, err := p.refine(ctx, g.h, 0)
		if err != nil {
			return p.toPixels(plain), r, err
		}
		if r.CorrelationAfter > report.CorrelationAfter && plausible(h, p.now[0]) {
			best, report = h, r
		}
	}
	last := len(p.now) - 1
	report.CorrelationBefore = max(0, pass(p.then[last], p.now[last], plain, 0, edgesLittle).correlation())
	shift, _ := cornerShift(p.now[last], plain, best)
	report.CornerShift = shift * p.longer() / 2
	switch {
	case report.CorrelationAfter < MinFound:
		report.Why = "The photos are too unlike to be laid upon one another by themselves: mark four places on both."
	case report.Overlap < MinOverlap:
		report.Why = "Only a small part of the photos would overlap, which is not to be trusted: mark four places on both."
	default:
		report.Accepted = true
		report.Why = "Found without marks: look whether the part's edges lie on one another before you compare."
		return p.toPixels(best), report, nil
	}
	report.CorrelationAfter = max(0, report.CorrelationAfter)
	return p.toPixels(plain), report, nil
}

// guess is a similarity in unit coordinates with its merit.
type guess struct {
	h     Transform
	merit float64
}

func better(a, b guess) int { return cmp.Compare(b.merit, a.merit) }

// search gives at most three guesses worth refining, the best first.
func (p *pair) search(ctx context.Context) ([]guess, error) {
	i := 0
	for i+1 < len(p.now) && max(p.now[i].w, p.now[i].h) < searchOn*3/4 {
		i++
	}
	then, now := p.then[i], p.now[i]
	side := fieldSide
	if max(then.w, then.h, now.w, now.h) > searchOn {
		side = largeSide
	}
	target := newField(side)
	target.draw(then, then.unit, nil, Transform{1, 0, 0, 0, 1, 0, 0, 0, 1})
	target.whiten()

	linear := []Transform{}
	for turn := -maxTurn; turn <= maxTurn; turn += turnStep {
		for zoom := minZoom; zoom <= maxZoom; zoom *= zoomStep {
			s, c := math.Sincos(turn * math.Pi / 180)
			linear = append(linear, Transform{zoom * c, -zoom * s, 0, zoom * s, zoom * c, 0, 0, 0, 1})
		}
	}
	found := make([][]guess, (len(linear)+1)/2)
	group, inner := errgroup.WithContext(ctx)
	group.SetLimit(max(1, min(4, runtime.GOMAXPROCS(0))))
	for k := range found {
		group.Go(func() error {
			if err := inner.Err(); err != nil {
				return err
			}
			found[k] = tryTwo(target, then, now, linear[2*k:min(2*k+2, len(linear))])
			return nil
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	all := []guess{rated(then, now, Transform{1, 0, 0, 0, 1, 0, 0, 0, 1})}
	for _, f := range found {
		all = append(all, f...)
	}
	return settle(ctx, then, now, all)
}

// tryTwo correlates two ways to turn and zoom in one Fourier transform, and
// rates the three best shifts of each.
func tryTwo(target *field, then, now *level, linear []Transform) []guess {
	f := newField(target.n)
	second := linear[len(linear)-1]
	f.draw(now, then.unit, &second, linear[0])
	f.correlate(target)
	var out []guess
	for k, l := range linear {
		part := func(c complex128) float64 { return real(c) }
		if k == 1 {
			part = func(c complex128) float64 { return imag(c) }
		}
		for _, s := range f.peaks(3, 5, part) {
			h := l
			h[2], h[5] = float64(s.dx)/then.unit, float64(s.dy)/then.unit
			out = append(out, rated(then, now, h))
		}
	}
	return out
}

// rated weighs the correlation by the overlap, as small overlaps correlate
// well by chance.
func rated(then, now *level, h Transform) guess {
	s := pass(then, now, h, 0, edgesLittle)
	share := s.share(now)
	if share < MinOverlap*0.8 {
		return guess{h, -1}
	}
	return guess{h, s.correlation() * math.Sqrt(share)}
}

// settle climbs from the best guesses that differ, and gives the three best.
func settle(ctx context.Context, then, now *level, all []guess) ([]guess, error) {
	slices.SortStableFunc(all, better)
	var climbed []guess
	for _, g := range distinct(now, all, 0.12, 12) {
		h, err := climb(ctx, then, now, g.h, bySimilarity, edgesLittle, roughly)
		if err != nil {
			return nil, err
		}
		if h, err = climb(ctx, then, now, h, byAffine, edgesLittle, roughly); err != nil {
			return nil, err
		}
		climbed = append(climbed, rated(then, now, h))
	}
	slices.SortStableFunc(climbed, better)
	return distinct(now, climbed, 0.06, 3), nil
}

// distinct keeps the first guesses whose corners lie apart, in unit
// coordinates.
func distinct(now *level, all []guess, apart float64, most int) []guess {
	var out []guess
	for _, g := range all {
		same := g.merit <= 0
		for _, o := range out {
			if d, ok := cornerShift(now, o.h, g.h); !ok || d < apart {
				same = true
			}
		}
		if !same {
			out = append(out, g)
		}
		if len(out) == most {
			break
		}
	}
	return out
}

// draw puts a level into the field, its centre in the field's middle, mapped
// by first, and by second into the imaginary part when that is given.
func (f *field) draw(l *level, unit float64, second *Transform, first Transform) {
	clear(f.v)
	put := func(h Transform, as complex128) {
		back, err := h.Inverse()
		if err != nil {
			return
		}
		for y := range f.n {
			for x := range f.n {
				X, Y := float64(x-f.n/2)/unit, float64(y-f.n/2)/unit
				U, V := back[0]*X+back[1]*Y, back[3]*X+back[4]*Y
				f.v[y*f.n+x] += as * complex(l.windowed(U, V), 0)
			}
		}
	}
	put(first, 1)
	if second != nil {
		put(*second, 1i)
	}
}

// windowed is the brightness at a place, faded out towards the border, so that
// the border itself is not correlated; 0 outside.
func (l *level) windowed(u, v float64) float64 {
	x, y := l.cx+l.unit*u-0.5, l.cy+l.unit*v-0.5
	if !(x >= 0 && y >= 0 && x < float64(l.w-1) && y < float64(l.h-1)) {
		return 0
	}
	ix, iy := int(x), int(y)
	fx, fy := x-float64(ix), y-float64(iy)
	c := l.cells[iy*l.w+ix:]
	value := (float64(c[0].v)*(1-fx)+float64(c[1].v)*fx)*(1-fy) + (float64(c[l.w].v)*(1-fx)+float64(c[l.w+1].v)*fx)*fy
	fade := func(at, n float64) float64 { return min(1, 8*min(at+0.5, n-at-0.5)/n) }
	return value * fade(x, float64(l.w)) * fade(y, float64(l.h))
}

// plausible tells whether a person could have taken both photos: no corner is
// more than three times as large as another, the centre is turned and zoomed
// within a little more than what was searched.
func plausible(h Transform, now *level) bool {
	c := corners(now)
	if !upright(h, c) {
		return false
	}
	least, most := math.Inf(1), 0.0
	for _, p := range c {
		w := h[6]*p.X + h[7]*p.Y + h[8]
		area := determinant(h) / (w * w * w)
		least, most = min(least, area), max(most, area)
	}
	zoom := math.Sqrt(determinant(h)) // at the centre, where w is 1
	a, b, c2, d := h[0]-h[2]*h[6], h[1]-h[2]*h[7], h[3]-h[5]*h[6], h[4]-h[5]*h[7]
	turn := math.Atan2(c2-b, a+d) * 180 / math.Pi
	shear := math.Hypot(a-d, b+c2) / math.Hypot(a+d, c2-b) // 0 for a similarity, 1 when flattened
	return most < 3*least && zoom > 0.6 && zoom < 1.7 && math.Abs(turn) < maxTurn+10 && shear < 0.25
}
