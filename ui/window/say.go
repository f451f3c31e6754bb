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

// say speaks through the status line.
type say struct {
	frame *Frame
}

func (s *say) now() time.Time { return s.frame.env.Desk.Clock() }

// Saved implements place.Say.
func (s *say) Saved(what string, undo func()) {
	s.frame.status.SetText(fmt.Sprintf(lang.L("%s · saved at %s"), what, words.Clock(s.now())))
	if undo == nil {
		s.frame.status.SetAction("", nil)
		return
	}
	s.frame.status.SetAction(lang.L("Undo"), undo)
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
	s.frame.status.SetAction("", nil)
}
