package widgets

import "fyne.io/fyne/v2"

// rendered is a widget renderer put together from its parts. It holds no
// state of its own: renderers are dropped and made again while a widget is
// out of sight.
type rendered struct {
	objects []fyne.CanvasObject
	layout  func(fyne.Size)
	min     func() fyne.Size
	refresh func()
}

func newRendered(objects []fyne.CanvasObject, layout func(fyne.Size), least func() fyne.Size, refresh func()) *rendered {
	refresh()
	return &rendered{objects: objects, layout: layout, min: least, refresh: refresh}
}

func (r *rendered) Destroy() {}

func (r *rendered) Layout(s fyne.Size) { r.layout(s) }

func (r *rendered) MinSize() fyne.Size { return r.min() }

func (r *rendered) Objects() []fyne.CanvasObject { return r.objects }

func (r *rendered) Refresh() { r.refresh() }

// place moves and resizes in one go.
func place(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(w, h))
}

// centre puts o at its least size in the middle of a box.
func centre(o fyne.CanvasObject, x, y, w, h float32) {
	m := o.MinSize()
	place(o, x+(w-m.Width)/2, y+(h-m.Height)/2, m.Width, m.Height)
}
