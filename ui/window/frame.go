package window

import (
	"context"
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/theme"
	"forkwear/ui/widgets"
)

// Opener makes the screen of a place.
type Opener func(env *place.Env, where place.Where) place.Screen

// Frame is the window's content: rail, top bar, the place, status line.
type Frame struct {
	env     *place.Env
	openers map[place.Name]Opener
	rail    map[place.Name]*widgets.RailButton
	status  *widgets.StatusLine
	say     *say
	body    *fyne.Container
	side    fyne.CanvasObject // rail and top: not shown to the customer
	top     fyne.CanvasObject
	search  *searchEntry
	tray    *widgets.TextButton // photos that wait for a fork
	root    fyne.CanvasObject

	now      place.Screen
	where    place.Where
	closing  bool
	before   []place.Where
	people   *people
	customer bool // the place is turned to the customer
	wasFull  bool // the window filled the screen before that
}

// New fills win with the frame and sets env's Window, Go and Say.
func New(win fyne.Window, env *place.Env, openers map[place.Name]Opener) *Frame {
	f := &Frame{env: env, openers: openers, rail: map[place.Name]*widgets.RailButton{}}
	f.people = newPeople(f)
	f.say = &say{frame: f}
	env.Window, env.Go, env.Back, env.Say, env.PeopleChanged = win, f.Go, f.back, f.say, f.people.load
	f.buildUI()
	win.SetContent(f.root)
	win.SetMainMenu(f.menu())
	win.SetOnDropped(f.Dropped)
	win.SetCloseIntercept(f.TryClose)
	win.Canvas().AddShortcut(&fyne.ShortcutUndo{}, func(fyne.Shortcut) { f.undo() }) // without a menu: at the counter
	win.Canvas().SetOnTypedRune(f.onRune)
	win.Canvas().SetOnTypedKey(f.onKey)
	f.people.load()
	if env.Arrivals != nil {
		env.Arrivals.Listen(func(place.Arrival) { f.showTray() })
	}
	return f
}

func (f *Frame) buildUI() {
	f.status = widgets.NewStatusLine()
	f.body = container.NewStack()
	f.side, f.top = f.buildRail(), f.buildTop()
	f.root = container.NewBorder(nil, nil, f.side, nil,
		container.NewBorder(f.top, f.status, nil, nil, container.NewPadded(f.body)))
}

func (f *Frame) buildRail() fyne.CanvasObject {
	rail := container.NewVBox()
	for _, p := range []struct {
		name place.Name
		word string
		icon fyne.ThemeIconName
	}{
		{place.Bench, lang.L("Bench"), theme.IconNameBench},
		{place.Forks, lang.L("Forks"), theme.IconNameForks},
		{place.Due, lang.L("Due"), theme.IconNameDue},
		{place.Patterns, lang.L("Patterns"), theme.IconNamePatterns},
		{place.Sums, lang.L("Sums"), theme.IconNameSums},
		{place.Settings, lang.L("Settings"), theme.IconNameSettings},
	} {
		name := p.name
		b := widgets.NewRailButton(p.word, theme.Icon(p.icon), func() { f.Go(place.Where{Name: name}) })
		f.rail[name] = b
		rail.Add(b)
	}
	line := newRule(true)
	return container.NewBorder(nil, nil, nil, line, container.NewVScroll(rail))
}

func (f *Frame) buildTop() fyne.CanvasObject {
	f.search = newSearchEntry(f)
	dropOff := widgets.NewTextButton(lang.L("New drop-off"), true, f.onNewDropOff)
	f.tray = widgets.NewTextButton(lang.L("Tray"), false, func() { f.Go(place.Where{Name: place.Tray}) })
	f.tray.Hidden = f.env.Arrivals == nil
	return container.NewVBox(
		container.NewPadded(container.NewBorder(nil, nil, nil, container.NewHBox(f.people.row, f.tray, dropOff), f.search)),
		f.people.strip, newRule(false))
}

// showTray counts the photos that wait on their button.
func (f *Frame) showTray() {
	word := lang.L("Tray")
	if n := f.env.Arrivals.Waiting(); n > 0 {
		word = fmt.Sprintf(lang.L("Tray (%d)"), n)
	}
	f.tray.SetWord(word)
	f.top.Refresh()
}

func (f *Frame) onNewDropOff() { f.Go(place.Where{Name: place.DropOff}) }

// Go leaves the present place for another.
func (f *Frame) Go(w place.Where) {
	f.leave(func() {
		if f.now != nil && w != f.where {
			f.before = append(f.before, f.where)
			if len(f.before) > 50 {
				f.before = f.before[1:]
			}
		}
		f.show(w)
	})
}

// guarding is a Screen that is left only when it lets go: it calls then.
type guarding interface{ Leave(then func()) }

func (f *Frame) leave(then func()) {
	if g, ok := f.now.(guarding); ok {
		g.Leave(then)
		return
	}
	then()
}

// Back returns to the place before, if there is one.
func (f *Frame) Back() { f.back() }

// back is Back, and tells whether there is a place before.
func (f *Frame) back() bool {
	some := len(f.before) > 0
	f.leave(func() {
		if n := len(f.before); n > 0 {
			w := f.before[n-1]
			f.before = f.before[:n-1]
			f.show(w)
		}
	})
	return some
}

