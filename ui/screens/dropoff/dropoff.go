package dropoff

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
)

// Screen is the drop-off.
type Screen struct {
	env   *place.Env
	where place.Where

	form     form
	known    known
	currency string
	filling  bool // texts are being put in by the program: not typed
	busy     bool // it is being taken in

	root    *fyne.Container
	page    *fyne.Container
	scroll  *container.Scroll
	syncs   []func() // each puts a part of the form into its widget
	texts   map[string]*widgets.Field
	offer   *fyne.Container // a draft that was left, to go on with
	missing *widget.Label
	trouble *widget.Label
	takeIn  *widgets.TextButton

	customersFound, forksFound *fyne.Container
	hoursLine, lastLine        *widget.Label
	levelLine                  *widget.Label
	complaints, settings       *fyne.Container
	spanField                  fyne.CanvasObject
	lastRoom, hoursRoom        fyne.CanvasObject // of the lines, hidden with them
	levelRoom                  fyne.CanvasObject
	moreSymptoms               bool
	cells                      []*photoCell
	sign                       *widgets.SignatureField

	stops map[string]func() // what runs, by what it is for
	turns map[string]int
	pause float32 // share of the delays: tests hurry
	draft drafts
}

// New returns the drop-off, of a known fork where one is given.
func New(env *place.Env, where place.Where) place.Screen { return newScreen(env, where) }

func newScreen(env *place.Env, where place.Where) *Screen {
	s := &Screen{env: env, where: where, currency: "EUR", form: blank(), texts: map[string]*widgets.Field{},
		stops: map[string]func(){}, turns: map[string]int{}, pause: 1}
	s.buildUI()
	s.sync()
	return s
}

func blank() form {
	return form{Purpose: "paid", Sure: aGuess, Customer: inspect.Customer{ReachBy: "phone"}, Settings: map[string]string{}}
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.root }

// Opened implements place.Screen.
func (s *Screen) Opened() {
	s.loadFirst()
	if s.where.Fork == "" {
		s.env.Window.Canvas().Focus(s.texts["name"])
	}
}

// Closed implements place.Screen. What was typed is kept at once.
func (s *Screen) Closed() {
	s.keepDraft(0)
	for _, stop := range s.stops {
		stop()
	}
	for k := range s.turns {
		s.turns[k]++
	}
}

// Fill puts an intake into the fields, as if it had been typed.
func (s *Screen) Fill(in shop.Intake) {
	s.form = formOf(in)
	s.known = known{}
	s.draft.dead = false
	s.sync()
	s.changed()
	if in.Fork.ID != "" {
		s.loadKnown(in.Fork.ID, false)
	}
}

func (s *Screen) buildUI() {
	s.offer = container.NewVBox()
	left := container.New(apart(), s.buildCustomer(), s.buildFork(), s.buildHours(), s.buildSettings(), s.buildPhotos())
	right := container.New(apart(), s.buildWork(), s.buildComplaints(), s.buildAgreement())
	s.page = container.New(&page{width: wide}, left, right)
	turned := widgets.NewPage(container.New(layout.NewCustomPaddedLayout(0, 0, 0, 2*tokens.Step), s.page))
	s.scroll = turned.Scroll
	s.missing = quiet("", true)
	s.trouble = widget.NewLabel("")
	s.trouble.Importance, s.trouble.Wrapping = widget.DangerImportance, fyne.TextWrapWord
	s.trouble.TextStyle.Bold = true
	s.trouble.Hide()
	s.takeIn = widgets.NewTextButton(lang.L("Take in"), true, s.Submit)
	foot := container.NewBorder(nil, nil, nil, container.NewCenter(container.NewHBox(widgets.NewTextButton(lang.L("Clear"), false, s.onClear), s.takeIn)),
		container.NewVBox(s.trouble, s.missing))
	s.root = container.New(frame{settle: s.settle, narrow: s.shortFoot}, s.offer, turned, container.NewStack(newGround(false), foot))
}

