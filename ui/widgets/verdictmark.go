package widgets

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
)

// VerdictMark is a verdict: its shape and its word, in its colour.
type VerdictMark struct {
	widget.BaseWidget

	state draw.State
	word  string
}

// NewVerdictMark returns a mark with its word.
func NewVerdictMark(m draw.Mark, word string) *VerdictMark {
	v := &VerdictMark{state: draw.State{Mark: m}, word: word}
	v.ExtendBaseWidget(v)
	return v
}

// CreateRenderer implements fyne.Widget.
func (v *VerdictMark) CreateRenderer() fyne.WidgetRenderer {
	box, word := canvas.NewRectangle(nil), canvas.NewText("", nil)
	var shape *canvas.Raster
	shape = canvas.NewRaster(func(w, h int) image.Image {
		p := pen.New(w, h)
		ratio := float64(h) / float64(max(shape.Size().Height, 1))
		r := float64(h) * 0.37
		draw.PaintMark(p, v.state, float64(w)/2, float64(h)/2, r, ratio, paletteOf(v), theme.TextFont(v.Theme(), false))
		return p.Image()
	})
	refresh := func() {
		pal := paletteOf(v)
		ink := pal.Ink
		box.FillColor, box.CornerRadius = nil, 4
		if c, ok := draw.MarkColor(v.state.Mark, pal); ok {
			ink = c
		}
		if v.state.Mark == draw.DoNotRide {
			box.FillColor, ink = pal.DoNotRide, pal.OnDoNotRide
		}
		setText(word, v.word, textSize(v), ink, true)
		box.Refresh()
		shape.Refresh()
	}
	side := func() float32 {
		if v.state.Mark == draw.NoMark {
			return 0
		}
		if v.state.Mark == draw.Missing {
			return 48
		}
		return 24
	}
	layout := func(s fyne.Size) {
		d := side()
		place(shape, 0, (s.Height-24)/2+1.5, d, 24)
		m := word.MinSize()
		place(word, d+tokens.Step, (s.Height-m.Height)/2, m.Width, m.Height)
		place(box, d+tokens.Inner, (s.Height-m.Height)/2, m.Width+tokens.Step, m.Height)
	}
	least := func() fyne.Size {
		m := word.MinSize()
		return fyne.NewSize(side()+tokens.Step+m.Width+tokens.Inner, max(24, m.Height))
	}
	return newRendered([]fyne.CanvasObject{box, shape, word}, layout, least, refresh)
}

// Set changes mark and word.
func (v *VerdictMark) Set(m draw.Mark, word string) {
	v.state, v.word = draw.State{Mark: m}, word
	v.Refresh()
}

// SetState changes mark, count and word.
func (v *VerdictMark) SetState(s draw.State, word string) {
	v.state, v.word = s, word
	v.Refresh()
}
