package visitbar

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Tick is a box to tick that a gloved finger hits: 44 px, Space and Enter press
// it too.
type Tick struct {
	widget.BaseWidget

	// OnChanged is called when the user ticks the box or takes the tick away.
	OnChanged func(on bool)

	on, disabled, focused, hovered bool
}

var (
	_ fyne.Tappable     = (*Tick)(nil)
	_ fyne.Focusable    = (*Tick)(nil)
	_ fyne.Disableable  = (*Tick)(nil)
	_ desktop.Hoverable = (*Tick)(nil)
)

// NewTick returns a box.
func NewTick(on bool, onChanged func(on bool)) *Tick {
	t := &Tick{on: on, OnChanged: onChanged}
	t.ExtendBaseWidget(t)
	return t
}

// On tells whether the box is ticked.
func (t *Tick) On() bool { return t.on }

// Set shows the box ticked or not without calling OnChanged.
func (t *Tick) Set(on bool) { t.on = on; t.Refresh() }

// Tapped implements fyne.Tappable.
func (t *Tick) Tapped(*fyne.PointEvent) {
	if t.disabled {
		return
	}
	t.Set(!t.on)
	if t.OnChanged != nil {
		t.OnChanged(t.on)
	}
}

// TypedKey implements fyne.Focusable.
func (t *Tick) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		t.Tapped(nil)
	}
}

// TypedRune implements fyne.Focusable.
func (t *Tick) TypedRune(rune) {}

// FocusGained implements fyne.Focusable.
func (t *Tick) FocusGained() { t.focused = true; t.Refresh() }

// FocusLost implements fyne.Focusable.
func (t *Tick) FocusLost() { t.focused = false; t.Refresh() }

// MouseIn implements desktop.Hoverable.
func (t *Tick) MouseIn(*desktop.MouseEvent) { t.hovered = true; t.Refresh() }

// MouseMoved implements desktop.Hoverable.
func (t *Tick) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (t *Tick) MouseOut() { t.hovered = false; t.Refresh() }

// Disable implements fyne.Disableable.
func (t *Tick) Disable() { t.disabled = true; t.Refresh() }

// Enable implements fyne.Disableable.
func (t *Tick) Enable() { t.disabled = false; t.Refresh() }

// Disabled implements fyne.Disableable.
func (t *Tick) Disabled() bool { return t.disabled }

// CreateRenderer implements fyne.Widget.
func (t *Tick) CreateRenderer() fyne.WidgetRenderer {
	r := &tickRenderer{tick: t, box: canvas.NewRectangle(nil), short: canvas.NewLine(nil), long: canvas.NewLine(nil)}
	r.Refresh()
	return r
}

type tickRenderer struct {
	tick        *Tick
	box         *canvas.Rectangle
	short, long *canvas.Line
}

const tickSide = 30

// Layout implements fyne.WidgetRenderer.
func (r *tickRenderer) Layout(s fyne.Size) {
	x, y := (s.Width-tickSide)/2, (s.Height-tickSide)/2
	at := func(dx, dy float32) fyne.Position { return fyne.NewPos(x+dx*tickSide, y+dy*tickSide) }
	r.box.Move(at(0, 0))
	r.box.Resize(fyne.NewSize(tickSide, tickSide))
	r.short.Position1, r.short.Position2 = at(0.22, 0.52), at(0.42, 0.72)
	r.long.Position1, r.long.Position2 = at(0.42, 0.72), at(0.78, 0.28)
}

// MinSize implements fyne.WidgetRenderer.
func (r *tickRenderer) MinSize() fyne.Size { return fyne.NewSize(44, 44) }

// Objects implements fyne.WidgetRenderer.
func (r *tickRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.box, r.short, r.long}
}

// Destroy implements fyne.WidgetRenderer.
func (r *tickRenderer) Destroy() {}

// Refresh implements fyne.WidgetRenderer.
func (r *tickRenderer) Refresh() {
	t := r.tick
	th, v := t.Theme(), fyne.CurrentApp().Settings().ThemeVariant()
	r.box.CornerRadius = 6
	r.box.FillColor, r.box.StrokeColor, r.box.StrokeWidth = nil, th.Color(theme.ColorNamePlaceHolder, v), 1.5
	ink := th.Color(theme.ColorNameBackground, v)
	switch {
	case t.on && t.disabled:
		r.box.FillColor = th.Color(theme.ColorNamePlaceHolder, v)
	case t.on:
		r.box.FillColor, r.box.StrokeColor = th.Color(theme.ColorNamePrimary, v), th.Color(theme.ColorNamePrimary, v)
	case t.hovered && !t.disabled:
		r.box.FillColor = th.Color(theme.ColorNameHover, v)
	}
	if t.focused {
		r.box.StrokeColor, r.box.StrokeWidth = th.Color(theme.ColorNamePrimary, v), 3
		if t.on {
			r.box.StrokeColor = th.Color(theme.ColorNameForeground, v)
		}
	}
	for _, l := range []*canvas.Line{r.short, r.long} {
		l.StrokeColor, l.StrokeWidth, l.Hidden = ink, 3, !t.on
		l.Refresh()
	}
	r.box.Refresh()
}
