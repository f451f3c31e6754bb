package settings

import (
	"context"
	"fmt"

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
	env       *place.Env
	root      fyne.CanvasObject
	state     rows.State
	page      *container.Scroll
	entries   map[string]*entry
	failed    rows.Refusal // the thresholds of the library can't be read
	prices    prices
	people    people
	cameras   cameras
	folder    folder
	units     units
	languages *oneOf
	sample    *fyne.Container
	fill      *widgets.TextButton
	stop      func()
	cancel    func()
	closed    bool
	sections  []section
}

// kept is what the library holds.
type kept struct {
	values map[string]string
	empty  bool
}

// New returns the screen of the place.
func New(env *place.Env, _ place.Where) place.Screen {
	s := &Screen{env: env, entries: map[string]*entry{}}
	s.buildUI()
	return s
}

func (s *Screen) buildUI() {
	left := container.NewVBox(s.buildSample(), s.section(lang.L("Shop"), rows.Title(lang.L("Shop"), false)))
	for _, c := range shopChoices() {
		left.Add(s.buildChoice(c))
	}
	left.Add(rows.Quiet(lang.L("The time zone dates photos whose camera names none; a new one counts from the next start of the program.")))
	left.Add(s.section(lang.L("Units"), s.buildUnits()))
	left.Add(s.section(lang.L("Language"), s.buildLanguage()))
	left.Add(s.section(lang.L("People and PIN"), s.buildPeople()))
	left.Add(s.section(lang.L("Watched folder and cameras"), s.buildCameras()))
	left.Add(s.section(lang.L("Bench card"), s.buildCard()))
	left.Add(rows.Gap())
	left.Add(s.section(lang.L("When a part goes out"), rows.Title(lang.L("When a part goes out"), false)))
	s.failed = rows.NewRefusal()
	left.Add(s.failed.RichText)
	for _, c := range ruleChoices() {
		left.Add(s.buildChoice(c))
	}
	left.Add(rows.Quiet(lang.L("An empty field takes the usual value. 95 % is the default of ISO 14253-1; the other usual values are common practice, without source. Decisions that were made before stay as they were made.")))
	left.Add(container.NewHBox(widgets.NewTextButton(lang.L("Prices of kits and work"), false, s.toPrices)))
	library := s.section(lang.L("Library and backup"), container.NewVBox(rows.Title(lang.L("Library and backup"), false), s.buildLibrary()))
	right := container.NewVBox(library, rows.Gap(), s.section(lang.L("Instruments"), s.buildInstruments()), rows.Gap(), s.section(lang.L("Data sheets"), s.buildSheets()))
	s.page = container.NewVScroll(rows.Inset(container.NewVBox(rows.Beside(left, right, .52, 760), s.section(lang.L("Prices"), s.buildPrices()))))
	s.state = rows.NewState()
	s.root = container.NewBorder(container.NewBorder(nil, nil, nil, s.buildIndex(), rows.Title(lang.L("Settings"), true)), nil, nil, nil, s.state.Box)
}

func (s *Screen) buildSample() fyne.CanvasObject {
	s.fill = widgets.NewTextButton(lang.L("Fill with the sample shop"), true, s.onFill)
	s.sample = container.NewVBox(widgets.NewCard(container.NewVBox(
		rows.Title(lang.L("The library is empty"), false),
		rows.Quiet(lang.L("To look around, fill it with an invented shop: forks, visits, readings and drawn photos. Choose another folder for your own work.")),
		container.NewHBox(s.fill))), rows.Gap())
	s.sample.Hide()
	return s.sample
}

func (s *Screen) buildChoice(c choice) fyne.CanvasObject {
	e := newEntry(c, s.onKeep)
	e.settle = func() { rows.Settle(s.page) }
	s.entries[c.key] = e
	label := widget.NewLabel(c.label)
	label.Wrapping = fyne.TextWrapWord
	if c.long {
		return container.NewVBox(label, rows.Target(e), e.refused.RichText)
	}
	return container.NewVBox(rows.Beside(label, rows.WithUnit(c.unit, e), .46, 340), e.refused.RichText)
}

