package inspection

import (
	"context"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/files"
	"forkwear/ui/place"
	"forkwear/ui/tongue"
)

func (s *Screen) chooseFile() {
	if s.mayWrite() {
		files.AskFile(s.env, s.importOne)
	}
}

func (s *Screen) chooseFolder() {
	if s.mayWrite() {
		files.AskFolder(s.env, s.importOne)
	}
}

func (s *Screen) importOne(path string) { s.importPhotos([]string{path}) }

// Dropped implements place.Dropping.
func (s *Screen) Dropped(paths []string, _ fyne.Position) { s.importPhotos(paths) }

// importPhotos takes files and folders in beside the window, then files them in
// the tray in one errand.
func (s *Screen) importPhotos(paths []string) {
	if len(paths) == 0 || !s.mayWrite() {
		return
	}
	var stop func()
	update, done := s.env.Say.Working(lang.L("Taking in photos"), func() {
		if stop != nil {
			stop()
		}
	})
	stop = later(s, func(ctx context.Context) ([]place.Imported, error) {
		progress := func(n, of int, name string) {
			s.env.Run.Tell(func() { update(fmt.Sprintf(lang.L("Taking in photos: %d of %d, %s"), n, of, name)) })
		}
		return s.env.Photos.Import(ctx, paths, progress), nil
	}, func(in []place.Imported, err error) {
		done()
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		s.fileImported(in)
	})
}

func (s *Screen) fileImported(in []place.Imported) {
	var t tally
	s.send(errand{
		work: func(ctx context.Context, c *shop.Case) error {
			for _, x := range in {
				if x.Err != nil {
					t.lines = append(t.lines, inspect.SaidIn(tongue.Say, x.Err))
					continue
				}
				_, existed, err := s.env.Desk.KeepPhoto(ctx, c, x.Photo)
				if err != nil {
					return err
				}
				t.add(x.Photo, existed)
			}
			return nil
		},
		done: func() {
			s.photos.report.SetText(t.words())
			s.photos.report.Show()
			s.env.Say.Saved(t.first(), nil)
		},
	})
}

// tally is what came of an import.
type tally struct {
	added, known int
	lines        []string
}

func (t *tally) add(p inspect.Photo, existed bool) {
	if existed {
		t.known++
		t.lines = append(t.lines, fmt.Sprintf(lang.L("%s: the same photo was here already"), p.FileName))
		return
	}
	t.added++
	switch {
	case !p.Usable:
		t.lines = append(t.lines, fmt.Sprintf(lang.L("%s: blurred, take it again"), p.FileName))
	case p.DateSource != "exif":
		t.lines = append(t.lines, fmt.Sprintf(lang.L("%s: no camera date"), p.FileName))
	}
}

func (t *tally) first() string {
	text := fmt.Sprintf(lang.L("%d photos added to the tray"), t.added)
	if t.added == 1 {
		text = lang.L("1 photo added to the tray")
	}
	if t.known > 0 {
		text += fmt.Sprintf(lang.L(", %d known already"), t.known)
	}
	return text
}

func (t *tally) words() string {
	lines := append([]string{t.first()}, t.lines...)
	if more := len(lines) - reportedLines; more > 0 {
		lines = append(lines[:reportedLines], fmt.Sprintf("and %d more", more))
	}
	return strings.Join(lines, "\n")
}
