package counter

import (
	"context"
	"image"
	"time"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
)

// Screen shows one fork to its customer.
type Screen struct {
	env    *place.Env
	visit  inspect.ID
	page   *visitbar.Page
	root   fyne.CanvasObject
	scaled *scaled
	data   loaded
	at     int // card shown; len(cards) is the end page
	wipe   *Wipe
	beside bool // photos beside each other, not one over the other
	busy   bool // an answer or a signature is being kept
	closed bool // the place was left
	told   string
	sign   *widgets.SignatureField
	signed widgets.Signed // what stands in the field and is not kept yet
	stop   func()
	layer  func(ctx context.Context, then, now image.Image) (image.Image, error) // lays now upon then
	photos []func()                                                              // cancels what is being read for the card shown

	lock lock
}

// card is one job with what speaks for it.
type card struct {
	job   shop.Job
	line  shop.Line // of the part that speaks for the job
	asked []shop.JobPart
	marks map[inspect.ID][]inspect.Mark // of both photos
}

type loaded struct {
	story *shop.Story
	jobs  []shop.Job
	cards []card
	bill  shop.Bill
	pin   bool
}

// New returns the counter view of one visit.
func New(env *place.Env, where place.Where) place.Screen {
	s := &Screen{env: env, visit: where.Visit, page: visitbar.NewPage(), stop: func() {}, layer: laid, lock: lock{pause: time.Second}}
	s.root, s.scaled = newScaled(s.page.Content(), env.Run.Tell)
	return s
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.root }

// Opened implements place.Screen.
func (s *Screen) Opened() {
	s.closed = false
	s.scaled.open()
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
func (s *Screen) Closed() { s.stop(); s.cancelPhotos(); s.scaled.close(); s.closed = true }

// tell joins what the customer is asked: what is to be replaced, then what is
// to be measured again.
func tell(ctx context.Context, d *shop.Desk, c *shop.Case) (l loaded, err error) {
	if l.pin, err = d.HasPIN(ctx); err != nil {
		return l, err
	}
	if l.story, err = d.Story(ctx, c); err != nil {
		return l, err
	}
	prices, _ := d.Prices(ctx) // one that can't be read counts as not set, which the card says
	l.jobs = d.Jobs(c, c.Assessments, prices)
	l.bill = d.Bill(c, l.jobs, prices)
	for _, j := range l.jobs {
		if j.Verdict == inspect.Reuse || renewed(j) {
			continue
		}
		k := cardOf(j, l.story)
		if k.marks, err = marksOf(ctx, d.Lib, k.line); err != nil {
			return l, err
		}
		l.cards = append(l.cards, k)
	}
	return l, nil
}

// renewed tells a job that is done already.
func renewed(j shop.Job) bool {
	for _, p := range j.Parts {
		if !p.Renewed {
			return false
		}
	}
	return true
}

// cardOf finds the part of a job that speaks for it: the one that decides, or
// the first that can be shown.
func cardOf(j shop.Job, st *shop.Story) card {
	k := card{job: j}
	byID := map[inspect.ID]shop.Line{}
	for _, lines := range [][]shop.Line{st.Unopened, st.Lines} {
		for _, l := range lines {
			byID[l.Assessment.ID] = l
		}
	}
	for _, p := range j.Parts {
		l, ok := byID[p.Assessment.ID]
		asked := p.Asked || j.Verdict == inspect.Measure && p.Assessment.InForce() == inspect.Measure
		if asked {
			k.asked = append(k.asked, p)
		}
		better := asked && !seen(k.line) && seen(l) && !k.line.Assessment.DoNotRide
		if ok && (k.line.Part.ID == "" || better) {
			k.line = l
		}
	}
	return k
}

// seen tells whether a line has a photo.
func seen(l shop.Line) bool { return l.Now != nil || l.Then != nil }

func marksOf(ctx context.Context, lib inspect.Library, l shop.Line) (map[inspect.ID][]inspect.Mark, error) {
	var ids []inspect.ID
	for _, p := range []*inspect.Photo{l.Then, l.Now} {
		if p != nil {
			ids = append(ids, p.ID)
		}
	}
	out := map[inspect.ID][]inspect.Mark{}
	if len(ids) == 0 {
		return out, nil
	}
	ms, err := lib.Marks(ctx, ids...)
	for _, m := range ms {
		out[m.PhotoID] = append(out[m.PhotoID], m)
	}
	return out, err
}

func (s *Screen) onLoaded(l loaded, err error) {
	if err != nil {
		s.env.Say.Failed(err)
		s.page.Failed(err, s.Opened)
		return
	}
	s.take(l)
	s.Show(s.at)
}

func (s *Screen) take(l loaded) {
	s.data = l
	s.lock.known, s.lock.set = true, l.pin
}

// Show goes to a card, from 0; past the last one is the end page.
func (s *Screen) Show(i int) {
	last := len(s.data.cards)
	if last == 0 {
		last = 1
	}
	s.at = max(0, min(i, last))
	s.build()
}

// atEnd tells whether the end page is shown.
func (s *Screen) atEnd() bool { return s.at >= len(s.data.cards) }

// Back leaves the customer's view.
func (s *Screen) Back() {
	s.Leave(func() { s.env.Go(place.Where{Name: place.Decide, Visit: s.visit}) })
}

// Wipe is the pair of photos of the card shown.
func (s *Screen) Wipe() *Wipe { return s.wipe }

// TypedRune implements place.Keyed: 1 is yes and 0 is no, as everywhere; / puts
// the photos beside each other and back. Backspace takes the answer back.
func (s *Screen) TypedRune(r rune) {
	if s.lock.pad != nil {
		s.lock.pad.rune(r)
		return
	}
	switch r {
	case '/':
		s.onBeside()
	case '1':
		s.Answer(true)
	case '0':
		s.Answer(false)
	}
}

// TypedKey implements place.Keyed: left and right go on, up and down move the
// border between the photos, Enter signs.
func (s *Screen) TypedKey(k *fyne.KeyEvent) {
	if s.lock.pad != nil {
		s.lock.pad.key(k.Name)
		return
	}
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
	case fyne.KeyReturn, fyne.KeyEnter:
		if s.atEnd() && s.sign != nil {
			s.Sign()
		}
	case fyne.KeyBackspace:
		s.TakeBack()
	case fyne.KeyEscape:
		s.Back()
	}
}

func (s *Screen) onBeside() {
	s.beside = !s.beside
	s.build()
}

func (s *Screen) cancelPhotos() {
	for _, stop := range s.photos {
		stop()
	}
	s.photos = nil
}
