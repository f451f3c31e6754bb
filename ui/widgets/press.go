package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
)

// press is what every pressable widget here shares: tap, focus, Space and
// Enter, hover and the hand cursor.
type press struct {
	widget.BaseWidget

	onPress          func()
	onKey            func(*fyne.KeyEvent)
	onRune           func(rune)
	hovered, focused bool
	disabled         bool
}

// Tapped implements fyne.Tappable.
func (p *press) Tapped(*fyne.PointEvent) {
	if p.onPress != nil && !p.disabled {
		p.onPress()
	}
}

// FocusGained implements fyne.Focusable.
func (p *press) FocusGained() {
	p.focused = true
	p.Refresh()
	revealFocused()
}

// FocusLost implements fyne.Focusable.
func (p *press) FocusLost() { p.focused = false; p.Refresh() }

// TypedRune implements fyne.Focusable.
func (p *press) TypedRune(r rune) {
	if p.onRune != nil {
		p.onRune(r)
	}
}

// TypedKey implements fyne.Focusable.
func (p *press) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		p.Tapped(nil)
	default:
		if p.onKey != nil {
			p.onKey(e)
		}
	}
}

// MouseIn implements desktop.Hoverable.
func (p *press) MouseIn(*desktop.MouseEvent) { p.hovered = true; p.Refresh() }

// MouseMoved implements desktop.Hoverable.
func (p *press) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (p *press) MouseOut() { p.hovered = false; p.Refresh() }

// Cursor implements desktop.Cursorable.
func (p *press) Cursor() desktop.Cursor {
	if p.onPress == nil || p.disabled {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

// ground is the box of a pressable: panel, hairline, hover and focus ring.
func (p *press) ground(r *canvas.Rectangle, pal tokens.Palette, selected bool) {
	r.CornerRadius = tokens.Radius
	r.FillColor, r.StrokeColor, r.StrokeWidth = pal.Panel, pal.Line, 1
	if p.hovered && !p.disabled {
		r.FillColor = tokens.Over(alpha(pal.Ink, 0x10), pal.Panel)
	}
	if selected {
		r.FillColor, r.StrokeColor, r.StrokeWidth = tokens.Over(tokens.Tint(pal.Accent), pal.Panel), pal.Accent, 2
	}
	if p.focused {
		r.StrokeColor, r.StrokeWidth = pal.Accent, 3
	}
}

func alpha(c color.NRGBA, a uint8) color.NRGBA {
	c.A = a
	return c
}

// themed is any widget that knows its theme.
type themed interface{ Theme() fyne.Theme }

func paletteOf(w themed) tokens.Palette {
	return theme.PaletteOf(w.Theme(), fyne.CurrentApp().Settings().ThemeVariant())
}

func sizeOf(w themed, n fyne.ThemeSizeName) float32 { return w.Theme().Size(n) }

func captionSize(w themed) float32 { return sizeOf(w, fynetheme.SizeNameCaptionText) }

func textSize(w themed) float32 { return sizeOf(w, fynetheme.SizeNameText) }

// setText fills a canvas text.
func setText(t *canvas.Text, s string, size float32, c color.Color, bold bool) {
	t.Text, t.TextSize, t.Color, t.TextStyle = s, size, c, fyne.TextStyle{Bold: bold}
	t.Refresh()
}

// shorten cuts a text to a width with an ellipsis.
func shorten(s string, width, size float32, style fyne.TextStyle) string {
	if fyne.MeasureText(s, size, style).Width <= width {
		return s
	}
	runes := []rune(s)
	for n := len(runes) - 1; n > 0; n-- {
		cut := string(runes[:n]) + "…"
		if fyne.MeasureText(cut, size, style).Width <= width {
			return cut
		}
	}
	return ""
}
