package inspection

import (
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
)

// TypedRune implements place.Keyed.
func (s *Screen) TypedRune(r rune) {
	if s.kase == nil || s.search.open {
		return
	}
	switch unicode.ToLower(r) {
	case '-', 'b':
		s.back()
	case '+', 'p':
		s.attachNewest()
	case '.', ',', 'l':
		s.without(inspect.NotLooked)
	case 'c':
		s.without(inspect.CannotSee)
	case 'm':
		s.without(inspect.CannotGauge)
	case 'x':
		s.without(inspect.DoesNotApply)
	case '*', 'z':
		s.zoneSeen()
	case '/':
		s.openSearch()
	default:
		s.typedAnswer(unicode.ToLower(r))
	}
}

// typedAnswer gives the answer that a key means on this check.
func (s *Screen) typedAnswer(r rune) {
	p, ok := s.line()
	if !ok || !strings.ContainsRune("0123456789fnh", r) {
		return
	}
	if !s.mayWrite() {
		return
	}
	switch p.Check.Kind {
	case catalog.Grade:
		switch {
		case r >= '0' && r <= '5' && s.card.half:
			s.card.half = false
			s.grade(min(float64(r-'0')+0.5, 5))
		case r >= '0' && r <= '5':
			s.grade(float64(r - '0'))
		case r == 'h' && p.Check.HalfSteps:
			s.card.half = true
			s.tell(lang.L("Half a step up: type the lower grade, 2 for 2.5."))
		case r >= '6' && r <= '9':
			s.tell(lang.L("Grades go from 0 to 5; h and then a digit is half a step more."))
		}
	case catalog.Fine:
		switch r {
		case '1', 'f':
			s.fine(true)
		case '0', 'n':
			s.fine(false)
		}
	case catalog.Number:
		if unicode.IsDigit(r) {
			s.startNumber(string(r))
		}
	}
}

// TypedKey implements place.Keyed.
func (s *Screen) TypedKey(e *fyne.KeyEvent) {
	if s.kase == nil {
		return
	}
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyRight:
		s.next()
	case fyne.KeyLeft:
		s.back()
	case fyne.KeyEscape:
		s.closeSearch()
	}
}

func (s *Screen) next() {
	if s.kase == nil {
		return
	}
	if s.ended {
		if st, ok := s.nextStage(); ok {
			s.toStage(st)
			return
		}
		s.toDecide()
		return
	}
	if !s.commit() {
		return
	}
	s.keepNote()
	s.refreshRoute()
	if at, ok := s.after(s.at); ok {
		s.goTo(at)
		return
	}
	s.end()
}

func (s *Screen) back() {
	if s.kase == nil {
		return
	}
	if s.ended { // the last check is still the one shown
		s.goTo(s.at)
		return
	}
	if at, ok := s.before(s.at); ok {
		s.goTo(at)
		return
	}
	s.tell(lang.L("This is the first check of this stage."))
}

// grade, fine and without give an answer and go on to the next check.

func (s *Screen) grade(g float64) { s.give(shop.Answer{Answer: inspect.Graded, Value: g}) }

func (s *Screen) fine(fine bool) {
	if fine {
		s.give(shop.Answer{Answer: inspect.Fine})
		return
	}
	s.give(shop.Answer{Answer: inspect.NotFine})
}

func (s *Screen) without(a inspect.Answer) {
	p, ok := s.line()
	if ok && a == inspect.CannotGauge && p.Check.Kind != catalog.Number {
		s.tell(lang.L("Only a measured check can be 'cannot be measured here'."))
		return
	}
	s.give(shop.Answer{Answer: a})
}

func (s *Screen) give(a shop.Answer) {
	if !s.keep(a) {
		return
	}
	s.card.number.SetText("") // the answer given stands in place of what was being typed
	s.blur()
	s.refreshRoute()
	if at, ok := s.after(s.at); ok {
		s.goTo(at)
		return
	}
	s.end()
}

// keep sends an answer of the check at work with its note, and stays.
func (s *Screen) keep(a shop.Answer) bool {
	if _, ok := s.line(); !ok || !s.mayWrite() {
		return false
	}
	a.Note, a.Fields = strings.TrimSpace(s.card.note.Text), strings.TrimSpace(s.card.fields.Text)
	delete(s.drafts, s.slot(s.stage, s.at))
	s.answer(s.stage, s.at, a)
	return true
}

// blur takes the focus off whatever has it, so that the keys of the screen work.
func (s *Screen) blur() {
	if c := s.canvas(); c != nil {
		c.Unfocus()
	}
}

func (s *Screen) canvas() fyne.Canvas {
	if s.env.Window != nil {
		return s.env.Window.Canvas()
	}
	return fyne.CurrentApp().Driver().CanvasForObject(s.content)
}
