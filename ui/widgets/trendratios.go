package widgets

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme"
	"forkwear/ui/words"
)

// Ratio is one line of a RatioPlot: a ratio with its limits. A limit of 0 or
// that is not finite goes to the edge; a Value that is not finite draws nothing.
type Ratio struct {
	ID, Name         string
	Value, Low, High float64
	Label            string // written when it is pointed at
}

// RatioPlot draws ratios with their limits under each other on a logarithmic
// axis; the upright line is 1, as expected. Up and down point at a line.
type RatioPlot struct {
	widget.BaseWidget
	pointing

	// OnHover is called with the id of the line pointed at, "" for none.
	OnHover func(id string)
	// OnTapped is called with the id of the line that was pressed.
	OnTapped func(id string)

	ratios []Ratio
}

var (
	_ fyne.Tappable     = (*RatioPlot)(nil)
	_ fyne.Focusable    = (*RatioPlot)(nil)
	_ desktop.Hoverable = (*RatioPlot)(nil)
)

// ratioLine is the height of one line, ratioFoot that of the axis and of the
// words of the line pointed at.
const ratioLine, ratioFoot = 30, 58

// NewRatioPlot returns a plot.
func NewRatioPlot(ratios []Ratio) *RatioPlot {
	p := &RatioPlot{ratios: ratios}
	call := func(f func(string), i int) {
		if f != nil && i < len(p.ratios) {
			id := ""
			if i >= 0 {
				id = p.ratios[i].ID
			}
			f(id)
		}
	}
	p.pointing = pointing{at: -1, near: p.nearest, walk: p.next, redraw: p.Refresh,
		changed: func(i int) { call(p.OnHover, i) }, open: func(i int) { call(p.OnTapped, i) }}
	p.ExtendBaseWidget(p)
	return p
}

// CreateRenderer implements fyne.Widget.
func (p *RatioPlot) CreateRenderer() fyne.WidgetRenderer {
	var ras *canvas.Raster
	ras = canvas.NewRaster(func(w, h int) image.Image { return p.paint(w, h, ratioOf(ras, w)) })
	return newRendered([]fyne.CanvasObject{ras}, ras.Resize,
		func() fyne.Size { return fyne.NewSize(260, float32(ratioLine*len(p.ratios)+ratioFoot)) }, ras.Refresh)
}

// Says implements Saying.
func (p *RatioPlot) Says() string {
	if p.at >= 0 && p.at < len(p.ratios) {
		return p.ratios[p.at].Label
	}
	return ""
}

func (p *RatioPlot) nearest(q fyne.Position) int {
	i := int(math.Floor(float64(q.Y) / ratioLine))
	if i < 0 || i >= len(p.ratios) {
		return -1
	}
	return i
}

func (p *RatioPlot) next(k fyne.KeyName) int {
	n := len(p.ratios)
	switch {
	case n == 0:
		return -1
	case k == fyne.KeyDown || k == fyne.KeyRight:
		return min(p.at+1, n-1)
	case p.at < 0:
		return n - 1
	}
	return max(p.at-1, 0)
}

// ends are the ends of the axis: round, alike on both sides of 1, at least from
// a half to 2, at most from 1/64 to 64.
func (p *RatioPlot) ends() float64 {
	end := 2.0
	for _, r := range p.ratios {
		for _, x := range []float64{r.Value, r.Low, r.High} {
			if x > 0 && !math.IsInf(x, 0) {
				for end < 64 && (x > end || x < 1/end) {
					end *= 2
				}
			}
		}
	}
	return end
}

func (p *RatioPlot) paint(w, h int, k float64) image.Image {
	out, pal, font := pen.New(w, h), paletteOf(p), theme.TextFont(p.Theme(), false)
	size := math.Min(float64(captionSize(p)), 14) * k
	end, names := p.ends(), 0.0
	for _, r := range p.ratios {
		names = math.Max(names, font.Width(r.Name, size))
	}
	left, right := math.Min(names+18*k, float64(w)*.4), float64(w)-14*k
	if right-left < 20*k || len(p.ratios) == 0 {
		return out.Image()
	}
	x := func(v float64) float64 {
		if v <= 0 {
			return left
		}
		share := (math.Log(v)/math.Log(end) + 1) / 2
		return left + math.Max(0, math.Min(1, share))*(right-left)
	}
	base := float64(ratioLine*len(p.ratios)) * k
	for t := 1 / end; t <= end*1.01; t *= 2 {
		ink, width := pal.Line, 1.0
		if t > .99 && t < 1.01 {
			ink, width = pal.QuietInk, 2
		}
		out.Stroke(pen.Line(x(t), 0, x(t), base), width*k, ink)
		if tickFits(t, end, right-left, size) {
			out.Text(font, words.Number(t, 0), x(t), base+size*1.2, size, pen.Middle, pal.QuietInk)
		}
	}
	for i, r := range p.ratios {
		y := (float64(i) + .5) * ratioLine * k
		if i == p.at {
			out.Fill(pen.Rect(0, y-ratioLine/2*k, float64(w), ratioLine*k), alpha(pal.Accent, 0x22))
		}
		out.Text(font, fitText(font, r.Name, size, left-14*k), 4*k, y+size*.35, size, pen.Start, pal.Ink)
		drawRatio(out, r, x, y, k, pal.Ink)
	}
	if p.at >= 0 && p.at < len(p.ratios) {
		out.Text(font, p.ratios[p.at].Label, 4*k, base+size*2.9, size, pen.Start, pal.Ink)
	}
	if p.focused {
		out.Stroke(pen.RoundRect(1.5*k, 1.5*k, float64(w)-3*k, float64(h)-3*k, 6*k), 3*k, pal.Accent)
	}
	return out.Image()
}

// tickFits keeps every second and fourth tick where all would run together; 1
// and the ends stay.
func tickFits(t, end, room, size float64) bool {
	n := int(math.Round(math.Log2(end)))
	every := 1
	for room/float64(2*n)*float64(every) < size*3.4 && every < n {
		every *= 2
	}
	return int(math.Abs(math.Round(math.Log2(t))))%every == 0
}

// fitText cuts a text to a width.
func fitText(font *pen.Font, s string, size, room float64) string {
	if font.Width(s, size) <= room {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && font.Width(string(r)+"…", size) > room {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

func drawRatio(out *pen.Pen, r Ratio, x func(float64) float64, y, k float64, ink color.NRGBA) {
	if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) {
		return
	}
	low, high := r.Low, r.High
	if math.IsNaN(low) {
		low = 0
	}
	if math.IsNaN(high) {
		high = math.Inf(1)
	}
	a, b := x(low), x(high)
	bar := pen.Line(a, y, b, y)
	if low > 0 {
		bar.Add(pen.Line(a, y-5*k, a, y+5*k))
	}
	if !math.IsInf(high, 1) {
		bar.Add(pen.Line(b, y-5*k, b, y+5*k))
	}
	out.Stroke(bar, 2*k, ink)
	out.Fill(pen.Circle(x(r.Value), y, 5*k), ink)
}
