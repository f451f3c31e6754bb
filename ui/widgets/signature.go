package widgets

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme/tokens"
)

// SignatureShape is how much wider than high the field of a signature is: its
// strokes are kept in shares of the field, so that every field must be alike.
const SignatureShape = 3.0

// A signature is 100 strokes and 6000 points at most: a hand that leans on the
// screen must not fill the library.
const (
	mostStrokes = 100
	mostPoints  = 6000
)

// SignaturePad takes a signature drawn with mouse, pen or finger. Its strokes
// are lines of points in shares of the field.
type SignaturePad struct {
	widget.BaseWidget

	// OnChanged is called when a stroke is finished, taken back or cleared by hand.
	OnChanged func()

	strokes inspect.Signature
	drawing bool
	locked  bool
	hint    string
}

var (
	_ desktop.Mouseable  = (*SignaturePad)(nil)
	_ fyne.Draggable     = (*SignaturePad)(nil)
	_ desktop.Cursorable = (*SignaturePad)(nil)
)

// NewSignaturePad returns an empty field with a quiet word on its line.
func NewSignaturePad(hint string, onChanged func()) *SignaturePad {
	p := &SignaturePad{OnChanged: onChanged, hint: hint}
	p.ExtendBaseWidget(p)
	return p
}

// Strokes returns what is drawn, nil where nothing is.
func (p *SignaturePad) Strokes() inspect.Signature {
	var out inspect.Signature
	for _, s := range p.strokes {
		out = append(out, append([]inspect.Spot(nil), s...))
	}
	return out
}

// SetStrokes shows a kept signature; points that lie nowhere are left out.
func (p *SignaturePad) SetStrokes(sig inspect.Signature) {
	p.strokes, p.drawing = nil, false
	for _, s := range sig {
		var kept []inspect.Spot
		for _, q := range s {
			if q.X >= 0 && q.X <= 1 && q.Y >= 0 && q.Y <= 1 {
				kept = append(kept, q)
			}
		}
		if kept != nil {
			p.strokes = append(p.strokes, kept)
		}
	}
	p.Refresh()
}

// SetLocked shows a signature that can't be drawn on.
func (p *SignaturePad) SetLocked(on bool) { p.locked = on; p.Refresh() }

// Clear takes everything away.
func (p *SignaturePad) Clear() {
	if len(p.strokes) > 0 && !p.locked {
		p.strokes, p.drawing = nil, false
		p.changed()
	}
}

// Undo takes the last stroke away.
func (p *SignaturePad) Undo() {
	if n := len(p.strokes); n > 0 && !p.locked {
		p.strokes, p.drawing = p.strokes[:n-1], false
		p.changed()
	}
}

func (p *SignaturePad) changed() {
	p.Refresh()
	if p.OnChanged != nil {
		p.OnChanged()
	}
}

// field is the part of the widget that is drawn on: the largest of the shape.
func (p *SignaturePad) field() (at fyne.Position, size fyne.Size) {
	s := p.Size()
	size = fyne.NewSize(min(s.Width, s.Height*SignatureShape), min(s.Height, s.Width/SignatureShape))
	return fyne.NewPos((s.Width-size.Width)/2, (s.Height-size.Height)/2), size
}

// spot is a place of the widget in shares of the field, pulled in at its edge.
func (p *SignaturePad) spot(at fyne.Position) (inspect.Spot, bool) {
	o, f := p.field()
	if f.Width <= 0 || f.Height <= 0 {
		return inspect.Spot{}, false
	}
	in := func(x float32) float64 { return math.Round(max(0, min(1, float64(x)))*1e4) / 1e4 }
	q := inspect.Spot{X: in((at.X - o.X) / f.Width), Y: in((at.Y - o.Y) / f.Height)}
	return q, q.X == q.X && q.Y == q.Y
}

// MouseDown implements desktop.Mouseable: a stroke begins.
func (p *SignaturePad) MouseDown(e *desktop.MouseEvent) {
	if e.Button == desktop.MouseButtonPrimary || e.Button == 0 {
		p.begin(e.Position)
	}
}

// MouseUp implements desktop.Mouseable: the stroke ends.
func (p *SignaturePad) MouseUp(*desktop.MouseEvent) { p.end() }

