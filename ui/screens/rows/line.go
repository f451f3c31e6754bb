package rows

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
)

// Column is one column of a list.
type Column struct {
	Title string
	Share float32 // of the width, against the other columns
	Least float32 // where it gets less than this it is written under the first; 0 never
	Right bool    // figures stand at the right
}

// Cell is what stands in one column of a line.
type Cell struct {
	Text, Under string
	Folded      string // what is written under the first column instead of Text
	Bold, Quiet bool
	Mark        fyne.ThemeColorName // ink of Text instead of the usual one
}

// Line is one row of cells.
type Line struct {
	widget.BaseWidget

	columns []Column
	cells   []Cell
	extra   fyne.CanvasObject // stands in the last column, may be nil
	low     bool
	ground  func(pal tokens.Palette, box *canvas.Rectangle)
}

// NewLine returns an empty line of these columns.
func NewLine(columns []Column) *Line {
	l := &Line{columns: columns}
	l.ExtendBaseWidget(l)
	return l
}

// NewLineWith returns a line with a widget of its own in its last column.
func NewLineWith(columns []Column, extra fyne.CanvasObject) *Line {
	l := NewLine(columns)
	l.extra = extra
	return l
}

// Low gives a line that can't be pressed no more height than its text.
func (l *Line) Low() *Line { l.low = true; return l }

// Set shows cells; missing ones are empty.
func (l *Line) Set(cells ...Cell) { l.cells = cells; l.Refresh() }

// Extra returns the widget of the last column.
func (l *Line) Extra() fyne.CanvasObject { return l.extra }

// Text returns all that the line says.
func (l *Line) Text() string {
	var words []string
	for _, c := range l.cells {
		words = append(words, c.Text, c.Under)
	}
	return strings.Join(strings.Fields(strings.Join(words, " ")), " ")
}

// CreateRenderer implements fyne.Widget.
func (l *Line) CreateRenderer() fyne.WidgetRenderer {
	r := &lineRenderer{line: l, box: canvas.NewRectangle(nil)}
	r.objects = []fyne.CanvasObject{r.box}
	for range l.columns {
		top, low := canvas.NewText("", nil), canvas.NewText("", nil)
		r.top, r.low = append(r.top, top), append(r.low, low)
		r.objects = append(r.objects, top, low)
	}
	if l.extra != nil {
		r.objects = append(r.objects, l.extra)
	}
	return r
}

type lineRenderer struct {
	line     *Line
	box      *canvas.Rectangle
	top, low []*canvas.Text
	objects  []fyne.CanvasObject
}

func (r *lineRenderer) Destroy()                     {}
func (r *lineRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *lineRenderer) Layout(s fyne.Size)           { r.paint(s) }
func (r *lineRenderer) Refresh()                     { r.paint(r.line.Size()) }

// MinSize has room for two lines of text; the width is taken from the list.
func (r *lineRenderer) MinSize() fyne.Size {
	th := r.line.Theme()
	text := fyne.MeasureText("M", th.Size(fynetheme.SizeNameText), fyne.TextStyle{}).Height
	under := fyne.MeasureText("M", th.Size(fynetheme.SizeNameCaptionText), fyne.TextStyle{}).Height
	if r.line.low {
		return fyne.NewSize(120, r.least(text, under))
	}
	return fyne.NewSize(120, max(tokens.Target, text+under+tokens.Step))
}

// least is the height of what the cells say.
func (r *lineRenderer) least(text, under float32) float32 {
	top, low := float32(0), float32(0)
	for i := range r.line.cells {
		if r.line.cells[i].Text != "" {
			top = text
		}
		if r.cell(i, fitted(r.line.columns, max(240, r.line.Size().Width))).Under != "" {
			low = under
		}
	}
	return top + low + tokens.Step
}

