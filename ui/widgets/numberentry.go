package widgets

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme/tokens"
)

// NumberEntry takes repeated readings of one place. Space puts the number typed
// on the list and waits for one more reading of the same place, Enter puts it
// there and goes on (OnEntered); pressing a number on the list takes it off.
type NumberEntry struct {
	widget.BaseWidget

	// OnChanged is called with all repeats when the list changes.
	OnChanged func(repeats []float64)
	// OnRefused is called with a sentence when what was typed is no number.
	OnRefused func(why error)
	// OnEntered is called at Enter, after what was typed is on the list; not
	// where it was refused.
	OnEntered func()

	unit    string
	repeats []float64
	entry   *digits
	chips   []*Chip
}

// NewNumberEntry returns an empty entry with a unit behind it.
func NewNumberEntry(unit string, onChanged func(repeats []float64)) *NumberEntry {
	n := &NumberEntry{OnChanged: onChanged, unit: unit, entry: newDigits()}
	n.entry.OnSubmitted = func(string) { n.enter() }
	n.entry.onMore = n.Commit
	n.ExtendBaseWidget(n)
	return n
}

// CreateRenderer implements fyne.Widget.
func (n *NumberEntry) CreateRenderer() fyne.WidgetRenderer {
	r := &numberRenderer{n: n, unit: canvas.NewText("", nil)}
	r.Refresh()
	return r
}

// Focus puts the cursor into the entry.
func (n *NumberEntry) Focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(n.entry); c != nil {
		c.Focus(n.entry)
	}
}

// Repeats returns the readings on the list.
func (n *NumberEntry) Repeats() []float64 { return append([]float64(nil), n.repeats...) }

// SetRepeats shows readings without calling OnChanged; what is not finite
// is left out.
func (n *NumberEntry) SetRepeats(v []float64) {
	n.repeats = nil
	for _, x := range v {
		if !math.IsNaN(x) && !math.IsInf(x, 0) {
			n.repeats = append(n.repeats, x)
		}
	}
	n.rebuild()
}

// SetUnit changes the unit shown.
func (n *NumberEntry) SetUnit(unit string) { n.unit = unit; n.Refresh() }

// SetText starts a number, as when a digit is typed elsewhere.
func (n *NumberEntry) SetText(s string) {
	n.entry.SetText(s)
	n.entry.CursorColumn = len([]rune(s))
	n.entry.Refresh()
}

// Commit puts what is typed on the list. An empty entry is left alone.
func (n *NumberEntry) Commit() {
	if strings.TrimSpace(n.entry.Text) == "" {
		return
	}
	v, err := ParseNumber(n.entry.Text)
	if err != nil {
		if n.OnRefused != nil {
			n.OnRefused(err)
		}
		return
	}
	n.entry.SetText("")
	n.repeats = append(n.repeats, v)
	n.changed()
}

func (n *NumberEntry) enter() {
	n.Commit()
	if n.OnEntered != nil && strings.TrimSpace(n.entry.Text) == "" {
		n.OnEntered()
	}
}

// SetHint is shown in the empty entry.
func (n *NumberEntry) SetHint(hint string) { n.entry.SetPlaceHolder(hint) }

// ParseNumber reads a decimal number with a point or a comma. It refuses
// anything else, also grouping such as 1.234,5, which could be misread.
func ParseNumber(s string) (float64, error) {
	t := strings.TrimSpace(s)
	t = strings.Replace(t, "\u2212", "-", 1)
	if strings.Count(t, ",")+strings.Count(t, ".") > 1 || strings.ContainsAny(t, "eExXpPnNiI_") {
		return 0, fmt.Errorf("%q is not a number: type digits with one comma or point", s)
	}
	v, err := strconv.ParseFloat(strings.Replace(t, ",", ".", 1), 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, fmt.Errorf("%q is not a number: type digits with one comma or point", s)
	}
	return v, nil
}

func (n *NumberEntry) remove(i int) {
	if i < len(n.repeats) {
		n.repeats = append(n.repeats[:i:i], n.repeats[i+1:]...)
		n.changed()
	}
}

func (n *NumberEntry) changed() {
	n.rebuild()
	if n.OnChanged != nil {
		n.OnChanged(n.Repeats())
	}
}

func (n *NumberEntry) rebuild() {
	n.chips = nil
	for i, v := range n.repeats {
		n.chips = append(n.chips, NewChip(strconv.FormatFloat(v, 'f', -1, 64)+"  ×", func() { n.remove(i) }))
	}
	n.Refresh()
}

// digits is an entry that takes the signs of a number only; Space or + asks for
// one more.
type digits struct {
	widget.Entry

	onMore func()
}

func newDigits() *digits {
	d := &digits{}
	d.ExtendBaseWidget(d)
	return d
}

// TypedRune implements fyne.Focusable.
func (d *digits) TypedRune(r rune) {
	if (r >= '0' && r <= '9') || strings.ContainsRune(".,-", r) {
		d.Entry.TypedRune(r)
	}
	if (r == ' ' || r == '+') && d.onMore != nil {
		d.onMore()
	}
}

type numberRenderer struct {
	n    *NumberEntry
	unit *canvas.Text
}

func (r *numberRenderer) Destroy() {}

// Layout puts entry and unit in the first line and the repeats under it,
// in as many lines as they need.
func (r *numberRenderer) Layout(s fyne.Size) {
	u := r.unit.MinSize()
	w := min(180, s.Width-u.Width-tokens.Step)
	place(r.n.entry, 0, 0, w, tokens.Target)
	place(r.unit, w+tokens.Step, (tokens.Target-u.Height)/2, u.Width, u.Height)
	x, y := float32(0), float32(tokens.Target+tokens.Inner)
	for _, c := range r.n.chips {
		m := c.MinSize()
		if x > 0 && x+m.Width > s.Width {
			x, y = 0, y+m.Height+tokens.Inner
		}
		place(c, x, y, m.Width, m.Height)
		x += m.Width + tokens.Inner
	}
}

func (r *numberRenderer) MinSize() fyne.Size {
	h, w := float32(tokens.Target), 120+r.unit.MinSize().Width+tokens.Step
	if len(r.n.chips) == 0 {
		return fyne.NewSize(w, h)
	}
	width, lines, x := max(r.n.Size().Width, w), float32(1), float32(0)
	for _, c := range r.n.chips {
		m := c.MinSize()
		if x > 0 && x+m.Width > width {
			lines, x = lines+1, 0
		}
		x += m.Width + tokens.Inner
	}
	return fyne.NewSize(w, h+lines*(tokens.Target+tokens.Inner))
}

func (r *numberRenderer) Objects() []fyne.CanvasObject {
	objs := []fyne.CanvasObject{r.n.entry, r.unit}
	for _, c := range r.n.chips {
		objs = append(objs, c)
	}
	return objs
}

func (r *numberRenderer) Refresh() {
	setText(r.unit, r.n.unit, textSize(r.n), paletteOf(r.n).QuietInk, false)
	r.Layout(r.n.Size())
	canvas.Refresh(r.n)
}
