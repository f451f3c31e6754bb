package widgets

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme/tokens"
)

// PhotoView shows one photo whole, and larger on demand: the wheel and + and
// - zoom, dragging and the arrows move, a double tap and 0 show it whole
// again. Give it pixels already turned upright and reduced to about twice
// its size.
type PhotoView struct {
	widget.BaseWidget

	// OnTapped is called with the place in the photo, 0 to 1 both ways.
	OnTapped func(x, y float64)
	// OnView is called after the user has zoomed or moved, so that a second
	// view can follow with SetZoom.
	OnView func(zoom, x, y float64)

	img     *canvas.Image
	caption string
	zoom    float64 // 1 shows the photo whole
	cx, cy  float64 // the place of the photo in the middle, 0 to 1
	focused bool
}

const maxZoom = 12

// NewPhotoView returns an empty view.
func NewPhotoView() *PhotoView {
	p := &PhotoView{img: canvas.NewImageFromImage(nil), zoom: 1, cx: 0.5, cy: 0.5}
	p.img.FillMode = canvas.ImageFillStretch
	p.img.ScaleMode = canvas.ImageScaleFastest
	p.ExtendBaseWidget(p)
	return p
}

// CreateRenderer implements fyne.Widget.
func (p *PhotoView) CreateRenderer() fyne.WidgetRenderer {
	ground, frame := canvas.NewRectangle(nil), canvas.NewRectangle(nil)
	frame.CornerRadius = 2
	caption := canvas.NewText("", nil)
	clip := container.NewClip(container.NewWithoutLayout(p.img))
	refresh := func() {
		pal := paletteOf(p)
		ground.FillColor, frame.FillColor = pal.Paper, color.Transparent
		frame.StrokeColor, frame.StrokeWidth = pal.Accent, 3
		frame.Hidden = !p.focused
		setText(caption, shorten(p.caption, max(p.Size().Width-tokens.Step, 0), captionSize(p), fyne.TextStyle{}), captionSize(p), pal.QuietInk, false)
		p.img.Hidden = p.img.Image == nil
		p.arrange()
		ground.Refresh()
		frame.Refresh()
		clip.Refresh()
	}
	layout := func(s fyne.Size) {
		refresh()
		room := p.room()
		place(ground, 0, 0, room.Width, room.Height)
		place(frame, 0, 0, room.Width, room.Height)
		place(clip, 0, 0, room.Width, room.Height)
		clip.Content.Resize(room)
		m := caption.MinSize()
		place(caption, tokens.Inner, room.Height+tokens.Inner, m.Width, m.Height)
	}
	least := func() fyne.Size { return fyne.NewSize(160, 140) }
	return newRendered([]fyne.CanvasObject{ground, clip, frame, caption}, layout, least, refresh)
}

// SetPhoto shows a photo whole with a caption such as its date; nil shows
// an empty view.
func (p *PhotoView) SetPhoto(img image.Image, caption string) {
	p.img.Image, p.caption = img, caption
	p.zoom, p.cx, p.cy = 1, 0.5, 0.5
	p.img.Refresh()
	p.Refresh()
}

// ResetZoom shows the photo whole.
func (p *PhotoView) ResetZoom() { p.SetZoom(1, 0.5, 0.5) }

// Zoom returns the zoom, 1 for whole, and the place in the middle.
func (p *PhotoView) Zoom() (zoom, x, y float64) { return p.zoom, p.cx, p.cy }

// SetZoom zooms and moves without calling OnView; values out of range are
// pulled in.
func (p *PhotoView) SetZoom(zoom, x, y float64) {
	if math.IsNaN(zoom + x + y) {
		return
	}
	p.zoom = math.Max(1, math.Min(zoom, maxZoom))
	p.cx, p.cy = x, y
	p.keepInside()
	p.Refresh()
}

// Tapped implements fyne.Tappable.
func (p *PhotoView) Tapped(e *fyne.PointEvent) {
	x, y, ok := p.photoAt(e.Position)
	if ok && p.OnTapped != nil {
		p.OnTapped(x, y)
	}
}

// DoubleTapped implements fyne.DoubleTappable.
func (p *PhotoView) DoubleTapped(e *fyne.PointEvent) {
	if p.zoom > 1 {
		p.look(1, 0.5, 0.5)
		return
	}
	if x, y, ok := p.photoAt(e.Position); ok {
		p.look(3, x, y)
	}
}

