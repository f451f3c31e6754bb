package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"forkwear/ui/theme/tokens"
)

// Chip is a short word in a box: a tag, or a filter when it can be pressed.
type Chip struct {
	press

	text     string
	selected bool
}

// NewChip returns a chip; with a nil onTapped it only shows its word.
func NewChip(text string, onTapped func()) *Chip {
	c := &Chip{text: text}
	c.onPress = onTapped
	c.ExtendBaseWidget(c)
	return c
}

// CreateRenderer implements fyne.Widget.
func (c *Chip) CreateRenderer() fyne.WidgetRenderer {
	box, text := canvas.NewRectangle(nil), canvas.NewText("", nil)
	refresh := func() {
		pal := paletteOf(c)
		c.ground(box, pal, c.selected)
		setText(text, c.text, captionSize(c), pal.Ink, false)
		box.Refresh()
	}
	layout := func(s fyne.Size) {
		h := s.Height
		if c.onPress != nil { // drawn lower than the area that takes the press
			h = min(h, 32)
		}
		place(box, 0, (s.Height-h)/2, s.Width, h)
		centre(text, 0, 0, s.Width, s.Height)
	}
	least := func() fyne.Size {
		w := text.MinSize().Width + 2*tokens.Step
		if c.onPress == nil {
			return fyne.NewSize(w, text.MinSize().Height+tokens.Step)
		}
		return fyne.NewSize(max(w, tokens.Target), tokens.Target)
	}
	return newRendered([]fyne.CanvasObject{box, text}, layout, least, refresh)
}

// Text is the word.
func (c *Chip) Text() string { return c.text }

// SetText changes the word.
func (c *Chip) SetText(text string) { c.text = text; c.Refresh() }

// SetSelected shows the chip as chosen or not.
func (c *Chip) SetSelected(on bool) { c.selected = on; c.Refresh() }

// Selected says whether the chip is shown as chosen.
func (c *Chip) Selected() bool { return c.selected }
