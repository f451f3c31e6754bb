package window

import (
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// say speaks through the status line, and holds the undos of the present place.
type say struct {
	frame *Frame

	undos  []func() // the newest last
	taking bool     // an undo runs and has not told how it ended
	again  int      // how often Undo was pressed meanwhile
}

// mostUndos is how many steps are remembered.
const mostUndos = 50

func (s *say) now() time.Time { return s.frame.env.Desk.Clock() }

// Saved implements place.Say.
func (s *say) Saved(what string, undo func()) {
	s.frame.status.SetText(fmt.Sprintf(lang.L("%s · saved at %s"), what, words.Clock(s.now())))
	if undo != nil && !s.taking {
		s.undos = append(s.undos, undo)
		if len(s.undos) > mostUndos {
			s.undos = s.undos[1:]
		}
	}
	s.ended()
}

// Final implements place.Say.
func (s *say) Final(what string) {
	s.undos, s.again = nil, 0
	s.Saved(what, nil)
}

// undo takes back the newest step of this place. They go one after the other:
// one that is asked for while another runs waits for its end.
func (s *say) undo() {
	n := len(s.undos)
	switch {
	case s.taking:
		s.again++
		return
	case n == 0:
		s.frame.status.SetText(lang.L("Nothing here is left to take back."))
		return
	}
	do := s.undos[n-1]
	s.undos, s.taking = s.undos[:n-1], true
	s.offer()
	do()
}

// ended takes note that an undo told how it went, and goes on with the next one
// that was asked for.
func (s *say) ended() {
	next := s.taking && s.again > 0 && len(s.undos) > 0
	s.taking = false
	if !next {
		s.again = 0
		s.offer()
		return
	}
	s.again--
	s.undo()
}

// offer shows the key that takes back the newest step, where there is one.
func (s *say) offer() {
	if len(s.undos) == 0 {
		s.frame.status.SetAction("", nil)
		return
	}
	s.frame.status.SetAction(lang.L("Undo"), s.undo)
}

// left forgets the undos of the place that is left: they would act out of sight.
func (s *say) left() {
	s.undos, s.taking, s.again = nil, false, 0
	s.offer()
}

// Hint implements place.Say.
func (s *say) Hint(text string) { s.frame.status.SetHint(text) }

// Working implements place.Say.
func (s *say) Working(text string, cancel func()) (update func(string), done func()) {
	st := s.frame.status
	st.SetWork(text, lang.L("Cancel"), cancel)
	return func(t string) { st.SetWork(t, lang.L("Cancel"), cancel) }, func() { st.SetWork("", "", nil) }
}

// Failed implements place.Say.
func (s *say) Failed(err error) {
	if err == nil {
		return
	}
	text := inspect.SaidIn(tongue.Say, err)
	if inspect.CodeOf(err) == inspect.Internal {
		text = fmt.Sprintf(lang.L("Not done: %s. What was saved before is safe."), strings.TrimSuffix(text, "."))
	}
	s.frame.status.SetText(text)
	s.again = 0
	s.ended()
	s.frame.status.SetAction("", nil) // beside what failed it would read as its undo
}
