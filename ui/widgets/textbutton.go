package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"forkwear/ui/theme/tokens"
)

// TextButton is a button with a word: quiet, or filled when it is the one
// action of a screen.
type TextButton struct {
	press

	word string
	main bool
}

// NewTextButton returns a button; main fills it with the accent.
func NewTextButton(word string, main bool, onTapped func()) *TextButton {
	b := &TextButton{word: word, main: main}
	b.onPress = onTapped
	b.ExtendBaseWidget(b)
	return b
}

// CreateRenderer implements fyne.Widget.
func (b *TextButton) CreateRenderer() fyne.WidgetRenderer {
	box, word := canvas.NewRectangle(nil), canvas.NewText("", nil)
	refresh := func() {
		pal := paletteOf(b)
		b.ground(box, pal, false)
		ink := pal.Ink
		if b.main {
			box.FillColor, ink = pal.Accent, pal.OnAccent
			box.StrokeColor = pal.Accent
			if b.hovered {
				box.FillColor = tokens.Over(alpha(pal.Ink, 0x22), pal.Accent)
			}
			if b.focused {
				box.StrokeColor = pal.Ink
			}
		}
		if b.disabled {
			box.FillColor, box.StrokeColor, ink = pal.Paper, pal.Line, pal.QuietInk
		}
		setText(word, b.word, textSize(b), ink, b.main)
		box.Refresh()
	}
	layout := func(s fyne.Size) {
		box.Resize(s)
		centre(word, 0, 0, s.Width, s.Height)
	}
	least := func() fyne.Size {
		return fyne.NewSize(max(tokens.Target, word.MinSize().Width+4*tokens.Step), tokens.Target)
	}
	return newRendered([]fyne.CanvasObject{box, word}, layout, least, refresh)
}

// SetWord changes the word.
func (b *TextButton) SetWord(word string) { b.word = word; b.Refresh() }

// SetEnabled lets the button take a press or not.
func (b *TextButton) SetEnabled(on bool) { b.disabled = !on; b.Refresh() }
