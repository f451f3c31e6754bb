package decide

import (
	"context"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/run"
	"forkwear/ui/widgets"
)

const thumb = 240 // pixels of a small photo

// wanted is a cell that waits for its pixels.
type wanted struct {
	cell   *widgets.PhotoCell
	id     string
	sha256 string
}

// cell is a small photo; its pixels come later, those seen before at once.
func (s *Screen) cell(p inspect.Photo, caption string) fyne.CanvasObject {
	c := widgets.NewPhotoCell(func(string) { s.ShowCustomer() })
	c.SetID(string(p.ID), caption)
	if img := s.seen[p.SHA256]; img != nil {
		c.SetImage(string(p.ID), img)
		return c
	}
	s.wants = append(s.wants, wanted{c, string(p.ID), p.SHA256})
	return c
}

// fetch reads the photos that cells wait for, one after another, so that a page
// of them leaves the computer free for the bench.
func (s *Screen) fetch() {
	s.stopPhotos()
	if len(s.wants) == 0 {
		return
	}
	w, photos := s.wants[0], s.env.Photos
	s.wants = s.wants[1:]
	stopped := false
	stop := run.Go(s.env.Run, func(ctx context.Context) (image.Image, error) { return photos.Preview(ctx, w.sha256, thumb) },
		func(img image.Image, err error) {
			if stopped {
				return
			}
			if err != nil {
				w.cell.SetFailed(w.id, lang.L("not readable"))
			} else {
				s.seen[w.sha256] = img
				w.cell.SetImage(w.id, img)
			}
			s.fetch()
		})
	s.stopPhotos = func() { stopped = true; stop() }
}
