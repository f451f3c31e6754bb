package handback

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/words"
)

// Screen is the hand-back of one visit.
type Screen struct {
	env    *place.Env
	visit  inspect.ID
	page   *visitbar.Page
	c      *shop.Case
	tasks  map[string]inspect.Task
	fields []*visitbar.Field
	lists  func()   // writes what is missing anew
	told   []string // what was said to be missing at the first press
	asked  bool     // Collected was pressed once
	queue  visitbar.Queue
	stop   func()
	closed bool // the place was left

	left     map[string]*visitbar.Field // settings as left, by key
	ticks    map[string]func()          // show a line of the safety list as it is on record
	showNext func()
}

// New returns the hand-back of one visit.
func New(env *place.Env, where place.Where) place.Screen {
	return &Screen{env: env, visit: where.Visit, page: visitbar.NewPage(), stop: func() {}, lists: func() {}, showNext: func() {}}
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
	for _, f := range s.fields {
		f.Keep()
	}
}

func (s *Screen) onLoaded(c *shop.Case) {
	s.c, s.asked, s.told, s.tasks = c, false, nil, c.TasksByKey()
	s.build()
}

// keep does one thing in a worker, after what was asked before it. What is kept
// while the place is left has no undo: it would act out of sight.
func (s *Screen) keep(said string, undo func(), do func(ctx context.Context) error, then func(error)) {
	s.queue.Do(s.env.Run, do, func(err error) {
		switch {
		case err != nil:
			s.env.Say.Failed(err)
		case s.closed:
			s.env.Say.Saved(said, nil)
		default:
			s.env.Say.Saved(said, undo)
		}
		then(err)
	})
}

func takenBack(said string) string { return fmt.Sprintf(lang.L("Taken back: %s"), said) }

// change does something with a fresh reading of the visit and shows it anew.
func (s *Screen) change(said string, undo func(), do func(ctx context.Context, c *shop.Case) error) {
	s.keep(said, undo, s.fresh(do), s.anew)
}

// fresh is work on the visit as it is on record.
func (s *Screen) fresh(do func(ctx context.Context, c *shop.Case) error) func(ctx context.Context) error {
	return func(ctx context.Context) error {
		c, err := s.env.Desk.Open(ctx, s.visit)
		if err != nil {
			return err
		}
		return do(ctx, c)
	}
}

func (s *Screen) anew(err error) {
	if err == nil && !s.closed {
		s.Opened()
	}
}

// Left keeps a setting as left; an empty text takes it away.
func (s *Screen) Left(p pair, text string) {
	st, before := read(text, p), s.leftOf(p)
	said := fmt.Sprintf("%s: %s", words.SettingName(p.key), written(&st))
	if st.None() {
		said = fmt.Sprintf(lang.L("%s: taken away"), words.SettingName(p.key))
	}
	s.putLeft(st, said, func() { s.putLeft(before, takenBack(said), nil) })
}

// leftOf is a setting as left on record; None where there is none.
func (s *Screen) leftOf(p pair) inspect.Setting {
	for _, st := range s.c.Settings {
		if st.Moment == "left" && st.Key == p.key {
			return st
		}
	}
	return inspect.Setting{Moment: "left", Key: p.key, Unit: p.unit}
}

func (s *Screen) putLeft(st inspect.Setting, said string, undo func()) {
	st.VisitID = s.visit
	s.keep(said, undo, func(ctx context.Context) error { return s.env.Desk.Lib.PutSetting(ctx, st) }, func(err error) {
		if err != nil {
			return
		}
		kept := []inspect.Setting{}
		for _, o := range s.c.Settings {
			if o.Moment != st.Moment || o.Key != st.Key {
				kept = append(kept, o)
			}
		}
		if !st.None() {
			kept = append(kept, st)
		}
		s.c.Settings = kept
		if f := s.left[st.Key]; f != nil && undo == nil { // taken back: the field follows
			f.Put(written(&st))
		}
		s.lists()
	})
}

// Tick marks a line of the safety list.
func (s *Screen) Tick(k catalog.Task, done bool) {
	before := s.tasks[k.ID]
	t := before
	t.Done, t.By, t.At = done, s.env.Desk.Who(), s.env.Desk.Clock()
	said := fmt.Sprintf(lang.L("%s: done"), k.Name)
	if !done {
		said = fmt.Sprintf(lang.L("%s: not done"), k.Name)
	}
	s.putTask(k, t, said, func() { s.putTask(k, before, takenBack(said), nil) })
}

func (s *Screen) putTask(k catalog.Task, t inspect.Task, said string, undo func()) {
	before := s.tasks[k.ID]
	t.VisitID, t.Key = s.visit, k.ID
	s.tasks[k.ID] = t
	s.keep(said, undo, func(ctx context.Context) error { return s.env.Desk.Lib.PutTask(ctx, t) },
		func(err error) {
			if err != nil {
				s.tasks[k.ID] = before
			}
			if show := s.ticks[k.ID]; show != nil {
				show()
			}
			s.lists()
		})
}

