package bench

import (
	"context"
	"errors"
	"sort"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
)

// filter chooses which of the open visits are shown.
type filter int

const (
	all filter = iota
	waiting
	ready
)

// screen is the bench.
type screen struct {
	env     *place.Env
	root    *fyne.Container
	body    *fyne.Container // what changes: loading, empty, failed, or the list
	summary *widget.Label
	chips   []*widgets.Chip
	top     fyne.CanvasObject

	rows      []inspect.VisitRow
	show      filter
	waitsOpen inspect.ID // the visit whose 'waits for' stands open
	stop      func()     // ends the loading that runs
	turn      int        // of loading: an older answer is dropped
	demoStop  func()
	progress  *widget.ProgressBar
}

// loaded is what a worker brings.
type loaded struct {
	rows []inspect.VisitRow
	used bool // the library knows a visit, collected ones too
}

// New returns the bench.
func New(env *place.Env, _ place.Where) place.Screen {
	s := &screen{env: env, stop: func() {}, demoStop: func() {}}
	s.buildUI()
	return s
}

// Content implements place.Screen.
func (s *screen) Content() fyne.CanvasObject { return s.root }

// Opened implements place.Screen.
func (s *screen) Opened() { s.load() }

// Closed implements place.Screen. A sample shop that is being filled goes on:
// the status line still has its cancel.
func (s *screen) Closed() {
	s.stop()
	s.turn++
}

func (s *screen) buildUI() {
	s.summary = widget.NewLabel("")
	s.summary.Importance = widget.LowImportance
	s.summary.Truncation = fyne.TextTruncateEllipsis
	words := []string{lang.L("All"), lang.L("Waiting"), lang.L("Ready to collect")}
	bar := container.NewHBox()
	for i, w := range words {
		f := filter(i)
		c := widgets.NewChip(w, func() { s.onFilter(f) })
		s.chips = append(s.chips, c)
		bar.Add(c)
	}
	s.top = container.NewBorder(nil, nil, bar, nil, s.summary)
	s.body = container.New(settling{}, widget.NewLabel(lang.L("Looking at the bench ...")))
	s.root = container.NewBorder(s.top, nil, nil, nil, s.body)
	s.top.Hide()
}

func (s *screen) load() {
	s.stop()
	s.turn++
	turn := s.turn
	s.stop = run.Go(s.env.Run, s.read, func(l loaded, err error) {
		if turn == s.turn {
			s.onLoaded(l, err)
		}
	})
}

// read runs in a worker.
func (s *screen) read(ctx context.Context) (loaded, error) {
	rows, err := s.env.Desk.Lib.Visits(ctx, inspect.VisitFilter{OpenOnly: true})
	if err != nil || len(rows) > 0 {
		return loaded{byPromise(rows), true}, err
	}
	any, err := s.env.Desk.Lib.Visits(ctx, inspect.VisitFilter{Limit: 1})
	return loaded{nil, len(any) > 0}, err
}

// byPromise puts the earliest promise first; those without one follow, the
// longest here first.
func byPromise(rows []inspect.VisitRow) []inspect.VisitRow {
	sort.SliceStable(rows, func(i, j int) bool {
		a, b := rows[i].Visit, rows[j].Visit
		switch {
		case a.Promised.IsZero() != b.Promised.IsZero():
			return b.Promised.IsZero()
		case !a.Promised.Equal(b.Promised):
			return a.Promised.Before(b.Promised)
		}
		return a.DroppedOff.Before(b.DroppedOff)
	})
	return rows
}

func (s *screen) onLoaded(l loaded, err error) {
	switch {
	case errors.Is(err, context.Canceled):
		return
	case err != nil:
		s.env.Say.Failed(err)
		s.put(s.failed(err))
	case len(l.rows) > 0:
		s.rows = l.rows
		s.rebuild()
	case l.used:
		s.put(widgets.NewEmptyState(lang.L("The bench is clear"),
			lang.L("Every fork that was taken in has been collected. Forks that are here stand here, by the day they were promised, with what each waits for."),
			lang.L("New drop-off"), s.onDropOff))
	default:
		s.put(s.emptyLibrary())
	}
}

// put shows one thing instead of the list.
func (s *screen) put(o fyne.CanvasObject) {
	s.rows = nil
	s.top.Hide()
	s.body.Objects = []fyne.CanvasObject{o}
	s.root.Refresh()
}

func (s *screen) failed(err error) fyne.CanvasObject {
	return widgets.NewEmptyState(lang.L("The bench can't be shown"), inspect.SaidIn(tongue.Say, err), lang.L("Try again"), s.load)
}

func (s *screen) onFilter(f filter) {
	s.show = f
	s.rebuild()
}

func (s *screen) onDropOff() { s.env.Go(place.Where{Name: place.DropOff}) }

// kept reports whether a visit is shown under a filter.
func (f filter) kept(v inspect.Visit) bool {
	switch f {
	case waiting:
		return v.WaitsFor != ""
	case ready:
		return isReady(v)
	}
	return true
}

// isReady: the work is done and the fork can be called for.
func isReady(v inspect.Visit) bool { return v.Step == inspect.StepHandBack && v.WaitsFor == "" }
