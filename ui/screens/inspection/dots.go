package inspection

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
)

// stepDots shows the checks of a zone as small marks that can be pressed: a
// ring is answered, a square fails, a dash is open, the line under one is where
// we stand.
type stepDots struct {
	widget.BaseWidget

	marks   []dotMark
	now     int
	onPress func(i int)
	onHover func(i int)
}

type dotMark int

const (
	dotOpen dotMark = iota
	dotDone
	dotFails
	dotUnsettled
)

func newStepDots(onPress, onHover func(i int)) *stepDots {
	d := &stepDots{onPress: onPress, onHover: onHover}
	d.ExtendBaseWidget(d)
	return d
}

func (d *stepDots) set(marks []dotMark, now int) {
	d.marks, d.now = marks, now
	d.Refresh()
}

func (d *stepDots) pitch() float32 {
	if len(d.marks) == 0 {
		return tokens.Target
	}
	return min(tokens.Target, d.Size().Width/float32(len(d.marks)))
}

func (d *stepDots) index(p fyne.Position) int {
	if i := int(p.X / d.pitch()); i >= 0 && i < len(d.marks) {
		return i
	}
	return -1
}

// Tapped implements fyne.Tappable.
func (d *stepDots) Tapped(e *fyne.PointEvent) {
	if i := d.index(e.Position); i >= 0 {
		d.onPress(i)
	}
}

// MouseIn implements desktop.Hoverable.
func (d *stepDots) MouseIn(e *desktop.MouseEvent) { d.MouseMoved(e) }

// MouseMoved implements desktop.Hoverable.
func (d *stepDots) MouseMoved(e *desktop.MouseEvent) { d.onHover(d.index(e.Position)) }

// MouseOut implements desktop.Hoverable.
func (d *stepDots) MouseOut() { d.onHover(-1) }

// CreateRenderer implements fyne.Widget.
func (d *stepDots) CreateRenderer() fyne.WidgetRenderer {
	r := &dotsRenderer{d: d}
	r.Refresh()
	return r
}

type dotsRenderer struct {
	d    *stepDots
	objs []fyne.CanvasObject
}

func (r *dotsRenderer) Destroy()                     {}
func (r *dotsRenderer) Objects() []fyne.CanvasObject { return r.objs }

// MinSize leaves half of the line to the caution: many dots stand closer.
func (r *dotsRenderer) MinSize() fyne.Size {
	return fyne.NewSize(tokens.Target*float32(min(max(len(r.d.marks), 1), 7)), tokens.Target)
}

func (r *dotsRenderer) Layout(fyne.Size) { r.Refresh() }

func (r *dotsRenderer) Refresh() {
	pal := theme.PaletteOf(r.d.Theme(), fyne.CurrentApp().Settings().ThemeVariant())
	r.objs = nil
	const half = 7
	for i, m := range r.d.marks {
		x, y := r.d.pitch()*(float32(i)+0.5), float32(tokens.Target)/2-2
		var o fyne.CanvasObject
		switch m {
		case dotFails:
			b := canvas.NewRectangle(pal.Replace)
			o = b
		case dotDone:
			c := canvas.NewCircle(nil)
			c.FillColor, c.StrokeColor, c.StrokeWidth = pal.Panel, pal.Reuse, 3
			o = c
		case dotUnsettled:
			b := canvas.NewRectangle(pal.Panel)
			b.StrokeColor, b.StrokeWidth, b.CornerRadius = pal.Measure, 2, 3
			o = b
		default:
			c := canvas.NewCircle(nil)
			c.FillColor, c.StrokeColor, c.StrokeWidth = pal.Paper, pal.QuietInk, 1
			o = c
		}
		o.Move(fyne.NewPos(x-half, y-half))
		o.Resize(fyne.NewSize(2*half, 2*half))
		r.objs = append(r.objs, o)
		if i == r.d.now {
			l := canvas.NewRectangle(pal.Accent)
			l.Move(fyne.NewPos(x-11, float32(tokens.Target)-7))
			l.Resize(fyne.NewSize(22, 4))
			r.objs = append(r.objs, l)
		}
	}
	canvas.Refresh(r.d)
}
