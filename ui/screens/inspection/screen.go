package inspection

import (
	"context"
	"sync"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/forkdraw"
	"forkwear/ui/place"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// Screen is the Inspect step. All its fields belong to the window's goroutine.
type Screen struct {
	env   *place.Env
	where place.Where

	kase       *shop.Case // as last saved; replaced, never changed
	stage      inspect.Stage
	route      []catalog.Position
	at         spot
	ended      bool // nothing of this stage is open any more
	byHand     map[inspect.Stage]map[spot]bool
	drafts     map[inspect.Slot]draft
	unfolded   map[spot]bool // 'more' is open for these checks
	way        []errand
	walking    bool
	oneAtATime sync.Mutex
	leaving    bool  // to Decide, as soon as all is saved
	blocked    error // saving failed: the way waits for 'try again'

	shown                 bool // the visit is on screen, not a sentence in its place
	content               *fyne.Container
	message               *widgets.EmptyState
	body                  *container.Scroll
	stageChips            map[inspect.Stage]*widgets.Chip
	viewChips             []*widgets.Chip
	drawing               *forkdraw.ForkDrawing
	done                  *widget.Label
	title, count, caution *widget.Label
	zoneHead              *fyne.Container // title and count
	locked, unsaved       *widget.Label
	again                 *widgets.TextButton
	dots                  *stepDots
	card                  card
	search                searchPanel
	middle                *fyne.Container
	foot                  *fyne.Container
	steps                 *fyne.Container
	photos                photoColumn
	evidence              evidence
}

var (
	_ place.Screen   = (*Screen)(nil)
	_ place.Keyed    = (*Screen)(nil)
	_ place.Dropping = (*Screen)(nil)
)

// New returns the Inspect step of the visit that where names.
func New(env *place.Env, where place.Where) place.Screen {
	s := &Screen{env: env, where: where, byHand: map[inspect.Stage]map[spot]bool{}, drafts: map[inspect.Slot]draft{}, unfolded: map[spot]bool{}}
	s.buildUI()
	return s
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.content }

// Opened implements place.Screen: it loads the visit anew, after what is still
// on its way.
func (s *Screen) Opened() {
	if s.kase == nil {
		s.say(lang.L("Loading the visit"), "")
	}
	s.beginEvidence()
	var clocks []inspect.CameraClock
	s.send(errand{work: func(ctx context.Context, c *shop.Case) error {
		fresh, err := s.env.Desk.Open(ctx, s.where.Visit)
		if err != nil {
			return err
		}
		*c = *fresh
		clocks, err = s.env.Desk.Lib.Clocks(ctx)
		return err
	}, done: func() { s.evidence.clocks = clocks }})
}

// Closed implements place.Screen: what was typed beside an answer is kept, the
// way goes on by itself.
func (s *Screen) Closed() {
	if s.kase != nil {
		s.keepNote()
	}
	s.endEvidence()
}

func (s *Screen) buildUI() {
	s.message = widgets.NewEmptyState(lang.L("Loading the visit"), "", "", nil)
	s.buildCard()
	s.buildSearch()
	s.buildPhotos()
	columns := &threeColumns{}
	inner := container.New(columns, s.buildLeft(), s.buildMiddle(), s.photos.column)
	s.body = container.NewVScroll(inner)
	columns.changed = s.body.Refresh
	s.content = container.NewStack(s.message)
}

func (s *Screen) buildLeft() fyne.CanvasObject {
	s.stageChips = map[inspect.Stage]*widgets.Chip{}
	box := container.New(&tightRows{})
	for _, st := range inspect.Stages() {
		s.stageChips[st] = widgets.NewChip(words.Stage(st), func() { s.toStage(st) })
		box.Add(s.stageChips[st])
	}
	s.viewChips = []*widgets.Chip{
		widgets.NewChip(lang.L("Assembled"), func() { s.turnDrawing(false) }),
		widgets.NewChip(lang.L("Stripped"), func() { s.turnDrawing(true) }),
	}
	s.drawing = forkdraw.NewForkDrawing(s.zonePressed)
	s.drawing.SetMinHeight(320)
	s.drawing.OnHover = s.zoneHovered
	s.done = widget.NewLabel("")
	s.done.Alignment = fyne.TextAlignCenter
	s.done.Truncation = fyne.TextTruncateEllipsis
	views := container.NewGridWithColumns(2, s.viewChips[0], s.viewChips[1])
	decide := widgets.NewTextButton(lang.L("Go on to Decide"), true, s.toDecide)
	return container.NewBorder(container.NewVBox(box, views), container.NewVBox(s.done, decide), nil, nil, s.drawing)
}

func (s *Screen) buildMiddle() fyne.CanvasObject {
	s.title, s.count, s.caution = heading(""), widget.NewLabel(""), quiet("")
	s.zoneHead = container.NewBorder(nil, nil, nil, s.count, s.title)
	s.caution.Importance = widget.WarningImportance
	s.locked, s.unsaved = quiet(""), quiet("")
	s.locked.Importance, s.unsaved.Importance = widget.WarningImportance, widget.DangerImportance
	s.again = widgets.NewTextButton(lang.L("Try to save again"), false, s.tryAgain)
	s.dots = newStepDots(s.dotPressed, s.dotHovered)
	s.steps = container.NewBorder(nil, nil, s.dots, nil, s.caution)
	s.foot = container.New(layout.NewRowWrapLayout(),
		widgets.NewTextButton(lang.L("Back")+"  −", false, s.back),
		widgets.NewTextButton(lang.L("Zone seen, nothing found")+"  *", false, s.zoneSeen),
		widgets.NewTextButton(lang.L("Find")+"  /", false, s.openSearch),
		widgets.NewTextButton(lang.L("Next")+"  "+lang.L("Enter"), false, s.next))
	top := container.NewVBox(
		s.zoneHead, s.steps, s.locked, container.NewBorder(nil, nil, nil, s.again, s.unsaved))
	s.middle = container.NewStack(s.card.frame)
	return container.NewBorder(top, s.foot, nil, nil, s.middle)
}

// say shows one sentence in place of the screen.
func (s *Screen) say(title, sentence string) {
	s.shown = false
	s.content.Objects = []fyne.CanvasObject{widgets.NewEmptyState(title, sentence, "", nil)}
	s.content.Refresh()
}

func (s *Screen) loadFailed(err error) {
	s.env.Say.Failed(err)
	s.shown = false
	s.content.Objects = []fyne.CanvasObject{widgets.NewEmptyState(lang.L("The visit can't be shown"), inspect.SaidIn(tongue.Say, err), lang.L("Load it again"), s.Opened)}
	s.content.Refresh()
}

// line is the position at work; false while the stage has none.
func (s *Screen) line() (catalog.Position, bool) {
	if i := find(s.route, s.at); i >= 0 {
		return s.route[i], true
	}
	return catalog.Position{}, false
}

func (s *Screen) region() region {
	p, _ := s.line()
	return regionOf(p)
}

// goTo shows a check of the stage; move one of any stage. A number that was
// typed and not entered is taken in first; where it is none we stay with it.
func (s *Screen) goTo(at spot) { s.move(s.stage, at) }

func (s *Screen) move(stage inspect.Stage, at spot) {
	if !s.commit() {
		return
	}
	s.keepNote()
	if s.stage != stage {
		s.stage = stage
		s.drawing.SetView(viewOf(stage))
	}
	s.refreshRoute()
	s.at, s.ended = at, false
	s.tell("")
	s.show()
}

// goOn shows the first open check from a place of the route on, or the end.
func (s *Screen) goOn(from int) {
	if at, ok := s.firstOpen(max(from, 0)); ok {
		s.goTo(at)
		return
	}
	s.end()
}

// mayWrite tells why nothing can be entered, or true.
func (s *Screen) mayWrite() bool {
	if s.kase == nil {
		return false
	}
	if s.kase.Visit.Closed() {
		s.tell(lang.L("This visit is collected: its record can be read, not changed. A later word goes on the fork's page as an amendment."))
		return false
	}
	return true
}

func heading(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.SizeName = fynetheme.SizeNameSubHeadingText
	l.TextStyle.Bold = true
	l.Truncation = fyne.TextTruncateEllipsis
	return l
}

func quiet(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.SizeName = fynetheme.SizeNameCaptionText
	l.Wrapping = fyne.TextWrapWord
	return l
}
