package inspection

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme"
	"forkwear/ui/theme/tokens"
)

// padKey is one large answer: the key that gives it and its words, in two lines
// where they need them. Keys typed while it has the focus go to the screen.
type padKey struct {
	widget.BaseWidget

	key, words       string
	selected         bool
	disabled         bool
	hovered, focused bool
	onPress          func()
	screen           *Screen
	label            *widget.Label
}

var (
	_ fyne.Tappable     = (*padKey)(nil)
	_ fyne.Focusable    = (*padKey)(nil)
	_ desktop.Hoverable = (*padKey)(nil)
)

func newPadKey(s *Screen, key, words string, onPress func()) *padKey {
	k := &padKey{key: key, words: words, onPress: onPress, screen: s, label: widget.NewLabel(words)}
	k.label.Wrapping = fyne.TextWrapWord
	k.label.SizeName = fynetheme.SizeNameCaptionText
	k.ExtendBaseWidget(k)
	return k
}

// Tapped implements fyne.Tappable.
func (k *padKey) Tapped(*fyne.PointEvent) {
	if !k.disabled {
		k.onPress()
	}
}

// FocusGained implements fyne.Focusable.
func (k *padKey) FocusGained() { k.focused = true; k.Refresh() }

// FocusLost implements fyne.Focusable.
func (k *padKey) FocusLost() { k.focused = false; k.Refresh() }

// TypedRune implements fyne.Focusable.
func (k *padKey) TypedRune(r rune) { k.screen.TypedRune(r) }

// TypedKey implements fyne.Focusable.
func (k *padKey) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		k.Tapped(nil)
	default:
		k.screen.TypedKey(e)
	}
}

// MouseIn implements desktop.Hoverable.
func (k *padKey) MouseIn(*desktop.MouseEvent) { k.hovered = true; k.Refresh() }

// MouseMoved implements desktop.Hoverable.
func (k *padKey) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (k *padKey) MouseOut() { k.hovered = false; k.Refresh() }

// CreateRenderer implements fyne.Widget.
func (k *padKey) CreateRenderer() fyne.WidgetRenderer {
	r := &padKeyRenderer{k: k, box: canvas.NewRectangle(nil), figure: canvas.NewText(k.key, nil)}
	r.Refresh()
	return r
}

// padHeight leaves room for two lines of words.
const padHeight = tokens.Target

type padKeyRenderer struct {
	k      *padKey
	box    *canvas.Rectangle
	figure *canvas.Text
}

func (r *padKeyRenderer) Destroy() {}

func (r *padKeyRenderer) Objects() []fyne.CanvasObject {
	if r.k.words == "" {
		return []fyne.CanvasObject{r.box, r.figure}
	}
	return []fyne.CanvasObject{r.box, r.figure, r.k.label}
}

func (r *padKeyRenderer) Layout(size fyne.Size) {
	r.box.Resize(size)
	m := r.figure.MinSize()
	if r.k.words == "" {
		r.figure.Move(fyne.NewPos((size.Width-m.Width)/2, (size.Height-m.Height)/2))
		return
	}
	r.figure.Move(fyne.NewPos(tokens.Step+tokens.Inner, (size.Height-m.Height)/2))
	x := float32(tokens.Step) + max(m.Width, 16)
	r.k.label.Resize(fyne.NewSize(size.Width-x, 1))
	h := r.k.label.MinSize().Height
	r.k.label.Move(fyne.NewPos(x, (size.Height-h)/2))
	r.k.label.Resize(fyne.NewSize(size.Width-x, h))
}

func (r *padKeyRenderer) MinSize() fyne.Size { return fyne.NewSize(tokens.Target, padHeight) }