// settle lets the page find its height for a new width.
func (s *Screen) settle() {
	for range 2 {
		s.scroll.Refresh()
	}
}

// shortFoot keeps what can come later on one line where the window is narrow:
// there the fields need the room.
func (s *Screen) shortFoot(on bool) {
	wrap, cut := fyne.TextWrapWord, fyne.TextTruncateOff
	if on {
		wrap, cut = fyne.TextWrapOff, fyne.TextTruncateEllipsis
	}
	if s.missing.Wrapping != wrap {
		s.missing.Wrapping, s.missing.Truncation = wrap, cut
		s.missing.Refresh()
	}
}

// relayout is called after a part of the page has grown or shrunk.
func (s *Screen) relayout() {
	if s.root.Size().IsZero() {
		return // it is laid out when it gets its size
	}
	s.page.Layout.Layout(s.page.Objects, s.page.Size())
	s.root.Refresh() // lays out the frame, which settles the page
}

// sync puts the form into the widgets.
func (s *Screen) sync() {
	s.filling = true
	for _, f := range s.syncs {
		f()
	}
	s.filling = false
	s.follow()
	s.relayout()
}

// changed is called after each thing typed or chosen.
func (s *Screen) changed() {
	if s.filling {
		return
	}
	s.follow()
	s.keepDraft(s.rest(draftDelay))
}

// follow renews the lines that tell what the form means.
func (s *Screen) follow() {
	s.missing.SetText(s.form.missing())
	grown := false
	for _, l := range []struct {
		label *widget.Label
		room  fyne.CanvasObject
		text  string
	}{{s.hoursLine, s.hoursRoom, s.hoursText()}, {s.levelLine, s.levelRoom, s.levelText()}, {s.lastLine, s.lastRoom, s.lastText()}} {
		grown = grown || (l.text == "") == l.room.Visible()
		show(l.room, l.text != "")
		l.label.SetText(l.text)
	}
	if grown && !s.filling {
		s.relayout()
	}
}

// apart sets the cards of a column one under the other with air between.
func apart() fyne.Layout { return layout.NewCustomPaddedVBoxLayout(tokens.Step) }

func (s *Screen) onClear() {
	old, knew := s.form, s.known
	s.form, s.known = blank(), known{}
	s.say(nil)
	s.sync()
	s.changed()
	s.env.Say.Saved(lang.L("The page is clear"), func() {
		s.form, s.known = old, knew
		s.sync()
		s.changed()
		s.env.Say.Saved(lang.L("The page is as it was"), nil)
	})
}

// say shows an error at the foot, or takes it away.
func (s *Screen) say(err error) {
	if err == nil {
		s.trouble.Hide()
	} else {
		s.trouble.SetText(inspect.SaidIn(tongue.Say, err))
		s.trouble.Show()
	}
	s.root.Refresh()
}

// frame sets the offer at the top, the foot at the bottom and the page between.
type frame struct {
	settle func()
	narrow func(bool)
}

// MinSize implements fyne.Layout.
func (frame) MinSize(os []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(300, 160+os[2].MinSize().Height)
}

// Layout implements fyne.Layout.
func (f frame) Layout(os []fyne.CanvasObject, s fyne.Size) {
	top := float32(0)
	if c := os[0].(*fyne.Container); len(c.Objects) > 0 {
		top = c.MinSize().Height
	}
	os[0].Resize(fyne.NewSize(s.Width, top))
	os[0].Move(fyne.NewPos(0, 0))
	f.narrow(s.Width < wide)
	for range 2 { // the foot wraps: width first, then its height
		os[2].Resize(fyne.NewSize(s.Width, os[2].MinSize().Height))
	}
	foot := os[2].MinSize().Height
	os[2].Move(fyne.NewPos(0, s.Height-foot))
	os[1].Move(fyne.NewPos(0, top))
	os[1].Resize(fyne.NewSize(s.Width, max(0, s.Height-foot-top-4)))
	f.settle()
}
