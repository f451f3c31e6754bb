package inspection

import (
	"context"
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/words"
)

// follow takes up a new state of the case: the first time it finds the place
// to begin, later it stays where it is.
func (s *Screen) follow() {
	first := s.stage == ""
	if first {
		s.begin()
		s.drawing.SetView(viewOf(s.stage))
	}
	ended := s.ended
	s.refreshRoute()
	if ended && !s.ended {
		s.tell(lang.L("What was found opened more checks. Enter goes on with them."))
	}
	if first && len(s.route) > 0 {
		s.at, s.ended = s.opening()
	}
	if !s.shown {
		s.shown = true
		bar := visitbar.New(s.env, s.kase, inspect.StepInspect)
		s.content.Objects = []fyne.CanvasObject{container.NewBorder(bar, nil, nil, nil, s.body)}
		s.content.Refresh()
	}
	s.show()
}

// begin chooses the stage to start with: the one asked for, else the first that has open checks; after
// the work once the visit got there.
func (s *Screen) begin() {
	stages := s.stages()
	if slices.Contains(stages, s.where.Stage) {
		s.stage = s.where.Stage
		return
	}
	s.stage = stages[0]
	if s.kase.Visit.Step == inspect.StepService || s.kase.Visit.Step == inspect.StepHandBack {
		s.stage = stages[len(stages)-1]
		return
	}
	for _, st := range stages {
		lines := s.routeOf(st)
		if st != inspect.AfterWork && s.progress(lines) < len(lines) {
			s.stage = st
			return
		}
	}
}

// opening is the check that was asked for, else the first open one.
func (s *Screen) opening() (spot, bool) {
	if k, ok := s.env.Desk.Catalog.Check(s.where.Check); ok {
		at := spot{k.ID, s.where.Leg, points(k)[0]}
		if pt, ok := s.pointInConflict(at); ok {
			at.point = pt
		}
		for _, st := range append([]inspect.Stage{s.stage}, s.stages()...) {
			if find(s.routeOf(st), at) >= 0 {
				s.stage = st
				s.refreshRoute()
				return at, false
			}
		}
	}
	if at, ok := s.firstOpen(0); ok {
		return at, false
	}
	return s.start(s.route[0]), true
}

func (s *Screen) refreshRoute() {
	s.route = s.routeOf(s.stage)
	if s.ended {
		_, open := s.firstOpen(0)
		s.ended = !open
	}
}

func (s *Screen) end() {
	s.ended = true
	s.show()
	s.tell(s.endWords())
}

func (s *Screen) endWords() string {
	if st, ok := s.nextStage(); ok {
		return fmt.Sprintf(lang.L("%s: all %d checks are answered. Enter goes on with: %s."), words.Stage(s.stage), len(s.route), words.Stage(st))
	}
	if s.onward() == place.Service {
		return fmt.Sprintf(lang.L("%s: all %d checks are answered. Enter goes back to the service."), words.Stage(s.stage), len(s.route))
	}
	return fmt.Sprintf(lang.L("%s: all %d checks are answered. Enter goes on to Decide."), words.Stage(s.stage), len(s.route))
}

// nextStage is the next stage of the inspection with open checks; what is
// looked at after the work belongs to the service.
func (s *Screen) nextStage() (inspect.Stage, bool) {
	past := false
	for _, st := range s.stages() {
		if past && st != inspect.AfterWork {
			if lines := s.routeOf(st); s.progress(lines) < len(lines) {
				return st, true
			}
		}
		past = past || st == s.stage
	}
	return "", false
}

func (s *Screen) toStage(st inspect.Stage) {
	if s.kase == nil {
		return
	}
	lines := s.routeOf(st)
	for _, p := range lines {
		if _, ok := s.answerOf(p); !ok {
			s.move(st, s.start(p))
			return
		}
	}
	if len(lines) > 0 {
		s.move(st, s.start(lines[0]))
		return
	}
	s.move(st, spot{})
}

func (s *Screen) toDecide() {
	if s.kase != nil && !s.commit() {
		return
	}
	s.keepNote()
	if s.blocked != nil {
		s.tell(lang.L("Some entries are not saved yet: try again first, so that Decide sees them."))
		return
	}
	s.leaving = true
	if c := s.kase; c != nil && !c.Visit.Closed() && visitbar.Number(c.Visit.Step) < visitbar.Number(inspect.StepDecide) {
		s.send(errand{work: func(ctx context.Context, c *shop.Case) error { return s.env.Desk.Move(ctx, c, inspect.StepDecide) }})
	}
	s.leave()
}

// onward is the place after this one: back to the service from what is looked at
// after the work, as it was opened from there.
func (s *Screen) onward() place.Name {
	if s.where.Stage == inspect.AfterWork && s.stage == inspect.AfterWork {
		return place.Service
	}
	return place.Decide
}

// leave goes on once everything is saved: it decides on what is kept.
func (s *Screen) leave() {
	if s.leaving && len(s.way) == 0 {
		s.leaving = false
		s.env.Go(place.Where{Name: s.onward(), Visit: s.where.Visit})
	}
}
