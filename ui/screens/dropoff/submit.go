package dropoff

import (
	"context"
	"fmt"
	"maps"
	"math"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/run"
)

// Submit takes in what is typed and goes on to the inspection. What is wrong
// is said at the foot, and all that was typed stays.
func (s *Screen) Submit() {
	if s.busy || s.draft.dead { // once is enough
		return
	}
	if err := s.form.needed(); err != nil {
		s.say(err)
		return
	}
	in, err := s.form.intake(s.known, s.env.Desk.Clock(), s.currency)
	if err == nil {
		err = s.env.Desk.Check(in)
	}
	if err != nil {
		s.say(err)
		return
	}
	s.say(nil)
	s.busy = true
	s.takeIn.SetEnabled(false)
	s.takeIn.SetWord(lang.L("Taking in ..."))
	if stop := s.stops["draft"]; stop != nil {
		stop()
	}
	photos := maps.Clone(s.form.Photos)
	run.Go(s.env.Run, func(ctx context.Context) (inspect.Visit, error) {
		v, err := s.env.Desk.TakeIn(ctx, in)
		if err != nil {
			return v, err
		}
		// The visit is kept; a draft that can't be cleared is only offered again.
		draft := s.draft.write(ctx, s.env.Desk.Lib, math.MaxInt, "")
		if err := s.filePhotos(ctx, v, photos); err != nil {
			return v, afterwards{err}
		}
		if draft != nil {
			return v, afterwards{draft}
		}
		return v, nil
	}, s.onTakenIn)
}

// afterwards is an error that leaves the visit in order.
type afterwards struct{ error }

func (s *Screen) onTakenIn(v inspect.Visit, err error) {
	s.busy = false
	s.takeIn.SetEnabled(true)
	s.takeIn.SetWord(lang.L("Take in"))
	if _, only := err.(afterwards); err != nil && !only {
		s.env.Say.Failed(err)
		s.say(err)
		s.keepDraft(0)
		return
	}
	s.draft.dead = true // it is taken in: nothing of it is a draft any more
	s.env.Say.Saved(fmt.Sprintf(lang.L("Ticket %d taken in"), v.Ticket), nil)
	s.env.Go(place.Where{Name: place.Inspect, Visit: v.ID, Fork: v.ForkID})
	if err != nil {
		s.env.Say.Failed(err)
	}
}
