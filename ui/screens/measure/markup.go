package measure

import (
	"context"
	"fmt"
	"strings"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
)

var shapes = []inspect.MarkKind{inspect.MarkCircle, inspect.MarkArrow, inspect.MarkLine, inspect.MarkText}

func (s *Screen) buildMarks() {
	box := wrapped()
	s.shapes = chips(box, []string{lang.L("Circle"), lang.L("Arrow"), lang.L("Line"), lang.L("Words")}, func(i int) {
		s.shape = shapes[i]
		s.show()
	})
	s.words = widget.NewEntry()
	s.words.PlaceHolder = lang.L("Words beside it")
	s.markSays, s.drawn = rows.Quiet(""), container.NewVBox()
	s.markBox = container.NewVBox(rows.Title(lang.L("Mark"), false), box, rows.Target(s.words), s.markSays, widget.NewSeparator(), s.drawn)
}

// markHints say how each shape is drawn.
func markHint(k inspect.MarkKind) string {
	switch k {
	case inspect.MarkCircle:
		return lang.L("Drag from the middle of the place outwards. The photo itself never changes.")
	case inspect.MarkArrow:
		return lang.L("Drag from where the arrow begins to what it shows. The photo itself never changes.")
	case inspect.MarkLine:
		return lang.L("Drag from end to end. The photo itself never changes.")
	}
	return lang.L("Type the words, then press where they begin. The photo itself never changes.")
}

func markName(k inspect.MarkKind) string {
	switch k {
	case inspect.MarkCircle:
		return lang.L("Circle")
	case inspect.MarkArrow:
		return lang.L("Arrow")
	case inspect.MarkLine:
		return lang.L("Line")
	}
	return lang.L("Words")
}

// keepMark keeps what was drawn, with the words that stand in the entry.
func (s *Screen) keepMark(a, b inspect.Spot) {
	m := inspect.Mark{PhotoID: s.where.Photo, Kind: s.shape, Points: []inspect.Spot{a, b}, Text: strings.TrimSpace(s.words.Text)}
	if s.shape == inspect.MarkText {
		m.Points = m.Points[:1]
		if m.Text == "" {
			rows.SetQuiet(s.markSays, lang.L("Type the words first, then press where they begin."))
			s.env.Window.Canvas().Focus(s.words)
			return
		}
	}
	d := s.env.Desk
	save(s, func(ctx context.Context) (inspect.Mark, error) { return d.Mark(ctx, m) }, func(kept inspect.Mark) {
		s.words.SetText("")
		s.env.Say.Saved(fmt.Sprintf(lang.L("%s on the photo"), markName(kept.Kind)), func() { s.takeMarkOff(kept) })
	})
}

func (s *Screen) takeMarkOff(m inspect.Mark) {
	d := s.env.Desk
	save(s, func(ctx context.Context) (struct{}, error) { return struct{}{}, d.Unmark(ctx, m.ID) }, func(struct{}) {
		s.env.Say.Saved(fmt.Sprintf(lang.L("%s taken off"), markName(m.Kind)), func() { s.markAgain(m) })
	})
}

func (s *Screen) markAgain(m inspect.Mark) {
	d := s.env.Desk
	save(s, func(ctx context.Context) (struct{}, error) { return struct{}{}, d.MarkAgain(ctx, m.ID) }, func(struct{}) {
		s.env.Say.Saved(fmt.Sprintf(lang.L("%s on the photo"), markName(m.Kind)), func() { s.takeMarkOff(m) })
	})
}

func (s *Screen) showMarks() {
	for i, c := range s.shapes {
		c.SetSelected(shapes[i] == s.shape)
	}
	rows.SetQuiet(s.markSays, markHint(s.shape))
	s.drawn.RemoveAll()
	if len(s.data.layer.Marks) == 0 {
		s.drawn.Add(rows.Quiet(lang.L("Nothing is marked on this photo yet.")))
		return
	}
	s.drawn.Add(rows.Title(lang.L("On this photo"), false))
	for _, m := range s.data.layer.Marks {
		text := markName(m.Kind)
		if m.Text != "" {
			text += ": " + m.Text
		}
		off := widgets.NewTextButton(lang.L("Take off"), false, func() { s.takeMarkOff(m) })
		s.drawn.Add(container.NewBorder(nil, nil, nil, off, rows.Quiet(text)))
	}
}
