package align

import (
	"errors"
	"fmt"
	"math"

	"forkwear/media/scale"
)

// Transform takes a point of the newer photo to the older one.
type Transform = scale.Homography

// Pair is one place on the part, marked on both photos.
type Pair struct{ Then, Now scale.Point }

// MaxPairs bounds the marks of one alignment.
const MaxPairs = 1000

var errMarks = errors.New("the marks do not tell how the photos lie: they stand on one place or on one line, or are crossed; mark places far apart, the same ones in the same order on both photos")

// Landmarks finds the transform from marked pairs: from two a similarity, from
// three an affine map, from four or more a homography (normalised direct
// linear transform, least algebraic error). residual is the root mean square
// distance in pixels of then between the marks and where the transform puts
// them; it is 0 for two, three and four pairs, which always fit, and so tells
// nothing about them. Fewer than two pairs, marks that are no numbers, that
// stand on one place or line, or that would mirror the photo are refused.
func Landmarks(pairs []Pair) (t Transform, residual float64, err error) {
	if len(pairs) < 2 || len(pairs) > MaxPairs {
		return t, 0, fmt.Errorf("two to %d places marked on both photos are needed, there are %d: four, far apart, are best", MaxPairs, len(pairs))
	}
	now, then := make([]scale.Point, len(pairs)), make([]scale.Point, len(pairs))
	for i, p := range pairs {
		for _, v := range []float64{p.Now.X, p.Now.Y, p.Then.X, p.Then.Y} {
			if math.IsNaN(v) || math.Abs(v) > maxCoordinate {
				return t, 0, fmt.Errorf("mark %d is not on a photo: mark it again", i+1)
			}
		}
		now[i], then[i] = p.Now, p.Then
	}
	switch len(pairs) {
	case 2:
		t, err = similarity(now, then)
	case 3:
		t, err = affine(now, then)
	default:
		t, err = scale.FitHomography(now, then)
	}
	if err != nil || !upright(t, now) {
		return Transform{}, 0, errMarks
	}
	var sum float64
	for i := range now {
		q, err := t.Apply(now[i])
		if err != nil {
			return Transform{}, 0, errMarks
		}
		sum += math.Pow(math.Hypot(q.X-then[i].X, q.Y-then[i].Y), 2)
	}
	return t, math.Sqrt(sum / float64(len(now))), nil
}

const maxCoordinate = 1e6

// similarity solves (x', y') = (a x - b y + c, b x + a y + d) for two pairs:
// as complex numbers the quotient of the two ways.
func similarity(now, then []scale.Point) (Transform, error) {
	n := complex(now[1].X-now[0].X, now[1].Y-now[0].Y)
	d := complex(then[1].X-then[0].X, then[1].Y-then[0].Y)
	if n == 0 || d == 0 {
		return Transform{}, errMarks
	}
	k := d / n
	a, b := real(k), imag(k)
	return Transform{a, -b, then[0].X - a*now[0].X + b*now[0].Y, b, a, then[0].Y - b*now[0].X - a*now[0].Y, 0, 0, 1}, nil
}

// affine solves the map of a triangle onto a triangle.
func affine(now, then []scale.Point) (Transform, error) {
	x1, y1 := now[1].X-now[0].X, now[1].Y-now[0].Y
	x2, y2 := now[2].X-now[0].X, now[2].Y-now[0].Y
	det := x1*y2 - x2*y1
	if math.Abs(det) < 1e-3*(x1*x1+y1*y1+x2*x2+y2*y2) {
		return Transform{}, errMarks
	}
	row := func(v0, v1, v2 float64) (a, b, c float64) {
		a = ((v1-v0)*y2 - (v2-v0)*y1) / det
		b = ((v2-v0)*x1 - (v1-v0)*x2) / det
		return a, b, v0 - a*now[0].X - b*now[0].Y
	}
	t := Transform{8: 1}
	t[0], t[1], t[2] = row(then[0].X, then[1].X, then[2].X)
	t[3], t[4], t[5] = row(then[0].Y, then[1].Y, then[2].Y)
	return t, nil
}

// upright tells that the transform mirrors nothing at the points and that its
// horizon runs between none of them. The determinant of a homography's
// derivative is det/w^3.
func upright(t Transform, at []scale.Point) bool {
	for _, p := range at {
		if w := t[6]*p.X + t[7]*p.Y + t[8]; !(determinant(t)*w > 0) || !(w*(t[6]*at[0].X+t[7]*at[0].Y+t[8]) > 0) {
			return false
		}
	}
	return true
}

func determinant(h Transform) float64 {
	return h[0]*(h[4]*h[8]-h[5]*h[7]) - h[1]*(h[3]*h[8]-h[5]*h[6]) + h[2]*(h[3]*h[7]-h[4]*h[6])
}

// times is the matrix product: first b, then a.
func times(a, b Transform) (out Transform) {
	for r := range 3 {
		for c := range 3 {
			out[3*r+c] = a[3*r]*b[c] + a[3*r+1]*b[3+c] + a[3*r+2]*b[6+c]
		}
	}
	return out
}

// settled has 1 in its last place; the centre of a photo is never on the
// horizon, so that place is not 0 in centred coordinates.
func settled(h Transform) Transform {
	if k := h[8]; k != 0 {
		for i := range h {
			h[i] /= k
		}
	}
	return h
}

// Rescaled is the same transform for other sizes of the same photos: then and
// now are the new size of each divided by the old one, above 0. A transform
// found on previews of 1600 pixels serves 4000-pixel photos after
// Rescaled(t, 2.5, 2.5).
func Rescaled(t Transform, then, now float64) Transform {
	return settled(times(Transform{then, 0, 0, 0, then, 0, 0, 0, 1}, times(t, Transform{1 / now, 0, 0, 0, 1 / now, 0, 0, 0, 1})))
}
