package decide

import (
	"context"
	"fmt"
	"image"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/words"
)

// Screen is the decision of one visit.
type Screen struct {
	env        *place.Env
	visit      inspect.ID
	page       *visitbar.Page
	data       loaded
	rows       []*row
	at, open   string // keys of the line that is chosen and of the one that is open
	queue      visitbar.Queue
	stop       func()
	closed     bool // the place was left
	folded     bool // the parts that were not opened are folded
	wants      []wanted
	seen       map[string]image.Image // small photos by their sum
	stopPhotos func()
}

var _ place.Keyed = (*Screen)(nil)

// New returns the decision of one visit.
func New(env *place.Env, where place.Where) place.Screen {
	return &Screen{env: env, visit: where.Visit, page: visitbar.NewPage(), stop: func() {}, folded: true,
		seen: map[string]image.Image{}, stopPhotos: func() {}}
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.page.Content() }

// Opened implements place.Screen.
func (s *Screen) Opened() {
	s.closed = false
	if s.data.story == nil {
		s.page.Loading()
	}
	d, rules, visit := s.env.Desk, s.env.Rules, s.visit
	s.stop()
	s.stop = run.Go(s.env.Run, func(ctx context.Context) (loaded, error) { return load(ctx, d, rules, visit) }, s.onLoaded)
}

// Closed implements place.Screen.
func (s *Screen) Closed() { s.stop(); s.stopPhotos(); s.closed = true }

func (s *Screen) onLoaded(l loaded, err error) {
	if err != nil {
		s.env.Say.Failed(err)
		s.page.Failed(err, s.Opened)
		return
	}
	if l.doubt != nil {
		s.env.Say.Failed(l.doubt)
	}
	s.data = l
	s.build()
}

// undoing takes back what was kept, on a fresh reading of the visit; nil where it
// can't be taken back.
type undoing func(ctx context.Context, c *shop.Case) error

// change keeps something in a worker on a fresh reading of the visit, after what
// was asked before it, then shows what is on record.
func (s *Screen) change(said string, do func(ctx context.Context, c *shop.Case) (undoing, error)) {
	d, visit := s.env.Desk, s.visit
	var l loaded
	var back undoing
	s.queue.Do(s.env.Run, func(ctx context.Context) error {
		c, err := d.Open(ctx, visit)
		if err != nil {
			return err
		}
		if back, err = do(ctx, c); err != nil {
			return err
		}
		l, err = tell(ctx, d, c)
		return err
	}, func(err error) {
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		undo := func() {
			s.change(fmt.Sprintf(lang.L("Taken back: %s"), said), func(ctx context.Context, c *shop.Case) (undoing, error) { return nil, back(ctx, c) })
		}
		if back == nil || s.closed { // an undo of a place that was left would act out of sight
			undo = nil
		}
		s.env.Say.Saved(said, undo)
		s.data = l
		s.build()
	})
}

// Override changes the verdict of a part; without a reason it is refused.
func (s *Screen) Override(p shop.JobPart, v inspect.Verdict, reason string) {
	reason = strings.TrimSpace(reason)
	if reason == "" {
		s.env.Say.Failed(inspect.Refuse(inspect.Invalid, "say why the verdict is changed: both stay on record"))
		return
	}
	d := s.env.Desk
	said := fmt.Sprintf(lang.L("%s: changed to '%s'"), words.PartAt(p.Part.Name, p.Assessment.Leg), words.Verdict(v))
	s.change(said, func(ctx context.Context, c *shop.Case) (undoing, error) {
		return func(ctx context.Context, c *shop.Case) error { return d.TakeOverrideBack(ctx, c, p.Assessment) },
			d.Override(ctx, c, p.Assessment, v, reason)
	})
}

// Answer keeps what the customer said to a line, and to those that go with it.
func (s *Screen) Answer(j shop.Job, yes bool, by, how string) {
	if by = strings.TrimSpace(by); by == "" {
		s.env.Say.Failed(inspect.Refuse(inspect.Invalid, "say who answered: the record names a person"))
		return
	}
	var names []string
	for _, i := range shop.Together(s.data.jobs, j.Key, yes) {
		names = append(names, s.data.jobs[i].Name)
	}
	said := fmt.Sprintf(lang.L("%s: no, answer kept"), strings.Join(names, ", "))
	if yes {
		said = fmt.Sprintf(lang.L("%s: yes, answer kept"), strings.Join(names, ", "))
	}
	shown := inspect.Consent{Accepted: yes, By: by, How: how, Shown: j.Name + ", " + words.Price(j.Price)}
	d, jobs := s.env.Desk, s.data.jobs
	s.change(said, func(ctx context.Context, c *shop.Case) (undoing, error) {
		given, err := d.AnswerJob(ctx, c, jobs, j.Key, shown)
		return func(ctx context.Context, c *shop.Case) error { return d.TakeAnswersBack(ctx, c, given...) }, err
	})
}

// OpenRow opens a line, from 0, or closes it when it is open.
func (s *Screen) OpenRow(i int) {
	if i < 0 || i >= len(s.rows) {
		return
	}
	key := s.rows[i].job.Key
	if s.open == key {
		key = ""
	}
	s.open = key
	for _, r := range s.rows {
		r.show(s.open == r.job.Key)
	}
	s.Choose(i)
	s.page.Content().Refresh()
	s.page.Reveal(s.rows[i])
}

// Report asks for a file and writes the report of the visit into it.
func (s *Screen) Report() { visitbar.AskReport(s.env, s.data.story.Case) }

// ShowCustomer turns the screen to the customer.
func (s *Screen) ShowCustomer() { s.env.Go(place.Where{Name: place.Counter, Visit: s.visit}) }

// GoOn moves the visit to its service.
func (s *Screen) GoOn() {
	c := s.data.story.Case
	next := place.Where{Name: place.Service, Visit: s.visit}
	if visitbar.Number(c.Visit.Step) >= visitbar.Number(inspect.StepService) {
		s.env.Go(next)
		return
	}
	d, visit := s.env.Desk, s.visit
	run.Go(s.env.Run, func(ctx context.Context) (struct{}, error) {
		fresh, err := d.Open(ctx, visit)
		if err != nil {
			return struct{}{}, err
		}
		return struct{}{}, d.Move(ctx, fresh, inspect.StepService)
	}, func(_ struct{}, err error) {
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		s.env.Say.Saved(lang.L("Moved to service"), nil)
		s.env.Go(next)
	})
}
