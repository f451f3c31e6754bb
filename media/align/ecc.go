package align

import (
	"context"
	"math"
	"runtime"
	"sync"

	"gonum.org/v1/gonum/mat"
)

// motion is which maps a climb may try.
type motion int

const (
	bySimilarity motion = 4 // the value is the count of free numbers
	byAffine     motion = 6
	byHomography motion = 8
)

// sums are what one pass over the overlap collects; g is the slope of the
// mapped brightness along each free number, i the mapped older photo, t the
// newer one.
type sums struct {
	count               float64 // pixels that overlap
	n, i, t, ii, tt, it float64 // n: sum of weights
	g, gi, gt           [8]float64
	gg                  [36]float64 // upper triangle, row by row
}

func (s *sums) add(o *sums) {
	s.count += o.count
	s.n, s.i, s.t, s.ii, s.tt, s.it = s.n+o.n, s.i+o.i, s.t+o.t, s.ii+o.ii, s.tt+o.tt, s.it+o.it
	for k := range s.g {
		s.g[k] += o.g[k]
		s.gi[k] += o.gi[k]
		s.gt[k] += o.gt[k]
	}
	for k := range s.gg {
		s.gg[k] += o.gg[k]
	}
}

// share of the newer photo that lies on the older one, 0-1.
func (s *sums) share(now *level) float64 { return min(1, s.count/float64(now.w*now.h)) }

// correlation is the coefficient over the overlap; 0 where one side is flat.
func (s *sums) correlation() float64 {
	if s.count < 2 {
		return 0
	}
	ii, tt := s.ii-s.i*s.i/s.n, s.tt-s.t*s.t/s.n
	if !(ii > 1e-9*s.n) || !(tt > 1e-9*s.n) {
		return 0
	}
	return (s.it - s.i*s.t/s.n) / math.Sqrt(ii*tt)
}

// Whether straight edges count, for pass.
const (
	edgesLittle = 0.0 // to find the place: an edge fits all along itself
	edgesFully  = 1.0 // to find its fraction of a pixel: an edge tells much
)

// manyPixels is the size of a level of which every second pixel of every
// second row is enough: there are plenty, and noise is averaged out anyway.
const manyPixels = 100_000

// pass lays then upon now by h (unit coordinates) and collects the sums.
// Rows are dealt to a fixed number of bands, so that the sums do not depend on
// how many processors share them.
func pass(then, now *level, h Transform, m motion, edges float64) *sums {
	const bands = 8
	stride := 1
	if now.w*now.h > manyPixels {
		stride = 2
	}
	var parts [bands]sums
	var group sync.WaitGroup
	work := make(chan int, bands)
	for b := range bands {
		work <- b
	}
	close(work)
	workers := min(bands, runtime.GOMAXPROCS(0))
	if now.w*now.h < 20_000 {
		workers = 1
	}
	run := func() {
		for b := range work {
			for y := b * stride; y < now.h; y += bands * stride {
				parts[b].row(then, now, h, m, y, stride, edges)
			}
		}
	}
	for range workers - 1 {
		group.Go(run)
	}
	run()
	group.Wait()
	for b := 1; b < bands; b++ {
		parts[0].add(&parts[b])
	}
	return &parts[0]
}

// row adds one row of now. With m 0 only the correlation is collected.
func (s *sums) row(then, now *level, h Transform, m motion, y, stride int, edges float64) {
	Y := (float64(y) + 0.5 - now.cy) / now.unit
	line := now.cells[y*now.w:][:now.w]
	right, bottom := float64(then.w-1), float64(then.h-1)
	for x := 0; x < len(line); x += stride {
		X := (float64(x) + 0.5 - now.cx) / now.unit
		w := h[6]*X + h[7]*Y + h[8]
		if !(w > 0.05) {
			continue // near the horizon or behind it
		}
		U, V := (h[0]*X+h[1]*Y+h[2])/w, (h[3]*X+h[4]*Y+h[5])/w
		px, py := then.cx+then.unit*U-0.5, then.cy+then.unit*V-0.5
		if !(px >= 0 && py >= 0 && px < right && py < bottom) {
			continue
		}
		ix, iy := int(px), int(py)
		fx, fy := float32(px-float64(ix)), float32(py-float64(iy))
		c := then.cells[iy*then.w+ix:][: then.w+2 : then.w+2]
		a, b, d, e := &c[0], &c[1], &c[then.w], &c[then.w+1]
		k00, k10, k01, k11 := (1-fx)*(1-fy), fx*(1-fy), (1-fx)*fy, fx*fy
		i := float64(k00*a.v + k10*b.v + k01*d.v + k11*e.v)
		t := float64(line[x].v)
		weight := edges + (1-edges)*float64(line[x].weight)
		s.count += float64(stride * stride)
		s.n += weight
		s.i += weight * i
		s.t += weight * t
		s.ii += weight * i * i
		s.tt += weight * t * t
		s.it += weight * i * t
		if m == 0 {
			continue
		}
		dx := float64(k00*a.dx+k10*b.dx+k01*d.dx+k11*e.dx) * then.unit
		dy := float64(k00*a.dy+k10*b.dy+k01*d.dy+k11*e.dy) * then.unit
		gx := (dx*(h[0]-U*h[6]) + dy*(h[3]-V*h[6])) / w // slope along X of the mapped brightness
		gy := (dx*(h[1]-U*h[7]) + dy*(h[4]-V*h[7])) / w
		s.slopes(m, X, Y, gx, gy, i, t, weight)
	}
}

