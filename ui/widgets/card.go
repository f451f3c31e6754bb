package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme/tokens"
)

// Card is a panel with a hairline round its content.
type Card struct {
	widget.BaseWidget

	content fyne.CanvasObject
}

// NewCard returns a card; content may be nil.
func NewCard(content fyne.CanvasObject) *Card {
	c := &Card{content: content}
	c.ExtendBaseWidget(c)
	return c
}

// CreateRenderer implements fyne.Widget.
func (c *Card) CreateRenderer() fyne.WidgetRenderer {
	r := &cardRenderer{card: c, box: canvas.NewRectangle(nil)}
	r.Refresh()
	return r
}

// SetContent changes what the card holds.
func (c *Card) SetContent(content fyne.CanvasObject) { c.content = content; c.Refresh() }

type cardRenderer struct {
	card *Card
	box  *canvas.Rectangle
}

const cardPad = 2 * tokens.Step

func (r *cardRenderer) Destroy() {}

func (r *cardRenderer) Layout(s fyne.Size) {
	r.box.Resize(s)
	if o := r.card.content; o != nil {
		place(o, cardPad, cardPad, s.Width-2*cardPad, s.Height-2*cardPad)
	}
}

func (r *cardRenderer) MinSize() fyne.Size {
	m := fyne.NewSize(0, 0)
	if r.card.content != nil {
		m = r.card.content.MinSize()
	}
	return m.AddWidthHeight(2*cardPad, 2*cardPad)
}

func (r *cardRenderer) Objects() []fyne.CanvasObject {
	if r.card.content == nil {
		return []fyne.CanvasObject{r.box}
	}
	return []fyne.CanvasObject{r.box, r.card.content}
}

func (r *cardRenderer) Refresh() {
	pal := paletteOf(r.card)
	r.box.FillColor, r.box.StrokeColor, r.box.StrokeWidth = pal.Panel, pal.Line, 1
	r.box.CornerRadius = tokens.Radius
	r.Layout(r.card.Size())
	r.box.Refresh()
	if r.card.content != nil {
		r.card.content.Refresh()
	}
}
