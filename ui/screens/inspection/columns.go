package inspection

import (
	"fyne.io/fyne/v2"

	"forkwear/ui/theme/tokens"
)

// threeColumns lays drawing, card and photos side by side, or below each other
// (card first) where the window is narrow or its scale is large.
type threeColumns struct {
	narrow  bool
	changed func() // the least size is another one now
}

const (
	drawingWidth = 256
	photoWidth   = 304
	wideFrom     = 940
	// stackedHeight is the least height of a column that stands below another.
	stackedHeight = 600
)

func (t *threeColumns) MinSize(objs []fyne.CanvasObject) fyne.Size {
	h := float32(0)
	for _, o := range objs {
		m := o.MinSize().Height
		if t.narrow {
			h += max(m, stackedHeight) + 2*tokens.Step
			continue
		}
		h = max(h, m)
	}
	return fyne.NewSize(320, h)
}

func (t *threeColumns) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	left, middle, right := objs[0], objs[1], objs[2]
	narrow := size.Width < wideFrom
	if narrow != t.narrow {
		t.narrow = narrow
		if t.changed != nil {
			t.changed()
		}
	}
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(w, h))
	}
	if t.narrow {
		y := float32(0)
		for _, o := range []fyne.CanvasObject{middle, left, right} {
			h := max(o.MinSize().Height, stackedHeight)
			put(o, 0, y, size.Width-scrollBar, h)
			y += h + 2*tokens.Step
		}
		return
	}
	gap := float32(2 * tokens.Step)
	put(left, 0, 0, drawingWidth, size.Height)
	put(middle, drawingWidth+gap, 0, size.Width-drawingWidth-photoWidth-2*gap, size.Height)
	put(right, size.Width-photoWidth, 0, photoWidth, size.Height)
}

// tightRows lays rows below each other without a gap: chips bring their own.
type tightRows struct{}

func (tightRows) MinSize(objs []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	for _, o := range objs {
		if o.Visible() {
			m := o.MinSize()
			s = fyne.NewSize(max(s.Width, m.Width), s.Height+m.Height-6)
		}
	}
	return s
}

func (tightRows) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, o := range objs {
		if !o.Visible() {
			continue
		}
		h := o.MinSize().Height
		o.Move(fyne.NewPos(0, y-3))
		o.Resize(fyne.NewSize(size.Width, h))
		y += h - 6
	}
}
