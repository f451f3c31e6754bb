package counter

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
	xdraw "golang.org/x/image/draw"
)

// Wipe lays the photo of today over the one from then, both at the same scale,
// with a border between them that is dragged or pressed to its place.
type Wipe struct {
	widget.BaseWidget

	then, now image.Image
	laid      image.Image // now, moved so that the part lies where it lay then; nil where nobody knows how
	at        float64     // place of the border, 0 to 1; left of it is then
	beside    bool        // both whole, then left and now right
	// scaled pictures of the last size
	sw, sh               int
	thenScaled, nowScale *image.RGBA
}

var (
	_ fyne.Tappable      = (*Wipe)(nil)
	_ fyne.Draggable     = (*Wipe)(nil)
	_ desktop.Cursorable = (*Wipe)(nil)
)

// NewWipe returns an empty wipe with its border in the middle.
func NewWipe() *Wipe {
	w := &Wipe{at: 0.5}
	w.ExtendBaseWidget(w)
	return w
}

// CreateRenderer implements fyne.Widget.
func (w *Wipe) CreateRenderer() fyne.WidgetRenderer {
	ras := canvas.NewRaster(w.paint)
	return &wipeRenderer{WidgetRenderer: widget.NewSimpleRenderer(ras), ras: ras}
}

type wipeRenderer struct {
	fyne.WidgetRenderer
	ras *canvas.Raster
}

// MinSize implements fyne.WidgetRenderer.
func (r *wipeRenderer) MinSize() fyne.Size { return fyne.NewSize(220, 220) }

// Refresh implements fyne.WidgetRenderer.
func (r *wipeRenderer) Refresh() { r.ras.Refresh() }

// SetThen shows the earlier photo.
func (w *Wipe) SetThen(img image.Image) { w.then, w.thenScaled = img, nil; w.Refresh() }

// SetNow shows the photo of today.
func (w *Wipe) SetNow(img image.Image) { w.now, w.nowScale = img, nil; w.Refresh() }

// SetLaid gives today's photo as it is laid over the other one.
func (w *Wipe) SetLaid(img image.Image) { w.laid, w.nowScale = img, nil; w.Refresh() }

// SetBeside shows the photos beside each other, at one scale.
func (w *Wipe) SetBeside(on bool) {
	w.beside, w.thenScaled, w.nowScale = on, nil, nil
	w.Refresh()
}

// SetAt moves the border; what is no place in the picture is pulled in.
func (w *Wipe) SetAt(at float64) {
	if math.IsNaN(at) {
		return
	}
	w.at = math.Max(0, math.Min(1, at))
	w.Refresh()
}

// At is the place of the border, 0 to 1.
func (w *Wipe) At() float64 { return w.at }

// Tapped implements fyne.Tappable.
func (w *Wipe) Tapped(e *fyne.PointEvent) { w.SetAt(float64(e.Position.X / max(w.Size().Width, 1))) }

// Dragged implements fyne.Draggable.
func (w *Wipe) Dragged(e *fyne.DragEvent) {
	w.SetAt(float64(e.Position.X / max(w.Size().Width, 1)))
}

// DragEnd implements fyne.Draggable.
func (w *Wipe) DragEnd() {}

// Cursor implements desktop.Cursorable.
func (w *Wipe) Cursor() desktop.Cursor {
	if w.beside || w.then == nil || w.now == nil {
		return desktop.DefaultCursor
	}
	return desktop.HResizeCursor
}

func (w *Wipe) paint(width, height int) image.Image {
	if w.sw != width || w.sh != height {
		w.sw, w.sh, w.thenScaled, w.nowScale = width, height, nil, nil
	}
	if w.beside && w.then != nil && w.now != nil {
		return w.paintBeside(width, height)
	}
	if w.thenScaled == nil && w.then != nil {
		w.thenScaled = fitted(w.then, width, height, 0)
	}
	if w.nowScale == nil && w.now != nil {
		over := w.now
		if w.laid != nil && w.then != nil {
			over = w.laid
		}
		w.nowScale = fitted(over, width, height, 0)
	}
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	left, right := w.thenScaled, w.nowScale
	if left == nil || right == nil {
		for _, one := range []*image.RGBA{left, right} {
			if one != nil {
				copy(out.Pix, one.Pix)
			}
		}
		return out
	}
	copy(out.Pix, right.Pix)
	border := int(math.Round(w.at * float64(width)))
	for y := range height {
		copy(out.Pix[y*out.Stride:y*out.Stride+4*border], left.Pix[y*left.Stride:y*left.Stride+4*border])
	}
	line(out, border)
	return out
}

