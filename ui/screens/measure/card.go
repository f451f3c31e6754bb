package measure

import (
	"context"
	"fmt"
	"image"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/media/benchcard"
)

// found is a card in the pixels shown.
type found struct {
	corners []inspect.Spot
	sigma   float64
	code    bool
}

// searchCard looks for a bench card, then for any plain card of that size.
func searchCard(ctx context.Context, img image.Image) (found, error) {
	cards, err := benchcard.Find(ctx, img)
	if err != nil {
		return found{}, err
	}
	if !anyPlaced(cards) {
		if cards, err = benchcard.FindPlain(ctx, img); err != nil {
			return found{}, err
		}
	}
	for _, c := range cards {
		if c.Placed() {
			return found{spotsOf(c.Corners[:]), c.Sigma, c.Code != ""}, nil
		}
	}
	return found{}, inspect.Refuse(inspect.NotFound, "no card was found: it must lie whole in the photo, on a ground of another brightness; else drag the corners by hand")
}

func anyPlaced(cs []benchcard.Found) bool {
	for _, c := range cs {
		if c.Placed() {
			return true
		}
	}
	return false
}

// lookForCard lets the program find the card beside the window.
func (s *Screen) lookForCard() {
	img, k := s.canvas.Photo().Image, s.canvas.Pixel()
	s.cardSays = lang.L("Looking for the card …")
	s.showScale()
	later(s, func(ctx context.Context) (found, error) { return searchCard(ctx, img) }, func(f found, err error) {
		if err != nil {
			s.cardSays = sentence(err.Error())
			s.showScale()
			return
		}
		s.card = make([]inspect.Spot, len(f.corners))
		for i, c := range f.corners {
			s.card[i] = inspect.Spot{X: c.X * k, Y: c.Y * k}
		}
		s.cardSigma = f.sigma * k
		s.cardSays = fmt.Sprintf(lang.L("Card found, corners within about %.1f pixels: check them."), s.cardSigma)
		if f.code {
			s.cardSays = fmt.Sprintf(lang.L("Bench card found, corners within about %.1f pixels: check them."), s.cardSigma)
		}
		s.changed()
	})
}
