package counter

import (
	"context"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/words"
)

// Screen shows one fork to its customer.
type Screen struct {
	env    *place.Env
	visit  inspect.ID
	page   *visitbar.Page
	data   loaded
	at     int
	wipe   *Wipe
	stop   func()
	photos []func() // cancels what is being read for the card shown
}

type loaded struct {
	story    *shop.Story
	cards    []shop.Line
	currency string
}

// New returns the counter view of one visit.
func New(env *place.Env, where place.Where) place.Screen {
	return &Screen{env: env, visit: where.Visit, page: visitbar.NewPage(), stop: func() {}}
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.page.Content() }

// Opened implements place.Screen.
func (s *Screen) Opened() {
	if s.data.story == nil {
		s.page.Loading()
	}
	d, visit := s.env.Desk, s.visit
	s.stop()
	s.stop = run.Go(s.env.Run, func(ctx context.Context) (loaded, error) {
		c, err := d.Open(ctx, visit)
		if err != nil {
			return loaded{}, err
		}
		return tell(ctx, d, c)
	}, s.onLoaded)
}

// Closed implements place.Screen.
func (s *Screen) Closed() { s.stop(); s.cancelPhotos() }

// tell joins what the customer is asked: what is to be replaced, then what is
// to be measured again.
func tell(ctx context.Context, d *shop.Desk, c *shop.Case) (l loaded, err error) {
	if l.story, err = d.Story(ctx, c); err != nil {
		return l, err
	}
	for _, line := range visitbar.Sorted(l.story.Lines) {
		if line.Assessment.InForce() != inspect.Reuse {
			l.cards = append(l.cards, line)
		}
	}
	l.currency, err = d.Lib.Preference(ctx, shop.KeyCurrency)
	return l, err
}

func (s *Screen) onLoaded(l loaded, err error) {
	if err != nil {
		s.env.Say.Failed(err)
		s.page.Failed(err, s.Opened)
		return
	}
	s.data = l
	s.Show(s.at)
}

// Show goes to a card, from 0; a number past the ends stops there.
func (s *Screen) Show(i int) {
	s.at = max(0, min(i, len(s.data.cards)-1))
	s.build()
}

// Back leaves the customer's view.
func (s *Screen) Back() { s.env.Go(place.Where{Name: place.Decide, Visit: s.visit}) }

// Wipe is the pair of photos of the card shown.
func (s *Screen) Wipe() *Wipe { return s.wipe }

// TypedRune implements place.Keyed.
func (s *Screen) TypedRune(rune) {}

// TypedKey implements place.Keyed: left and right go on, up and down move the
// border between the photos.
func (s *Screen) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyRight, fyne.KeyPageDown:
		s.Show(s.at + 1)
	case fyne.KeyLeft, fyne.KeyPageUp:
		s.Show(s.at - 1)
	case fyne.KeyUp, fyne.KeyDown:
		if s.wipe != nil {
			step := 0.05
			if k.Name == fyne.KeyDown {
				step = -step
			}
			s.wipe.SetAt(s.wipe.At() + step)
		}
	case fyne.KeyEscape:
		s.Back()
	}
}

// Answer keeps the customer's answer to the card shown and goes to the next.
func (s *Screen) Answer(yes bool) {
	if s.at >= len(s.data.cards) {
		return
	}
	l, d, visit, by := s.data.cards[s.at], s.env.Desk, s.visit, s.data.story.Case.Customer.Name
	shown := "counter view: " + l.Sentence
	if l.Assessment.DoNotRide {
		shown += " (told: do not ride)"
	}
	run.Go(s.env.Run, func(ctx context.Context) (loaded, error) {
		c, err := d.Open(ctx, visit)
		if err != nil {
			return loaded{}, err
		}
		if err := d.Consent(ctx, c, l.Assessment, yes, by, "here", shown); err != nil {
			return loaded{}, err
		}
		return tell(ctx, d, c)
	}, func(got loaded, err error) {
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		s.env.Say.Saved(words.PartAt(l.Part.Name, l.Assessment.Leg)+": "+lang.L("answer kept"), nil)
		s.data = got
		s.Show(s.at + 1)
	})
}

func (s *Screen) cancelPhotos() {
	for _, stop := range s.photos {
		stop()
	}
	s.photos = nil
}

// large is the longer side of a photo here, about twice what it is shown at.
const large = 1600

func (s *Screen) photo(p *inspect.Photo, show func(image.Image)) {
	if p == nil {
		return
	}
	sum, photos := p.SHA256, s.env.Photos
	cancelled := false
	stop := run.Go(s.env.Run, func(ctx context.Context) (image.Image, error) { return photos.Preview(ctx, sum, large) },
		func(img image.Image, err error) {
			if cancelled {
				return
			}
			if err != nil {
				s.env.Say.Failed(err)
				return
			}
			show(img)
		})
	s.photos = append(s.photos, func() { cancelled = true; stop() })
}
