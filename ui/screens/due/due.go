package due

import (
	"fmt"
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/rows"
	"forkwear/ui/theme"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// Screen is the place.
type Screen struct {
	env    *place.Env
	root   fyne.CanvasObject
	title  *widget.RichText
	state  rows.State
	list   *rows.List
	filled fyne.CanvasObject
	due    []shop.DueRow
	cancel func()
	closed bool
}

// New returns the screen of the place.
func New(env *place.Env, _ place.Where) place.Screen {
	s := &Screen{env: env}
	s.buildUI()
	return s
}

func (s *Screen) buildUI() {
	s.title = rows.Title(lang.L("Due"), true)
	s.state = rows.NewState()
	s.list = rows.NewList([]rows.Column{
		{Title: lang.L("Should come"), Share: 1.9},
		{Title: lang.L("Fork"), Share: 2.4, Least: 150},
		{Title: lang.L("Customer"), Share: 2, Least: 130},
		{Title: lang.L("Because of"), Share: 2.2, Least: 170},
		{Title: lang.L("Riding a week"), Share: 1.1, Least: 100, Right: true},
	}, s.fill, s.onOpen, nil)
	about := rows.Quiet(lang.L("Forks that are not here now, by the day they should come again: riding hours or date, whichever is first. Hours since the last visit are reckoned from how much this fork was ridden before."))
	s.filled = rows.Under(about, s.list.WithHeading())
	s.root = container.NewBorder(s.title, nil, nil, nil, s.state.Box)
}

func (s *Screen) fill(i int, l *rows.Line) {
	if i >= len(s.due) {
		return
	}
	d := s.due[i]
	when := rows.Cell{Text: words.Date(d.On), Under: Told(d.On, s.env.Desk.Clock()), Bold: true}
	if d.On.Before(s.env.Desk.Clock()) {
		when.Mark = theme.ColorNameReplace
	}
	f, c := d.Row.Fork, d.Row.Customer
	l.Set(when, rows.Cell{Text: f.Label(), Under: f.Tag}, rows.Cell{Text: c.Name, Under: c.Phone},
		because(d), rows.Cell{Text: words.Fixed(d.PerWeek, 1) + words.Thin + "h", Folded: fmt.Sprintf(lang.L("%s a week"), words.Fixed(d.PerWeek, 1)+words.Thin+"h")})
}

func because(d shop.DueRow) rows.Cell {
	if d.By == "hours" {
		return rows.Cell{Text: lang.L("riding hours"),
			Under: fmt.Sprintf(lang.L("due at %s, about %s now"), words.Hours(d.NextHours), words.Hours(d.HoursNow))}
	}
	return rows.Cell{Text: lang.L("date"), Under: fmt.Sprintf(lang.L("about %s now"), words.Hours(d.HoursNow))}
}

// Told says how far off a day is: "overdue by 3 weeks", "in 5 days".
func Told(on, now time.Time) string {
	days := int(math.Round(midnight(on.In(now.Location())).Sub(midnight(now)).Hours() / 24))
	switch {
	case days < 0:
		return fmt.Sprintf(lang.L("overdue by %s"), span(-days))
	case days == 0:
		return lang.L("today")
	default:
		return fmt.Sprintf(lang.L("in %s"), span(days))
	}
}

func midnight(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, t.Location())
}

func span(days int) string {
	switch {
	case days < 14:
		return words.Count(days, "day")
	case days < 61:
		return words.Count(days/7, "week")
	default:
		return words.Count(int(math.Round(float64(days)/30.44)), "month")
	}
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.root }

// Opened implements place.Screen.
func (s *Screen) Opened() {
	s.closed = false
	s.load()
}

// Closed implements place.Screen.
func (s *Screen) Closed() {
	s.closed = true
	if s.cancel != nil {
		s.cancel()
	}
}

func (s *Screen) load() { s.cancel = run.Go(s.env.Run, s.env.Desk.Due, s.onLoaded) }

func (s *Screen) onLoaded(due []shop.DueRow, err error) {
	if s.closed {
		return
	}
	if err != nil {
		s.env.Say.Failed(err)
		s.state.Fail(err, widgets.NewTextButton(lang.L("Try again"), true, s.load))
		return
	}
	s.due = due
	s.list.SetLength(len(due))
	if len(due) == 0 {
		s.state.Fill(widgets.NewEmptyState(lang.L("Nobody is due"),
			lang.L("When a fork is handed back with a next visit, by riding hours or by date, it waits here for its day."),
			lang.L("To the bench"), s.onBench))
		return
	}
	late := 0
	for _, d := range due {
		if d.On.Before(s.env.Desk.Clock()) {
			late++
		}
	}
	rows.SetTitle(s.title, fmt.Sprintf(lang.L("Due · %d overdue, %d to come"), late, len(due)-late))
	s.state.Fill(s.filled)
}

func (s *Screen) onBench() { s.env.Go(place.Where{Name: place.Bench}) }

func (s *Screen) onOpen(i int) {
	if i < len(s.due) {
		s.env.Go(place.Where{Name: place.ForkLife, Fork: s.due[i].Row.Fork.ID})
	}
}
