package widgets

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"forkwear/ui/theme/tokens"
)

// PhotoCell is a small photo in a grid. Grids use cells again for other
// photos, so every late setter names the photo it is meant for and does
// nothing when the cell shows another one by then.
type PhotoCell struct {
	press

	// OnTapped is called with the id of the photo.
	OnTapped func(id string)

	id, caption, failed string
	selected            bool
	img                 *canvas.Image
}

// NewPhotoCell returns an empty cell.
func NewPhotoCell(onTapped func(id string)) *PhotoCell {
	c := &PhotoCell{OnTapped: onTapped, img: canvas.NewImageFromImage(nil)}
	c.img.FillMode = canvas.ImageFillCover
	c.img.ScaleMode = canvas.ImageScaleFastest
	c.img.CornerRadius = tokens.Inner
	c.onPress = func() {
		if c.OnTapped != nil && c.id != "" {
			c.OnTapped(c.id)
		}
	}
	c.ExtendBaseWidget(c)
	return c
}

// CreateRenderer implements fyne.Widget.
func (c *PhotoCell) CreateRenderer() fyne.WidgetRenderer {
	box, text, note := canvas.NewRectangle(nil), canvas.NewText("", nil), canvas.NewText("", nil)
	var layout func(fyne.Size)
	refresh := func() {
		pal := paletteOf(c)
		c.ground(box, pal, c.selected)
		room := max(c.Size().Width-tokens.Step, 0)
		setText(text, shorten(c.caption, room, captionSize(c), fyne.TextStyle{}), captionSize(c), pal.QuietInk, false)
		setText(note, shorten(c.failed, room, captionSize(c), fyne.TextStyle{}), captionSize(c), pal.QuietInk, false)
		c.img.Hidden = c.img.Image == nil
		box.Refresh()
		layout(c.Size())
	}
	layout = func(s fyne.Size) {
		box.Resize(s)
		low := float32(0)
		if c.caption != "" {
			low = text.MinSize().Height
		}
		w, h := max(s.Width-2*tokens.Inner, 0), max(s.Height-2*tokens.Inner-low, 0)
		place(c.img, tokens.Inner, tokens.Inner, w, h)
		centre(note, 0, 0, s.Width, s.Height-low)
		place(text, tokens.Inner+2, s.Height-low-2, text.MinSize().Width, text.MinSize().Height)
	}
	resized := func(s fyne.Size) { refresh() }
	least := func() fyne.Size { return fyne.NewSize(112, 104) }
	return newRendered([]fyne.CanvasObject{box, c.img, note, text}, resized, least, refresh)
}

// SetID gives the cell to another photo and empties it until its pixels come.
func (c *PhotoCell) SetID(id, caption string) {
	if id != c.id {
		c.img.Image, c.failed = nil, ""
		c.img.Refresh()
	}
	c.id, c.caption = id, caption
	c.Refresh()
}

// ID returns the photo the cell belongs to.
func (c *PhotoCell) ID() string { return c.id }

// SetImage shows the pixels of a photo, cut for the cell, if the cell still
// belongs to it. Call it on the main goroutine.
func (c *PhotoCell) SetImage(id string, img image.Image) {
	if id != c.id {
		return
	}
	c.img.Image, c.failed = img, ""
	c.Refresh()
	c.img.Refresh()
}

// SetFailed shows why a photo cannot be shown, if the cell still belongs to it.
func (c *PhotoCell) SetFailed(id, why string) {
	if id != c.id {
		return
	}
	c.img.Image, c.failed = nil, why
	c.Refresh()
}

// SetSelected shows the cell as chosen.
func (c *PhotoCell) SetSelected(on bool) { c.selected = on; c.Refresh() }
