package forklife

import (
	"context"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
)

// Screen is the place.
type Screen struct {
	env   *place.Env
	where place.Where
	root  fyne.CanvasObject
	state rows.State
	life  *life
	lines []line

	chosen   *widget.Select
	plot     *widgets.TrendPlot
	trend    *shop.Trend // that the plot shows; nil while it loads
	beside   *pointed
	views    *views
	told     *widget.RichText
	reading  *widget.RichText
	compare  *widgets.TextButton
	strip    *fyne.Container
	photos   *widget.RichText
	cells    []*widgets.PhotoCell
	wanted   []inspect.Photo // of the cells
	large    *widgets.PhotoView
	page     *container.Scroll
	cancels  []func()
	turn     int // only the newest choice may answer
	photoFor string
	closed   bool
}

// New returns the screen of one fork.
func New(env *place.Env, where place.Where) place.Screen {
	s := &Screen{env: env, where: where, state: rows.NewState()}
	s.root = container.NewStack(s.state.Box)
	return s
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
	s.turn++
	for _, c := range s.cancels {
		c()
	}
	s.cancels = nil
	if s.beside != nil {
		s.beside.drop()
	}
}

func (s *Screen) load() {
	s.cancels = append(s.cancels, run.Go(s.env.Run, func(ctx context.Context) (*life, error) {
		return read(ctx, s.env.Desk, s.where.Fork)
	}, s.onLoaded))
}

func (s *Screen) onLoaded(l *life, err error) {
	if s.closed {
		return
	}
	if err != nil {
		s.env.Say.Failed(err)
		s.state.Fail(err, container.NewHBox(widgets.NewTextButton(lang.L("Try again"), true, s.load),
			widgets.NewTextButton(lang.L("All forks"), false, s.onForks)))
		return
	}
	s.life = l
	if len(l.visits) == 0 {
		s.state.Fill(container.NewBorder(s.buildHead(), nil, nil, nil, widgets.NewEmptyState(lang.L("Not here yet"),
			lang.L("This fork's life begins with its first drop-off."), lang.L("New drop-off"), s.onDropOff)))
		return
	}
	s.buildUI()
}

func (s *Screen) buildUI() {
	left := container.NewVBox(s.buildVisits(), rows.Gap(), s.buildSettings(), rows.Gap(), s.buildFittings())
	right := s.buildWear()
	s.page = container.NewVScroll(rows.Inset(rows.Beside(left, right, .44, 760)))
	s.state.Fill(rows.Under(s.buildHead(), s.page))
	s.chooseFirst()
}

func (s *Screen) buildHead() fyne.CanvasObject {
	l := s.life
	var said []string
	for _, x := range []struct{ format, text string }{{lang.L("tag %s"), l.fork.Tag}, {lang.L("serial %s"), l.fork.Serial},
		{"%s", l.sheet.Name}, {"%s", l.customer.Name}, {"%s", l.customer.Phone}} {
		if x.text != "" {
			said = append(said, fmt.Sprintf(x.format, x.text))
		}
	}
	names := container.NewVBox(rows.Title(l.fork.Label(), true), rows.Quiet(strings.Join(said, " · ")))
	return container.NewBorder(nil, nil, nil, container.NewVBox(widgets.NewTextButton(lang.L("Take this fork in"), false, s.onDropOff)), names)
}

func (s *Screen) onDropOff() { s.env.Go(place.Where{Name: place.DropOff, Fork: s.where.Fork}) }

func (s *Screen) onForks() { s.env.Go(place.Where{Name: place.Forks}) }

// onVisit opens a visit where it stands.
func (s *Screen) onVisit(id inspect.ID) {
	for _, v := range s.life.visits {
		if v.Visit.ID == id {
			s.env.Go(place.Where{Name: stepOf(v.Visit), Visit: id})
		}
	}
}

func stepOf(v inspect.Visit) place.Name {
	switch v.Step {
	case inspect.StepDropOff, inspect.StepInspect:
		return place.Inspect
	case inspect.StepService:
		return place.Service
	case inspect.StepHandBack:
		return place.HandBack
	}
	return place.Decide // a collected visit is read as what was found and decided
}
