package visitbar

import "fyne.io/fyne/v2"

// Reveal scrolls until an object of the body is seen, its top before its foot
// where it is higher than the room.
func (p *Page) Reveal(o fyne.CanvasObject) {
	if p.scroll == nil || o == nil {
		return
	}
	d := fyne.CurrentApp().Driver()
	top := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(p.scroll.Content).Y
	foot, at, room := top+o.Size().Height, p.scroll.Offset, p.scroll.Size().Height
	switch {
	case top < at.Y || o.Size().Height > room:
		at.Y = top
	case foot > at.Y+room:
		at.Y = foot - room
	default:
		return
	}
	p.scroll.ScrollToOffset(at)
}
