package measure

import (
	"context"
	"fmt"
	"image"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/media/benchcard"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// found is a card in the photo, in photo pixels.
type found struct {
	corners []inspect.Spot
	sigma   float64
	code    bool
}

// search is what came of looking for cards.
type search struct {
	cards  []found
	seen   bool        // a bench card's code was read, but its corners are not known
	whole  *image.RGBA // the photo in full size, where it was fetched
	inFull bool        // every pixel of the photo was looked at
}

// searchCard looks for bench cards on the pixels shown, then on the finest, then
// for plain cards of that size.
func searchCard(ctx context.Context, shown image.Image, k float64, finest func(context.Context) (image.Image, float64, *image.RGBA)) (search, error) {
	out := search{inFull: k <= 1.05}
	cards, err := benchcard.Find(ctx, shown)
	if err != nil {
		return out, err
	}
	if out.take(cards, k); len(out.cards) > 0 {
		return out, nil
	}
	img := shown
	if !out.inFull {
		if img, k, out.whole = finest(ctx); out.whole != nil {
			out.inFull = true
			if cards, err = benchcard.Find(ctx, img); err != nil {
				return out, err
			}
			if out.take(cards, k); len(out.cards) > 0 {
				return out, nil
			}
		}
	}
	if cards, err = benchcard.FindPlain(ctx, img); err != nil {
		return out, err
	}
	out.take(cards, k)
	return out, nil
}

func (s *search) take(cards []benchcard.Found, k float64) {
	for _, c := range cards {
		if !c.Placed() {
			s.seen = true
			continue
		}
		f := found{sigma: c.Sigma * k, code: c.Code != ""}
		for _, p := range c.Corners {
			f.corners = append(f.corners, inspect.Spot{X: p.X * k, Y: p.Y * k})
		}
		s.cards = append(s.cards, f)
	}
}

// lookForCard lets the program find the card beside the window; asked again,
// it takes the next one that it found.
func (s *Screen) lookForCard() {
	if len(s.cards) > 1 {
		s.takeFound((s.cardAt + 1) % len(s.cards))
		return
	}
	img, k, fine := s.canvas.Photo().Image, s.canvas.Pixel(), s.finest()
	s.cardSays = lang.L("Looking for the card …")
	s.showScale()
	later(s, func(ctx context.Context) (search, error) { return searchCard(ctx, img, k, fine) }, func(r search, err error) {
		if r.whole != nil {
			s.canvas.SetDetail(r.whole)
		}
		switch {
		case err != nil:
			s.cardSays = sentence(inspect.SaidIn(tongue.Say, err))
		case len(r.cards) == 0:
			s.cardSays = r.missed()
		default:
			s.cards = r.cards
			s.takeFound(0)
			return
		}
		s.showScale()
	})
}

// missed tells why no card was found, and what to do.
func (s search) missed() string {
	switch {
	case s.seen:
		return lang.L("A bench card was read, but a part of it is covered or cut off: drag its corners by hand, or take the photo again.")
	case !s.inFull:
		return lang.L("No card was found in the reduced picture. White on white, partly covered or far away it is missed: drag the corners by hand.")
	}
	return lang.L("No card was found. White on white, partly covered or far away it is missed: drag the corners by hand.")
}

// takeFound takes one of the cards that the program found.
func (s *Screen) takeFound(i int) {
	f := s.cards[i]
	s.cardAt = i
	s.card = append([]inspect.Spot(nil), f.corners...)
	s.cardFrom = cardFrom{sigma: f.sigma, longFirst: f.code, printed: f.code}
	off := words.Fixed(f.sigma, 1)
	switch {
	case f.code:
		s.cardSays = fmt.Sprintf(lang.L("Bench card found, corners within about %s pixels: check them."), off)
	case len(s.cards) > 1:
		s.cardSays = fmt.Sprintf(lang.L("This may be the card (%d of %d), corners within about %s pixels: check them. F takes the next."), i+1, len(s.cards), off)
	default:
		s.cardSays = fmt.Sprintf(lang.L("Card found, corners within about %s pixels: check them. A book or a box can look like one."), off)
	}
	s.changed()
}
