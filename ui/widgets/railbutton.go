package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
)

// RailButton is one place of the rail: a drawing with its word under it.
type RailButton struct {
	press

	word     string
	icon     fyne.Resource
	selected bool
}

// NewRailButton returns a button; icon is best a themed resource.
func NewRailButton(word string, icon fyne.Resource, onTapped func()) *RailButton {
	r := &RailButton{word: word, icon: icon}
	r.onPress = onTapped
	r.ExtendBaseWidget(r)
	return r
}

// CreateRenderer implements fyne.Widget.
func (r *RailButton) CreateRenderer() fyne.WidgetRenderer {
	box, bar := canvas.NewRectangle(nil), canvas.NewRectangle(nil)
	word, icon := canvas.NewText("", nil), canvas.NewImageFromResource(r.icon)
	icon.FillMode = canvas.ImageFillContain
	refresh := func() {
		pal := paletteOf(r)
		r.ground(box, pal, false)
		if !r.focused {
			box.StrokeWidth = 0
		}
		if !r.hovered {
			box.FillColor = nil
		}
		bar.FillColor, bar.CornerRadius = pal.Accent, 2
		ink := pal.QuietInk
		if r.selected {
			ink = pal.Ink
			box.FillColor = tokens.Over(tokens.Tint(pal.Accent), pal.Paper)
		}
		bar.Hidden = !r.selected
		setText(word, r.word, captionSize(r), ink, r.selected)
		icon.Resource = theme.Inked(r.icon, ink)
		icon.Refresh()
		box.Refresh()
		bar.Refresh()
	}
	layout := func(s fyne.Size) {
		place(box, 4, 2, s.Width-8, s.Height-4)
		place(bar, 0, 12, 4, s.Height-24)
		m := word.MinSize()
		top := (s.Height - 28 - m.Height - 2) / 2
		place(icon, (s.Width-28)/2, top, 28, 28)
		centre(word, 0, top+30, s.Width, m.Height)
	}
	least := func() fyne.Size { // as wide as the word when it is selected, so that nothing moves
		wide := fyne.MeasureText(r.word, captionSize(r), fyne.TextStyle{Bold: true}).Width
		return fyne.NewSize(max(tokens.Rail, wide+tokens.Step), 72)
	}
	return newRendered([]fyne.CanvasObject{box, bar, icon, word}, layout, least, refresh)
}

// SetSelected shows the place as the one that is open.
func (r *RailButton) SetSelected(on bool) { r.selected = on; r.Refresh() }

// SetWord changes the word, as when a count is added to it.
func (r *RailButton) SetWord(word string) { r.word = word; r.Refresh() }
