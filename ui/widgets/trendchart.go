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

// Curve is one line of a Chart with what was read beside it.
type Curve struct {
	Name string
	// Line runs through Mid; Low and High, where they are finite, are its band.
	Line []BandPoint
	// Steps keeps a value until the next point, as a survival curve does.
	Steps bool
	Marks []Reading // can be pointed at; Date is not written
}

// Chart is what a CurvePlot shows.
type Chart struct {
	Unit, Across string // of the upright and of the long axis
	Curves       []Curve
	Low, High    float64 // fixed ends of the upright axis where High > Low
	Limit        float64
	HasLimit     bool
	LimitWord    string
	EmptyWord    string // while there is nothing to draw
}

// CurvePlot shows curves over one axis. The mouse and the arrow keys point at a
// mark: left and right along a curve, up and down from curve to curve.
type CurvePlot struct {
	widget.BaseWidget
	pointing

	// OnTapped is called with the id of the mark that was pressed.
	OnTapped func(id string)
	// OnHover is called with the id of the mark pointed at, "" for none.
	OnHover func(id string)

	chart Chart
	marks []chartMark
}

// chartMark finds mark i of a curve.
type chartMark struct{ curve, at int }

var (
	_ fyne.Tappable     = (*CurvePlot)(nil)
	_ fyne.Focusable    = (*CurvePlot)(nil)
	_ desktop.Hoverable = (*CurvePlot)(nil)
)

// NewCurvePlot returns a plot.
func NewCurvePlot(c Chart) *CurvePlot {
	p := &CurvePlot{}
	p.pointing = pointing{at: -1, near: p.nearest, walk: p.next, redraw: p.Refresh,
		changed: func(i int) {
			if p.OnHover != nil {
				p.OnHover(p.idOf(i))
			}
		},
		open: func(i int) {
			if p.OnTapped != nil {
				p.OnTapped(p.idOf(i))
			}
		}}
	p.set(c)
	p.ExtendBaseWidget(p)
	return p
}

// SetChart shows other curves. What is not finite is left out.
func (p *CurvePlot) SetChart(c Chart) {
	p.set(c)
	p.Refresh()
}

func (p *CurvePlot) set(c Chart) {
	p.chart, p.marks, p.at = c, nil, -1
	p.chart.Curves = nil
	for _, k := range c.Curves {
		t := cleaned(Trend{Readings: k.Marks})
		k.Marks = t.Readings
		var line []BandPoint
		for _, b := range k.Line {
			if !math.IsNaN(b.Hours+b.Mid) && !math.IsInf(b.Hours+b.Mid, 0) {
				line = append(line, b)
			}
		}
		k.Line = line
		for i := range k.Marks {
			p.marks = append(p.marks, chartMark{len(p.chart.Curves), i})
		}
		p.chart.Curves = append(p.chart.Curves, k)
	}
	p.chart.HasLimit = c.HasLimit && !math.IsNaN(c.Limit) && !math.IsInf(c.Limit, 0)
}

// CreateRenderer implements fyne.Widget.
func (p *CurvePlot) CreateRenderer() fyne.WidgetRenderer {
	var ras *canvas.Raster
	ras = canvas.NewRaster(func(w, h int) image.Image {
		return p.view(float64(w), float64(h), ratioOf(ras, w)).paint(w, h)
	})
	return newRendered([]fyne.CanvasObject{ras}, ras.Resize,
		func() fyne.Size { return fyne.NewSize(260, 200) }, ras.Refresh)
}

// Says implements Saying.
func (p *CurvePlot) Says() string {
	if m, ok := p.mark(p.at); ok {
		return m.Label
	}
	return p.chart.Unit
}

func (p *CurvePlot) mark(i int) (Reading, bool) {
	if i < 0 || i >= len(p.marks) {
		return Reading{}, false
	}
	m := p.marks[i]
	return p.chart.Curves[m.curve].Marks[m.at], true
}

func (p *CurvePlot) idOf(i int) string {
	m, _ := p.mark(i)
	return m.ID
}

// next is where an arrow goes from the mark pointed at.
func (p *CurvePlot) next(k fyne.KeyName) int {
	n := len(p.marks)
	switch {
	case n == 0:
		return -1
	case p.at < 0 && k == fyne.KeyLeft:
		return n - 1
	case p.at < 0:
		return 0
	}
	here := p.marks[p.at]
	switch k {
	case fyne.KeyRight:
		if p.at+1 < n && p.marks[p.at+1].curve == here.curve {
			return p.at + 1
		}
	case fyne.KeyLeft:
		if p.at > 0 && p.marks[p.at-1].curve == here.curve {
			return p.at - 1
		}
	case fyne.KeyUp:
		return p.beside(here, -1)
	case fyne.KeyDown:
		return p.beside(here, 1)
	}
	return p.at
}

// beside is the mark of the next curve that has any, nearest along the axis.
func (p *CurvePlot) beside(here chartMark, by int) int {
	x := p.chart.Curves[here.curve].Marks[here.at].Hours
	for c := here.curve + by; c >= 0 && c < len(p.chart.Curves); c += by {
		best, far := -1, math.Inf(1)
		for i, m := range p.marks {
			if m.curve != c {
				continue
			}
			if d := math.Abs(p.chart.Curves[c].Marks[m.at].Hours - x); d < far {
				best, far = i, d
			}
		}
		if best >= 0 {
			return best
		}
	}
	return p.at
}

// nearest is the mark within reach of a point, -1 for none.
func (p *CurvePlot) nearest(q fyne.Position) int {
	s := p.Size()
	v := p.view(float64(s.Width), float64(s.Height), 1)
	best, far := -1, 22.0
	for i := range p.marks {
		m, _ := p.mark(i)
		if d := math.Hypot(v.x(m.Hours)-float64(q.X), v.y(m.Value)-float64(q.Y)); d < far {
			best, far = i, d
		}
	}
	return best
}

func (p *CurvePlot) view(w, h, k float64) *chartView {
	curve, at := -1, -1
	if p.at >= 0 && p.at < len(p.marks) {
		curve, at = p.marks[p.at].curve, p.marks[p.at].at
	}
	v := &chartView{chart: p.chart, curve: curve, at: at}
	v.trendView = trendView{t: Trend{Unit: p.chart.Unit, Across: p.chart.Across, Limit: p.chart.Limit, HasLimit: p.chart.HasLimit, LimitWord: p.chart.LimitWord},
		k: k, pal: paletteOf(p), font: theme.TextFont(p.Theme(), false), size: math.Min(float64(captionSize(p)), 14) * 0.9 * k, pointed: -1, focused: p.focused}
	v.spanAll()
	v.settle(w, h, v.labelRoom(w))
	return v
}
