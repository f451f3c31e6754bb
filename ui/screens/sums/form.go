package sums

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect/measure"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) fieldOf(f field) fyne.CanvasObject {
	no := rows.NewRefusal()
	s.refused[f.key] = no
	switch {
	case f.table != nil:
		return s.tableOf(f, no.RichText)
	case f.choices != nil:
		return container.NewVBox(rows.Beside(labelOf(f), rows.Target(s.choiceOf(f)), .46, 300), no.RichText)
	case f.many:
		e := s.linesOf(f, 6)
		return container.NewVBox(widget.NewLabel(f.label), e, no.RichText)
	}
	e := widget.NewEntry()
	e.SetPlaceHolder(hintOf(f))
	e.SetText(s.typed[s.at][f.key])
	e.OnChanged = func(text string) { s.onTyped(f.key, text) }
	s.focusFirst(e)
	unit := ""
	if f.unit != "" && f.unit != measure.Pure {
		unit = words.Unit(string(f.unit))
	}
	return container.NewVBox(rows.Beside(labelOf(f), rows.WithUnit(unit, e), .46, 300), no.RichText)
}

func labelOf(f field) fyne.CanvasObject {
	l := widget.NewLabel(f.label)
	l.Wrapping = fyne.TextWrapWord
	return l
}

func (s *Screen) choiceOf(f field) fyne.CanvasObject {
	var labels []string
	at := -1
	for i, c := range f.choices {
		labels = append(labels, c.label)
		if c.key == s.typed[s.at][f.key] {
			at = i
		}
	}
	k := widget.NewSelect(labels, nil)
	k.SetSelectedIndex(at)
	k.OnChanged = func(string) {
		if i := k.SelectedIndex(); i >= 0 {
			s.onTyped(f.key, f.choices[i].key)
		}
	}
	return k
}

// hintOf is the hint of a field; a bare number in it is one in the record's
// unit and is written in the shop's.
func hintOf(f field) string {
	if f.may {
		return lang.L("may stay empty")
	}
	if f.unit == "" {
		return f.hint
	}
	return shown(f.hint, f.unit)
}

// shown writes a plain number, meant in the record's unit, in the shop's unit.
func shown(text string, unit measure.Unit) string {
	if strings.TrimLeft(text, "0123456789.") != "" || text == "" {
		return text
	}
	q, err := measure.Parse(text, unit)
	if err != nil || words.Unit(string(unit)) == string(unit) {
		return text
	}
	v, _ := words.In(q.Value, string(unit))
	return about(v, 3, "")
}

// lines is an entry of several lines that Tab leaves, as it leaves any other.
type lines struct{ widget.Entry }

func newLines(visible int) *lines {
	l := &lines{}
	l.MultiLine = true
	l.Wrapping = fyne.TextWrapOff
	l.ExtendBaseWidget(l)
	l.SetMinRowsVisible(visible)
	return l
}

// AcceptsTab implements fyne.Tabbable.
func (l *lines) AcceptsTab() bool { return false }

func (s *Screen) linesOf(f field, visible int) *lines {
	e := newLines(visible)
	e.SetPlaceHolder(f.hint)
	e.SetText(s.typed[s.at][f.key])
	e.OnChanged = func(text string) { s.onTyped(f.key, text) }
	s.focusFirst(e)
	return e
}

// focusFirst remembers the first field, where the right arrow goes from the list.
func (s *Screen) focusFirst(o fyne.Focusable) {
	if s.first == nil {
		s.first = o
	}
}

// typeable is how many lines of a table stand in the entry; a longer one is
// told by its length.
const typeable = 400

// tableOf is the rows of a table, with the other fields of its sum under them,
// beside what its columns are to hold.
func (s *Screen) tableOf(f field, no fyne.CanvasObject) fyne.CanvasObject {
	var given fyne.CanvasObject
	text := s.typed[s.at][f.key]
	if n := strings.Count(text, "\n"); n > typeable {
		given = container.NewVBox(rows.Quiet(words.Count(n, "line")+" · "+firstLine(text)),
			widgets.NewTextButton(lang.L("Empty it"), false, func() { s.give(f.key, "") }))
	} else {
		e := s.linesOf(f, 7)
		e.SetPlaceHolder(lang.L("Paste rows here, or drop a CSV file on the window"))
		given = e
	}
	var keys fyne.CanvasObject = widgets.NewTextButton(lang.L("Open a CSV file"), false, s.onOpenFile)
	if text == "" {
		keys = rows.Beside(keys, widgets.NewTextButton(lang.L("Fill in an example"), false, func() { s.give(f.key, f.table.example) }), .5, 360)
	}
	left := container.NewVBox(labelOf(f), given, no, keys)
	for _, other := range s.sums[s.at].fields {
		if other.table == nil {
			left.Add(s.fieldOf(other))
		}
	}
	return rows.Beside(left, columnsOf(f.table), .52, 560)
}

func firstLine(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	return strings.TrimSpace(line)
}

// columnsOf tells the columns by their names.
func columnsOf(a *asked) fyne.CanvasObject {
	box := container.NewVBox(rows.Title(lang.L("Columns"), false))
	for _, c := range a.columns {
		name := widget.NewLabel(c.name)
		name.TextStyle.Monospace = true
		box.Add(rows.Beside(name, rows.Quiet(c.told), .28, 200))
	}
	box.Add(rows.Quiet(lang.L("Columns in any order; commas, semicolons or tabs between them. Those that are not needed can be left out.")))
	return box
}

// give puts a whole text into a field.
func (s *Screen) give(key, text string) {
	s.typed[s.at][key] = text
	s.choose(s.at)
}
