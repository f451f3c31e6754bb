package widgets

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/forkdraw/pen"
)

// Wear is how much of the way from new to the limit is used: 0 is new, 1 is
// at the limit. Low and High are its range, Next what is expected at the
// next visit. NaN leaves a part out.
type Wear struct{ Used, Low, High, Next float64 }

// WearBar tells wear by length against the line of the limit. It has no
// colours from good to bad.
type WearBar struct {
	widget.BaseWidget

	wear Wear
}

// wearSpan is what the whole bar stands for, so that wear past the limit
// can be seen.
const wearSpan = 1.25

// NewWearBar returns a bar.
func NewWearBar(w Wear) *WearBar {
	b := &WearBar{wear: w}
	b.ExtendBaseWidget(b)
	return b
}

// CreateRenderer implements fyne.Widget.
func (b *WearBar) CreateRenderer() fyne.WidgetRenderer {
	var ras *canvas.Raster
	ras = canvas.NewRaster(func(w, h int) image.Image { return b.paint(w, h, ratioOf(ras, w)) })
	return newRendered([]fyne.CanvasObject{ras}, ras.Resize,
		func() fyne.Size { return fyne.NewSize(120, 28) }, ras.Refresh)
}

// Set shows other wear.
func (b *WearBar) Set(w Wear) { b.wear = w; b.Refresh() }

func (b *WearBar) paint(w, h int, k float64) image.Image {
	p, pal := pen.New(w, h), paletteOf(b)
	left, right := 2*k, float64(w)-8*k
	x := func(v float64) float64 {
		return left + math.Max(0, math.Min(v/wearSpan, 1))*(right-left)
	}
	mid, half := float64(h)/2, 5*k
	track := pen.RoundRect(left, mid-half, right-left, 2*half, 2*k)
	p.Fill(track, pal.Panel)
	p.Stroke(track, k, pal.Line)
	if used := b.wear.Used; used > 0 {
		p.Fill(pen.RoundRect(left, mid-half, x(used)-left, 2*half, 2*k), pal.QuietInk)
		if used > wearSpan { // goes on past the end
			a := new(pen.Path).M(right, mid-half).L(right+6*k, mid).L(right, mid+half).Z()
			p.Fill(a, pal.QuietInk)
		}
	}
	if lo, hi := b.wear.Low, b.wear.High; lo <= hi {
		p.Stroke(pen.Line(x(lo), mid, x(hi), mid), 3.4*k, pal.Panel)
		p.Stroke(pen.Line(x(lo), mid, x(hi), mid), 1.4*k, pal.Ink)
		for _, e := range []float64{lo, hi} {
			p.Stroke(pen.Line(x(e), mid-3.5*k, x(e), mid+3.5*k), 3.4*k, pal.Panel)
			p.Stroke(pen.Line(x(e), mid-3.5*k, x(e), mid+3.5*k), 1.4*k, pal.Ink)
		}
	}
	if n := b.wear.Next; n >= 0 {
		t := new(pen.Path).M(x(n), mid-half-1*k).L(x(n)-4*k, mid-half-8*k).L(x(n)+4*k, mid-half-8*k).Z()
		p.Fill(t, pal.Panel)
		p.Stroke(t, 1.3*k, pal.Ink)
	}
	lim := math.Round(x(1)) + math.Mod(math.Round(2*k), 2)/2
	p.Stroke(pen.Line(lim, mid-10*k, lim, mid+10*k), math.Max(1, math.Round(2*k)), pal.Ink)
	return p.Image()
}

// ratioOf returns device pixels per unit of a raster w pixels wide.
func ratioOf(r *canvas.Raster, w int) float64 {
	if s := r.Size().Width; s > 0 {
		return float64(w) / float64(s)
	}
	return 1
}
