package decide

import (
	"context"
	"fmt"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

const thumb = 240 // pixels of a small photo

// wanted is a cell that waits for its pixels.
type wanted struct {
	cell   *widgets.PhotoCell
	id     string
	sha256 string
}

// cell is a small photo that opens its pair large; its pixels come later, those
// seen before at once.
func (s *Screen) cell(p inspect.Photo, caption string, open place.Where) fyne.CanvasObject {
	c := widgets.NewPhotoCell(func(string) { s.env.Go(open) })
	c.SetID(string(p.ID), caption)
	if img := s.seen[p.SHA256]; img != nil {
		c.SetImage(string(p.ID), img)
		return c
	}
	s.wants = append(s.wants, wanted{c, string(p.ID), p.SHA256})
	return c
}

// startPhotos begins to read what the cells of a page wait for.
func (s *Screen) startPhotos() {
	ctx, cancel := context.WithCancel(s.env.Run.Context())
	s.stopPhotos = cancel
	s.fetch(ctx)
}

// fetch reads the photos one after another, so that a page of them leaves the
// computer free for the bench. It ends with ctx.
func (s *Screen) fetch(ctx context.Context) {
	if len(s.wants) == 0 || ctx.Err() != nil {
		return
	}
	w, photos := s.wants[0], s.env.Photos
	s.wants = s.wants[1:]
	run.Go(s.env.Run, func(context.Context) (image.Image, error) { return photos.Preview(ctx, w.sha256, thumb) },
		func(img image.Image, err error) {
			switch {
			case ctx.Err() != nil: // another page is shown by now
				return
			case err != nil:
				w.cell.SetFailed(w.id, lang.L("not readable"))
			default:
				s.seen[w.sha256] = img
				w.cell.SetImage(w.id, img)
			}
			s.fetch(ctx)
		})
}

// photos are the then and now pictures; a line without any keeps its room.
func (s *Screen) photos(l shop.Line) fyne.CanvasObject {
	if l.Then == nil && l.Now == nil {
		return visitbar.Quiet("")
	}
	then, now := fyne.CanvasObject(visitbar.Quiet(lang.L("first visit: baseline"))), fyne.CanvasObject(visitbar.Quiet(lang.L("no photo today")))
	if l.Then != nil {
		caption := lang.L("then")
		if l.ThenVisit != nil {
			caption = fmt.Sprintf(lang.L("then, %s"), words.Hours(l.ThenVisit.Hours))
		}
		then = s.cell(*l.Then, caption, s.pair(l))
	}
	if l.Now != nil {
		now = s.cell(*l.Now, fmt.Sprintf(lang.L("now, %s"), words.Hours(s.data.story.Case.Claim.Hours)), s.pair(l))
	}
	return container.NewGridWithColumns(2, then, now)
}

// pair is where the photos of a line lie upon each other: the check and leg of
// today's, else of the one before.
func (s *Screen) pair(l shop.Line) place.Where {
	w := place.Where{Name: place.Compare, Visit: s.visit}
	switch {
	case l.Now != nil:
		w.Check, w.Leg, w.Photo = l.Now.Check, l.Now.Leg, l.Now.ID
	case l.Then != nil:
		w.Check, w.Leg = l.Then.Check, l.Then.Leg
	}
	return w
}
