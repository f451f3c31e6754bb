package forkdraw

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/theme"
	"forkwear/ui/tongue"
)

var (
	_ fyne.Widget        = (*ForkDrawing)(nil)
	_ fyne.Tappable      = (*ForkDrawing)(nil)
	_ fyne.Focusable     = (*ForkDrawing)(nil)
	_ desktop.Hoverable  = (*ForkDrawing)(nil)
	_ desktop.Cursorable = (*ForkDrawing)(nil)
)

// ForkDrawing shows a fork with the state of each zone. Arrows walk the
// zones while it has the focus: up and down in their order, left and right
// to the other leg; Enter and Space press the zone.
type ForkDrawing struct {
	widget.BaseWidget

	// OnTapped is called with the zone that was pressed.
	OnTapped func(z draw.Zone)
	// OnHover is called when the mouse comes over a zone (over true) and
	// when it leaves it.
	OnHover func(z draw.Zone, over bool)
	// OnFocus is called when the keyboard reaches a zone.
	OnFocus func(z draw.Zone)

	// LeftWord, RightWord, SideNote and DoNotRideWord are written under the
	// drawing, in the language in force. Call Refresh after a change.
	LeftWord, RightWord, SideNote, DoNotRideWord string

	states        draw.States
	opts          draw.Options
	minHeight     float32
	hover, cursor *draw.Zone
	focused       bool
}

// NewForkDrawing returns an assembled single crown fork without states.
func NewForkDrawing(onTapped func(z draw.Zone)) *ForkDrawing {
	f := &ForkDrawing{OnTapped: onTapped, opts: draw.DefaultOptions(false), minHeight: 240,
		LeftWord: tongue.Say("left"), RightWord: tongue.Say("right"),
		SideNote: tongue.Say("as the rider sees it"), DoNotRideWord: tongue.Say("do not ride")}
	f.ExtendBaseWidget(f)
	return f
}

// CreateRenderer implements fyne.Widget.
func (f *ForkDrawing) CreateRenderer() fyne.WidgetRenderer {
	f.ExtendBaseWidget(f)
	r := &forkRenderer{fork: f}
	r.raster = canvas.NewRaster(f.generate)
	return r
}

// MinSize implements fyne.CanvasObject.
func (f *ForkDrawing) MinSize() fyne.Size {
	f.ExtendBaseWidget(f)
	return f.BaseWidget.MinSize()
}

// SetStates shows new states; the map is copied.
func (f *ForkDrawing) SetStates(s draw.States) {
	f.states = make(draw.States, len(s))
	for z, st := range s {
		f.states[z] = st
	}
	f.Refresh()
}

// SetView turns between the assembled and the stripped view.
func (f *ForkDrawing) SetView(v draw.View) {
	f.opts.View = v
	f.hover = nil
	f.Refresh()
}

// View returns the view shown.
func (f *ForkDrawing) View() draw.View { return f.opts.View }

// SetInsides says what each leg holds.
func (f *ForkDrawing) SetInsides(left, right draw.Inside) {
	f.opts.LeftInside, f.opts.RightInside = left, right
	f.hover = nil
	f.Refresh()
}

// SetDoubleCrown turns between a single and a double crown.
func (f *ForkDrawing) SetDoubleCrown(on bool) {
	f.opts.DoubleCrown = on
	f.Refresh()
}

// SetSelected shows a zone as the one at work; nil for none.
func (f *ForkDrawing) SetSelected(z *draw.Zone) {
	f.opts.Selected = copied(z)
	if z != nil {
		f.cursor = copied(z)
	}
	f.Refresh()
}

// SetMinHeight sets the least height; values outside 240 to 900 are pulled in.
func (f *ForkDrawing) SetMinHeight(h float32) {
	f.minHeight = min(max(h, 240), 900)
	f.Refresh()
}

// Tapped implements fyne.Tappable.
func (f *ForkDrawing) Tapped(e *fyne.PointEvent) {
	z, ok := f.zoneAt(e.Position)
	if !ok {
		return
	}
	f.cursor = &z
	if c := fyne.CurrentApp().Driver().CanvasForObject(f); c != nil {
		c.Focus(f)
	}
	f.Refresh()
	f.press(z)
}

// FocusGained implements fyne.Focusable.
func (f *ForkDrawing) FocusGained() {
	f.focused = true
	if f.cursor == nil {
		f.moveTo(0)
		return
	}
	f.Refresh()
}

// FocusLost implements fyne.Focusable.
func (f *ForkDrawing) FocusLost() {
	f.focused = false
	f.Refresh()
}

