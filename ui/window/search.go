package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/place"
)

// searchEntry finds while it is typed: it opens the place of all forks and
// hands it the words. No list pops up over the work, so the entry keeps the
// keys.
type searchEntry struct {
	widget.Entry
	frame *Frame
}

func newSearchEntry(f *Frame) *searchEntry {
	s := &searchEntry{frame: f}
	s.ExtendBaseWidget(s)
	s.SetPlaceHolder(lang.L("Find a fork: customer, phone, tag, serial or model"))
	s.OnChanged = s.onChanged
	s.OnSubmitted = s.onSubmitted
	return s
}

func (s *searchEntry) onChanged(text string) {
	f := s.frame
	if f.where.Name != place.Forks {
		if text == "" {
			return
		}
		f.Go(place.Where{Name: place.Forks})
		f.focusSearch()
	}
	if found, ok := f.now.(place.Searching); ok {
		found.Search(text)
	}
}

func (s *searchEntry) onSubmitted(string) {
	if found, ok := s.frame.now.(place.Searching); ok {
		found.OpenFirst()
	}
}

// TypedKey leaves the search with Escape.
func (s *searchEntry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		s.SetText("")
		s.frame.env.Window.Canvas().Unfocus()
		return
	}
	s.Entry.TypedKey(k)
}
