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

// sideBySide is the least width at which facts and keys share a line.
const sideBySide = 700

// rowOf sets ticket, facts and keys side by side, or the keys under the facts
// where the facts would be cut off.
type rowOf struct{ width float32 }

// MinSize implements fyne.Layout.
func (r *rowOf) MinSize(os []fyne.CanvasObject) fyne.Size {
	ticket, facts, keys := os[0].MinSize(), os[1].MinSize(), os[2].MinSize()
	h := max(ticket.Height, facts.Height, keys.Height)
	if r.width < sideBySide {
		h = max(ticket.Height, facts.Height+keys.Height)
	}
	return fyne.NewSize(ticket.Width+max(facts.Width, keys.Width), h)
}

// Layout implements fyne.Layout.
func (r *rowOf) Layout(os []fyne.CanvasObject, s fyne.Size) {
	r.width = s.Width
	ticket, keys := os[0].MinSize().Width, os[2].MinSize()
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(fyne.NewSize(ticket, s.Height))
	os[1].Move(fyne.NewPos(ticket, 0))
	if r.width < sideBySide {
		os[0].Resize(fyne.NewSize(ticket, os[0].MinSize().Height)) // beside the fork's name
		os[1].Resize(fyne.NewSize(s.Width-ticket, s.Height-keys.Height))
		os[2].Resize(keys)
		os[2].Move(fyne.NewPos(s.Width-keys.Width, s.Height-keys.Height))
		return
	}
	os[1].Resize(fyne.NewSize(s.Width-ticket-keys.Width-tokens.Step, s.Height))
	os[2].Resize(fyne.NewSize(keys.Width, s.Height))
	os[2].Move(fyne.NewPos(s.Width-keys.Width, 0))
}

// across is the least width at which the three facts of a fork stand side by
// side, inTwo that at which the first two do, with the third under them.
const (
	across = 640
	inTwo  = 400
)

// thirds puts its children side by side, or one under the other where there is
// no room for it. It remembers its width, on which its height depends.
type thirds struct{ width float32 }

// shares are the shares of the width that the children of each line take.
func (t *thirds) shares() [][]float32 {
	switch {
	case t.width >= across:
		return [][]float32{{0.32, 0.33, 0.35}}
	case t.width >= inTwo:
		return [][]float32{{0.48, 0.52}, {1}} // the day promised is the longer one
	}
	return [][]float32{{1}, {1}, {1}}
}

// walk goes through the children with the height of the line each stands in.
func (t *thirds) walk(os []fyne.CanvasObject, put func(o fyne.CanvasObject, x, y, share, line float32)) (height float32) {
	for _, shares := range t.shares() {
		line := float32(0)
		for i := range shares {
			line = max(line, os[i].MinSize().Height)
		}
		x := float32(0)
		for i, share := range shares {
			put(os[i], x, height, share, line)
			x += share
		}
		os, height = os[len(shares):], height+line
	}
	return height
}

// MinSize implements fyne.Layout.
func (t *thirds) MinSize(os []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(120, t.walk(os, func(fyne.CanvasObject, float32, float32, float32, float32) {}))
}

// Layout implements fyne.Layout.
func (t *thirds) Layout(os []fyne.CanvasObject, s fyne.Size) {
	t.width = s.Width
	t.walk(os, func(o fyne.CanvasObject, x, y, share, line float32) {
		if t.width >= across { // the only line has all the height
			line = s.Height
		}
		o.Move(fyne.NewPos(x*s.Width, y))
		o.Resize(fyne.NewSize(share*s.Width, line))
	})
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
