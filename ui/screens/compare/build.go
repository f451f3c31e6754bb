package compare

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) build() {
	s.left, s.right, s.both = s.canvas(), s.canvas(), s.canvas()
	s.left.OnPoint = func(at inspect.Spot) { s.addPoint(0, at) }
	s.right.OnPoint = func(at inspect.Spot) { s.addPoint(1, at) }
	s.left.OnHandle = func(i int, at inspect.Spot, _ bool) { s.points[0][i] = at }
	s.right.OnHandle = func(i int, at inspect.Spot, _ bool) { s.points[1][i] = at }
	s.left.OnBack, s.right.OnBack = s.dropPoint, s.dropPoint
	s.stage = container.NewStack()
	s.thenSays, s.nowSays, s.told = caption(), caption(), caption()
	s.nowSays.Alignment = fyne.TextAlignTrailing
	s.told.Truncation, s.told.Wrapping = fyne.TextTruncateOff, fyne.TextWrapWord
	s.saying = container.New(&saying{}, s.thenSays, s.told, s.nowSays)
	foot := container.NewVBox(s.saying, s.buildStrip())
	page := container.NewBorder(container.NewVBox(s.buildHead(), s.buildTools()), foot, nil, nil, s.stage)
	s.page = container.NewVScroll(container.New(layout.NewCustomPaddedLayout(2, 8, 2, 12), page))
	s.state.Fill(s.page)
}

func (s *Screen) canvas() *widgets.PhotoCanvas {
	c := widgets.NewPhotoCanvas()
	c.OnLook = s.looked
	c.OnKey, c.OnRune = s.TypedKey, s.TypedRune
	return c
}

func caption() *widget.Label {
	l := widget.NewLabel("")
	l.SizeName, l.Truncation = theme.SizeNameCaptionText, fyne.TextTruncateEllipsis
	return l
}

func (s *Screen) buildHead() fyne.CanvasObject {
	name := words.PartAt(s.data.check.Name, s.where.Leg)
	if s.data.check.ID == "" {
		name = lang.L("Photos")
	}
	buttons := container.NewHBox(
		widgets.NewTextButton(lang.L("Mark and measure now"), false, func() { s.measure(s.now) }),
		widgets.NewTextButton(lang.L("Back"), false, s.Back))
	return container.NewBorder(nil, nil, nil, buttons, rows.Title(fmt.Sprintf(lang.L("%s: then and now"), name), true))
}

func (s *Screen) buildTools() fyne.CanvasObject {
	s.modes = nil
	box := container.New(layout.NewRowWrapLayout())
	for i, word := range []string{lang.L("Side by side  1"), lang.L("Slider  2"), lang.L("Blink  3")} {
		s.modes = append(s.modes, widgets.NewChip(word, func() { s.SetMode(Mode(i)) }))
		box.Add(s.modes[i])
	}
	s.taken = widgets.NewChip(lang.L("As taken"), func() { s.SetAligned(false) })
	s.aligned = widgets.NewChip(lang.L("Aligned  A"), func() { s.SetAligned(true) })
	s.byPoints = widgets.NewChip(lang.L("Align by points"), s.startPoints)
	s.take = widgets.NewChip("", s.alignByPoints)
	s.take.Hide()
	s.work = widgets.NewChip(lang.L("Before and after the work  B"), s.PickWork)
	gap := widget.NewLabel("")
	for _, o := range []fyne.CanvasObject{s.work, gap, s.taken, s.aligned, s.byPoints, s.take} {
		box.Add(o)
	}
	return box
}

// SetMode lays the photos another way.
func (s *Screen) SetMode(m Mode) {
	if s.now < 0 || m < SideBySide || m > Blink {
		return
	}
	if s.marking && m != SideBySide {
		s.endPoints()
	}
	s.mode = m
	s.show()
}

// looked brings all canvases to what one of them was turned to.
func (s *Screen) looked(l widgets.Look) {
	for _, c := range []*widgets.PhotoCanvas{s.left, s.right, s.both} {
		c.SetLook(l)
	}
}

// showPair shows what is known of the pair now, and asks for what is missing.
func (s *Screen) showPair() {
	look := s.left.Look()
	s.looked(widgets.Whole)
	s.markCells()
	s.show()
	s.looked(look)
	idle := !s.working
	s.working = true // until all that is wanted stands in the row
	if s.want {
		s.alignPair()
	}
	for _, i := range []int{s.then, s.now} {
		if i >= 0 {
			s.ask(s.data.strip[i].Photo.SHA256)
		}
	}
	if idle {
		s.next()
	}
}

// show lays out the mode and fills the canvases.
func (s *Screen) show() {
	s.stopBlink()
	s.fill()
	switch {
	case s.then < 0 && s.drawing() != nil:
		s.lay(container.NewGridWithColumns(2, container.New(filling{}, s.drawing()), s.right))
	case s.then < 0:
		s.lay(s.right)
	case s.mode == SideBySide:
		s.lay(container.NewGridWithColumns(2, s.left, s.right))
	default:
		s.lay(s.both)
	}
	s.both.SetShown(map[Mode]widgets.Shown{Slider: widgets.ShowSplit, Blink: widgets.ShowFirst}[s.mode])
	for i, c := range s.modes {
		c.SetSelected(Mode(i) == s.mode)
		c.Hidden = s.then < 0
	}
	for _, c := range []*widgets.Chip{s.taken, s.aligned, s.byPoints} {
		c.Hidden = s.then < 0 || s.marking
	}
	_, _, worked := s.workPair()
	s.work.Hidden = !worked || s.marking
	s.work.SetSelected(s.isWork())
	_, fits := s.fits[s.pair()]
	on := s.want && fits && s.fits[s.pair()].good
	s.taken.SetSelected(!on)
	s.aligned.SetSelected(on)
	s.showTake()
	s.says()
	if s.mode == Blink && s.then >= 0 {
		s.startBlink()
	}
}

func (s *Screen) lay(o fyne.CanvasObject) {
	s.stage.Objects = []fyne.CanvasObject{o}
	s.stage.Refresh()
}

// says writes dates and hours under the photos.
func (s *Screen) says() {
	shown := s.both.Showing()
	s.thenSays.TextStyle.Bold = s.mode == Blink && shown == widgets.ShowFirst
	s.nowSays.TextStyle.Bold = s.mode == Blink && shown == widgets.ShowSecond
	then, now := lang.L("Then: %s"), lang.L("Now: %s")
	if s.isWork() {
		then, now = lang.L("Before the work: %s"), lang.L("After the work: %s")
	}
	if s.then < 0 {
		s.thenSays.SetText(lang.L("Then: no earlier photo"))
	} else {
		s.thenSays.SetText(fmt.Sprintf(then, s.dated(s.then)))
	}
	s.nowSays.SetText(fmt.Sprintf(now, s.dated(s.now)))
	s.told.SetText(s.tell())
	s.saying.Refresh()
	if h := s.saying.MinSize().Height; h != s.toldHigh { // one line more or less: the photos give or take its room
		s.toldHigh = h
		s.page.Content.Refresh()
	}
}

// dated is when a photo of the strip was taken and how far the fork had run.
func (s *Screen) dated(i int) string {
	o := s.data.strip[i]
	text := words.Taken(s.env.Desk, o.Photo, s.data.clocks) + " · " + words.Hours(o.Visit.Hours)
	if o.Photo.Stage == inspect.AfterWork && !s.isWork() {
		text += " · " + lang.L("after the work")
	}
	return text
}
