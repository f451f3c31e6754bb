package bench

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"forkwear/ui/theme/tokens"
)

// atLeast gives its only child a least size and all of the room.
type atLeast struct{ width, height float32 }

// MinSize implements fyne.Layout.
func (a atLeast) MinSize(os []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(a.width, a.height).Max(os[0].MinSize())
}

// Layout implements fyne.Layout.
func (a atLeast) Layout(os []fyne.CanvasObject, s fyne.Size) {
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(s)
}

// across is the least width at which the facts of a fork stand side by side.
const across = 420

// thirds puts its children side by side, or one under the other where there is
// no room for it. It remembers its width, on which its height depends.
type thirds struct{ width float32 }

// MinSize implements fyne.Layout.
func (t *thirds) MinSize(os []fyne.CanvasObject) fyne.Size {
	tallest, sum := float32(0), float32(0)
	for _, o := range os {
		h := o.MinSize().Height
		tallest, sum = max(tallest, h), sum+h
	}
	if t.width < across {
		tallest = sum
	}
	return fyne.NewSize(120, tallest)
}

// Layout implements fyne.Layout.
func (t *thirds) Layout(os []fyne.CanvasObject, s fyne.Size) {
	t.width = s.Width
	shares := []float32{0.34, 0.33, 0.33}
	x, y := float32(0), float32(0)
	for i, o := range os {
		o.Move(fyne.NewPos(x, y))
		if t.width < across {
			h := o.MinSize().Height
			o.Resize(fyne.NewSize(s.Width, h))
			y += h
			continue
		}
		w := s.Width * shares[i]
		o.Resize(fyne.NewSize(w, s.Height))
		x += w
	}
}

// column sets cards one under the other. Each is sized twice: the first time
// it learns its width, the second time it knows its height.
type column struct{}

// MinSize implements fyne.Layout.
func (*column) MinSize(os []fyne.CanvasObject) fyne.Size {
	var w, h float32
	for _, o := range os {
		m := o.MinSize()
		w, h = max(w, m.Width), h+m.Height+tokens.Step
	}
	return fyne.NewSize(w, h)
}

// Layout implements fyne.Layout.
func (*column) Layout(os []fyne.CanvasObject, s fyne.Size) {
	y := float32(0)
	for _, o := range os {
		o.Move(fyne.NewPos(0, y))
		for range 2 {
			o.Resize(fyne.NewSize(s.Width, o.MinSize().Height))
		}
		y += o.Size().Height + tokens.Step
	}
}

// settling fills its room with one child and lets a scrolled list find its
// height for a new width.
type settling struct{}

// MinSize implements fyne.Layout.
func (settling) MinSize(os []fyne.CanvasObject) fyne.Size { return os[0].MinSize() }

// Layout implements fyne.Layout.
func (settling) Layout(os []fyne.CanvasObject, s fyne.Size) {
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(s)
	if list, ok := os[0].(*container.Scroll); ok {
		for range 2 {
			list.Refresh()
		}
	}
}
