package scale

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"forkwear/inspect"
)

// Homography maps points of one plane to another, row by row:
// x' = (h0 x + h1 y + h2)/w, y' = (h3 x + h4 y + h5)/w, w = h6 x + h7 y + h8.
type Homography [9]float64

// ErrHorizon: the point lies on or beyond the horizon of the surface, where no
// place on it can be seen.
var ErrHorizon = inspect.Refuse(inspect.Invalid, "the point lies beyond the horizon of the measured surface: mark a point on the surface, or place the card nearer to it")

// Apply maps a point; ErrHorizon when w is 0 or the result is not finite.
func (h Homography) Apply(p Point) (Point, error) {
	w := h.weight(p)
	out := Point{(h[0]*p.X + h[1]*p.Y + h[2]) / w, (h[3]*p.X + h[4]*p.Y + h[5]) / w}
	if w == 0 || bad(out.X) || bad(out.Y) {
		return Point{}, ErrHorizon
	}
	return out, nil
}

func (h Homography) weight(p Point) float64 { return h[6]*p.X + h[7]*p.Y + h[8] }

// FitHomography finds the homography that takes from[i] to to[i], by the
// direct linear transform on normalised points (Hartley and Zisserman,
// Multiple View Geometry, 2nd ed., algorithm 4.2; from memory): exact for four
// points, least algebraic error for more. It fails for fewer than four pairs,
// for lists of unequal length, for what is not finite, and when the points do
// not fix the map, as when three of four lie on one line. The result is scaled
// to h8 = 1 where h8 is not 0.
func FitHomography(from, to []Point) (Homography, error) {
	if len(from) != len(to) || len(from) < 4 {
		return Homography{}, inspect.Refuse(inspect.Invalid, "a flat surface is fixed by four or more pairs of points, given are %d and %d", len(from), len(to))
	}
	if err := finite("surface", append(append([]Point{}, from...), to...)...); err != nil {
		return Homography{}, err
	}
	a, ca, sa := normalised(from)
	b, cb, sb := normalised(to)
	if a == nil || b == nil {
		return Homography{}, errDegenerate
	}
	m := mat.NewDense(max(2*len(a), 9), 9, nil) // a ninth row of zeros keeps the null space for four pairs
	for i := range a {
		x, y, u, v := a[i].X, a[i].Y, b[i].X, b[i].Y
		m.SetRow(2*i, []float64{0, 0, 0, -x, -y, -1, v * x, v * y, v})
		m.SetRow(2*i+1, []float64{x, y, 1, 0, 0, 0, -u * x, -u * y, -u})
	}
	var svd mat.SVD
	if !svd.Factorize(m, mat.SVDThinV) {
		return Homography{}, errDegenerate
	}
	s := svd.Values(nil)
	if s[7] < 1e-9*s[0] {
		return Homography{}, errDegenerate
	}
	var v mat.Dense
	svd.VTo(&v)
	var n Homography
	for i := range n {
		n[i] = v.At(i, 8)
	}
	return unnormalised(n, ca, sa, cb, sb)
}

var errDegenerate = inspect.Refuse(inspect.Invalid, "the points do not fix a flat surface, three of them lie on one line or on one place: mark the four corners again")

// normalised moves points to centre 0 and mean distance sqrt 2; nil when all
// lie on one place.
func normalised(p []Point) (out []Point, centre Point, scale float64) {
	n := float64(len(p))
	for _, q := range p {
		centre.X += q.X / n
		centre.Y += q.Y / n
	}
	var mean float64
	for _, q := range p {
		mean += q.distance(centre) / n
	}
	if !(mean > 0) {
		return nil, centre, 0
	}
	scale = math.Sqrt2 / mean
	for _, q := range p {
		out = append(out, Point{(q.X - centre.X) * scale, (q.Y - centre.Y) * scale})
	}
	return out, centre, scale
}

// unnormalised undoes the moves on both sides: T_b^-1 n T_a.
func unnormalised(n Homography, ca Point, sa float64, cb Point, sb float64) (Homography, error) {
	right := n
	for r := 0; r < 9; r += 3 {
		right[r], right[r+1] = n[r]*sa, n[r+1]*sa
		right[r+2] = n[r+2] - sa*(n[r]*ca.X+n[r+1]*ca.Y)
	}
	h := right
	for c := range 3 {
		h[c] = right[c]/sb + cb.X*right[6+c]
		h[3+c] = right[3+c]/sb + cb.Y*right[6+c]
	}
	if det := h.det(); det == 0 || bad(det) {
		return Homography{}, errDegenerate
	}
	return h.settled(), nil
}

func (h Homography) det() float64 {
	return h[0]*(h[4]*h[8]-h[5]*h[7]) - h[1]*(h[3]*h[8]-h[5]*h[6]) + h[2]*(h[3]*h[7]-h[4]*h[6])
}

// settled is the same map with h8 = 1, where h8 is not 0.
func (h Homography) settled() Homography {
	if h8 := h[8]; h8 != 0 {
		for i := range h {
			h[i] /= h8
		}
	}
	return h
}

// Inverse is the map the other way (the adjugate matrix); it fails for a map
// that flattens the plane onto a line.
func (h Homography) Inverse() (Homography, error) {
	if det := h.det(); det == 0 || bad(det) {
		return Homography{}, errDegenerate
	}
	return Homography{
		h[4]*h[8] - h[5]*h[7], h[2]*h[7] - h[1]*h[8], h[1]*h[5] - h[2]*h[4],
		h[5]*h[6] - h[3]*h[8], h[0]*h[8] - h[2]*h[6], h[2]*h[3] - h[0]*h[5],
		h[3]*h[7] - h[4]*h[6], h[1]*h[6] - h[0]*h[7], h[0]*h[4] - h[1]*h[3],
	}.settled(), nil
}