func (r *padKeyRenderer) Refresh() {
	th := r.k.Theme()
	pal := theme.PaletteOf(th, fyne.CurrentApp().Settings().ThemeVariant())
	r.box.CornerRadius = tokens.Radius
	r.box.FillColor, r.box.StrokeColor, r.box.StrokeWidth = pal.Panel, pal.Line, 1
	if r.k.hovered && !r.k.disabled {
		r.box.FillColor = tokens.Over(tokens.Tint(pal.Line), pal.Panel)
	}
	if r.k.selected {
		r.box.FillColor, r.box.StrokeColor, r.box.StrokeWidth = tokens.Over(tokens.Tint(pal.Accent), pal.Panel), pal.Accent, 2
	}
	if r.k.focused {
		r.box.StrokeColor, r.box.StrokeWidth = pal.Accent, 3
	}
	r.figure.Color, r.figure.TextStyle.Bold = pal.Ink, true
	r.figure.TextSize = th.Size(fynetheme.SizeNameSubHeadingText)
	if r.k.words == "" {
		r.figure.TextSize, r.figure.TextStyle.Bold = th.Size(fynetheme.SizeNameCaptionText), false
	}
	if r.k.disabled {
		r.figure.Color = pal.QuietInk
	}
	r.box.Refresh()
	r.figure.Refresh()
	r.k.label.Refresh()
}

// factsLayout lays the facts, and the note under them, beside the trend or the
// drawing of the check, or over the whole width where there is neither. The
// trend is small here: the fork's page has it large.
type factsLayout struct{}

// besideHeights are the heights that a small trend and a drawing need to be read.
var besideHeights = [...]float32{124, 112}

func (factsLayout) MinSize(objs []fyne.CanvasObject) fyne.Size {
	facts, note := objs[0].MinSize(), objs[1].MinSize()
	m := fyne.NewSize(max(facts.Width, note.Width), facts.Height+note.Height)
	for i, o := range objs[2:] {
		if o.Visible() {
			m = m.Max(fyne.NewSize(2*m.Width, besideHeights[i]))
		}
	}
	return m
}

func (factsLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	w := size.Width
	for _, o := range objs[2:] {
		if o.Visible() {
			w = size.Width * 0.45
			o.Move(fyne.NewPos(w, 0))
			o.Resize(fyne.NewSize(size.Width-w, size.Height))
		}
	}
	objs[0].Resize(fyne.NewSize(w, 1)) // its height depends on its width
	h := objs[0].MinSize().Height
	objs[0].Move(fyne.NewPos(0, 0))
	objs[0].Resize(fyne.NewSize(w, h))
	objs[1].Move(fyne.NewPos(0, h))
	objs[1].Resize(fyne.NewSize(w-tokens.Step, objs[1].MinSize().Height))
}

// high gives its only child a height at least.
type high float32

func (h high) MinSize(objs []fyne.CanvasObject) fyne.Size {
	if !objs[0].Visible() {
		return fyne.Size{}
	}
	return objs[0].MinSize().Max(fyne.NewSize(0, float32(h)))
}

func (h high) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	objs[0].Move(fyne.NewPos(0, 0))
	objs[0].Resize(size)
}

// gradeLayout lays keys of grades 0 to 5 in two columns, 0 to 2 and 3 to 5, the
// half step behind its lower grade.
type gradeLayout struct{ halves bool }

func (g gradeLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	w := float32(tokens.Target)
	if g.halves {
		w += tokens.Target + tokens.Inner
	}
	return fyne.NewSize(2*(w+120)+tokens.Step, 3*padHeight+2*tokens.Inner)
}

func (g gradeLayout) Layout(objs []fyne.CanvasObject, size fyne.Size) {
	col := (size.Width - tokens.Step) / 2
	row := (size.Height - 2*tokens.Inner) / 3
	half := float32(0)
	if g.halves {
		half = tokens.Target + tokens.Inner
	}
	for i, o := range objs {
		grade := i % 6
		x, y := float32(grade/3)*(col+tokens.Step), float32(grade%3)*(row+tokens.Inner)
		if i >= 6 { // half steps come after the whole ones
			o.Move(fyne.NewPos(x+col-tokens.Target, y))
			o.Resize(fyne.NewSize(tokens.Target, row))
			continue
		}
		w := col - half
		if grade == 5 {
			w = col
		}
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(w, row))
	}
}
