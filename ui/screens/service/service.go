package service

import (
	"context"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/words"
)

// Screen is the work sheet of one visit.
type Screen struct {
	env   *place.Env
	visit inspect.ID
	page  *visitbar.Page
	c     *shop.Case
	tasks map[string]inspect.Task // as kept
	lines map[string]*line
	count func() // writes the progress anew
	queue visitbar.Queue
	stop  func()

	closed bool // the place was left
}

// New returns the work sheet of one visit.
func New(env *place.Env, where place.Where) place.Screen {
	return &Screen{env: env, visit: where.Visit, page: visitbar.NewPage(), stop: func() {}, count: func() {}}
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.page.Content() }

// Opened implements place.Screen.
func (s *Screen) Opened() {
	s.closed = false
	if s.c == nil {
		s.page.Loading()
	}
	s.stop()
	s.stop = s.page.Open(s.env, s.visit, s.Opened, s.onLoaded)
}

// Closed implements place.Screen: what is still typed is kept.
func (s *Screen) Closed() {
	s.stop()
	s.closed = true
	for _, l := range s.lines {
		l.keep()
	}
}

func (s *Screen) onLoaded(c *shop.Case) {
	s.c, s.tasks = c, c.TasksByKey()
	s.build()
}

// Tick marks a line of the sheet as done or not.
func (s *Screen) Tick(k catalog.Task, done bool) {
	t := s.tasks[k.ID]
	t.Done = done
	said := fmt.Sprintf(lang.L("%s: done"), k.Name)
	if !done {
		said = fmt.Sprintf(lang.L("%s: not done"), k.Name)
	}
	s.put(k, t, said)
}

// Value keeps what was typed for a line; an empty text takes it away.
func (s *Screen) Value(k catalog.Task, text string) {
	t := s.tasks[k.ID]
	said := fmt.Sprintf(lang.L("%s: value taken away"), k.Name)
	t.Value, t.Unit, t.Note = 0, "", ""
	if strings.TrimSpace(text) != "" {
		v, err := read(text, k)
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		t.Value, t.Unit, t.Note, t.Done = v, k.Unit, asTyped+strings.TrimSpace(text), true
		said = fmt.Sprintf("%s: %s", k.Name, words.Measured(v, 0, k.Unit))
	}
	s.put(k, t, said)
}

// Tool keeps which wrench or gauge was used.
func (s *Screen) Tool(k catalog.Task, tool string) {
	t := s.tasks[k.ID]
	t.Tool = strings.TrimSpace(tool)
	s.put(k, t, fmt.Sprintf(lang.L("%s: tool kept"), k.Name))
}

// put keeps a line at once, with an undo to what stood there.
func (s *Screen) put(k catalog.Task, t inspect.Task, said string) {
	before := s.tasks[k.ID]
	t.By, t.At = s.env.Desk.Who(), s.env.Desk.Clock()
	s.keep(k, t, said, s.refresh, func() {
		s.keep(k, before, fmt.Sprintf(lang.L("Taken back: %s"), said), s.again, nil)
	})
}

// keep keeps a line and then shows it.
func (s *Screen) keep(k catalog.Task, t inspect.Task, said string, show func(catalog.Task), undo func()) {
	before := s.tasks[k.ID]
	t.VisitID, t.Key = s.visit, k.ID
	s.tasks[k.ID] = t // before the worker, so that two quick entries add up
	lib := s.env.Desk.Lib
	s.queue.Do(s.env.Run, func(ctx context.Context) error { return lib.PutTask(ctx, t) }, func(err error) {
		if err != nil {
			s.tasks[k.ID] = before
			s.env.Say.Failed(err)
		} else {
			s.saved(said, undo)
		}
		show(k)
	})
}

// saved tells what was saved. What is kept while the place is left has no undo:
// it would act out of sight.
func (s *Screen) saved(said string, undo func()) {
	if s.closed {
		undo = nil
	}
	s.env.Say.Saved(said, undo)
}

func (s *Screen) refresh(k catalog.Task) {
	if l := s.lines[k.ID]; l != nil {
		l.show(s.tasks[k.ID])
	}
	s.count()
}

// again writes a line as it is on record, its fields too.
func (s *Screen) again(k catalog.Task) {
	s.refresh(k)
	t, l := s.tasks[k.ID], s.lines[k.ID]
	if l != nil && l.value != nil {
		l.value.Put(typed(t, k))
		l.tool.Put(t.Tool)
	}
}

// step is what was done to the parts of the fork, and how it is taken back; nil
// where it can't be.
type step struct {
	said string
	undo func(ctx context.Context, c *shop.Case) error
}

