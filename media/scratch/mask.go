package scratch

import (
	"image"
	"math"

	"forkwear/inspect"
	"forkwear/media/scale"
)

// MaxPixels is the most a mask covers; a larger region is refused.
const MaxPixels = 4 << 20

// half is the level at which the damage begins.
const half = 127.5

// Mask says which pixels of a rectangle of the photo are damaged. It is not
// safe for use by several goroutines at a time.
type Mask struct {
	rect  image.Rectangle // in the upright photo
	level []uint8
	kept  [][]uint8
}

// New is an empty mask over r, a rectangle of the upright photo. It refuses an
// empty rectangle, one far outside any photo, and one of more than MaxPixels.
func New(r image.Rectangle) (*Mask, error) {
	if r.Empty() {
		return nil, inspect.Refuse(inspect.Invalid, "the region has no pixels: draw a rectangle around the damage")
	}
	const far = 1 << 20
	if r.Min.X < -far || r.Min.Y < -far || r.Max.X > far || r.Max.Y > far {
		return nil, inspect.Refuse(inspect.Invalid, "the region %v lies outside any photo", r)
	}
	if int64(r.Dx())*int64(r.Dy()) > MaxPixels {
		return nil, inspect.Refuse(inspect.Invalid, "the region of %d x %d pixels is too large: draw a rectangle of at most 4 megapixels around the damage", r.Dx(), r.Dy())
	}
	return &Mask{rect: r, level: make([]uint8, r.Dx()*r.Dy())}, nil
}

// Rect is the rectangle of the photo that the mask covers.
func (m *Mask) Rect() image.Rectangle { return m.rect }

// Level of a pixel of the photo, 0 outside the mask's rectangle; it is damaged
// from 128 on.
func (m *Mask) Level(x, y int) uint8 {
	if !image.Pt(x, y).In(m.rect) {
		return 0
	}
	return m.level[(y-m.rect.Min.Y)*m.rect.Dx()+x-m.rect.Min.X]
}

// Count is the number of damaged pixels.
func (m *Mask) Count() int {
	n := 0
	for _, v := range m.level {
		if v > 127 {
			n++
		}
	}
	return n
}

// Bounds is the smallest rectangle of the photo that holds all damaged pixels;
// empty when there are none.
func (m *Mask) Bounds() image.Rectangle {
	var box image.Rectangle
	w := m.rect.Dx()
	for i, v := range m.level {
		if v > 127 {
			x, y := m.rect.Min.X+i%w, m.rect.Min.Y+i/w
			box = box.Union(image.Rect(x, y, x+1, y+1))
		}
	}
	return box
}

// Paint adds a round spot of radius r pixels about a place of the photo, with
// a soft border of one pixel. What is not a number, and a radius under 0, do
// nothing.
func (m *Mask) Paint(x, y, r float64) { m.Stroke(scale.Point{X: x, Y: y}, scale.Point{X: x, Y: y}, r) }

// Erase takes a round spot away.
func (m *Mask) Erase(x, y, r float64) {
	m.EraseStroke(scale.Point{X: x, Y: y}, scale.Point{X: x, Y: y}, r)
}

// Stroke adds what a round brush of radius r covers on its way from a to b.
func (m *Mask) Stroke(a, b scale.Point, r float64) {
	m.brush(a, b, r, func(old, cover uint8) uint8 { return max(old, cover) })
}

// EraseStroke takes away what a round brush of radius r covers on its way from
// a to b.
func (m *Mask) EraseStroke(a, b scale.Point, r float64) {
	m.brush(a, b, r, func(old, cover uint8) uint8 { return min(old, 255-cover) })
}

func (m *Mask) brush(a, b scale.Point, r float64, put func(old, cover uint8) uint8) {
	if sum := a.X + a.Y + b.X + b.Y + r; math.IsNaN(sum) || math.IsInf(sum, 0) || r < 0 {
		return
	}
	x0, x1 := span(min(a.X, b.X)-r-1, max(a.X, b.X)+r+1, m.rect.Min.X, m.rect.Max.X)
	y0, y1 := span(min(a.Y, b.Y)-r-1, max(a.Y, b.Y)+r+1, m.rect.Min.Y, m.rect.Max.Y)
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			d := fromSegment(scale.Point{X: float64(x) + 0.5, Y: float64(y) + 0.5}, a, b)
			if cover := min(r+0.5-d, 1); cover > 0 {
				i := (y-m.rect.Min.Y)*m.rect.Dx() + x - m.rect.Min.X
				m.level[i] = put(m.level[i], uint8(math.Round(255*cover)))
			}
		}
	}
}

// span is the range of whole pixels from lo to hi inside min..max.
func span(lo, hi float64, least, most int) (int, int) {
	a := max(math.Floor(lo), float64(least))
	b := min(math.Ceil(hi), float64(most))
	if !(a < b) {
		return 0, 0
	}
	return int(a), int(b)
}

// fromSegment is the distance of p from the segment a-b.
func fromSegment(p, a, b scale.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = min(max(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l, 0), 1)
	}
	return math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy)
}

// Snapshots are bounded by number and by bytes.
const (
	mostKept      = 50
	mostKeptBytes = 64 << 20
)

// Keep remembers the mask as it is now, for Undo; of very many or very large
// masks only the newest stay.
func (m *Mask) Keep() {
	m.kept = append(m.kept, append([]uint8(nil), m.level...))
	for len(m.kept) > mostKept || (len(m.kept) > 1 && len(m.kept)*len(m.level) > mostKeptBytes) {
		m.kept = append(m.kept[:0], m.kept[1:]...)
	}
}

// Undo goes back to the mask as it was at the last Keep; false when there is
// none left.
func (m *Mask) Undo() bool {
	if len(m.kept) == 0 {
		return false
	}
	last := len(m.kept) - 1
	m.level, m.kept = m.kept[last], m.kept[:last]
	return true
}

// Clean takes away spots of fewer than least pixels, and fills holes of fewer.
func (m *Mask) Clean(least int) {
	p := m.plane()
	for _, c := range components(p, half, half) {
		if len(c.pixels) < least {
			for _, i := range c.pixels {
				m.level[i] = 0
			}
		}
	}
	gaps := newPlane(p.w, p.h)
	for i, v := range p.v {
		gaps.v[i] = 255 - v
	}
	for _, c := range components(gaps, half, half) {
		whole := c.box.Min.X > 0 && c.box.Min.Y > 0 && c.box.Max.X < p.w && c.box.Max.Y < p.h
		if whole && len(c.pixels) < least {
			for _, i := range c.pixels {
				m.level[i] = 255
			}
		}
	}
}

// plane is the levels as numbers.
func (m *Mask) plane() plane {
	p := newPlane(m.rect.Dx(), m.rect.Dy())
	copyBytes(p.v, m.level)
	return p
}