// Scrolled implements fyne.Scrollable: it zooms round the mouse.
func (p *PhotoView) Scrolled(e *fyne.ScrollEvent) {
	x, y, ok := p.photoAt(e.Position)
	if !ok {
		return
	}
	zoom := math.Max(1, math.Min(p.zoom*math.Pow(1.0035, float64(e.Scrolled.DY)), maxZoom))
	k := p.zoom / zoom
	p.look(zoom, x+(p.cx-x)*k, y+(p.cy-y)*k)
}

// Dragged implements fyne.Draggable.
func (p *PhotoView) Dragged(e *fyne.DragEvent) {
	if w := p.fitted(); w.Width > 0 && w.Height > 0 {
		p.look(p.zoom, p.cx-float64(e.Dragged.DX/w.Width)/p.zoom, p.cy-float64(e.Dragged.DY/w.Height)/p.zoom)
	}
}

// DragEnd implements fyne.Draggable.
func (p *PhotoView) DragEnd() {}

// FocusGained implements fyne.Focusable.
func (p *PhotoView) FocusGained() { p.focused = true; p.Refresh() }

// FocusLost implements fyne.Focusable.
func (p *PhotoView) FocusLost() { p.focused = false; p.Refresh() }

// TypedRune implements fyne.Focusable.
func (p *PhotoView) TypedRune(r rune) {
	switch r {
	case '+':
		p.look(p.zoom*1.4, p.cx, p.cy)
	case '-':
		p.look(p.zoom/1.4, p.cx, p.cy)
	case '0':
		p.look(1, 0.5, 0.5)
	}
}

// TypedKey implements fyne.Focusable.
func (p *PhotoView) TypedKey(e *fyne.KeyEvent) {
	step := 0.15 / p.zoom
	switch e.Name {
	case fyne.KeyLeft:
		p.look(p.zoom, p.cx-step, p.cy)
	case fyne.KeyRight:
		p.look(p.zoom, p.cx+step, p.cy)
	case fyne.KeyUp:
		p.look(p.zoom, p.cx, p.cy-step)
	case fyne.KeyDown:
		p.look(p.zoom, p.cx, p.cy+step)
	}
}

// Cursor implements desktop.Cursorable.
func (p *PhotoView) Cursor() desktop.Cursor { return desktop.CrosshairCursor }

func (p *PhotoView) look(zoom, x, y float64) {
	p.SetZoom(zoom, x, y)
	if p.OnView != nil {
		p.OnView(p.zoom, p.cx, p.cy)
	}
}

// room is the part of the widget that shows the photo.
func (p *PhotoView) room() fyne.Size {
	s := p.Size()
	if p.caption != "" {
		s.Height -= captionSize(p)*1.4 + 2*tokens.Inner
	}
	return fyne.NewSize(max(s.Width, 0), max(s.Height, 0))
}

// fitted is the size of the whole photo in the room.
func (p *PhotoView) fitted() fyne.Size {
	if p.img.Image == nil {
		return fyne.Size{}
	}
	b, room := p.img.Image.Bounds(), p.room()
	if b.Empty() || room.Width <= 0 || room.Height <= 0 {
		return fyne.Size{}
	}
	k := min(room.Width/float32(b.Dx()), room.Height/float32(b.Dy()))
	return fyne.NewSize(float32(b.Dx())*k, float32(b.Dy())*k)
}

// keepInside pulls the middle in, so that no edge of the photo comes into
// the room while the photo is larger than it.
func (p *PhotoView) keepInside() {
	f, room := p.fitted(), p.room()
	p.cx = pulled(p.cx, float64(room.Width), float64(f.Width)*p.zoom)
	p.cy = pulled(p.cy, float64(room.Height), float64(f.Height)*p.zoom)
}

func pulled(c, room, size float64) float64 {
	if size <= room || size <= 0 {
		return 0.5
	}
	half := room / size / 2
	return math.Max(half, math.Min(c, 1-half))
}

func (p *PhotoView) arrange() {
	f, room, z := p.fitted(), p.room(), float32(p.zoom)
	w, h := f.Width*z, f.Height*z
	place(p.img, room.Width/2-w*float32(p.cx), room.Height/2-h*float32(p.cy), w, h)
}

// photoAt returns the place in the photo under a point of the widget.
func (p *PhotoView) photoAt(q fyne.Position) (x, y float64, ok bool) {
	s := p.img.Size()
	if s.Width <= 0 || s.Height <= 0 {
		return 0, 0, false
	}
	at := p.img.Position()
	x, y = float64((q.X-at.X)/s.Width), float64((q.Y-at.Y)/s.Height)
	return x, y, x >= 0 && x <= 1 && y >= 0 && y <= 1
}
