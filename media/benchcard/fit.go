package benchcard

import (
	"context"
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"forkwear/media/scale"
)

// errNoFit: the borders were not seen where they should be.
var errNoFit = errors.New("the card's edges are not to be seen all around: mark its corners by hand")

// measuredBorder is a border that was found in the photo: it lies off by so
// many pixels along the normal from where the fit has it.
type measuredBorder struct {
	border
	normal scale.Point // to the light side, unit vector in the photo
	off    float64
	turn   float64 // luma per px at the border
	blur   float64 // px, standard deviation of the edge as photo and filter spread it
}

// pose is where four anchors of the card lie in the photo.
type pose struct {
	anchors []scale.Point // mm
	pixels  []scale.Point
}

func (p pose) toPixel() (scale.Homography, error) { return scale.FitHomography(p.anchors, p.pixels) }

// perMM is how many pixels a millimetre has in the middle of the anchors.
func (p pose) perMM() float64 {
	var px, mm float64
	for i := range p.pixels {
		j := (i + 1) % len(p.pixels)
		px += apart(p.pixels[i], p.pixels[j])
		mm += apart(p.anchors[i], p.anchors[j])
	}
	return px / mm
}

// narrowest is how many pixels a millimetre has across the side that is seen
// most slantwise: an opposite pair of sides by the distance between them.
func (p pose) narrowest() float64 {
	least := math.Inf(1)
	for i := range 4 {
		a, b := p.pixels[i], p.pixels[(i+1)%4]
		far := min(math.Abs(cross(minus(b, a), minus(p.pixels[(i+2)%4], a))), math.Abs(cross(minus(b, a), minus(p.pixels[(i+3)%4], a)))) / apart(a, b)
		least = min(least, far/apart(p.anchors[(i+1)%4], p.anchors[(i+2)%4]))
	}
	return least
}

// fitted is the outcome of a fit.
type fitted struct {
	pose
	sigma float64    // px, each coordinate of an anchor, one standard deviation
	blur  float64    // px, that of most borders
	held  [4]float64 // share of the borders of each side that agree
}

// fit moves the anchors until the borders of the card lie on those of the
// photo. Each round measures how far the borders are off along their normals,
// within window px, smaller from round to round, and solves the eight
// coordinates by least squares with Tukey's weights (Gauss-Newton). Since a
// homography takes lines to lines, that is the fit of a line to each side, all
// four at once.
func (l *luma) fit(ctx context.Context, start pose, borders []border, windows ...float64) (fitted, error) {
	out := fitted{pose: start}
	for _, window := range windows {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		found, err := l.measure(out.pose, borders, window)
		if err != nil {
			return out, err
		}
		if len(found) < max(16, len(borders)/4) {
			return out, errNoFit
		}
		if err := out.solve(found, window); err != nil {
			return out, err
		}
	}
	found, err := l.measure(out.pose, borders, windows[len(windows)-1])
	if err != nil {
		return out, err
	}
	return out, out.judge(found, borders)
}

// measure finds each border along its normal.
func (l *luma) measure(p pose, borders []border, window float64) ([]measuredBorder, error) {
	h, err := p.toPixel()
	if err != nil {
		return nil, err
	}
	var out []measuredBorder
	for _, b := range borders {
		const little = 0.05 // mm
		at, err1 := h.Apply(b.at)
		side, err2 := h.Apply(moved(b.at, scale.Point{X: -b.light.Y * little, Y: b.light.X * little}))
		if err1 != nil || err2 != nil {
			continue
		}
		along := minus(side, at)
		perMM := math.Hypot(along.X, along.Y) / little
		along = times(along, 1/(perMM*little))
		m := measuredBorder{border: b, normal: scale.Point{X: along.Y, Y: -along.X}}
		var ok bool
		if m.off, m.turn, m.blur, ok = l.steepest(at, m.normal, along, window, min(b.reach*perMM, 1.5), b.any); ok {
			out = append(out, m)
		}
	}
	strong := medianOf(out, func(m measuredBorder) float64 { return math.Abs(m.turn) })
	return slices.DeleteFunc(out, func(m measuredBorder) bool { return math.Abs(m.turn) < 0.3*strong }), nil
}

// steepest finds where brightness rises most along the normal (or also falls
// most, with either): the top of the first derivative of a Gaussian of one
// pixel, by a parabola through three values half a pixel apart. How sharply it
// bends there tells the blur: top/bend = -blur^2 for a Gaussian.
func (l *luma) steepest(at, normal, along scale.Point, window, reach float64, either bool) (off, turn, blur float64, ok bool) {
	const step, more = 0.5, 6 // px; samples beyond the window that the derivative needs
	n := int(math.Ceil(window / step))
	values := make([]float64, 2*(n+more)+1)
	for i := range values {
		p := moved(at, times(normal, float64(i-n-more)*step))
		for _, t := range [3]float64{-1, 0, 1} {
			v, in := l.at(moved(p, times(along, t*reach)))
			if !in {
				return 0, 0, 0, false
			}
			values[i] += v / 3
		}
	}
	rise := make([]float64, 2*n+1)
	for i := range rise {
		for k, w := range riseWeights {
			rise[i] += w * (values[i+more+k+1] - values[i+more-k-1])
		}
	}
	best := 0
	for i, r := range rise {
		if either {
			r = math.Abs(r)
		}
		if r > 0 && r > math.Abs(rise[best]) || i == 0 || rise[best] < 0 && !either {
			best = i
		}
	}
	top := rise[best]
	if best == 0 || best == len(rise)-1 || math.Abs(top) < 1.5 || top < 0 && !either {
		return 0, 0, 0, false
	}
	bend := rise[best-1] - 2*top + rise[best+1]
	if bend*top >= 0 {
		return 0, 0, 0, false
	}
	return (float64(best-n) + 0.5*(rise[best-1]-rise[best+1])/bend) * step, top, step * math.Sqrt(-top/bend), true
}

