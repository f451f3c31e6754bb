package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
)

// A form that is higher than its window: the field at its foot is brought into
// sight by the focus, what is in sight stays where it is, and the wheel turns
// the page over a field too.
func TestPageFollowsTheFocus(t *testing.T) {
	test.NewTempApp(t)
	box := container.NewVBox()
	var fields []*Field
	for range 30 {
		fields = append(fields, NewField("Name", ""))
		box.Add(fields[len(fields)-1])
	}
	p := NewPage(box)
	w := test.NewTempWindow(t, p)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(400, 300))
	seen := func(f *Field) bool {
		y := f.Position().Y - p.Scroll.Offset.Y
		return y >= 0 && y+f.Size().Height <= p.Scroll.Size().Height
	}
	w.Canvas().Focus(fields[2])
	if p.Scroll.Offset.Y != 0 {
		t.Errorf("a field in sight moved the page to %v", p.Scroll.Offset.Y)
	}
	last := fields[len(fields)-1]
	if seen(last) {
		t.Fatal("the last field is in sight from the start")
	}
	w.Canvas().Focus(last)
	if !seen(last) {
		t.Errorf("the focused field at %v is out of sight, page at %v", last.Position().Y, p.Scroll.Offset.Y)
	}
	w.Canvas().Focus(fields[0])
	if !seen(fields[0]) {
		t.Errorf("the first field is out of sight, page at %v", p.Scroll.Offset.Y)
	}
	test.Scroll(w.Canvas(), fyne.NewPos(100, fields[1].Position().Y+10), 0, -50)
	if p.Scroll.Offset.Y != 50 {
		t.Errorf("the wheel over a field turned the page to %v, want 50", p.Scroll.Offset.Y)
	}
	got := 0
	p.Beyond = func(*fyne.ScrollEvent) { got++ }
	test.Scroll(w.Canvas(), fyne.NewPos(100, 100), 0, 1e6)
	if test.Scroll(w.Canvas(), fyne.NewPos(100, 100), 0, 50); got != 1 {
		t.Errorf("at its end the page handed the wheel on %d times, want 1", got)
	}
}

// Every field says the word it is asked by: its caption, else its hint.
func TestFieldsSayTheirWord(t *testing.T) {
	n := NewNote()
	n.SetPlaceHolder("hint")
	for _, c := range []struct {
		o    fyne.CanvasObject
		want string
	}{{NewField("Phone", ""), "Phone"}, {NewField("", "hint"), "hint"}, {n, "hint"}, {NewChoice("Kind", "choose", nil), "Kind"}} {
		if got := WordOf(c.o); got != c.want {
			t.Errorf("it says %q, want %q", got, c.want)
		}
	}
	if n.SetCaption("Note"); WordOf(n) != "Note" {
		t.Errorf("the note says %q", WordOf(n))
	}
}
