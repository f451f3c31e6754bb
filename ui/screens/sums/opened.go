package sums

import (
	"context"
	"io"
	"strings"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/storage"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/run"
)

var _ place.Dropping = (*Screen)(nil)

// largest is the longest table that is read: far more rows than are reckoned
// in a moment.
const largest = 4 << 20

func (s *Screen) onOpenFile() {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			s.env.Say.Failed(err)
		case r != nil:
			s.take(func() (io.ReadCloser, error) { return r, nil }, r.URI().Name())
		}
	}, s.env.Window)
	d.SetFilter(storage.NewExtensionFileFilter([]string{".csv", ".CSV", ".tsv", ".txt"}))
	d.Show()
}

// Dropped implements place.Dropping: the first file is read as a table.
func (s *Screen) Dropped(paths []string, _ fyne.Position) {
	if len(paths) == 0 {
		return
	}
	u := storage.NewFileURI(paths[0])
	s.take(func() (io.ReadCloser, error) { return storage.Reader(u) }, u.Name())
}

// take reads a file beside the window and gives its text to the sum whose
// columns it has.
func (s *Screen) take(open func() (io.ReadCloser, error), name string) {
	s.cancels = append(s.cancels, run.Go(s.env.Run, func(context.Context) (string, error) {
		r, err := open()
		if err != nil {
			return "", inspect.Refuse(inspect.NotFound, "the file %s cannot be opened: %w", name, err)
		}
		defer func() { _ = r.Close() }() // only read from
		return readText(r, name)
	}, func(text string, err error) {
		if s.closed {
			return
		}
		if err != nil {
			s.env.Say.Failed(err)
			s.show(result{}, err)
			return
		}
		s.onText(text)
	}))
}

// readText reads a whole text of a bearable length.
func readText(r io.Reader, name string) (string, error) {
	b, err := io.ReadAll(io.LimitReader(r, largest+1))
	switch {
	case err != nil:
		return "", inspect.Refuse(inspect.Damaged, "the file %s cannot be read: %w", name, err)
	case len(b) > largest:
		return "", inspect.Refuse(inspect.Invalid, "the file %s is larger than %d MB: give the rows that are wanted", name, largest>>20)
	case !utf8.Valid(b):
		return "", inspect.Refuse(inspect.Invalid, "the file %s is no text in UTF-8: save it as CSV in UTF-8", name)
	}
	return strings.ReplaceAll(string(b), "\r\n", "\n"), nil
}

// onText gives a table to the sum that is shown, or to the one whose own
// columns it names.
func (s *Screen) onText(text string) {
	at := s.sumFor(firstLine(text))
	if at < 0 {
		s.env.Say.Hint(lang.L("Choose a sum that takes rows first: this file does not name the columns of one."))
		return
	}
	for _, f := range s.sums[at].fields {
		if f.table != nil {
			s.typed[at][f.key] = text
		}
	}
	s.choose(at)
}

// telling are the columns by which a table is known.
var telling = []string{"failed", "events", "value"}

func (s *Screen) sumFor(header string) int {
	has := func(name string) bool { return strings.Contains(strings.ToLower(header), name) }
	for i, k := range s.sums {
		t := k.table()
		if t == nil {
			continue
		}
		for _, c := range t.columns {
			for _, name := range telling {
				if c.name == name && has(name) {
					return i
				}
			}
		}
	}
	if s.sums[s.at].table() != nil {
		return s.at
	}
	return -1
}