// riseWeights are x exp(-x^2/2) at x = 0.5, 1, ... 3 px, scaled so that a ramp
// of one a pixel gives 1.
var riseWeights = func() (w [6]float64) {
	var sum float64
	for i := range w {
		x := 0.5 * float64(i+1)
		w[i] = x * math.Exp(-x*x/2)
		sum += 2 * x * w[i]
	}
	for i := range w {
		w[i] /= sum
	}
	return w
}()

// slopes gives how far a border moves along its normal for each of the eight
// coordinates of the anchors, by differences.
func (p pose) slopes(found []measuredBorder) (*mat.Dense, error) {
	const nudge = 0.1
	h, err := p.toPixel()
	if err != nil {
		return nil, err
	}
	j := mat.NewDense(len(found), 8, nil)
	for c := range 8 {
		q := pose{p.anchors, slices.Clone(p.pixels)}
		if c%2 == 0 {
			q.pixels[c/2].X += nudge
		} else {
			q.pixels[c/2].Y += nudge
		}
		hq, err := q.toPixel()
		if err != nil {
			return nil, err
		}
		for i, m := range found {
			a, err1 := h.Apply(m.at)
			b, err2 := hq.Apply(m.at)
			if err1 == nil && err2 == nil {
				d := minus(b, a)
				j.Set(i, c, (d.X*m.normal.X+d.Y*m.normal.Y)/nudge)
			}
		}
	}
	return j, nil
}

// solve moves the anchors by reweighted least squares. The first rounds hardly
// weigh: a whole side may be farther off than the others, and must not be taken
// for a mistake.
func (f *fitted) solve(found []measuredBorder, window float64) error {
	j, err := f.slopes(found)
	if err != nil {
		return err
	}
	left := make([]float64, len(found))
	var d mat.VecDense
	for round := range 7 {
		for i, m := range found {
			left[i] = m.off
			if d.Len() > 0 {
				left[i] -= mat.Dot(j.RowView(i), &d)
			}
		}
		spread := max(0.05, scatter(left), window*math.Pow(0.4, float64(round)))
		_, normal, right := normalEquations(j, found, left, spread)
		var chol mat.Cholesky
		if !chol.Factorize(normal) {
			return errNoFit
		}
		d.Reset()
		if err := chol.SolveVecTo(&d, right); err != nil {
			return errNoFit
		}
	}
	for i := range f.pixels {
		p := moved(f.pixels[i], scale.Point{X: d.AtVec(2 * i), Y: d.AtVec(2*i + 1)})
		if math.IsNaN(p.X+p.Y) || math.Abs(p.X)+math.Abs(p.Y) > 1e6 {
			return errNoFit
		}
		if i == 0 {
			f.pixels = slices.Clone(f.pixels)
		}
		f.pixels[i] = p
	}
	return nil
}

// normalEquations weighs each border by Tukey's biweight of its misfit, cut at
// 4.685 times the spread.
func normalEquations(j *mat.Dense, found []measuredBorder, left []float64, spread float64) (weights []float64, a *mat.SymDense, b *mat.VecDense) {
	a, b = mat.NewSymDense(8, nil), mat.NewVecDense(8, nil)
	weights = make([]float64, len(found))
	for i, m := range found {
		u := left[i] / (4.685 * spread)
		if u*u >= 1 {
			continue
		}
		w := (1 - u*u) * (1 - u*u)
		weights[i] = w
		row := j.RawRowView(i)
		for r := range 8 {
			b.SetVec(r, b.AtVec(r)+w*row[r]*m.off)
			for c := r; c < 8; c++ {
				a.SetSym(r, c, a.At(r, c)+w*row[r]*row[c])
			}
		}
	}
	return weights, a, b
}

// scatter is 1.4826 times the median size: the standard deviation of normal
// values, whatever a minority does.
func scatter(v []float64) float64 {
	return 1.4826 * medianOf(v, func(x float64) float64 { return math.Abs(x) })
}

func medianOf[T any](list []T, value func(T) float64) float64 {
	if len(list) == 0 {
		return 0
	}
	v := make([]float64, len(list))
	for i, x := range list {
		v[i] = value(x)
	}
	slices.Sort(v)
	return v[len(v)/2]
}
