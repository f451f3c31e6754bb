package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"

	"forkwear/ui/theme/tokens"
)

// padKey is one large button of a pad: a figure or word, and a word under it.
type padKey struct {
	press

	top, under string
	selected   bool
	small      bool
}

func newPadKey(top, under string, small bool, onPress func()) *padKey {
	k := &padKey{top: top, under: under, small: small}
	k.onPress = onPress
	k.ExtendBaseWidget(k)
	return k
}

// CreateRenderer implements fyne.Widget.
func (k *padKey) CreateRenderer() fyne.WidgetRenderer {
	box, top, under := canvas.NewRectangle(nil), canvas.NewText("", nil), canvas.NewText("", nil)
	width := float32(0)
	refresh := func() {
		pal := paletteOf(k)
		k.ground(box, pal, k.selected)
		size := sizeOf(k, fynetheme.SizeNameSubHeadingText)
		if k.small {
			size = captionSize(k)
		}
		setText(top, k.top, size, pal.Ink, !k.small)
		word := k.under
		if width > 0 {
			word = shorten(word, width-tokens.Step, captionSize(k), fyne.TextStyle{})
		}
		setText(under, word, captionSize(k), pal.QuietInk, false)
		box.Refresh()
	}
	layout := func(s fyne.Size) {
		width = s.Width
		refresh()
		place(box, 0, 0, s.Width, s.Height)
		if k.under == "" {
			centre(top, 0, 0, s.Width, s.Height)
			return
		}
		h := top.MinSize().Height + under.MinSize().Height
		y := (s.Height - h) / 2
		centre(top, 0, y, s.Width, top.MinSize().Height)
		centre(under, 0, y+top.MinSize().Height, s.Width, under.MinSize().Height)
	}
	least := func() fyne.Size {
		if k.small {
			return fyne.NewSize(tokens.Target, tokens.Target)
		}
		w := fyne.MeasureText(k.under, captionSize(k), fyne.TextStyle{}).Width + 2*tokens.Step
		tw := top.MinSize().Width + 2*tokens.Step
		return fyne.NewSize(max(tokens.Target, min(w, 120), tw), 60)
	}
	return newRendered([]fyne.CanvasObject{box, top, under}, layout, least, refresh)
}
