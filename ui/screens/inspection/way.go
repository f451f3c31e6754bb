package inspection

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/run"
)

// errand is one thing to save. It works on a copy of the case, so that the
// screen may read its own meanwhile.
type errand struct {
	shows map[inspect.Slot]inspect.Reading // what the screen shows until it is saved
	work  func(ctx context.Context, c *shop.Case) error
	done  func() // on the window's goroutine, after the case was taken over
}

// later does work beside the window. Its results come one at a time also where
// the toolkit brings them on the worker's goroutine, as its test driver does.
func later[T any](s *Screen, work func(context.Context) (T, error), done func(T, error)) (cancel func()) {
	return run.Go(s.env.Run, work, func(v T, err error) {
		s.oneAtATime.Lock()
		defer s.oneAtATime.Unlock()
		done(v, err)
	})
}

// send puts an errand at the end of the way. One runs at a time, in order.
func (s *Screen) send(e errand) {
	s.way = append(s.way, e)
	s.walk()
}

// walk starts the next errand unless one is running or the way is blocked.
func (s *Screen) walk() {
	if s.walking || s.blocked != nil || len(s.way) == 0 {
		return
	}
	s.walking = true
	e, c := s.way[0], &shop.Case{}
	if s.kase != nil {
		*c = *s.kase
	}
	later(s, func(ctx context.Context) (*shop.Case, error) {
		err := e.work(ctx, c)
		return c, err
	}, s.arrived)
}

// arrived takes over what an errand did. An answer that can't be right is
// dropped and told; where saving itself fails the way stops and keeps all.
func (s *Screen) arrived(c *shop.Case, err error) {
	s.walking = false
	if err != nil && s.kase == nil {
		s.way = nil
		s.loadFailed(err)
		return
	}
	if err != nil {
		s.env.Say.Failed(err)
		switch inspect.CodeOf(err) {
		case inspect.Invalid, inspect.NotFound, inspect.Locked, inspect.Conflict:
			s.way = s.way[1:]
			s.tell(err.Error())
		default:
			s.blocked, s.leaving = err, false
		}
		s.show()
		s.walk()
		s.leave()
		return
	}
	e := s.way[0]
	s.way = s.way[1:]
	s.kase = c
	if e.done != nil {
		e.done()
	}
	s.follow()
	s.walk()
	s.leave()
}

// tryAgain goes on with the way after saving failed.
func (s *Screen) tryAgain() {
	s.blocked = nil
	s.show()
	s.walk()
}

// Waiting is how many entries are not saved yet.
func (s *Screen) Waiting() int { return len(s.way) }

// answer keeps one answer and shows it at once.
func (s *Screen) answer(stage inspect.Stage, at spot, a shop.Answer) {
	a.Check, a.Leg, a.Point, a.Stage = at.check, at.leg, at.point, stage
	k, _ := s.env.Desk.Catalog.Check(a.Check)
	slot := s.slot(stage, at)
	shown := inspect.Reading{VisitID: slot.VisitID, Check: a.Check, Leg: a.Leg, Point: a.Point, Stage: stage, Answer: a.Answer,
		Value: a.Value, Raw: a.Raw, Unit: k.Unit, Note: a.Note, Fields: a.Fields, Instrument: a.Instrument}
	for i, x := range a.Raw {
		shown.Value += (x - shown.Value) / float64(i+1) // running mean
	}
	var kept []inspect.Reading // the answer, and what it ended where two values stood
	s.send(errand{
		shows: map[inspect.Slot]inspect.Reading{slot: shown},
		work: func(ctx context.Context, c *shop.Case) (err error) {
			kept, err = s.env.Desk.AnswerAll(ctx, c, a)
			return err
		},
		done: func() { s.env.Say.Saved(s.said(k, kept[0]), func() { s.takeBack(stage, at, idsOf(kept)...) }) },
	})
}

// takeBack undoes entries and returns to where they were made.
func (s *Screen) takeBack(stage inspect.Stage, at spot, ids ...inspect.ID) {
	s.send(errand{
		work: func(ctx context.Context, c *shop.Case) error {
			for _, id := range ids {
				if err := s.env.Desk.Undo(ctx, c, id); err != nil {
					return err
				}
			}
			return nil
		},
		done: func() { s.env.Say.Saved(lang.L("Taken back"), nil) },
	})
	s.move(stage, at)
}

// zoneSeen keeps that a zone was looked over and nothing found.
func (s *Screen) zoneSeen() {
	lines := s.seen(s.region())
	if !s.mayWrite() {
		return
	}
	if len(lines) == 0 {
		s.tell(lang.L("Nothing in this zone is open for that: what is left is measured or was opened by a finding."))
		return
	}
	r, at, stage := s.region(), s.at, s.stage
	shows := map[inspect.Slot]inspect.Reading{}
	for _, p := range lines {
		slot := s.slot(stage, spot{check: p.Check.ID, leg: p.Leg})
		shows[slot] = inspect.Reading{VisitID: slot.VisitID, Check: slot.Check, Leg: slot.Leg, Stage: stage, Answer: inspect.ZoneSeen}
	}
	var ids []inspect.ID
	s.send(errand{
		shows: shows,
		work: func(ctx context.Context, c *shop.Case) error {
			n := len(c.Readings)
			if _, err := s.env.Desk.ZoneSeen(ctx, c, r.zone, r.leg, stage); err != nil {
				return err
			}
			for _, x := range c.Readings[min(n, len(c.Readings)):] {
				ids = append(ids, x.ID)
			}
			return nil
		},
		done: func() {
			s.env.Say.Saved(fmt.Sprintf(lang.L("%s: seen, nothing found"), s.regionTitle(r)), func() { s.takeBack(stage, at, ids...) })
		},
	})
	s.refreshRoute()
	s.goOn(find(s.route, at))
}
