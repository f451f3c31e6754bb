package decide

import (
	"unicode"

	"fyne.io/fyne/v2"
)

// Choose marks a line, from 0, as the one that the keys are about; a number
// past the ends stops there.
func (s *Screen) Choose(i int) {
	if len(s.rows) == 0 {
		return
	}
	i = max(0, min(i, len(s.rows)-1))
	s.at = s.rows[i].job.Key
	for j, r := range s.rows {
		r.choose(i == j)
	}
	s.page.Reveal(s.rows[i])
}

// chosen is the place of the chosen line, -1 where none is.
func (s *Screen) chosen() int {
	for i, r := range s.rows {
		if r.job.Key == s.at {
			return i
		}
	}
	return -1
}

// TypedKey implements place.Keyed: up and down choose a line, Enter opens it,
// Escape closes it.
func (s *Screen) TypedKey(k *fyne.KeyEvent) {
	at := s.chosen()
	switch k.Name {
	case fyne.KeyDown:
		s.Choose(at + 1)
	case fyne.KeyUp:
		s.Choose(at - 1)
	case fyne.KeyHome:
		s.Choose(0)
	case fyne.KeyEnd:
		s.Choose(len(s.rows) - 1)
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeySpace:
		s.OpenRow(at)
	case fyne.KeyEscape:
		if at >= 0 && s.open == s.rows[at].job.Key {
			s.OpenRow(at)
		}
	}
}

// TypedRune implements place.Keyed: O changes the verdict of the chosen line, A
// takes the customer's answer, C turns the screen to the customer, R writes the
// report, G goes on to the service.
func (s *Screen) TypedRune(r rune) {
	if s.data.story == nil || len(s.rows) == 0 {
		return
	}
	switch unicode.ToLower(r) {
	case 'o':
		s.typeInto(func(r *row) fyne.Focusable { return focusable(r.reason) })
	case 'a':
		s.typeInto(func(r *row) fyne.Focusable { return focusable(r.who) })
	case 'c':
		s.ShowCustomer()
	case 'r':
		s.Report()
	case 'g':
		if !s.data.story.Case.Visit.Closed() {
			s.GoOn()
		}
	}
}

// typeInto opens the chosen line, else the first, and puts the cursor into one
// of its fields.
func (s *Screen) typeInto(field func(*row) fyne.Focusable) {
	at := max(0, s.chosen())
	if s.open != s.rows[at].job.Key {
		s.OpenRow(at)
	}
	if f := field(s.rows[at]); f != nil {
		s.env.Window.Canvas().Focus(f)
		s.page.Reveal(f.(fyne.CanvasObject))
	}
}
