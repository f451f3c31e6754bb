package measure

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/png"
	"math"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/media/scale"
	"forkwear/media/scratch"
	"forkwear/ui/marks"
)

// damage is a mask over the pixels shown; k photo pixels are one of them.
type damage struct {
	mask  *scratch.Mask
	k     float64
	shown *image.Alpha // the mask as it is drawn; made anew after each change
	png   []byte       // of a worker's copy
	last  *scale.Point // of the stroke under way
}

// proposed asks the program for the damage inside a box of the photo.
func (s *Screen) proposed(a, b inspect.Spot) {
	img, k := s.canvas.Photo().Image, s.canvas.Pixel()
	box := image.Rect(int(a.X/k), int(a.Y/k), int(math.Ceil(b.X/k)), int(math.Ceil(b.Y/k))).Intersect(img.Bounds())
	axis := s.axis()
	kind := scratch.Scratch
	if math.Min(float64(box.Dx()), float64(box.Dy())) > 0.5*math.Max(float64(box.Dx()), float64(box.Dy())) && s.kind == DamageArea {
		kind = scratch.Loss
	}
	s.sayHint(lang.L("Looking for the damage in the box …"))
	later(s, func(ctx context.Context) (*damage, error) {
		m, err := scratch.Propose(ctx, img, box, axis, scratch.Options{Kind: kind})
		if errors.Is(err, scratch.ErrNothing) && kind == scratch.Loss {
			m, err = scratch.Propose(ctx, img, box, axis, scratch.Options{Kind: scratch.Scratch})
		}
		if errors.Is(err, scratch.ErrNothing) {
			empty, fail := scratch.New(box)
			if fail != nil {
				return nil, fail
			}
			return newDamage(empty, k), err
		}
		if err != nil {
			return nil, err
		}
		return newDamage(m, k), nil
	}, func(d *damage, err error) {
		if d == nil && err == nil {
			return
		}
		if d != nil {
			s.damage, s.eraser, s.hold = d, false, false
		}
		if err != nil {
			s.refused = sentence(err.Error())
			s.env.Say.Failed(err)
		}
		s.changed()
	})
}

// axis is the direction of the tube in the picture, NaN where none is marked.
func (s *Screen) axis() float64 {
	if s.tube == nil {
		return math.NaN()
	}
	a, b := s.tube.Edges[0], s.tube.Edges[1]
	return math.Atan2(b.Y-a.Y, b.X-a.X)
}

func newDamage(m *scratch.Mask, k float64) *damage {
	d := &damage{mask: m, k: k}
	d.redraw()
	return d
}

// redraw makes what is drawn of the mask.
func (d *damage) redraw() {
	r := d.mask.Rect()
	d.shown = image.NewAlpha(image.Rect(0, 0, r.Dx(), r.Dy()))
	for y := range r.Dy() {
		for x := range r.Dx() {
			d.shown.Pix[y*d.shown.Stride+x] = d.mask.Level(r.Min.X+x, r.Min.Y+y)
		}
	}
}

// redrawNear makes anew what is drawn near a stroke.
func (d *damage) redrawNear(a, b scale.Point, r float64) {
	whole := d.mask.Rect()
	lo := image.Pt(int(math.Min(a.X, b.X)-r)-2, int(math.Min(a.Y, b.Y)-r)-2)
	hi := image.Pt(int(math.Max(a.X, b.X)+r)+3, int(math.Max(a.Y, b.Y)+r)+3)
	part := image.Rectangle{Min: lo, Max: hi}.Intersect(whole)
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			d.shown.Pix[(y-whole.Min.Y)*d.shown.Stride+x-whole.Min.X] = d.mask.Level(x, y)
		}
	}
}

// pixels are the damage for a worker, while the brush goes on.
type pixels struct {
	levels *image.Gray
	rect   image.Rectangle
	k      float64
}

func (d *damage) pixels() pixels {
	g := image.NewGray(d.shown.Rect)
	copy(g.Pix, d.shown.Pix)
	return pixels{g, d.mask.Rect(), d.k}
}

func (p pixels) damage() (*damage, error) {
	var b bytes.Buffer
	if err := png.Encode(&b, p.levels); err != nil {
		return nil, err
	}
	m, err := scratch.DecodePNG(b.Bytes(), p.rect)
	if err != nil {
		return nil, err
	}
	return &damage{mask: m, k: p.k, png: b.Bytes()}, nil
}

// brush paints or erases with a radius in photo pixels.
func (d *damage) brush(at inspect.Spot, radius float64, erase, done bool) {
	p := scale.Point{X: at.X / d.k, Y: at.Y / d.k}
	r := radius / d.k
	if d.last == nil {
		d.mask.Keep()
		d.last = &p
	}
	if erase {
		d.mask.EraseStroke(*d.last, p, r)
	} else {
		d.mask.Stroke(*d.last, p, r)
	}
	d.redrawNear(*d.last, p, r)
	d.last = &p
	if done {
		d.last = nil
	}
}