// Next keeps when the fork should come again: riding hours since new, and a
// date as 2026-11-30. An empty field takes its part away.
func (s *Screen) Next(hours, date string) {
	h, d, err := readNext(hours, date, s.env.Desk.Clock())
	if err != nil {
		s.env.Say.Failed(err)
		return
	}
	wasH, wasD := s.c.Visit.NextHours, s.c.Visit.NextDate
	said := fmt.Sprintf(lang.L("Next visit: %s, %s"), words.Hours(h), words.Date(d))
	s.putNext(h, d, said, func() { s.putNext(wasH, wasD, takenBack(said), nil) })
}

func (s *Screen) putNext(h float64, d time.Time, said string, undo func()) {
	s.c.Visit.NextHours, s.c.Visit.NextDate = h, d
	s.keep(said, undo, s.fresh(func(ctx context.Context, c *shop.Case) error {
		v := c.Visit
		v.NextHours, v.NextDate = h, d
		return s.env.Desk.Lib.SaveVisit(ctx, v)
	}), func(error) {
		if undo == nil { // taken back: the fields follow
			s.showNext()
		}
	})
}

func readNext(hours, date string, now time.Time) (h float64, d time.Time, err error) {
	hours, date = strings.TrimSuffix(strings.TrimSpace(hours), "h"), strings.TrimSpace(date)
	if hours = strings.TrimSpace(hours); hours != "" {
		if h, err = strconv.ParseFloat(strings.ReplaceAll(hours, ",", "."), 64); err != nil || !(h >= 0 && h < 1e5) {
			return 0, d, inspect.Refuse(inspect.Invalid, "the next visit at %q is no number of riding hours: type it like 420", hours)
		}
	}
	if date != "" {
		day, ok := words.TypedDay(date, now)
		d = time.Date(day.Year(), day.Month(), day.Day(), 0, 0, 0, 0, time.UTC) // a date, not a moment
		if !ok {
			return 0, d, inspect.Refuse(inspect.Invalid, "the date %q can't be read: type it like 2026-11-30", date)
		}
	}
	return h, d, nil
}

// Ready says that the fork waits for its rider.
func (s *Screen) Ready() {
	step, said := s.c.Visit.Step, lang.L("Ready to be fetched")
	s.change(said, func() {
		s.change(takenBack(said), nil, func(ctx context.Context, c *shop.Case) error {
			v := c.Visit
			v.Step, v.Ready = step, time.Time{}
			return s.env.Desk.Lib.SaveVisit(ctx, v)
		})
	}, func(ctx context.Context, c *shop.Case) error { return s.env.Desk.Move(ctx, c, inspect.StepHandBack) })
}

// Collect gives the fork back and locks the record. Where something is missing
// the first press only says so.
func (s *Screen) Collect() {
	if gaps := s.missing(); len(gaps) > 0 && !s.asked {
		s.asked, s.told = true, gaps
		s.lists()
		s.env.Say.Hint(fmt.Sprintf(lang.L("Not locked yet: %s"), strings.Join(gaps, "; ")))
		return
	}
	for _, f := range s.fields {
		f.Keep()
	}
	s.queue.Do(s.env.Run, s.fresh(s.env.Desk.Collect), func(err error) {
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		s.env.Say.Final(lang.L("Collected. The record is locked for good: a later word is added as an amendment"))
		s.anew(nil)
	})
}

func (s *Screen) missing() []string {
	done := map[string]bool{}
	for id, t := range s.tasks {
		done[id] = t.Done
	}
	return missing(s.c, s.safety(), done, func(a inspect.Assessment) bool { return s.c.Renewed(a.Part, a.Leg) })
}

func (s *Screen) safety() []catalog.Task {
	return catalog.TasksFor(s.env.Desk.Catalog, s.c.Sheet, s.c.Visit.Level, "hand_back")
}

// Amend adds a later word to a locked visit.
func (s *Screen) Amend(what, why string) {
	what, why = strings.TrimSpace(what), strings.TrimSpace(why)
	if what == "" || why == "" {
		s.env.Say.Failed(inspect.Refuse(inspect.Invalid, "an amendment needs what changed and why"))
		return
	}
	d := s.env.Desk
	a := inspect.Amendment{ID: d.NewID(), VisitID: s.visit, What: what, Why: why, By: d.Who(), At: d.Clock()}
	s.change(lang.L("Amendment added; it stays on record"), nil, func(ctx context.Context, _ *shop.Case) error { return d.Lib.Amend(ctx, a) })
}

// Report asks for a file and writes the report of the visit into it.
func (s *Screen) Report() { visitbar.AskReport(s.env, s.c) }