// TypedRune implements fyne.Focusable.
func (f *ForkDrawing) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (f *ForkDrawing) TypedKey(e *fyne.KeyEvent) {
	zones := draw.Zones(f.options(1))
	i := f.cursorIndex(zones)
	switch e.Name {
	case fyne.KeyDown:
		f.moveTo((i + 1) % len(zones))
	case fyne.KeyUp:
		f.moveTo((i + len(zones) - 1) % len(zones))
	case fyne.KeyHome:
		f.moveTo(0)
	case fyne.KeyEnd:
		f.moveTo(len(zones) - 1)
	case fyne.KeyLeft, fyne.KeyRight:
		f.moveAcross(zones, i, e.Name == fyne.KeyLeft)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		f.press(zones[i])
	}
}

// MouseIn implements desktop.Hoverable.
func (f *ForkDrawing) MouseIn(e *desktop.MouseEvent) { f.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable.
func (f *ForkDrawing) MouseMoved(e *desktop.MouseEvent) {
	z, ok := f.zoneAt(e.Position)
	switch {
	case ok && f.hover != nil && *f.hover == z, !ok && f.hover == nil:
		return
	}
	f.leave()
	if ok {
		f.hover = &z
		if f.OnHover != nil {
			f.OnHover(z, true)
		}
	}
	f.Refresh()
}

// MouseOut implements desktop.Hoverable.
func (f *ForkDrawing) MouseOut() {
	if f.hover == nil {
		return
	}
	f.leave()
	f.Refresh()
}

// Cursor implements desktop.Cursorable.
func (f *ForkDrawing) Cursor() desktop.Cursor {
	if f.hover != nil {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

func (f *ForkDrawing) leave() {
	if f.hover == nil {
		return
	}
	z := *f.hover
	f.hover = nil
	if f.OnHover != nil {
		f.OnHover(z, false)
	}
}

func (f *ForkDrawing) press(z draw.Zone) {
	if f.OnTapped != nil {
		f.OnTapped(z)
	}
}

func (f *ForkDrawing) cursorIndex(zones []draw.Zone) int {
	for i, z := range zones {
		if f.cursor != nil && *f.cursor == z {
			return i
		}
	}
	return 0
}

func (f *ForkDrawing) moveTo(i int) {
	z := draw.Zones(f.options(1))[i]
	f.cursor = &z
	f.Refresh()
	if f.OnFocus != nil {
		f.OnFocus(z)
	}
}

// moveAcross goes to the same zone of the other leg; where there is none
// (a spring against a damper) to the zone at the same place in the order.
func (f *ForkDrawing) moveAcross(zones []draw.Zone, i int, left bool) {
	want := draw.Right
	if left {
		want = draw.Left
	}
	if zones[i].Side == want {
		return
	}
	rank, best := 0, -1
	for j, z := range zones {
		if z.Side == zones[i].Side && j < i {
			rank++
		}
		if z.Side == want && (z.ID == zones[i].ID || best < 0) {
			best = j
		}
	}
	if best >= 0 && zones[best].ID != zones[i].ID && zones[i].Side != draw.None {
		best = min(best+rank, len(zones)-1)
	}
	if best >= 0 {
		f.moveTo(best)
	}
}

func (f *ForkDrawing) zoneAt(p fyne.Position) (draw.Zone, bool) {
	s := f.Size()
	return draw.ZoneAt(int(s.Width), int(s.Height), float64(p.X), float64(p.Y), f.options(1))
}

// options returns what to draw at a pixel ratio, in the colours of the theme.
func (f *ForkDrawing) options(ratio float64) draw.Options {
	o := f.opts
	th := f.Theme()
	o.Palette = theme.PaletteOf(th, fyne.CurrentApp().Settings().ThemeVariant())
	o.PixelRatio = ratio
	o.Font = theme.TextFont(th, false)
	o.LeftWord, o.RightWord, o.SideNote, o.DoNotRideWord = f.LeftWord, f.RightWord, f.SideNote, f.DoNotRideWord
	o.Clear = true
	o.Hover = f.hover
	if f.focused {
		o.Focus = f.cursor
	}
	return o
}

func (f *ForkDrawing) generate(w, h int) image.Image {
	ratio := 1.0
	if s := f.Size(); s.Width > 0 {
		ratio = float64(w) / float64(s.Width)
	}
	return draw.Paint(w, h, f.states, f.options(ratio))
}

func copied(z *draw.Zone) *draw.Zone {
	if z == nil {
		return nil
	}
	c := *z
	return &c
}

type forkRenderer struct {
	fork   *ForkDrawing
	raster *canvas.Raster
}

func (r *forkRenderer) Destroy() {}

func (r *forkRenderer) Layout(s fyne.Size) { r.raster.Resize(s) }

func (r *forkRenderer) MinSize() fyne.Size {
	h := r.fork.minHeight
	if r.fork.opts.View == draw.Stripped {
		return fyne.NewSize(h*0.72, h)
	}
	return fyne.NewSize(h*0.6, h)
}

func (r *forkRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.raster} }

func (r *forkRenderer) Refresh() { r.raster.Refresh() }