func (d *damage) undo() bool {
	ok := d.mask.Undo()
	d.redraw()
	return ok
}

// full gives points of the photo for points of the pixels shown.
func (d *damage) full(ps []scale.Point) []scale.Point {
	out := make([]scale.Point, len(ps))
	for i, p := range ps {
		out[i] = scale.Point{X: p.X * d.k, Y: p.Y * d.k}
	}
	return out
}

// area adds up the outlines on the surface; holes count against it. The ranges
// of the pieces are added too, as if all were wrong the same way, which is the
// worst case: they share one scale.
func (d *damage) area(ctx context.Context, scene scale.Scene, u scale.Uncertainty) (scale.Measured, error) {
	rings := d.mask.Outlines()
	if len(rings) == 0 {
		return scale.Measured{}, scratch.ErrEmpty
	}
	var out scale.Measured
	exact := u
	exact.ClickSigma = 0 // its points are no clicks: the edge has a term of its own
	for _, ring := range rings {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		if len(ring) < 3 || scale.PolygonArea(ring) < 2 {
			continue // a speck
		}
		m, err := scene.Area(d.full(ring), exact)
		if err != nil {
			return out, err
		}
		sign := 1.0
		if clockwise(ring) < 0 {
			sign = -1
		}
		half := math.Max(m.High-m.Value, m.Value-m.Low)
		out.Value += sign * m.Value
		out.High += half
		out.Method = m.Method
		if len(out.Remarks) == 0 {
			out.Remarks = withoutShort(m.Remarks)
		}
	}
	if !(out.Value > 0) {
		return out, scratch.ErrEmpty
	}
	half := math.Hypot(out.High, d.edge(scene, exact))
	out.Low, out.High = math.Max(0, out.Value-half), out.Value+half
	out.Remarks = append(out.Remarks, lang.L("The outline was proposed by the program and is right only where a person has checked it; of thin scratches the area is mostly the error of the width."))
	return out, nil
}

// withoutShort drops what is said of points that lie near each other: those of
// an outline always do.
func withoutShort(rs []string) []string {
	var out []string
	for _, r := range rs {
		if len(r) < 16 || r[:16] != "Some points are " {
			out = append(out, r)
		}
	}
	return out
}

func clockwise(ring []scale.Point) float64 {
	a := 0.0
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		a += p.X*q.Y - q.X*p.Y
	}
	return a
}

// edgeHalf is how far, in pixels shown, the outline may lie off all along it,
// 95 times in 100: a third of a pixel is one standard deviation of what a person
// would draw. Common practice, no source.
const edgeHalf = 0.65

// edge is the area in mm2 of a border of edgeHalf along all outlines, by the
// scale at the middle of the damage.
func (d *damage) edge(scene scale.Scene, u scale.Uncertainty) float64 {
	round, b := 0.0, d.mask.Bounds()
	for _, ring := range d.mask.Outlines() {
		round += scale.PolylineLength(append(append([]scale.Point{}, ring...), ring[0]))
	}
	mid := scale.Point{X: float64(b.Min.X+b.Max.X) / 2 * d.k, Y: float64(b.Min.Y+b.Max.Y) / 2 * d.k}
	u.Redraws = 100
	side := 20 * d.k
	one, err := scene.Area([]scale.Point{mid, {X: mid.X + side, Y: mid.Y}, {X: mid.X + side, Y: mid.Y + side}, {X: mid.X, Y: mid.Y + side}}, u)
	if err != nil {
		return 0
	}
	return round * edgeHalf * one.Value / (20 * 20)
}

// into writes mask, window and line or outline into a measure.
func (d *damage) into(ctx context.Context, m *inspect.PhotoMeasure, kind Kind) error {
	m.Mask, m.Window = d.png, d.window()
	if kind == DamageLength {
		line, err := d.mask.CentreLine(ctx)
		m.Line = spotsOf(d.full(line))
		return err
	}
	best := 0.0
	for _, ring := range d.mask.Outlines() {
		if a := scale.PolygonArea(ring); a > best {
			best = a
			m.Outline = spotsOf(d.full(ring))
		}
	}
	return nil
}

// window is the part of the photo that the mask covers.
func (d *damage) window() [4]float64 {
	r := d.mask.Rect()
	return [4]float64{float64(r.Min.X) * d.k, float64(r.Min.Y) * d.k, float64(r.Dx()) * d.k, float64(r.Dy()) * d.k}
}

func (s *Screen) onBrush(at inspect.Spot, done bool) {
	if s.damage == nil {
		return
	}
	s.damage.brush(at, s.brushRadius(), s.eraser, done)
	s.drawLayer()
	if done {
		s.measureSoon()
	}
}

// shownDamage is the mask as a layer draws it.
func (s *Screen) shownDamage() (marks.Shown, bool) {
	if s.damage == nil || !s.kind.byMask() {
		return marks.Shown{}, false
	}
	return marks.Shown{Damage: s.damage.shown, PhotoMeasure: inspect.PhotoMeasure{Window: s.damage.window()}}, true
}
