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
	"forkwear/ui/place"
	"forkwear/ui/tongue"
)

// damage is a mask over the pixels shown; k photo pixels are one of them.
type damage struct {
	mask  *scratch.Mask
	k     float64
	shown *image.Alpha // the mask as it is drawn; made anew after each change
	png   []byte       // of a worker's copy
	last  *scale.Point // of the stroke under way

	strokes int // of the brush that are in it: none, the program alone drew it
}

// proposal is what came of a box: a mask, and the pixels that it was made on
// where those were fetched for it.
type proposal struct {
	damage *damage
	whole  *image.RGBA
}

// proposed asks the program for the damage inside a box of the photo, on the
// photo in full size where the window can give it.
func (s *Screen) proposed(a, b inspect.Spot) {
	axis, kind := s.axis(), scratch.Scratch
	if math.Min(b.X-a.X, b.Y-a.Y) > 0.5*math.Max(b.X-a.X, b.Y-a.Y) && s.kind == DamageArea {
		kind = scratch.Loss
	}
	fine := s.finest()
	s.sayHint(lang.L("Looking for the damage in the box …"))
	later(s, func(ctx context.Context) (proposal, error) {
		img, k, whole := fine(ctx)
		box := image.Rect(int(a.X/k), int(a.Y/k), int(math.Ceil(b.X/k)), int(math.Ceil(b.Y/k))).Intersect(img.Bounds())
		m, err := propose(ctx, img, box, axis, kind)
		if m == nil {
			return proposal{nil, whole}, err
		}
		return proposal{newDamage(m, k), whole}, err
	}, func(p proposal, err error) {
		if p.whole != nil {
			s.canvas.SetDetail(p.whole)
		}
		if p.damage != nil {
			s.damage, s.eraser, s.hold = p.damage, false, false
		}
		if err != nil {
			s.refused = sentence(inspect.SaidIn(tongue.Say, err))
			s.env.Say.Failed(err)
		}
		s.changed()
	})
}

// propose gives an empty mask to paint on, with the reason, where nothing is seen.
func propose(ctx context.Context, img image.Image, box image.Rectangle, axis float64, kind scratch.Kind) (*scratch.Mask, error) {
	m, err := scratch.Propose(ctx, img, box, axis, scratch.Options{Kind: kind})
	if errors.Is(err, scratch.ErrNothing) && kind == scratch.Loss {
		m, err = scratch.Propose(ctx, img, box, axis, scratch.Options{Kind: scratch.Scratch})
	}
	if errors.Is(err, scratch.ErrNothing) {
		empty, fail := scratch.New(box)
		if fail != nil {
			return nil, fail
		}
		return empty, err
	}
	return m, err
}

// finest gives the best pixels there are, to a worker: those shown, or the
// photo in full size, which is fetched then and handed on to be shown. k photo
// pixels are one of them.
func (s *Screen) finest() func(ctx context.Context) (img image.Image, k float64, fetched *image.RGBA) {
	shown, k, sum := s.canvas.Photo().Image, s.canvas.Pixel(), s.data.photo.SHA256
	width := s.data.photo.Width
	full, ok := s.env.Photos.(place.WholePhotos)
	return func(ctx context.Context) (image.Image, float64, *image.RGBA) {
		if !ok || k <= 1.05 {
			return shown, k, nil
		}
		img, err := full.Full(ctx, sum)
		if err != nil || img.Rect.Dx() == 0 {
			return shown, k, nil // the pixels shown are coarser, and the range says so
		}
		return img, float64(width) / float64(img.Rect.Dx()), img
	}
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
	levels  *image.Gray
	rect    image.Rectangle
	k       float64
	strokes int
}

func (d *damage) pixels() pixels {
	g := image.NewGray(d.shown.Rect)
	copy(g.Pix, d.shown.Pix)
	return pixels{g, d.mask.Rect(), d.k, d.strokes}
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
	return &damage{mask: m, k: p.k, png: b.Bytes(), strokes: p.strokes}, nil
}

// brush paints or erases with a radius in photo pixels.
func (d *damage) brush(at inspect.Spot, radius float64, erase, done bool) {
	p := scale.Point{X: at.X / d.k, Y: at.Y / d.k}
	r := radius / d.k
	if d.last == nil {
		d.mask.Keep()
		d.last = &p
		d.strokes++
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
	d.strokes = max(0, d.strokes-1)
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