func (s *Screen) buildLibrary() fyne.CanvasObject {
	l := widget.NewLabel(s.env.Library)
	l.Wrapping = fyne.TextWrapBreak
	l.Selectable = true
	return container.NewVBox(l, rows.Quiet(lang.L("The whole history and its photos lie in this folder.")),
		rows.Quiet(lang.L("Backup: the command “forkwear backup NEW-FOLDER” copies all of it, the shop's own data sheets too, also while the window is open; “forkwear restore” brings it back. Keep the copy on another disk.")))
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.root }

// Opened implements place.Screen.
func (s *Screen) Opened() {
	s.closed = false
	s.load()
	s.loadPeople()
	s.loadCameras()
	s.loadUnits()
}

// Closed implements place.Screen. Filling the library goes on; what was typed
// is kept by the field that loses the focus.
func (s *Screen) Closed() {
	s.closed = true
	s.endFolder()
	if s.cancel != nil {
		s.cancel()
	}
}

func (s *Screen) load() { s.cancel = run.Go(s.env.Run, s.read, s.onLoaded) }

// read runs in a worker.
func (s *Screen) read(ctx context.Context) (kept, error) {
	k := kept{values: map[string]string{}}
	for key := range s.entries {
		v, err := s.env.Desk.Lib.Preference(ctx, key)
		if err != nil {
			return k, err
		}
		k.values[key] = v
	}
	visits, err := s.env.Desk.Lib.Visits(ctx, inspect.VisitFilter{Limit: 1})
	k.empty = len(visits) == 0
	return k, err
}

func (s *Screen) onLoaded(k kept, err error) {
	if s.closed {
		return
	}
	if err != nil {
		s.env.Say.Failed(err)
		s.state.Fail(err, widgets.NewTextButton(lang.L("Try again"), true, s.load))
		return
	}
	for key, e := range s.entries {
		e.set(k.values[key])
	}
	s.takeRules()
	s.sample.Hidden = s.env.Demo == nil || !k.empty
	s.state.Fill(s.page)
}

// takeRules puts the thresholds in force for all places.
func (s *Screen) takeRules() {
	values := map[string]string{}
	for key, e := range s.entries {
		values[key] = e.kept
	}
	var err error
	s.env.Rules, err = shop.RulesFrom(values)
	s.failed.Set(err)
	s.showRates()
}

// onKeep keeps a changed choice, with the way back.
func (s *Screen) onKeep(e *entry, value string) {
	before := e.kept
	e.kept = value // a second change of the same field goes back to this one
	run.Go(s.env.Run, func(ctx context.Context) (struct{}, error) {
		return struct{}{}, s.env.Desk.Lib.PutPreference(ctx, e.choice.key, value)
	}, func(_ struct{}, err error) {
		if err != nil {
			e.kept = before
			e.refuse(err) // the text stays: leaving the field tries again
			s.env.Say.Failed(err)
			return
		}
		s.takeRules()
		s.env.Say.Saved(e.choice.label, func() {
			e.set(value)
			e.SetText(e.choice.show(before))
			e.commit()
		})
	})
}

// onFill makes the sample shop in an empty library.
func (s *Screen) onFill() {
	if s.stop != nil {
		return
	}
	s.fill.SetEnabled(false)
	update, done := s.env.Say.Working(lang.L("Filling with the sample shop"), s.onStop)
	s.stop = run.Go(s.env.Run, func(ctx context.Context) (struct{}, error) {
		return struct{}{}, s.env.Demo(ctx, func(at, of int) {
			s.env.Run.Tell(func() { update(fmt.Sprintf(lang.L("Filling with the sample shop: %d of %d forks"), at, of)) })
		})
	}, func(_ struct{}, err error) {
		done()
		s.stop = nil
		s.fill.SetEnabled(true)
		if err != nil {
			s.env.Say.Failed(err)
		} else {
			s.env.Say.Saved(lang.L("The sample shop"), nil)
		}
		if !s.closed {
			s.load()
		}
	})
}

func (s *Screen) onStop() {
	if s.stop != nil {
		s.stop()
	}
}