func (f *Frame) show(w place.Where) {
	open, ok := f.openers[w.Name]
	if !ok {
		return
	}
	if f.now != nil {
		f.now.Closed()
	}
	f.env.Window.Canvas().Unfocus()
	f.status.SetText("")
	f.say.left()
	f.status.SetHint("")
	f.where, f.now = w, open(f.env, w)
	for name, b := range f.rail {
		b.SetSelected(name == railOf(w.Name))
	}
	f.forCustomer(w.Name == place.Counter)
	f.body.Objects = []fyne.CanvasObject{f.now.Content()}
	f.body.Refresh()
	f.now.Opened()
}

// forCustomer hides all that is not this customer's fork, and fills the screen
// with what is.
func (f *Frame) forCustomer(on bool) {
	if win := f.env.Window; on != f.customer {
		if on {
			f.wasFull = win.FullScreen()
		}
		f.customer = on
		win.SetFullScreen(on || f.wasFull)
	}
	for _, o := range []fyne.CanvasObject{f.side, f.top, f.status} {
		if on {
			o.Hide()
		} else {
			o.Show()
		}
	}
	if on {
		f.env.Window.SetMainMenu(nil)
		f.env.Window.SetContent(f.root) // else the room of the menu stays empty
	} else if f.env.Window.MainMenu() == nil {
		f.env.Window.SetMainMenu(f.menu())
	}
	f.root.Refresh()
}

// railOf names the rail button under which a place stands.
func railOf(n place.Name) place.Name {
	switch n {
	case place.Tray, place.DropOff, place.Inspect, place.Decide, place.Counter, place.Service, place.HandBack:
		return place.Bench
	case place.ForkLife:
		return place.Forks
	}
	return n
}

// saving is a Screen whose entries may still be on their way to the library.
type saving interface{ Waiting() int }

// TryClose closes the window once every entry is saved. Asked a second time it
// closes at once: a full disk must not keep a person here.
func (f *Frame) TryClose() { f.leave(f.tryClose) }

func (f *Frame) tryClose() {
	if s, ok := f.now.(saving); ok && s.Waiting() > 0 && !f.closing {
		f.closing = true
		f.status.SetText(lang.L("Saving the last entries. Close again to leave without them."))
		f.closeWhenSaved()
		return
	}
	f.close()
}

func (f *Frame) closeWhenSaved() {
	run.Go(f.env.Run, func(ctx context.Context) (struct{}, error) {
		select {
		case <-ctx.Done():
		case <-time.After(100 * time.Millisecond):
		}
		return struct{}{}, nil
	}, func(struct{}, error) {
		if s, ok := f.now.(saving); ok && s.Waiting() > 0 {
			f.closeWhenSaved()
			return
		}
		f.close()
	})
}

func (f *Frame) close() {
	if f.now != nil {
		f.now.Closed()
		f.now = nil
	}
	f.env.Window.Close()
}

// Where tells which place is shown.
func (f *Frame) Where() place.Where { return f.where }

// Screen is the place that is shown.
func (f *Frame) Screen() place.Screen { return f.now }

// Dropped hands files and folders that were dropped on the window to the place
// that is shown.
func (f *Frame) Dropped(at fyne.Position, uris []fyne.URI) {
	paths := make([]string, 0, len(uris))
	for _, u := range uris {
		if u.Scheme() == "file" {
			paths = append(paths, u.Path())
		}
	}
	if d, ok := f.now.(place.Dropping); ok && len(paths) > 0 {
		d.Dropped(paths, at)
		return
	}
	if f.env.Arrivals != nil && len(paths) > 0 && !f.customer {
		f.env.Arrivals.Import(paths)
		return
	}
	f.status.SetText(lang.L("Open a visit first: photos are filed with the fork that stands on the bench."))
}

func (f *Frame) onRune(r rune) {
	if k, ok := f.now.(place.Keyed); ok {
		k.TypedRune(r)
		return
	}
	if r == '/' {
		f.focusSearch()
	}
}

func (f *Frame) onKey(e *fyne.KeyEvent) {
	if k, ok := f.now.(place.Keyed); ok {
		k.TypedKey(e)
		return
	}
	if e.Name == fyne.KeyEscape {
		f.Back()
	}
}

func (f *Frame) focusSearch() { f.env.Window.Canvas().Focus(f.search) }

// newRule is a hairline.
func newRule(upright bool) fyne.CanvasObject {
	r := &rule{upright: upright}
	r.ExtendBaseWidget(r)
	return r
}

type rule struct {
	widget.BaseWidget
	upright bool
}

func (r *rule) CreateRenderer() fyne.WidgetRenderer {
	return &ruleRenderer{rule: r, line: canvas.NewRectangle(nil)}
}

type ruleRenderer struct {
	rule *rule
	line *canvas.Rectangle
}

func (r *ruleRenderer) Destroy()                     {}
func (r *ruleRenderer) Layout(s fyne.Size)           { r.line.Resize(s); r.Refresh() }
func (r *ruleRenderer) MinSize() fyne.Size           { return fyne.NewSize(1, 1) }
func (r *ruleRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.line} }
func (r *ruleRenderer) Refresh() {
	th := r.rule.Theme()
	r.line.FillColor = th.Color(theme.ColorNameLine, fyne.CurrentApp().Settings().ThemeVariant())
	r.line.Refresh()
}
