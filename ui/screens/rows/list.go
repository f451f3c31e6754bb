package rows

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme/tokens"
)

// List is many lines under their headings. Arrows walk, Enter, Space or a press
// opens.
type List struct {
	widget.List

	columns []Column
	length  int
	fill    func(i int, l *Line)
	open    func(i int)
	extra   func() fyne.CanvasObject
}

// NewList returns an empty list; fill writes line i, open is called when line i
// is opened. extra, where it is not nil, makes the widget of the last column.
func NewList(columns []Column, fill func(i int, l *Line), open func(i int), extra func() fyne.CanvasObject) *List {
	l := &List{columns: columns, fill: fill, open: open, extra: extra}
	l.Length = func() int { return l.length }
	l.CreateItem = l.newLine
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) { l.fill(i, o.(*Line)) }
	l.OnSelected = l.onSelected
	l.ExtendBaseWidget(l)
	return l
}

func (l *List) newLine() fyne.CanvasObject {
	if l.extra != nil {
		return NewLineWith(l.columns, l.extra())
	}
	return NewLine(l.columns)
}

func (l *List) onSelected(i widget.ListItemID) {
	l.UnselectAll() // opening is an action here: no line stays chosen
	if i >= 0 && i < l.length {
		l.open(i)
	}
}

// TypedKey lets Enter open as Space does.
func (l *List) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyReturn || k.Name == fyne.KeyEnter {
		k = &fyne.KeyEvent{Name: fyne.KeySpace}
	}
	l.List.TypedKey(k)
}

// SetLength says how many lines there are and shows them again.
func (l *List) SetLength(n int) {
	l.length = n
	l.Refresh()
}

// WithHeading puts the headings over the list.
func (l *List) WithHeading() fyne.CanvasObject {
	return container.NewBorder(Heading(l.columns), nil, nil, nil, l)
}

// Heading is a line with the titles of the columns.
func Heading(columns []Column) fyne.CanvasObject {
	h := NewLine(columns).Low()
	cells := make([]Cell, len(columns))
	for i, c := range columns {
		cells[i] = Cell{Under: c.Title}
	}
	h.Set(cells...)
	return h
}

// Press is a line that can be pressed by itself.
type Press struct {
	Line

	// OnPointed is called when the mouse or the focus comes and goes.
	OnPointed func(on bool)
	// OnArrow, where it is set, is called with the arrows typed on it.
	OnArrow func(k fyne.KeyName)

	onTapped         func()
	hovered, focused bool
	selected         bool
}

// NewPress returns a line of cells with a frame.
func NewPress(columns []Column, onTapped func(), cells ...Cell) *Press {
	p := &Press{onTapped: onTapped}
	p.columns, p.cells = columns, cells
	p.ground = p.paintGround
	p.ExtendBaseWidget(p)
	return p
}

// SetSelected shows it as the one that is open.
func (p *Press) SetSelected(on bool) { p.selected = on; p.Refresh() }

func (p *Press) paintGround(pal tokens.Palette, box *canvas.Rectangle) {
	box.CornerRadius = tokens.Radius
	box.FillColor, box.StrokeColor, box.StrokeWidth = pal.Panel, pal.Line, 1
	if p.hovered {
		ink := pal.Ink
		ink.A = 0x10
		box.FillColor = tokens.Over(ink, pal.Panel)
	}
	if p.selected {
		box.FillColor, box.StrokeColor = tokens.Over(tokens.Tint(pal.Accent), pal.Panel), pal.Accent
	}
	if p.focused {
		box.StrokeColor, box.StrokeWidth = pal.Accent, 3
	}
}

// Tapped implements fyne.Tappable.
func (p *Press) Tapped(*fyne.PointEvent) { p.onTapped() }

// FocusGained implements fyne.Focusable.
func (p *Press) FocusGained() { p.focused = true; p.pointed(true) }

// FocusLost implements fyne.Focusable.
func (p *Press) FocusLost() { p.focused = false; p.pointed(false) }

// TypedRune implements fyne.Focusable.
func (p *Press) TypedRune(rune) {}

// TypedKey implements fyne.Focusable.
func (p *Press) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		p.onTapped()
	case fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyRight:
		if p.OnArrow != nil {
			p.OnArrow(k.Name)
		}
	}
}

// MouseIn implements desktop.Hoverable.
func (p *Press) MouseIn(*desktop.MouseEvent) { p.hovered = true; p.pointed(true) }

// MouseMoved implements desktop.Hoverable.
func (p *Press) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (p *Press) MouseOut() { p.hovered = false; p.pointed(false) }

func (p *Press) pointed(on bool) {
	p.Refresh()
	if p.OnPointed != nil {
		p.OnPointed(on)
	}
}

// Cursor implements desktop.Cursorable.
func (p *Press) Cursor() desktop.Cursor { return desktop.PointerCursor }