func (r *lineRenderer) paint(s fyne.Size) {
	pal := theme.PaletteOf(r.line.Theme(), fyne.CurrentApp().Settings().ThemeVariant())
	r.box.Resize(s)
	r.box.Hidden = r.line.ground == nil
	if r.line.ground != nil {
		r.line.ground(pal, r.box)
	}
	r.box.Refresh()
	widths := fitted(r.line.columns, s.Width)
	x := float32(tokens.Step)
	for i := range r.line.columns {
		c := r.cell(i, widths)
		if i == len(r.line.columns)-1 && r.line.extra != nil {
			r.line.extra.Move(fyne.NewPos(x, (s.Height-r.line.extra.MinSize().Height)/2))
			r.line.extra.Resize(fyne.NewSize(max(0, widths[i]-tokens.Step), r.line.extra.MinSize().Height))
		}
		r.write(i, c, x, widths[i], s.Height, pal)
		x += widths[i]
	}
}

// cell is the cell of a column, the first with what does not fit under it.
func (r *lineRenderer) cell(i int, widths []float32) Cell {
	var c Cell
	if i < len(r.line.cells) {
		c = r.line.cells[i]
	}
	if i > 0 {
		return c
	}
	for j := 1; j < len(widths) && j < len(r.line.cells); j++ {
		text := r.line.cells[j].Text
		if f := r.line.cells[j].Folded; f != "" {
			text = f
		}
		if widths[j] == 0 && text != "" {
			c.Under = strings.TrimPrefix(c.Under+" · "+text, " · ")
		}
	}
	return c
}

func (r *lineRenderer) write(i int, c Cell, x, width, height float32, pal tokens.Palette) {
	th := r.line.Theme()
	top, low := r.top[i], r.low[i]
	room := max(0, width-2*tokens.Step)
	top.TextSize, low.TextSize = th.Size(fynetheme.SizeNameText), th.Size(fynetheme.SizeNameCaptionText)
	top.TextStyle = fyne.TextStyle{Bold: c.Bold}
	top.Color, low.Color = pal.Ink, pal.QuietInk
	if c.Quiet {
		top.Color = pal.QuietInk
	}
	if c.Mark != "" {
		top.Color = th.Color(c.Mark, fyne.CurrentApp().Settings().ThemeVariant())
	}
	top.Text = Shorten(c.Text, room, top.TextSize, top.TextStyle)
	low.Text = Shorten(c.Under, room, low.TextSize, low.TextStyle)
	th1, th2 := top.MinSize().Height, low.MinSize().Height
	if c.Under == "" {
		th2 = 0
	}
	y := (height - th1 - th2) / 2
	for k, t := range []*canvas.Text{top, low} {
		left := x
		if r.line.columns[i].Right {
			left = x + max(0, room-t.MinSize().Width)
		}
		t.Move(fyne.NewPos(left, y+float32(k)*th1))
		t.Resize(t.MinSize())
		t.Refresh()
	}
}

// fitted shares a width out; columns that get less than they need, from the
// last, get nothing.
func fitted(columns []Column, width float32) []float32 {
	width -= 2 * tokens.Step
	shown := make([]bool, len(columns))
	for i := range shown {
		shown[i] = true
	}
	for {
		total := float32(0)
		for i, c := range columns {
			if shown[i] {
				total += c.Share
			}
		}
		drop := -1
		widths := make([]float32, len(columns))
		for i, c := range columns {
			if !shown[i] || total == 0 {
				continue
			}
			widths[i] = max(0, width*c.Share/total)
			if i > 0 && c.Least > 0 && widths[i] < c.Least {
				drop = i
			}
		}
		if drop < 0 {
			return widths
		}
		shown[drop] = false
	}
}

// Shorten cuts a text to a width with an ellipsis.
func Shorten(s string, width, size float32, style fyne.TextStyle) string {
	if width <= 0 {
		return ""
	}
	if fyne.MeasureText(s, size, style).Width <= width {
		return s
	}
	runes := []rune(s)
	low, high := 0, len(runes)-1 // the longest cut that fits, by halving
	for low < high {
		mid := (low + high + 1) / 2
		if fyne.MeasureText(string(runes[:mid])+"…", size, style).Width <= width {
			low = mid
		} else {
			high = mid - 1
		}
	}
	if low == 0 {
		return ""
	}
	return string(runes[:low]) + "…"
}