// change does something to the parts of the fork in a worker, after what was
// asked before it.
func (s *Screen) change(do func(ctx context.Context, c *shop.Case) (step, error)) {
	d, visit := s.env.Desk, s.visit
	var done step
	var fresh *shop.Case
	s.queue.Do(s.env.Run, func(ctx context.Context) error {
		c, err := d.Open(ctx, visit)
		if err != nil {
			return err
		}
		if done, err = do(ctx, c); err != nil {
			return err
		}
		fresh, err = d.Open(ctx, visit)
		return err
	}, func(err error) {
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		undo := func() {
			s.change(func(ctx context.Context, c *shop.Case) (step, error) {
				return step{said: fmt.Sprintf(lang.L("Taken back: %s"), done.said)}, done.undo(ctx, c)
			})
		}
		if done.undo == nil {
			undo = nil
		}
		s.saved(done.said, undo)
		s.onLoaded(fresh)
	})
}

// FitNew records that the new part of a decision is in, and with it what goes
// out only because its kit does.
func (s *Screen) FitNew(a inspect.Assessment, batch string) {
	d := s.env.Desk
	s.change(func(ctx context.Context, c *shop.Case) (step, error) {
		fitted, err := d.FitNew(ctx, c, shop.Renewal{Part: a.Part, Leg: a.Leg, End: d.EndOf(c, a), Batch: strings.TrimSpace(batch)})
		said := fmt.Sprintf(lang.L("%s: fitted new"), s.partName(a))
		if len(fitted) > 1 {
			said = fmt.Sprintf(lang.L("%s: fitted new, and with its kit: %s"), s.partName(a), s.names(fitted[1:]))
		}
		return step{said, s.takeOut(fitted)}, err
	})
}

// takeOut is the undo of a fitting: the new parts never were in.
func (s *Screen) takeOut(fitted []inspect.Fitting) func(ctx context.Context, c *shop.Case) error {
	if len(fitted) == 0 {
		return nil
	}
	return func(ctx context.Context, c *shop.Case) error { return s.env.Desk.TakeFittedBack(ctx, c, fitted...) }
}

// FitAll records that every part that goes out is new, but for those that the
// customer said no to.
func (s *Screen) FitAll() {
	s.change(func(ctx context.Context, c *shop.Case) (step, error) {
		fitted, err := s.env.Desk.FitDecided(ctx, c)
		return step{fmt.Sprintf(lang.L("All decided parts fitted new: %s"), words.Count(len(fitted), "part")), s.takeOut(fitted)}, err
	})
}

func (s *Screen) partName(a inspect.Assessment) string {
	p, ok := s.env.Desk.Catalog.Part(a.Part)
	if !ok {
		return a.Part
	}
	return words.PartAt(p.Name, a.Leg)
}

// names lists parts, both legs of one in one word.
func (s *Screen) names(fs []inspect.Fitting) string {
	legs := map[string]int{}
	for _, f := range fs {
		legs[f.Part]++
	}
	var out []string
	for _, f := range fs {
		p, _ := s.env.Desk.Catalog.Part(f.Part)
		switch n := legs[f.Part]; {
		case n > 1:
			out = append(out, fmt.Sprintf(lang.L("%s, both"), p.Name))
		case n == 1:
			out = append(out, words.PartAt(p.Name, f.Leg))
		}
		legs[f.Part] = 0
	}
	return strings.Join(out, "; ")
}

// CheckAfter opens the checks after the work.
func (s *Screen) CheckAfter() {
	s.env.Go(place.Where{Name: place.Inspect, Visit: s.visit, Stage: inspect.AfterWork})
}

// GoOn moves the visit to its hand-back. It is not ready by that: ready is said
// there, when the safety list is through.
func (s *Screen) GoOn() {
	next := place.Where{Name: place.HandBack, Visit: s.visit}
	if visitbar.Number(s.c.Visit.Step) >= visitbar.Number(inspect.StepHandBack) {
		s.env.Go(next)
		return
	}
	d, visit := s.env.Desk, s.visit
	run.Go(s.env.Run, func(ctx context.Context) (struct{}, error) {
		c, err := d.Open(ctx, visit)
		if err != nil {
			return struct{}{}, err
		}
		v := c.Visit
		v.Step = inspect.StepHandBack
		return struct{}{}, d.Lib.SaveVisit(ctx, v)
	}, func(_ struct{}, err error) {
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		s.env.Say.Saved(lang.L("Moved to hand-back"), nil)
		s.env.Go(next)
	})
}
