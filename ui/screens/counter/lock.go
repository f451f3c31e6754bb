package counter

import (
	"context"
	"time"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/run"
)

// lock keeps the customer in this view while the shop has a PIN.
type lock struct {
	known, set bool   // whether the shop has a PIN
	free       bool   // the PIN was given, or there is none
	then       func() // what comes once it is open
	pad        *pad   // shown while the PIN is asked
	wrong      int
	pause      time.Duration // after the third wrong one and each one after it
}

// Leave calls then once the shop's PIN was given, at once where there is none.
// The window asks it before it goes anywhere else, and before it closes.
func (s *Screen) Leave(then func()) {
	switch {
	case s.lock.free || s.lock.known && !s.lock.set:
		s.lock.free = true
		then()
	case s.lock.pad != nil:
		s.lock.then = then
	case s.lock.known:
		s.lock.then = then
		s.ask()
	default: // asked before the visit was read
		d := s.env.Desk
		run.Go(s.env.Run, d.HasPIN, func(set bool, err error) {
			if err != nil {
				s.env.Say.Failed(err)
				s.page.Failed(err, s.Opened)
				return
			}
			s.lock.known, s.lock.set = true, set
			s.Leave(then)
		})
	}
}

// ask shows the pad and nothing else.
func (s *Screen) ask() {
	s.cancelPhotos()
	s.wipe = nil
	s.lock.pad = newPad(s.onPIN, s.onStay, func() { s.env.Window.Canvas().Unfocus() })
	s.env.Window.Canvas().Unfocus()
	s.page.ShowWhole(s.lock.pad.content)
}

// onStay goes back to the fork.
func (s *Screen) onStay() {
	s.lock.pad, s.lock.then = nil, nil
	s.build()
}

func (s *Screen) onPIN(typed string) {
	p, d := s.lock.pad, s.env.Desk
	p.wait(lang.L("One moment …"))
	run.Go(s.env.Run, func(ctx context.Context) (bool, error) { return d.PINFits(ctx, typed) }, func(fits bool, err error) {
		if s.lock.pad != p { // left meanwhile
			return
		}
		switch {
		case fits || inspect.CodeOf(err) == inspect.Damaged: // a damaged one fits nothing: nobody must be locked in by it
			s.open(err)
		case err != nil:
			s.env.Say.Failed(err)
			p.ready(err.Error())
		default:
			s.onWrong(p)
		}
	})
}

func (s *Screen) open(err error) {
	then := s.lock.then
	s.lock.free, s.lock.pad, s.lock.then = true, nil, nil
	if then != nil {
		then()
	}
	if err != nil {
		s.env.Say.Failed(err)
	}
}

// onWrong says so; from the third wrong one on it takes a while.
func (s *Screen) onWrong(p *pad) {
	s.lock.wrong++
	if s.lock.wrong < 3 {
		p.ready(lang.L("That is not the PIN."))
		return
	}
	p.wait(lang.L("That is not the PIN. Wait a moment, then try again."))
	pause := s.lock.pause
	run.Go(s.env.Run, func(ctx context.Context) (struct{}, error) {
		select {
		case <-ctx.Done():
		case <-time.After(pause):
		}
		return struct{}{}, nil
	}, func(struct{}, error) { p.ready(lang.L("That is not the PIN.")) })
}
