package patterns

import (
	"context"
	"fmt"
	"sort"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/life"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/rows"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// Screen is the place.
type Screen struct {
	env      *place.Env
	root     fyne.CanvasObject
	top      *fyne.Container
	title    *widget.RichText
	back     *widgets.TextButton
	stock    *widgets.TextButton
	part     *widget.Select
	state    rows.State
	list     *rows.List
	all      fyne.CanvasObject
	data     loaded
	shown    []life.PatternRow
	parts    []string // ids, in the order of the select after its first
	behind   []fitted
	fittings *rows.List
	plot     *widgets.CurvePlot // of the row that is open
	turnTo   func(at int)       // its forks, or its plot
	cancel   func()
	closed   bool
}

// loaded is what the place shows.
type loaded struct {
	rows     []life.PatternRow
	fittings map[string]fitted
	ended    map[spot]bool // where a part was taken out, at which visit
}

// fitted is one fitting behind a row with its fork.
type fitted struct {
	life life.Fitting
	at   inspect.Fitting
	fork inspect.Fork
}

// New returns the screen of the place.
func New(env *place.Env, _ place.Where) place.Screen {
	s := &Screen{env: env}
	s.buildUI()
	return s
}

func (s *Screen) buildUI() {
	s.title = rows.Title(lang.L("Patterns"), true)
	s.back = widgets.NewTextButton(lang.L("Back to all patterns"), false, s.onBack)
	s.back.Hide()
	s.stock = widgets.NewTextButton(lang.L("What to stock"), false, s.onStock)
	s.part = widget.NewSelect(nil, nil)
	s.state = rows.NewState()
	s.list = rows.NewList([]rows.Column{
		{Title: lang.L("Part"), Share: 1.6},
		{Title: lang.L("On forks with"), Share: 2.1, Least: 160},
		{Title: lang.L("Riding watched"), Share: 1.3, Least: 110},
		{Title: lang.L("Failed or worn"), Share: 1.7, Least: 160},
		{Title: lang.L("Against all forks"), Share: 1.5, Least: 130},
		{Title: lang.L("1/8 … as expected … 8 times"), Share: 1.9, Least: 190},
	}, s.fill, s.onOpen, func() fyne.CanvasObject { return newRatioBar() })
	about := rows.Quiet(lang.L("Each line: one part on one kind of fork, against the same part on all forks here. Expected is how many would have failed or worn out in the same hours if all forks were alike. The line at the right is where the true figure lies, 19 times in 20; where it crosses the middle, it may be chance."))
	s.all = rows.Under(about, s.list.WithHeading())
	s.fittings = rows.NewList([]rows.Column{
		{Title: lang.L("Fork"), Share: 2.4},
		{Title: lang.L("Tag"), Share: 1, Least: 70},
		{Title: lang.L("Side"), Share: .8, Least: 60},
		{Title: lang.L("Fitted"), Share: 1.4, Least: 120},
		{Title: lang.L("Hours on it"), Share: 1, Least: 90, Right: true},
		{Title: lang.L("Ended"), Share: 2.2, Least: 150},
	}, s.fillFitting, s.onFitting, nil)
	s.top = container.NewBorder(nil, nil, nil, container.NewHBox(s.back, s.stock, s.part), s.title)
	s.root = container.NewBorder(s.top, nil, nil, nil, s.state.Box)
}

func (s *Screen) fill(i int, l *rows.Line) {
	if i >= len(s.shown) {
		return
	}
	r := s.shown[i]
	ratio := rows.Cell{Text: "–", Quiet: true}
	bar := l.Extra().(*ratioBar)
	bar.set(r.Ratio)
	if r.Ratio != nil {
		ratio = rows.Cell{Text: fmt.Sprintf(lang.L("%s times"), two(r.Ratio.Value)), Under: verdict(r)}
	}
	l.Set(rows.Cell{Text: r.PartName, Under: thin(r), Bold: r.TooThin == ""},
		rows.Cell{Text: s.sheetName(r.Sheet), Under: median(r)},
		rows.Cell{Text: words.Hours(r.Hours), Under: fmt.Sprintf("%s, %s", words.Count(r.Fittings, "fitting"), words.Count(r.Forks, "fork"))},
		rows.Cell{Text: fmt.Sprintf(lang.L("%d, expected %s"), r.Failures, words.Fixed(r.Expected, 1)), Under: fmt.Sprintf(lang.L("%d failed, %d worn"), r.Failed, r.Worn)},
		ratio)
}

func (s *Screen) sheetName(id string) string {
	if sh, ok := s.env.Desk.Catalog.Sheet(id); ok {
		return sh.Name
	}
	return id
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

func (s *Screen) load() { s.cancel = run.Go(s.env.Run, s.read, s.onLoaded) }

// read runs in a worker.
func (s *Screen) read(ctx context.Context) (loaded, error) {
	d := loaded{fittings: map[string]fitted{}, ended: map[spot]bool{}}
	lives, err := s.env.Desk.Lives(ctx)
	if err != nil {
		return d, err
	}
	fits, err := s.env.Desk.Lib.Fittings(ctx, inspect.FittingFilter{})
	if err != nil {
		return d, err
	}
	forks, err := s.env.Desk.Lib.FindForks(ctx, "", 0)
	if err != nil {
		return d, err
	}
	byFork, byFit := map[string]inspect.Fork{}, map[string]inspect.Fitting{}
	for _, f := range forks {
		byFork[string(f.Fork.ID)] = f.Fork
	}
	for _, f := range fits {
		byFit[string(f.ID)] = f
		if f.EndVisit != "" {
			d.ended[spot{f.ForkID, f.Part, f.Leg, f.EndVisit}] = true
		}
	}
	for _, l := range lives {
		d.fittings[l.ID] = fitted{l, byFit[l.ID], byFork[l.ForkID]}
	}
	d.rows = life.PatternsIn(tongue.Say, lives)
	return d, ctx.Err()
}

func (s *Screen) onLoaded(d loaded, err error) {
	if s.closed {
		return
	}
	if err != nil {
		s.env.Say.Failed(err)
		s.state.Fail(err, widgets.NewTextButton(lang.L("Try again"), true, s.load))
		return
	}
	s.data = d
	if len(d.rows) == 0 {
		s.part.Hide()
		s.stock.Hide()
		s.state.Fill(widgets.NewEmptyState(lang.L("No patterns yet"),
			lang.L("Parts are counted from their fork's first visit on. After some forks have been here twice, this place shows which parts fail early, and on which forks."),
			lang.L("New drop-off"), func() { s.env.Go(place.Where{Name: place.DropOff}) }))
		return
	}
	names := map[string]string{}
	for _, r := range d.rows {
		names[r.Part] = r.PartName
	}
	s.parts = s.parts[:0]
	for id := range names {
		s.parts = append(s.parts, id)
	}
	sort.Slice(s.parts, func(i, j int) bool { return names[s.parts[i]] < names[s.parts[j]] })
	options := []string{lang.L("All parts")}
	for _, id := range s.parts {
		options = append(options, names[id])
	}
	s.part.OnChanged = nil
	s.part.SetOptions(options)
	s.part.SetSelectedIndex(0)
	s.part.OnChanged = s.onPart
	s.show()
}

func (s *Screen) onPart(string) { s.show() }

func (s *Screen) show() {
	at := s.part.SelectedIndex() - 1
	s.shown = nil
	for _, r := range s.data.rows {
		if at < 0 || r.Part == s.parts[at] {
			s.shown = append(s.shown, r)
		}
	}
	s.list.SetLength(len(s.shown))
	s.onBack()
}

func (s *Screen) onBack() {
	s.back.Hide()
	s.part.Show()
	s.stock.Show()
	s.top.Refresh()
	rows.SetTitle(s.title, lang.L("Patterns"))
	s.state.Fill(s.all)
}

// onOpen shows the fittings behind a row.
func (s *Screen) onOpen(i int) {
	r := s.shown[i]
	s.behind = nil
	for _, id := range append(append([]string{}, r.IDs...), r.LeftOut...) {
		if f, ok := s.data.fittings[id]; ok {
			s.behind = append(s.behind, f)
		}
	}
	s.fittings.SetLength(len(s.behind))
	s.fittings.ScrollToTop()
	rows.SetTitle(s.title, fmt.Sprintf("%s · %s", r.PartName, s.sheetName(r.Sheet)))
	s.part.Hide()
	s.stock.Hide()
	s.back.Show()
	s.top.Refresh()
	s.state.Fill(s.buildBehind(r))
}

func (s *Screen) fillFitting(i int, l *rows.Line) {
	if i >= len(s.behind) {
		return
	}
	f := s.behind[i]
	hours := words.OnPart(f.life.Hours, f.life.HoursKnown)
	ended := rows.Cell{Text: words.Ended(f.at.End), Under: words.Date(f.at.EndedOn)}
	if f.at.In() {
		ended.Under = ""
	}
	l.Set(rows.Cell{Text: f.fork.Label(), Under: f.fork.Serial, Bold: true}, rows.Cell{Text: f.fork.Tag},
		rows.Cell{Text: words.Leg(f.at.Leg)}, rows.Cell{Text: words.Date(f.at.FittedOn)}, rows.Cell{Text: hours}, ended)
}

func (s *Screen) onFitting(i int) {
	if i < len(s.behind) {
		s.env.Go(place.Where{Name: place.ForkLife, Fork: s.behind[i].fork.ID})
	}
}
