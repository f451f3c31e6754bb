package marks

import (
	"bytes"
	"image"
	"image/draw"
	"image/png"
	"math"

	"forkwear/inspect"
	"forkwear/media/scale"
	"forkwear/ui/forkdraw/pen"
)

// View says where a photo lies: surface pixel = photo pixel * Scale + X, Y.
type View struct{ Scale, X, Y float64 }

// At gives the place on the surface of a place in the photo.
func (v View) At(s inspect.Spot) pen.Pt { return pen.Pt{X: s.X*v.Scale + v.X, Y: s.Y*v.Scale + v.Y} }

// Spot gives the place in the photo under a place of the surface; 0, 0 for a
// view without a scale.
func (v View) Spot(x, y float64) inspect.Spot {
	if v.Scale == 0 {
		return inspect.Spot{}
	}
	return inspect.Spot{X: (x - v.X) / v.Scale, Y: (y - v.Y) / v.Scale}
}

// Layer is all that is drawn over one photo.
type Layer struct {
	Marks    []inspect.Mark
	Measures []Shown
}

// Shown is a measure whose mask is ready to be drawn.
type Shown struct {
	inspect.PhotoMeasure
	Damage *image.Alpha // of the size of Window, or scaled to it; nil without
}

// Ready unpacks the mask of a measure; one that can't be read is left out, the
// value and the other marks are still shown.
func Ready(m inspect.PhotoMeasure) Shown {
	s := Shown{PhotoMeasure: m}
	if len(m.Mask) == 0 {
		return s
	}
	cfg, err := png.DecodeConfig(bytes.NewReader(m.Mask))
	if err != nil || cfg.Width*cfg.Height > 64<<20 {
		return s
	}
	img, err := png.Decode(bytes.NewReader(m.Mask))
	if err != nil {
		return s
	}
	b := img.Bounds()
	s.Damage = image.NewAlpha(image.Rect(0, 0, b.Dx(), b.Dy()))
	if g, ok := img.(*image.Gray); ok { // white is damage
		for y := range b.Dy() {
			copy(s.Damage.Pix[y*s.Damage.Stride:], g.Pix[y*g.Stride:y*g.Stride+b.Dx()])
		}
		return s
	}
	draw.Draw(s.Damage, s.Damage.Rect, img, b.Min, draw.Src)
	return s
}

// Pack writes a mask as PNG, white where there is damage.
func Pack(a *image.Alpha) ([]byte, error) {
	g := &image.Gray{Pix: a.Pix, Stride: a.Stride, Rect: a.Rect}
	var out bytes.Buffer
	err := png.Encode(&out, g)
	return out.Bytes(), err
}

// Moved gives the marks as they lie in another picture; a mark with a point
// beyond the horizon of the map is left out.
func Moved(ms []inspect.Mark, h scale.Homography) []inspect.Mark {
	var out []inspect.Mark
	for _, m := range ms {
		pts := make([]inspect.Spot, len(m.Points))
		ok := true
		for i, p := range m.Points {
			q, err := h.Apply(scale.Point{X: p.X, Y: p.Y})
			ok = ok && err == nil
			pts[i] = inspect.Spot{X: q.X, Y: q.Y}
		}
		if ok {
			m.Points = pts
			out = append(out, m)
		}
	}
	return out
}

// clipped gives the part of a line inside a box, by Liang and Barsky's way, so
// that a line far out of sight costs nothing.
func clipped(a, b pen.Pt, box image.Rectangle) (pen.Pt, pen.Pt, bool) {
	if math.IsNaN(a.X+a.Y+b.X+b.Y) || math.IsInf(a.X+a.Y+b.X+b.Y, 0) {
		return a, b, false
	}
	dx, dy, from, to := b.X-a.X, b.Y-a.Y, 0.0, 1.0
	for _, e := range [4][2]float64{
		{-dx, a.X - float64(box.Min.X)}, {dx, float64(box.Max.X) - a.X},
		{-dy, a.Y - float64(box.Min.Y)}, {dy, float64(box.Max.Y) - a.Y},
	} {
		switch {
		case e[0] == 0:
			if e[1] < 0 {
				return a, b, false
			}
		case e[0] < 0:
			from = math.Max(from, e[1]/e[0])
		default:
			to = math.Min(to, e[1]/e[0])
		}
	}
	if from > to {
		return a, b, false
	}
	return pen.Pt{X: a.X + dx*from, Y: a.Y + dy*from}, pen.Pt{X: a.X + dx*to, Y: a.Y + dy*to}, true
}