// slopes adds the outer product of the slopes along the free numbers of a
// small step made before h (see step).
func (s *sums) slopes(m motion, x, y, gx, gy, i, t, weight float64) {
	var g [8]float64
	switch m {
	case bySimilarity:
		g = [8]float64{gx*x + gy*y, gy*x - gx*y, gx, gy}
	case byAffine:
		g = [8]float64{gx * x, gx * y, gx, gy * x, gy * y, gy}
	default:
		r := gx*x + gy*y
		g = [8]float64{gx * x, gx * y, gx, gy * x, gy * y, gy, -r * x, -r * y}
	}
	at := 0
	for k := range int(m) {
		v := weight * g[k]
		s.g[k] += v
		s.gi[k] += v * i
		s.gt[k] += v * t
		for _, u := range g[k:m] {
			s.gg[at] += v * u
			at++
		}
	}
}

// damping holds back directions that the photos hardly show, such as along a
// bare tube: share of the mean diagonal.
const damping = 1e-4

// solve gives the step of the free numbers that raises the correlation most to
// first order (Evangelidis and Psarakis 2008, "Parametric image alignment
// using enhanced correlation coefficient maximization", IEEE PAMI 30(10);
// formulas from memory): with the means taken off G, i and t, Q = G'G,
//
//	lambda = (i'i - i'G Q^-1 G'i) / (t'i - t'G Q^-1 G'i)
//	step   = Q^-1 G'(lambda t - i)
//
// ok is false where the photos do not determine a step.
func (s *sums) solve(m motion) (step [8]float64, ok bool) {
	k := int(m)
	q := mat.NewSymDense(k, nil)
	gi, gt := mat.NewVecDense(k, nil), mat.NewVecDense(k, nil)
	at, trace := 0, 0.0
	for r := range k {
		for c := r; c < k; c++ {
			q.SetSym(r, c, s.gg[at]-s.g[r]*s.g[c]/s.n)
			at++
		}
		trace += q.At(r, r)
		gi.SetVec(r, s.gi[r]-s.g[r]*s.i/s.n)
		gt.SetVec(r, s.gt[r]-s.g[r]*s.t/s.n)
	}
	for r := range k {
		q.SetSym(r, r, q.At(r, r)+damping*trace/float64(k))
	}
	var chol mat.Cholesky
	if !(trace > 0) || !chol.Factorize(q) {
		return step, false
	}
	var qi, d mat.VecDense
	if chol.SolveVecTo(&qi, gi) != nil {
		return step, false
	}
	over, under := s.ii-s.i*s.i/s.n-mat.Dot(gi, &qi), s.it-s.i*s.t/s.n-mat.Dot(gt, &qi)
	if !(under > 0) || !(over > 0) {
		return step, false
	}
	d.AddScaledVec(gi, -over/under, gt)
	d.ScaleVec(-1, &d)
	var out mat.VecDense
	if chol.SolveVecTo(&out, &d) != nil {
		return step, false
	}
	for r := range k {
		step[r] = out.AtVec(r)
	}
	return step, true
}

// stepped makes the small step first and h after it.
func stepped(h Transform, m motion, p [8]float64) Transform {
	var d Transform
	switch m {
	case bySimilarity:
		d = Transform{1 + p[0], -p[1], p[2], p[1], 1 + p[0], p[3], 0, 0, 1}
	case byAffine:
		d = Transform{1 + p[0], p[1], p[2], p[3], 1 + p[4], p[5], 0, 0, 1}
	default:
		d = Transform{1 + p[0], p[1], p[2], p[3], 1 + p[4], p[5], p[6], p[7], 1}
	}
	return settled(times(h, d))
}

// When a climb ends.
const (
	maxSteps    = 40
	enough      = 0.03 // pixels of the level that no corner moves further
	roughly     = 0.15 // the same where a larger level follows
	leastShare  = 0.2  // of now that must overlap then
	failedSteps = 3    // steps in a row that raise nothing
)

// climb raises the correlation on one level from h on until a step moves no
// corner further than until (pixels of the level), and gives the best
// transform met.
func climb(ctx context.Context, then, now *level, h Transform, m motion, edges, until float64) (best Transform, err error) {
	best = h
	correlation, failed := -1.0, 0
	for range maxSteps {
		if err := ctx.Err(); err != nil {
			return best, err
		}
		s := pass(then, now, h, m, edges)
		share := s.share(now)
		rho := s.correlation()
		if share < leastShare {
			break
		}
		if rho > correlation+1e-7 {
			best, correlation, failed = h, rho, 0
		} else if failed++; failed >= failedSteps {
			break
		}
		p, ok := s.solve(m)
		if !ok {
			break
		}
		next := stepped(h, m, p)
		moved, ok := cornerShift(now, h, next)
		if !ok {
			break
		}
		h = next
		if moved*then.unit < until {
			break
		}
	}
	return best, nil
}

// cornerShift is the largest move of now's corners between two transforms, in
// unit coordinates of then; not ok where a corner has no place.
func cornerShift(now *level, a, b Transform) (float64, bool) {
	var most float64
	for _, c := range corners(now) {
		p, err := a.Apply(c)
		q, err2 := b.Apply(c)
		if err != nil || err2 != nil || !(b[6]*c.X+b[7]*c.Y+b[8] > 0) {
			return math.Inf(1), false
		}
		most = max(most, math.Hypot(p.X-q.X, p.Y-q.Y))
	}
	return most, !math.IsNaN(most)
}
