package widgets

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme"
)

// Reading is one point of a trend. U is its standard uncertainty in the unit
// of the value; 0 draws no bar. Label is written when it is pointed at.
type Reading struct {
	ID       string
	Hours    float64
	Value, U float64
	Label    string
	Date     string // under the axis, for the first and the last
}

// BandPoint is the range of the trend at some riding hours.
type BandPoint struct{ Hours, Low, Mid, High float64 }

// Trend is what a TrendPlot shows.
type Trend struct {
	Unit     string
	Across   string // what the long axis counts; "h" where it is empty
	Readings []Reading
	Band     []BandPoint
	// Limit is drawn across with LimitWord, NextVisit as a tick on the axis
	// with NextWord; NaN or a false Has leaves them out.
	Limit               float64
	HasLimit            bool
	NextVisit           float64
	HasNext             bool
	LimitWord, NextWord string
	// EmptyWord is written while there is nothing to draw.
	EmptyWord string
}

// TrendPlot shows readings over riding hours. The mouse and the left and
// right arrows point at a reading; a press or Enter opens it.
type TrendPlot struct {
	widget.BaseWidget

	// OnTapped is called with the id of the reading that was pressed.
	OnTapped func(id string)
	// OnHover is called with the id of the reading pointed at, "" for none.
	OnHover func(id string)

	trend   Trend
	pointed int // -1 for none
	focused bool
}

var (
	_ fyne.Tappable     = (*TrendPlot)(nil)
	_ fyne.Focusable    = (*TrendPlot)(nil)
	_ desktop.Hoverable = (*TrendPlot)(nil)
)

// NewTrendPlot returns a plot.
func NewTrendPlot(t Trend) *TrendPlot {
	p := &TrendPlot{pointed: -1}
	p.trend = cleaned(t)
	p.ExtendBaseWidget(p)
	return p
}

// CreateRenderer implements fyne.Widget.
func (p *TrendPlot) CreateRenderer() fyne.WidgetRenderer {
	var ras *canvas.Raster
	ras = canvas.NewRaster(func(w, h int) image.Image {
		v := p.view(float64(w), float64(h), ratioOf(ras, w))
		return v.paint(w, h)
	})
	return newRendered([]fyne.CanvasObject{ras}, ras.Resize,
		func() fyne.Size { return fyne.NewSize(260, 160) }, ras.Refresh)
}

// SetTrend shows other readings. What is not finite is left out.
func (p *TrendPlot) SetTrend(t Trend) {
	p.trend, p.pointed = cleaned(t), -1
	p.Refresh()
}

// Tapped implements fyne.Tappable.
func (p *TrendPlot) Tapped(e *fyne.PointEvent) {
	if i := p.nearest(e.Position); i >= 0 {
		p.point(i)
		p.open()
	}
}

// FocusGained implements fyne.Focusable.
func (p *TrendPlot) FocusGained() { p.focused = true; p.Refresh() }

// FocusLost implements fyne.Focusable.
func (p *TrendPlot) FocusLost() { p.focused = false; p.point(-1); p.Refresh() }

// TypedRune implements fyne.Focusable.
func (p *TrendPlot) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (p *TrendPlot) TypedKey(e *fyne.KeyEvent) {
	n := len(p.trend.Readings)
	if n == 0 {
		return
	}
	switch e.Name {
	case fyne.KeyRight:
		p.point(min(p.pointed+1, n-1))
	case fyne.KeyLeft:
		if p.pointed < 0 {
			p.pointed = n
		}
		p.point(max(p.pointed-1, 0))
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		p.open()
	}
}

// MouseIn implements desktop.Hoverable.
func (p *TrendPlot) MouseIn(e *desktop.MouseEvent) { p.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable.
func (p *TrendPlot) MouseMoved(e *desktop.MouseEvent) { p.point(p.nearest(e.Position)) }

// MouseOut implements desktop.Hoverable.
func (p *TrendPlot) MouseOut() { p.point(-1) }

func (p *TrendPlot) point(i int) {
	if i == p.pointed {
		return
	}
	p.pointed = i
	p.Refresh()
	if p.OnHover == nil {
		return
	}
	if i < 0 {
		p.OnHover("")
		return
	}
	p.OnHover(p.trend.Readings[i].ID)
}

func (p *TrendPlot) open() {
	if p.pointed >= 0 && p.OnTapped != nil {
		p.OnTapped(p.trend.Readings[p.pointed].ID)
	}
}

// nearest returns the reading within reach of a point, -1 for none.
func (p *TrendPlot) nearest(q fyne.Position) int {
	s := p.Size()
	v := p.view(float64(s.Width), float64(s.Height), 1)
	best, bestD := -1, 22.0
	for i, r := range p.trend.Readings {
		d := math.Hypot(v.x(r.Hours)-float64(q.X), v.y(r.Value)-float64(q.Y))
		if d < bestD {
			best, bestD = i, d
		}
	}
	return best
}

func (p *TrendPlot) view(w, h, ratio float64) *trendView {
	pointed := p.pointed
	return newTrendView(p.trend, w, h, ratio, pointed, p.focused, paletteOf(p), theme.TextFont(p.Theme(), false), float64(captionSize(p)))
}

// cleaned copies a trend without what cannot be drawn.
func cleaned(t Trend) Trend {
	finite := func(v ...float64) bool {
		for _, x := range v {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return false
			}
		}
		return true
	}
	out := t
	out.Readings, out.Band = nil, nil
	for _, r := range t.Readings {
		if !finite(r.U) || r.U < 0 {
			r.U = 0
		}
		if finite(r.Hours, r.Value) {
			out.Readings = append(out.Readings, r)
		}
	}
	for _, b := range t.Band {
		if finite(b.Hours, b.Low, b.High) {
			out.Band = append(out.Band, b)
		}
	}
	out.HasLimit = t.HasLimit && finite(t.Limit)
	out.HasNext = t.HasNext && finite(t.NextVisit)
	return out
}
