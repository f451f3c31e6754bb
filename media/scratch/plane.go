package scratch

import (
	"image"
	"image/color"
	"math"
)

// plane is a picture of one number a pixel.
type plane struct {
	w, h int
	v    []float32
}

func newPlane(w, h int) plane { return plane{w, h, make([]float32, w*h)} }

func (p plane) row(y int) []float32 { return p.v[y*p.w : (y+1)*p.w] }

// greyPlane is the brightness 0..255 of a part of img; r must lie inside img.
func greyPlane(img image.Image, r image.Rectangle) plane {
	out := newPlane(r.Dx(), r.Dy())
	for y := range out.h {
		row := out.row(y)
		switch m := img.(type) {
		case *image.Gray:
			copyBytes(row, m.Pix[m.PixOffset(r.Min.X, r.Min.Y+y):])
		case *image.YCbCr:
			copyBytes(row, m.Y[m.YOffset(r.Min.X, r.Min.Y+y):])
		default:
			for x := range row {
				row[x] = float32(color.Gray16Model.Convert(img.At(r.Min.X+x, r.Min.Y+y)).(color.Gray16).Y) / 257
			}
		}
	}
	return out
}

func copyBytes(to []float32, from []byte) {
	for i := range to {
		to[i] = float32(from[i])
	}
}

// cut is the part of p inside r.
func (p plane) cut(r image.Rectangle) plane {
	out := newPlane(r.Dx(), r.Dy())
	for y := range out.h {
		copy(out.row(y), p.row(r.Min.Y + y)[r.Min.X:r.Max.X])
	}
	return out
}

// scaled is k p.
func (p plane) scaled(k float32) plane {
	out := newPlane(p.w, p.h)
	for i, v := range p.v {
		out.v[i] = k * v
	}
	return out
}

// negate changes the sign in place.
func (p plane) negate() {
	for i, v := range p.v {
		p.v[i] = -v
	}
}

// minus is p - q, both of one size.
func (p plane) minus(q plane) plane {
	out := newPlane(p.w, p.h)
	for i, v := range p.v {
		out.v[i] = v - q.v[i]
	}
	return out
}

// gauss blurs with a Gaussian bell of the given sigma in pixels, cut at 3
// sigma; the border pixels go on beyond the border.
func (p plane) gauss(sigma float64) plane {
	if sigma <= 0 {
		return p
	}
	k := int(math.Ceil(3 * sigma))
	bell := make([]float32, k+1)
	sum := float32(0)
	for i := range bell {
		bell[i] = float32(math.Exp(-float64(i*i) / (2 * sigma * sigma)))
		sum += bell[i]
		if i > 0 {
			sum += bell[i]
		}
	}
	for i := range bell {
		bell[i] /= sum
	}
	across := newPlane(p.w, p.h)
	for y := range p.h {
		blurRow(across.row(y), p.row(y), bell)
	}
	out := newPlane(p.w, p.h)
	for y := range p.h {
		to := out.row(y)
		addRow(to, across.row(y), bell[0])
		for i := 1; i <= k; i++ {
			addRow(to, across.row(max(y-i, 0)), bell[i])
			addRow(to, across.row(min(y+i, p.h-1)), bell[i])
		}
	}
	return out
}

func blurRow(to, from, bell []float32) {
	n, k := len(from), len(bell)-1
	for x := range to {
		sum := bell[0] * from[x]
		if x >= k && x+k < n {
			for i := 1; i <= k; i++ {
				sum += bell[i] * (from[x-i] + from[x+i])
			}
		} else {
			for i := 1; i <= k; i++ {
				sum += bell[i] * (from[max(x-i, 0)] + from[min(x+i, n-1)])
			}
		}
		to[x] = sum
	}
}

func addRow(to, from []float32, k float32) {
	from = from[:len(to)]
	for x := range to {
		to[x] += k * from[x]
	}
}

// boxSum is the sum over the square of 2k+1 pixels around each pixel, cut at
// the border.
func (p plane) boxSum(k int) plane {
	out, across := newPlane(p.w, p.h), newPlane(p.w, p.h)
	line := make([]float64, max(p.w, p.h)+1)
	for y := range p.h {
		from, to := p.row(y), across.row(y)
		for x, v := range from {
			line[x+1] = line[x] + float64(v)
		}
		for x := range to {
			to[x] = float32(line[min(x+k+1, p.w)] - line[max(x-k, 0)])
		}
	}
	sum := make([]float64, p.w)
	for y := -k; y < p.h; y++ {
		if in := y + k; in < p.h {
			for x, v := range across.row(in) {
				sum[x] += float64(v)
			}
		}
		if gone := y - k - 1; gone >= 0 {
			for x, v := range across.row(gone) {
				sum[x] -= float64(v)
			}
		}
		if y >= 0 {
			to := out.row(y)
			for x := range to {
				to[x] = float32(sum[x])
			}
		}
	}
	return out
}

// at reads between pixel middles (bilinear); the border goes on beyond it.
func (p plane) at(x, y float64) float32 {
	x, y = min(max(x, 0), float64(p.w-1)), min(max(y, 0), float64(p.h-1))
	x0, y0 := int(x), int(y)
	x1, y1 := min(x0+1, p.w-1), min(y0+1, p.h-1)
	fx, fy := float32(x-float64(x0)), float32(y-float64(y0))
	a, b := p.row(y0), p.row(y1)
	return (a[x0]*(1-fx)+a[x1]*fx)*(1-fy) + (b[x0]*(1-fx)+b[x1]*fx)*fy
}
