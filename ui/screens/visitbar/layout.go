package visitbar

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// columns lays objects beside each other, or under each other where the room
// is narrower than all of them need. A width of 0 shares what is left over.
type columns struct {
	widths []float32
	gap    float32
	narrow bool
	least  float32 // width that one share needs to be read
	middle bool    // fixed columns stand in the middle of the height
}

// Columns lays objects beside each other: a width over 0 is fixed, 0 and less
// share the rest by weight (0 is one share, -2 two). Where the room is too
// narrow they go under each other.
func Columns(widths []float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&columns{widths: widths, gap: 16, least: leastShare}, objects...)
}

// Row is Columns with the fixed columns in the middle of the height.
func Row(widths []float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&columns{widths: widths, gap: 8, middle: true, least: leastShare}, objects...)
}

// Tight is Row for short words: it stays a row in a narrower room.
func Tight(widths []float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&columns{widths: widths, gap: 8, middle: true, least: 120}, objects...)
}

// leastShare is the width that a share of sentences needs to be read.
const leastShare = 220

func (c *columns) need() float32 {
	w := float32(0)
	for i, x := range c.widths {
		if i > 0 {
			w += c.gap
		}
		switch {
		case x > 0:
			w += x
		case x == 0:
			w += c.least
		default:
			w -= x * c.least
		}
	}
	return w
}

func (c *columns) each(width float32) []float32 {
	left, shares := width-c.gap*float32(len(c.widths)-1), float32(0)
	for _, x := range c.widths {
		switch {
		case x > 0:
			left -= x
		case x == 0:
			shares++
		default:
			shares -= x
		}
	}
	out := make([]float32, len(c.widths))
	for i, x := range c.widths {
		switch {
		case x > 0:
			out[i] = x
		case x == 0:
			out[i] = left / shares
		default:
			out[i] = -x * left / shares
		}
	}
	return out
}

// Layout implements fyne.Layout.
func (c *columns) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	c.narrow = size.Width < c.need()
	x, y := float32(0), float32(0)
	widths := c.each(size.Width)
	for i, o := range objects {
		if !o.Visible() {
			if !c.narrow {
				x += widths[i] + c.gap
			}
			continue
		}
		if c.narrow {
			o.Resize(fyne.NewSize(size.Width, o.MinSize().Height))
			h := o.MinSize().Height
			o.Resize(fyne.NewSize(size.Width, h))
			o.Move(fyne.NewPos(0, y))
			y += h + c.gap/2
			continue
		}
		o.Resize(fyne.NewSize(widths[i], size.Height))
		o.Move(fyne.NewPos(x, 0))
		if h := o.MinSize().Height; c.middle && h < size.Height {
			o.Resize(fyne.NewSize(widths[i], h))
			o.Move(fyne.NewPos(x, (size.Height-h)/2))
		}
		x += widths[i] + c.gap
	}
}

// MinSize implements fyne.Layout: it follows the width of the last layout.
func (c *columns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	h := float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		m := o.MinSize().Height
		if c.narrow {
			h += m + c.gap/2
		} else {
			h = max(h, m)
		}
	}
	return fyne.NewSize(leastShare, h)
}

// list lays objects under each other, each as high as it needs at the width it
// gets.
type list struct{ gap float32 }

// List lays objects under each other.
func List(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&list{gap}, objects...)
}

// Layout implements fyne.Layout.
func (l *list) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		o.Resize(fyne.NewSize(size.Width, o.MinSize().Height))
		h := o.MinSize().Height // words wrap by the width, so it is asked again
		o.Resize(fyne.NewSize(size.Width, h))
		o.Move(fyne.NewPos(0, y))
		y += h + l.gap
	}
}

// MinSize implements fyne.Layout.
func (l *list) MinSize(objects []fyne.CanvasObject) fyne.Size {
	h, w := float32(0), float32(0)
	for _, o := range objects {
		if o.Visible() {
			m := o.MinSize()
			h, w = h+m.Height+l.gap, max(w, m.Width)
		}
	}
	return fyne.NewSize(w, max(0, h-l.gap))
}
