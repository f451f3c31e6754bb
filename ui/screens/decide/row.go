package decide

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// row is one line: what is sold and done in one go. A press opens it to its
// parts.
type row struct {
	widget.BaseWidget

	screen      *Screen
	job         shop.Job
	key         *widgets.TextButton
	inside      *fyne.Container // what opens
	box         fyne.CanvasObject
	press       func()
	chosen      bool
	who, reason *visitbar.Field // nil while closed, or where nothing is asked
}

var _ fyne.Tappable = (*row)(nil)

func (s *Screen) newRow(i int, j shop.Job) *row {
	r := &row{screen: s, job: j, press: func() { s.OpenRow(i) }, inside: container.NewStack()}
	r.ExtendBaseWidget(r)
	r.key = widgets.NewTextButton(lang.L("Open"), false, r.press)
	r.inside.Hide()
	lead := s.lead(j)
	wear := s.wearOf(lead, lead.Assessment.ID != j.Parts[0].Assessment.ID)
	if j.Level {
		wear = visitbar.Quiet("") // of many parts: each has its own inside
	}
	head := visitbar.Row([]float32{176, 0, 190, 232, 88}, mark(j), s.said(j), wear, s.photos(lead), r.key)
	r.box = widgets.NewCard(container.New(layout.NewCustomPaddedLayout(-8, -8, 0, 0), visitbar.List(8, head, r.inside)))
	return r
}

// lead is the line of the part whose wear and photos stand for the whole row:
// the deciding one, or the first that has wear where that has neither.
func (s *Screen) lead(j shop.Job) shop.Line {
	first := s.data.lines[j.Parts[0].Assessment.ID]
	if first.Assessment.WearUsed != nil || first.Now != nil || j.Parts[0].Asked && !j.Level {
		return first
	}
	for _, p := range j.Parts {
		if l := s.data.lines[p.Assessment.ID]; l.Assessment.WearUsed != nil && p.Asked == j.Parts[0].Asked {
			return l
		}
	}
	return first
}

// CreateRenderer implements fyne.Widget.
func (r *row) CreateRenderer() fyne.WidgetRenderer {
	ring := canvas.NewRectangle(nil)
	ring.CornerRadius = tokens.Radius
	n := &rowRenderer{row: r, ring: ring, WidgetRenderer: widget.NewSimpleRenderer(container.NewStack(r.box, ring))}
	n.Refresh()
	return n
}

type rowRenderer struct {
	fyne.WidgetRenderer
	row  *row
	ring *canvas.Rectangle
}

// Refresh implements fyne.WidgetRenderer.
func (n *rowRenderer) Refresh() {
	pal := theme.PaletteOf(n.row.Theme(), fyne.CurrentApp().Settings().ThemeVariant())
	n.ring.StrokeColor, n.ring.StrokeWidth = pal.Accent, 2
	n.ring.Hidden = !n.row.chosen
	n.ring.Refresh()
	n.WidgetRenderer.Refresh()
}

// Tapped implements fyne.Tappable.
func (r *row) Tapped(*fyne.PointEvent) { r.press() }

func (r *row) choose(on bool) {
	if r.chosen != on {
		r.chosen = on
		r.Refresh()
	}
}

// show opens or closes the row; what is inside is made when it is first seen.
func (r *row) show(open bool) {
	if open && len(r.inside.Objects) == 0 {
		r.inside.Objects = []fyne.CanvasObject{r.screen.detail(r)}
	}
	word := lang.L("Open")
	if open {
		word = lang.L("Close")
	}
	r.key.SetWord(word)
	if r.inside.Hidden == open {
		r.inside.Hidden = !open
		r.box.Refresh()
	}
}

func markOf(v inspect.Verdict, doNotRide bool) (draw.Mark, string) {
	switch {
	case doNotRide:
		return draw.DoNotRide, lang.L("Do not ride")
	case v == inspect.Replace:
		return draw.Replace, words.Verdict(v)
	case v == inspect.Measure:
		return draw.Measure, words.Verdict(v)
	}
	return draw.Reuse, words.Verdict(inspect.Reuse)
}

// mark is the verdict with its remedy and, where it is to be paid, the price.
func mark(j shop.Job) fyne.CanvasObject {
	m, word := markOf(j.Verdict, j.DoNotRide)
	col := visitbar.List(-8, widgets.NewVerdictMark(m, word))
	if j.Verdict == inspect.Replace {
		price := words.Price(j.Price)
		if j.Included {
			price = lang.L("in the agreed price")
		}
		col.Add(visitbar.Bold(price))
	}
	if told := words.Remedy(j.Parts[0].Assessment.Remedy); told != "" {
		col.Add(visitbar.Quiet(told))
	}
	return col
}
