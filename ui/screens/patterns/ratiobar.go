package patterns

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect/stats"
	"forkwear/ui/theme"
)

// ratioBar draws a ratio with its limits on a logarithmic scale from 1/8 to 8;
// the upright line in the middle is 1, as expected.
type ratioBar struct {
	widget.BaseWidget

	ratio *stats.Estimate
}

const ratioSpan = 8.0

func newRatioBar() *ratioBar {
	b := &ratioBar{}
	b.ExtendBaseWidget(b)
	return b
}

func (b *ratioBar) set(r *stats.Estimate) { b.ratio = r; b.Refresh() }

// CreateRenderer implements fyne.Widget.
func (b *ratioBar) CreateRenderer() fyne.WidgetRenderer {
	r := &ratioRenderer{bar: b, track: canvas.NewRectangle(nil), one: canvas.NewRectangle(nil),
		limits: canvas.NewRectangle(nil), low: canvas.NewRectangle(nil), high: canvas.NewRectangle(nil), dot: canvas.NewRectangle(nil)}
	r.Refresh()
	return r
}

type ratioRenderer struct {
	bar                                *ratioBar
	track, one, limits, low, high, dot *canvas.Rectangle
}

func (r *ratioRenderer) Destroy()           {}
func (r *ratioRenderer) Layout(fyne.Size)   { r.Refresh() }
func (r *ratioRenderer) MinSize() fyne.Size { return fyne.NewSize(110, 24) }
func (r *ratioRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.track, r.one, r.limits, r.low, r.high, r.dot}
}

// across places a ratio on the bar, 0 to 1; 0 and what is not known lie at the end.
func across(v, otherwise float64) float64 {
	if math.IsNaN(v) {
		v = otherwise
	}
	if v <= 0 {
		return 0
	}
	return math.Max(0, math.Min(1, (math.Log(v)/math.Log(ratioSpan)+1)/2))
}

func (r *ratioRenderer) Refresh() {
	pal := theme.PaletteOf(r.bar.Theme(), fyne.CurrentApp().Settings().ThemeVariant())
	s := r.bar.Size()
	mid := s.Height / 2
	box := func(c *canvas.Rectangle, x, y, w, h float32) {
		c.Move(fyne.NewPos(x, y))
		c.Resize(fyne.NewSize(w, h))
	}
	r.track.FillColor, r.one.FillColor = pal.Line, pal.QuietInk
	r.limits.FillColor, r.low.FillColor, r.high.FillColor, r.dot.FillColor = pal.Ink, pal.Ink, pal.Ink, pal.Ink
	box(r.track, 0, mid-.5, s.Width, 1)
	box(r.one, s.Width/2-1, 2, 2, s.Height-4)
	known, narrow := r.bar.ratio != nil, s.Width < 60 // folded away with its column
	r.track.Hidden, r.one.Hidden = narrow, narrow
	for _, c := range []*canvas.Rectangle{r.limits, r.low, r.high, r.dot} {
		c.Hidden = !known || narrow
	}
	if known && !narrow {
		e := r.bar.ratio
		lo, hi := 0.0, 1.0
		if e.Low != nil {
			lo = across(*e.Low, 0)
		}
		if e.High != nil {
			hi = across(*e.High, ratioSpan)
		}
		x, a, b := s.Width*float32(across(e.Value, 1)), s.Width*float32(lo), s.Width*float32(hi)
		box(r.limits, a, mid-1.5, max(1, b-a), 3)
		box(r.low, a, mid-5, 2, 10)
		box(r.high, max(a, b-2), mid-5, 2, 10)
		r.low.Hidden, r.high.Hidden = lo <= 0, hi >= 1 // goes on past the end
		box(r.dot, x-5, mid-5, 10, 10)
		r.dot.CornerRadius = 5
	}
	for _, o := range r.Objects() {
		o.Refresh()
	}
}
