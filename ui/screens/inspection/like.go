package inspection

import (
	"context"
	"image"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/words"
)

// showLike shows the photo beside the one that it looks like.
func (s *Screen) showLike(p inspect.Photo) {
	e := &s.evidence
	has := false
	for _, d := range s.doubtsIf(p) {
		has = has || d.Kind == shop.DoubtAlike
	}
	if !has {
		e.like.Hide()
		e.likeOf = ""
		return
	}
	if e.likeOf == p.ID {
		e.like.Hidden = e.likeIs.ID == ""
		return
	}
	e.like.Hide()
	e.likeOf, e.likeIs = p.ID, inspect.Photo{}
	later(s, func(ctx context.Context) ([]inspect.Photo, error) { return s.env.Desk.LooksLike(ctx, p) }, func(like []inspect.Photo, err error) {
		if err != nil || e.likeOf != p.ID || len(like) == 0 {
			return // the sentence says it too
		}
		e.likeIs = like[0] // the oldest
		for _, o := range like {
			if s.earlier(o.ID) {
				e.likeIs = o
			}
		}
		e.like.Show()
		s.fillLike(0, e.likeIs)
		s.fillLike(1, p)
		s.showPhotos() // makes room for them
	})
}

func (s *Screen) doubtsIf(p inspect.Photo) []shop.Doubt {
	if p.ID == "" {
		return nil
	}
	return s.doubtsOn(p)
}

func (s *Screen) earlier(id inspect.ID) bool {
	for _, e := range s.kase.Earlier {
		for _, p := range e.Photos {
			if p.ID == id {
				return true
			}
		}
	}
	return false
}

func (s *Screen) fillLike(i int, p inspect.Photo) {
	cell, id := s.evidence.cells[i], string(p.ID)
	cell.SetID(id, words.Taken(s.env.Desk, p, s.evidence.clocks))
	s.picture(p.SHA256, cellPixels, func(img image.Image, err error) {
		if err != nil {
			cell.SetFailed(id, lang.L("can't be shown"))
			return
		}
		cell.SetImage(id, img)
	})
}
