package dropoff

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
)

// wide is the least width at which the page has two columns, and a row of
// fields stands side by side from narrow on.
const (
	wide   = 760
	narrow = 330
)

// page sets its two children side by side, or one under the other in a narrow
// window. It remembers its width: the height of wrapped chips depends on it.
type page struct{ width float32 }

func (p *page) columns(n int) (count int, width float32) {
	if p.width >= wide {
		return n, (p.width - float32(n-1)*2*tokens.Step) / float32(n)
	}
	return 1, p.width
}

// MinSize implements fyne.Layout.
func (p *page) MinSize(os []fyne.CanvasObject) fyne.Size {
	n, _ := p.columns(len(os))
	h := float32(0)
	for _, o := range os {
		if m := o.MinSize().Height; n == 1 {
			h += m + tokens.Step
		} else {
			h = max(h, m)
		}
	}
	return fyne.NewSize(280, h)
}

// Layout implements fyne.Layout. Each child is sized twice: the first time it
// learns its width, the second time it knows its height.
func (p *page) Layout(os []fyne.CanvasObject, s fyne.Size) {
	p.width = s.Width
	n, w := p.columns(len(os))
	y := float32(0)
	for i, o := range os {
		for range 2 {
			o.Resize(fyne.NewSize(w, o.MinSize().Height))
		}
		if n == 1 {
			o.Move(fyne.NewPos(0, y))
			y += o.Size().Height + tokens.Step
		} else {
			o.Move(fyne.NewPos(float32(i)*(w+2*tokens.Step), 0))
		}
	}
}

// row shares its width among its children by weight; where that leaves less
// than narrow in all, they stand under each other.
type row struct {
	weights []float32
	width   float32
}

func newRow(weights []float32, os ...fyne.CanvasObject) *fyne.Container {
	return container.New(&row{weights: weights, width: wide}, os...)
}

// MinSize implements fyne.Layout.
func (r *row) MinSize(os []fyne.CanvasObject) fyne.Size {
	var w, h, sum float32
	for _, o := range os {
		m := o.MinSize()
		w, h, sum = max(w, m.Width), max(h, m.Height), sum+m.Height+tokens.Inner
	}
	if r.width < narrow {
		h = sum
	}
	return fyne.NewSize(min(w, 200), h)
}

// Layout implements fyne.Layout.
func (r *row) Layout(os []fyne.CanvasObject, s fyne.Size) {
	r.width = s.Width
	total, x, y := float32(0), float32(0), float32(0)
	for i := range os {
		total += r.weights[i]
	}
	room := s.Width - float32(len(os)-1)*tokens.Step
	for i, o := range os {
		w := room * r.weights[i] / total
		if r.width < narrow {
			w = s.Width
		}
		h := o.MinSize().Height
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(w, h))
		if r.width < narrow {
			y += h + tokens.Inner
		} else {
			x += w + tokens.Step
		}
	}
}

// flow sets its children one after the other and wraps them.
type flow struct{ width float32 }

func newFlow(os ...fyne.CanvasObject) *fyne.Container {
	return container.New(&flow{width: 500}, os...)
}

// MinSize implements fyne.Layout.
func (f *flow) MinSize(os []fyne.CanvasObject) fyne.Size {
	w, h := f.walk(os, f.width, func(fyne.CanvasObject, fyne.Position, fyne.Size) {})
	return fyne.NewSize(w, h)
}

// Layout implements fyne.Layout.
func (f *flow) Layout(os []fyne.CanvasObject, s fyne.Size) {
	f.width = s.Width
	f.walk(os, s.Width, func(o fyne.CanvasObject, p fyne.Position, z fyne.Size) {
		o.Move(p)
		o.Resize(z)
	})
}

func (f *flow) walk(os []fyne.CanvasObject, width float32, put func(fyne.CanvasObject, fyne.Position, fyne.Size)) (widest, height float32) {
	x, y, line := float32(0), float32(0), float32(0)
	for _, o := range os {
		if !o.Visible() {
			continue
		}
		m := o.MinSize()
		if x > 0 && x+m.Width > width {
			x, y, line = 0, y+line, 0
		}
		put(o, fyne.NewPos(x, y), m)
		x += m.Width + tokens.Step
		widest, line = max(widest, m.Width), max(line, m.Height)
	}
	return widest, y + line
}

