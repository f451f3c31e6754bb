package forks

import (
	"context"
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// limit is how many forks are shown; more are found by typing.
const limit = 500

// pause is how long a search waits for the next key: long enough for the keys
// of a fast hand or of a scanner, short enough that nobody sees it.
const pause = 12 * time.Millisecond

// Screen is the place.
type Screen struct {
	env     *place.Env
	root    fyne.CanvasObject
	title   *widget.RichText
	state   rows.State
	list    *rows.List
	filled  fyne.CanvasObject
	found   []inspect.ForkRow
	text    string // what the window looks for
	shown   string // what found answers
	loaded  bool
	openTop bool // Enter came before the answer
	cancel  func()
	turn    int // only the newest search may answer
}

var _ place.Searching = (*Screen)(nil)

// New returns the screen of the place.
func New(env *place.Env, _ place.Where) place.Screen {
	s := &Screen{env: env}
	s.buildUI()
	return s
}

func (s *Screen) buildUI() {
	s.title = rows.Title(lang.L("Forks"), true)
	s.state = rows.NewState()
	s.list = rows.NewList([]rows.Column{
		{Title: lang.L("Fork"), Share: 3},
		{Title: lang.L("Tag"), Share: 1, Least: 70},
		{Title: lang.L("Customer"), Share: 2.4, Least: 150},
		{Title: lang.L("Visits"), Share: .9, Least: 84, Right: true},
		{Title: lang.L("Last visit"), Share: 1.4, Least: 110, Right: true},
	}, s.fill, s.onOpen, nil)
	s.filled = s.list.WithHeading()
	s.root = container.NewBorder(s.title, nil, nil, nil, s.state.Box)
}

func (s *Screen) fill(i int, l *rows.Line) {
	if i >= len(s.found) {
		return
	}
	r := s.found[i]
	serial := ""
	if r.Fork.Serial != "" {
		serial = fmt.Sprintf(lang.L("serial %s"), r.Fork.Serial)
	}
	l.Set(rows.Cell{Text: r.Fork.Label(), Under: serial, Bold: true}, rows.Cell{Text: r.Fork.Tag},
		rows.Cell{Text: r.Customer.Name, Under: r.Customer.Phone},
		rows.Cell{Text: fmt.Sprint(r.Visits), Folded: words.Count(r.Visits, "visit")}, rows.Cell{Text: words.Date(r.LastVisit)})
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.root }

// Opened implements place.Screen.
func (s *Screen) Opened() { s.load(0) }

// Closed implements place.Screen.
func (s *Screen) Closed() {
	s.turn++
	if s.cancel != nil {
		s.cancel()
	}
}

// Search implements place.Searching.
func (s *Screen) Search(text string) {
	if text != s.text {
		s.text = text
		s.load(pause)
	}
}

// OpenFirst implements place.Searching.
func (s *Screen) OpenFirst() {
	if !s.loaded || s.shown != s.text {
		s.openTop = true
		return
	}
	if len(s.found) > 0 {
		s.onOpen(0)
	}
}

// load looks for what is typed, in a worker, after a while without a key. What
// it finds is dropped where another search began meanwhile.
func (s *Screen) load(after time.Duration) {
	if s.cancel != nil {
		s.cancel()
	}
	s.turn++
	turn, text := s.turn, s.text
	s.cancel = run.Go(s.env.Run, func(ctx context.Context) ([]inspect.ForkRow, error) {
		if after > 0 {
			select {
			case <-ctx.Done():
				return nil, ctx.Err()
			case <-time.After(after):
			}
		}
		return s.env.Desk.Lib.FindForks(ctx, text, limit)
	}, func(found []inspect.ForkRow, err error) {
		if turn == s.turn {
			s.onFound(text, found, err)
		}
	})
}

func (s *Screen) onFound(text string, found []inspect.ForkRow, err error) {
	open := s.openTop
	s.openTop = false
	if err != nil {
		s.env.Say.Failed(err)
		s.state.Fail(err, widgets.NewTextButton(lang.L("Try again"), true, s.Opened))
		return
	}
	s.found, s.shown, s.loaded = found, text, true
	s.list.SetLength(len(found))
	rows.SetTitle(s.title, s.heading())
	switch {
	case len(found) > 0:
		s.state.Fill(s.filled)
		if open {
			s.onOpen(0)
		}
	case text == "":
		s.state.Fill(widgets.NewEmptyState(lang.L("No fork yet"),
			lang.L("A fork comes into this list with its first drop-off."), lang.L("New drop-off"), s.onDropOff))
	default:
		s.state.Fill(widgets.NewEmptyState(lang.L("No fork found"),
			fmt.Sprintf(lang.L("Nothing has “%s” in its customer, phone, tag, serial or model. Type less of it, or take the fork in."), text),
			lang.L("New drop-off"), s.onDropOff))
	}
}

func (s *Screen) heading() string {
	switch n := len(s.found); {
	case n == 0:
		return lang.L("Forks")
	case n == limit:
		return fmt.Sprintf(lang.L("Forks · the newest %d, type to find others"), n)
	case s.text != "":
		return fmt.Sprintf(lang.L("Forks · %d found"), n)
	default:
		return fmt.Sprintf(lang.L("Forks · %d"), n)
	}
}

func (s *Screen) onDropOff() { s.env.Go(place.Where{Name: place.DropOff}) }

func (s *Screen) onOpen(i int) {
	if i < len(s.found) {
		s.env.Go(place.Where{Name: place.ForkLife, Fork: s.found[i].Fork.ID})
	}
}