// Dragged implements fyne.Draggable.
func (p *SignaturePad) Dragged(e *fyne.DragEvent) {
	if !p.drawing {
		p.begin(e.Position.Subtract(fyne.NewPos(e.Dragged.DX, e.Dragged.DY)))
	}
	p.draw(e.Position)
}

// DragEnd implements fyne.Draggable.
func (p *SignaturePad) DragEnd() { p.end() }

// Cursor implements desktop.Cursorable.
func (p *SignaturePad) Cursor() desktop.Cursor {
	if p.locked {
		return desktop.DefaultCursor
	}
	return desktop.CrosshairCursor
}

func (p *SignaturePad) begin(at fyne.Position) {
	q, ok := p.spot(at)
	if p.locked || p.drawing || !ok || len(p.strokes) >= mostStrokes {
		return
	}
	p.drawing = true
	p.strokes = append(p.strokes, []inspect.Spot{q})
	p.Refresh()
}

// near is the least way between two points of a stroke, in shares of the width.
const near = 0.003

func (p *SignaturePad) draw(at fyne.Position) {
	q, ok := p.spot(at)
	if !p.drawing || !ok || p.points() >= mostPoints {
		return
	}
	s := &p.strokes[len(p.strokes)-1]
	last := (*s)[len(*s)-1]
	if math.Hypot(q.X-last.X, (q.Y-last.Y)/SignatureShape) < near {
		return
	}
	*s = append(*s, q)
	p.Refresh()
}

func (p *SignaturePad) points() (n int) {
	for _, s := range p.strokes {
		n += len(s)
	}
	return n
}

func (p *SignaturePad) end() {
	if p.drawing {
		p.drawing = false
		p.changed()
	}
}

// CreateRenderer implements fyne.Widget.
func (p *SignaturePad) CreateRenderer() fyne.WidgetRenderer {
	box, word := canvas.NewRectangle(nil), canvas.NewText("", nil)
	ink := canvas.NewRaster(p.paint)
	layout := func(fyne.Size) {
		at, f := p.field()
		place(box, at.X, at.Y, f.Width, f.Height)
		place(ink, at.X, at.Y, f.Width, f.Height)
		m := word.MinSize()
		place(word, at.X+(f.Width-m.Width)/2, at.Y+f.Height*signLine+2, m.Width, m.Height)
	}
	refresh := func() {
		pal := paletteOf(p)
		box.FillColor, box.StrokeColor, box.StrokeWidth, box.CornerRadius = pal.Panel, pal.QuietInk, 1, tokens.Radius
		setText(word, p.hint, captionSize(p), pal.QuietInk, false)
		word.Hidden = len(p.strokes) > 0
		layout(p.Size())
		box.Refresh()
		ink.Refresh()
	}
	least := func() fyne.Size { return fyne.NewSize(240, 80) }
	return newRendered([]fyne.CanvasObject{box, word, ink}, layout, least, refresh)
}

// signLine is where the line to sign on lies, in shares of the height.
const signLine = 0.74

// paint draws at device pixels, so that the strokes are sharp on any screen.
func (p *SignaturePad) paint(w, h int) image.Image {
	k := pen.New(w, h)
	if w < 2 || h < 2 {
		return k.Image()
	}
	pal := paletteOf(p)
	k.Stroke(pen.Line(.06*float64(w), signLine*float64(h), .94*float64(w), signLine*float64(h)), max(1, float64(h)/180), pal.Line)
	width := max(2, float64(w)/190)
	for _, s := range p.strokes {
		if len(s) == 1 {
			k.Fill(pen.Circle(s[0].X*float64(w), s[0].Y*float64(h), .8*width), pal.Ink)
			continue
		}
		k.Stroke(smooth(s, float64(w), float64(h)), width, pal.Ink)
	}
	return k.Image()
}

// smooth lays a curve through the middles of the pieces of a stroke: the points
// of a fast hand lie far apart.
func smooth(s []inspect.Spot, w, h float64) *pen.Path {
	at := func(i int) (x, y float64) { return s[i].X * w, s[i].Y * h }
	x, y := at(0)
	path := new(pen.Path).M(x, y)
	for i := 1; i < len(s)-1; i++ {
		x1, y1 := at(i)
		x2, y2 := at(i + 1)
		path.Q(x1, y1, (x1+x2)/2, (y1+y2)/2)
	}
	x, y = at(len(s) - 1)
	return path.L(x, y)
}
