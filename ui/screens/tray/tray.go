package tray

import (
	"context"
	"sync"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
)

// Screen is the place. All its fields belong to the window's goroutine.
type Screen struct {
	env        *place.Env
	oneAtATime sync.Mutex

	shots   []shot // of the tray, without those set aside
	aside   []shot
	open    []inspect.VisitRow // visits that take photos
	clocks  []inspect.CameraClock
	leaving map[string]bool // on the way to a visit
	loading bool
	again   bool // something changed while loading
	loaded  bool
	showing bool // those set aside
	failed  []string
	stop    func() // ends listening
	closed  bool

	root      fyne.CanvasObject
	page      *container.Scroll
	state     rows.State
	body      fyne.CanvasObject
	title     *widget.RichText
	watched   *widget.RichText
	refused   rows.Refusal
	asideChip *widgets.Chip
	grid      *grid
	thumbs    *thumbs
	detail    detail
}

var (
	_ place.Screen   = (*Screen)(nil)
	_ place.Keyed    = (*Screen)(nil)
	_ place.Dropping = (*Screen)(nil)
)

// New returns the screen of the place.
func New(env *place.Env, _ place.Where) place.Screen {
	s := &Screen{env: env, leaving: map[string]bool{}}
	s.thumbs = newThumbs(s)
	s.buildUI()
	return s
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

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.root }

// Opened implements place.Screen.
func (s *Screen) Opened() {
	s.closed = false
	if a := s.env.Arrivals; a != nil && s.stop == nil {
		s.stop = a.Listen(func(x place.Arrival) {
			s.oneAtATime.Lock()
			defer s.oneAtATime.Unlock()
			s.arrived(x)
		})
	}
	s.load()
}

// Closed implements place.Screen: pixels that nobody sees are let go.
func (s *Screen) Closed() {
	s.closed = true
	if s.stop != nil {
		s.stop()
		s.stop = nil
	}
	s.detail.cancel()
	s.thumbs.clear()
}

// TypedRune implements place.Keyed.
func (s *Screen) TypedRune(r rune) { s.grid.TypedRune(r) }

// TypedKey implements place.Keyed: the first key brings the focus to the grid.
func (s *Screen) TypedKey(e *fyne.KeyEvent) {
	s.env.Window.Canvas().Focus(s.grid)
	s.grid.TypedKey(e)
}

// Dropped implements place.Dropping.
func (s *Screen) Dropped(paths []string, _ fyne.Position) { s.take(paths) }

func (s *Screen) take(paths []string) {
	s.failed = nil
	s.showFailed()
	if s.env.Arrivals != nil {
		s.env.Arrivals.Import(paths)
	}
}

func (s *Screen) arrived(x place.Arrival) {
	if s.closed {
		return
	}
	if len(x.Failed) > 0 {
		s.failed = append(s.failed, x.Failed...)
		s.showFailed()
	}
	s.showWatched()
	s.show()
	s.load()
}

// state of the library that the screen shows.
type found struct {
	shots, aside []shot
	open         []inspect.VisitRow
	clocks       []inspect.CameraClock
}

// load reads the tray anew; what changes meanwhile is read after it.
func (s *Screen) load() {
	if s.loading {
		s.again = true
		return
	}
	s.loading, s.again = true, false
	later(s, s.read, func(f found, err error) {
		s.loading = false
		switch {
		case s.closed:
			return
		case err != nil && !s.loaded:
			s.env.Say.Failed(err)
			s.state.Fail(err, widgets.NewTextButton(again(), true, s.load))
			return
		case err != nil:
			s.env.Say.Failed(err)
		default:
			s.shots, s.aside, s.open, s.clocks, s.loaded = f.shots, f.aside, f.open, f.clocks, true
			s.show()
		}
		if s.again {
			s.load()
		}
	})
}

// read runs in a worker.
func (s *Screen) read(ctx context.Context) (f found, err error) {
	d := s.env.Desk
	photos, err := d.Unsorted(ctx)
	if err != nil {
		return f, err
	}
	if f.clocks, err = d.Lib.Clocks(ctx); err != nil {
		return f, err
	}
	if f.open, err = d.Lib.Visits(ctx, inspect.VisitFilter{OpenOnly: true}); err != nil {
		return f, err
	}
	hidden := map[inspect.ID]bool{}
	if s.env.Arrivals != nil {
		hidden = s.env.Arrivals.Aside()
	}
	now := d.Clock()
	for _, p := range photos {
		x := shotOf(d, p, f.clocks, now)
		if hidden[p.ID] {
			f.aside = append(f.aside, x)
		} else {
			f.shots = append(f.shots, x)
		}
	}
	sortShots(f.shots)
	sortShots(f.aside)
	return f, nil
}

func shotOf(d *shop.Desk, p inspect.Photo, clocks []inspect.CameraClock, now time.Time) shot {
	x := shot{key: string(p.ID), photo: p, doubts: d.Doubts(p, nil, clocks, now)}
	if x.at, x.dated = d.TakenHere(p, clocks); !x.dated {
		x.at = p.AddedAt
		if d.Zone != nil {
			x.at = x.at.In(d.Zone)
		}
	}
	return x
}

// shown are the shots of the sheet.
func (s *Screen) shown() []shot {
	from := s.shots
	if s.showing {
		from = s.aside
	}
	var out []shot
	if s.env.Arrivals != nil && !s.showing {
		for _, path := range s.env.Arrivals.Coming() {
			out = append(out, shot{key: path, path: path})
		}
	}
	for _, x := range from {
		if !s.leaving[x.key] {
			out = append(out, x)
		}
	}
	return out
}

// show brings everything in line with what was loaded.
func (s *Screen) show() {
	if !s.loaded {
		return
	}
	shots := s.shown()
	s.showTitle()
	if len(shots) == 0 {
		s.state.Fill(s.emptyState())
		s.grid.show(nil)
		return
	}
	if s.state.Box.Objects[0] != s.body {
		s.state.Fill(s.body)
	}
	s.grid.show(shots)
	s.chosen()
}

func (s *Screen) emptyState() fyne.CanvasObject {
	if s.showing {
		return s.emptyAside()
	}
	return s.emptyTray()
}

// shotBy finds a shot of the sheet.
func (s *Screen) shotBy(key string) (shot, bool) {
	for _, x := range s.grid.sheet.shots {
		if x.key == key {
			return x, true
		}
	}
	return shot{}, false
}
