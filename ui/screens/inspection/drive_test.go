package inspection

import (
	"testing"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/ui/place"
)

// open shows the screen of a visit and waits until it is there.
func open(t *testing.T, env *place.Env, visit inspect.ID) *Screen {
	t.Helper()
	s := New(env, place.Where{Name: place.Inspect, Visit: visit}).(*Screen)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	do(env, s, s.Opened)
	if s.kase == nil {
		t.Fatal("the visit did not load")
	}
	return s
}

// settle waits for all work, also for what work starts when it comes back.
func settle(env *place.Env) {
	env.Run.Wait()
}

// do runs f as one event of the window, with nothing coming back from workers
// meanwhile, and then waits for what it started. The test driver brings results
// on the worker's goroutine; the window never does that.
func do(env *place.Env, s *Screen, f func()) {
	s.oneAtATime.Lock()
	f()
	s.oneAtATime.Unlock()
	if !held {
		settle(env)
	}
}

// held is set while the library keeps everything waiting.
var held bool

// press types keys as the window passes them on: to what has the focus, else to
// the screen. "\n" is Enter.
func press(env *place.Env, s *Screen, keys string) {
	for _, r := range keys {
		do(env, s, func() { key(env, s, r) })
	}
}

func key(env *place.Env, s *Screen, r rune) {
	f := env.Window.Canvas().Focused()
	switch {
	case r == '\n' && f != nil:
		f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	case r == '\n':
		s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnter})
	case f != nil:
		f.TypedRune(r)
	default:
		s.TypedRune(r)
	}
}

func indexOfKind(s *Screen, kind catalog.Kind) int {
	for i, p := range s.route {
		if p.Check.Kind == kind {
			return i
		}
	}
	return -1
}