// tall gives its only child the height of a target at least.
type tall struct{}

func (tall) MinSize(os []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(60, max(tokens.Target, os[0].MinSize().Height))
}

func (tall) Layout(os []fyne.CanvasObject, s fyne.Size) {
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(s)
}

// field is an entry with its caption above, which stays while one types.
func field(caption string, o fyne.CanvasObject) fyne.CanvasObject {
	if e, ok := o.(interface{ SetCaption(string) }); ok {
		e.SetCaption(caption)
	}
	return container.New(&captioned{}, quiet(caption, false), container.New(tall{}, o))
}

// captioned sets a caption close above what it names.
type captioned struct{}

func (captioned) MinSize(os []fyne.CanvasObject) fyne.Size {
	m := os[1].MinSize()
	return fyne.NewSize(m.Width, m.Height+captionHeight)
}

const captionHeight = 24

func (captioned) Layout(os []fyne.CanvasObject, s fyne.Size) {
	os[0].Move(fyne.NewPos(-tokens.Step, -6))
	os[0].Resize(fyne.NewSize(s.Width+tokens.Step, os[0].MinSize().Height))
	os[1].Move(fyne.NewPos(0, captionHeight))
	os[1].Resize(fyne.NewSize(s.Width, s.Height-captionHeight))
}

// quiet is a line in quiet ink.
func quiet(text string, wrap bool) *widget.Label {
	l := widget.NewLabel(text)
	l.Importance, l.SizeName = widget.LowImportance, fynetheme.SizeNameCaptionText
	if wrap {
		l.Wrapping = fyne.TextWrapWord
	} else {
		l.Truncation = fyne.TextTruncateEllipsis
	}
	return l
}

// ground is a plain area of paper, or of a panel with a hairline round it.
type ground struct {
	widget.BaseWidget
	panel bool
}

func newGround(panel bool) *ground {
	g := &ground{panel: panel}
	g.ExtendBaseWidget(g)
	return g
}

// CreateRenderer implements fyne.Widget.
func (g *ground) CreateRenderer() fyne.WidgetRenderer {
	r := &groundRenderer{ground: g, box: canvas.NewRectangle(nil)}
	r.Refresh()
	return r
}

type groundRenderer struct {
	ground *ground
	box    *canvas.Rectangle
}

func (r *groundRenderer) Destroy()                     {}
func (r *groundRenderer) Layout(s fyne.Size)           { r.box.Resize(s) }
func (r *groundRenderer) MinSize() fyne.Size           { return fyne.NewSize(1, 1) }
func (r *groundRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.box} }

// Refresh takes the colours of the theme of now.
func (r *groundRenderer) Refresh() {
	pal := theme.PaletteOf(r.ground.Theme(), fyne.CurrentApp().Settings().ThemeVariant())
	r.box.FillColor = pal.Paper
	if r.ground.panel {
		r.box.FillColor, r.box.StrokeColor, r.box.StrokeWidth, r.box.CornerRadius = pal.Panel, pal.Line, 1, tokens.Radius
	}
	r.box.Refresh()
}

// flush takes the margin of a label away on its left, so that it stands in line
// with what is above and below it.
func flush(o fyne.CanvasObject) fyne.CanvasObject { return container.New(flushed{}, o) }

type flushed struct{}

// MinSize implements fyne.Layout.
func (flushed) MinSize(os []fyne.CanvasObject) fyne.Size {
	if !os[0].Visible() {
		return fyne.Size{}
	}
	return fyne.NewSize(max(0, os[0].MinSize().Width-tokens.Step), os[0].MinSize().Height)
}

// Layout implements fyne.Layout.
func (flushed) Layout(os []fyne.CanvasObject, s fyne.Size) {
	os[0].Move(fyne.NewPos(-tokens.Step, 0))
	os[0].Resize(fyne.NewSize(s.Width+tokens.Step, s.Height))
}
