package compare

import (
	"context"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"forkwear/ui/run"
	"forkwear/ui/widgets"
)

// shifted tells whether Shift is held.
func shifted() bool {
	d, ok := fyne.CurrentApp().Driver().(desktop.Driver)
	return ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0
}

// TypedRune implements place.Keyed.
func (s *Screen) TypedRune(r rune) {
	if s.left == nil {
		return
	}
	switch r {
	case '1', '2', '3':
		s.SetMode(Mode(r - '1'))
	case 'a', 'A':
		if s.marking {
			s.alignByPoints()
			return
		}
		s.SetAligned(!s.want)
	case '+', '=', '-', '0':
		s.canvases()[0].TypedRune(r)
	case 'b', 'B':
		s.PickWork()
	case 'm', 'M':
		s.measure(s.now)
	}
}

// canvases are those in sight.
func (s *Screen) canvases() []*widgets.PhotoCanvas {
	switch {
	case s.then < 0:
		return []*widgets.PhotoCanvas{s.right}
	case s.mode == SideBySide:
		return []*widgets.PhotoCanvas{s.left, s.right}
	}
	return []*widgets.PhotoCanvas{s.both}
}

// TypedKey implements place.Keyed: left and right go through the strip with
// then, with Shift with now; up and down move the border; Space turns by hand.
func (s *Screen) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		if s.marking {
			s.endPoints()
			return
		}
		s.Back()
		return
	}
	if s.left == nil {
		return
	}
	switch e.Name {
	case fyne.KeyLeft:
		s.step(-1)
	case fyne.KeyRight:
		s.step(1)
	case fyne.KeyUp, fyne.KeyDown:
		if s.mode == Slider {
			by := map[fyne.KeyName]float64{fyne.KeyUp: 0.05, fyne.KeyDown: -0.05}[e.Name]
			s.both.SetSplit(s.both.Split() + by)
		}
	case fyne.KeySpace:
		if s.mode == Blink {
			s.stopBlink()
			s.turn()
		}
	}
}

// step goes through the strip with one photo of the pair and leaves the other.
func (s *Screen) step(by int) {
	asNow := shifted()
	at, other := s.then, s.now
	if asNow {
		at, other = s.now, s.then
	}
	if at < 0 {
		return
	}
	next := at + by
	if next == other {
		next += by
	}
	s.Pick(next, asNow)
}

// turn shows the other photo of the pair.
func (s *Screen) turn() {
	if s.both.Showing() == widgets.ShowFirst {
		s.both.SetShown(widgets.ShowSecond)
	} else {
		s.both.SetShown(widgets.ShowFirst)
	}
	s.says()
}

func halfSecond(ctx context.Context) error {
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(500 * time.Millisecond):
		return nil
	}
}

// startBlink turns every half second, unless the system asks for no motion.
func (s *Screen) startBlink() {
	s.stopBlink()
	if !fyne.CurrentApp().Settings().ShowAnimations() {
		return
	}
	ctx, stop := context.WithCancel(s.env.Run.Context())
	s.blinking = true
	s.stopBlink = func() {
		s.blinking = false
		stop()
	}
	s.blink(ctx)
}

// blink turns once after its wait, and goes on until ctx is done.
func (s *Screen) blink(ctx context.Context) {
	run.Go(s.env.Run, func(context.Context) (struct{}, error) { return struct{}{}, s.wait(ctx) },
		func(_ struct{}, err error) {
			if err != nil || ctx.Err() != nil || s.closed {
				return
			}
			s.turn()
			s.blink(ctx)
		})
}