// line draws the border with a knob in its middle: white with a dark edge, seen
// on any photo.
func line(out *image.RGBA, x int) {
	half := max(1, out.Rect.Dx()/400)
	for y := range out.Rect.Dy() {
		for dx := -2 * half; dx <= 2*half; dx++ {
			c := color.RGBA{20, 24, 23, 255}
			if dx >= -half && dx <= half {
				c = color.RGBA{255, 255, 255, 255}
			}
			if p := image.Pt(x+dx, y); p.In(out.Rect) {
				out.SetRGBA(p.X, p.Y, c)
			}
		}
	}
	knob(out, x, max(10, out.Rect.Dx()/45), half)
}

func knob(out *image.RGBA, x, radius, edge int) {
	mid := out.Rect.Dy() / 2
	for dy := -radius; dy <= radius; dy++ {
		for dx := -radius; dx <= radius; dx++ {
			p := image.Pt(x+dx, mid+dy)
			d := math.Hypot(float64(dx), float64(dy))
			if d > float64(radius) || !p.In(out.Rect) {
				continue
			}
			c := color.RGBA{255, 255, 255, 255}
			// A rim, and a head to each side: it can be moved both ways.
			away := math.Abs(float64(dx))/float64(radius) - 0.2
			head := away > 0 && away < 0.45 && math.Abs(float64(dy))/float64(radius) < 0.45-away
			if d > float64(radius-2*edge) || head {
				c = color.RGBA{20, 24, 23, 255}
			}
			out.SetRGBA(p.X, p.Y, c)
		}
	}
}

// gap is the room between photos that stand beside each other, in pixels.
const gap = 8

// paintBeside puts both photos whole beside each other, as many pixels to a
// share of their longer side in one as in the other.
func (w *Wipe) paintBeside(width, height int) image.Image {
	half := max((width-gap)/2, 1)
	k := math.Min(longest(w.then, half, height), longest(w.now, half, height))
	if w.thenScaled == nil {
		w.thenScaled = fitted(w.then, half, height, k)
	}
	if w.nowScale == nil {
		w.nowScale = fitted(w.now, half, height, k)
	}
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	xdraw.Draw(out, w.thenScaled.Rect, w.thenScaled, image.Point{}, xdraw.Src)
	xdraw.Draw(out, w.nowScale.Rect.Add(image.Pt(width-half, 0)), w.nowScale, image.Point{}, xdraw.Src)
	return out
}

// longest is the length that a photo's longer side may have in a box.
func longest(img image.Image, w, h int) float64 {
	b := img.Bounds()
	if b.Dx() == 0 || b.Dy() == 0 {
		return math.Inf(1)
	}
	k := math.Min(float64(w)/float64(b.Dx()), float64(h)/float64(b.Dy()))
	return k * float64(max(b.Dx(), b.Dy()))
}

// fitted puts a photo whole into the middle of a box, its longer side long
// pixels; 0 is as large as it goes.
func fitted(img image.Image, w, h int, long float64) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	b := img.Bounds()
	if b.Dx() == 0 || b.Dy() == 0 || w == 0 || h == 0 {
		return out
	}
	if long == 0 {
		long = longest(img, w, h)
	}
	k := long / float64(max(b.Dx(), b.Dy()))
	tw, th := int(k*float64(b.Dx())), int(k*float64(b.Dy()))
	x, y := (w-tw)/2, (h-th)/2
	xdraw.ApproxBiLinear.Scale(out, image.Rect(x, y, x+tw, y+th), img, b, xdraw.Src, nil)
	return out
}
