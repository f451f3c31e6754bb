package measure

import (
	"context"
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/marks"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/cardprint"
	"forkwear/ui/screens/rows"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
)

// Screen is the place.
type Screen struct {
	env   *place.Env
	where place.Where
	root  *fyne.Container
	state rows.State
	data  loaded

	marking bool // marks are drawn; else sizes are measured
	shape   inspect.MarkKind

	card     []inspect.Spot // four corners, nil: not used
	cardFrom cardFrom
	cards    []found // all that the program found in the photo, the likeliest first
	cardAt   int     // which of them is taken
	cardSays string
	known    *inspect.KnownLength
	tube     *inspect.TubeMarks
	refs     []*inspect.Spot // of the handles

	kind   Kind
	points []inspect.Spot
	damage *damage
	eraser bool
	hold   bool // the brush is laid down: handles can be moved

	result    *inspect.PhotoMeasure
	refused   string
	measuring bool
	again     bool
	rough     bool // a handle is on its way

	detail bool            // the photo in its full size was asked for
	open   context.Context // done when the screen is left
	leave  func()
	closed bool
	ui
}

// ui is what is shown.
type ui struct {
	canvas                 *widgets.PhotoCanvas
	panel                  *fyne.Container
	scroll                 *container.Scroll
	tabs                   []*widgets.Chip
	scales                 []*widgets.Chip
	kinds                  []*widgets.Chip
	brushes                []*widgets.Chip
	shapes                 []*widgets.Chip
	scaleSays, hint        *widget.RichText
	value, range95, method *widget.RichText
	diameter, distance     *widget.Entry
	diameterRow, knownRow  fyne.CanvasObject
	findCard, printed      *widgets.Chip
	brushRow               *fyne.Container
	radius                 float64 // of the brush, photo pixels
	markSays               *widget.RichText
	use                    *fyne.Container
	earlier, drawn         *fyne.Container
	words                  *widget.Entry
	measureBox, markBox    *fyne.Container
}

// loaded is what the worker read.
type loaded struct {
	kase    *shop.Case
	photo   inspect.Photo
	check   catalog.Check
	targets []target
	img     image.Image
	layer   marks.Layer
	clocks  []inspect.CameraClock
	print   float64 // true size of the shop's printed cards by that of a bank card
}

// target is a check that takes a value measured here.
type target struct {
	check catalog.Check
	leg   inspect.Leg
	stage inspect.Stage
}

const previewPixels = 1600

var (
	_ place.Screen = (*Screen)(nil)
	_ place.Keyed  = (*Screen)(nil)
)

// New returns the screen of one photo of a visit.
func New(env *place.Env, where place.Where) place.Screen {
	s := &Screen{env: env, where: where, state: rows.NewState(), shape: inspect.MarkCircle, kind: Length}
	s.open, s.leave = context.WithCancel(env.Run.Context())
	s.root = container.NewStack(s.state.Box)
	return s
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.root }

// Opened implements place.Screen.
func (s *Screen) Opened() {
	s.closed = false
	s.open, s.leave = context.WithCancel(s.env.Run.Context())
	s.load()
}

// Closed implements place.Screen.
func (s *Screen) Closed() {
	s.closed = true
	s.leave()
}

// later runs work beside the window until the screen is left; its result is
// dropped then.
func later[T any](s *Screen, work func(context.Context) (T, error), done func(T, error)) {
	open := s.open
	run.Go(s.env.Run, func(ctx context.Context) (T, error) {
		ctx, stop := context.WithCancel(ctx)
		defer stop()
		defer context.AfterFunc(open, stop)()
		return work(ctx)
	}, func(v T, err error) {
		if !s.closed {
			done(v, err)
		}
	})
}

// save is later for what must not be lost: leaving the screen does not call it
// off, and what came of it is told in any case.
func save[T any](s *Screen, work func(context.Context) (T, error), done func(T)) {
	run.Go(s.env.Run, work, func(v T, err error) {
		if err != nil {
			s.env.Say.Failed(err)
			s.notKept(err)
			return
		}
		done(v)
		if !s.closed {
			s.reload()
		}
	})
}

// notKept writes in place why something was not kept.
func (s *Screen) notKept(err error) {
	if s.closed || s.canvas == nil {
		return
	}
	if s.marking {
		rows.SetQuiet(s.markSays, sentence(inspect.SaidIn(tongue.Say, err)))
	} else {
		rows.SetQuiet(s.range95, sentence(inspect.SaidIn(tongue.Say, err)))
	}
	s.settle()
}

func (s *Screen) load() {
	d, w, photos := s.env.Desk, s.where, s.env.Photos
	later(s, func(ctx context.Context) (loaded, error) { return read(ctx, d, photos, w) }, s.onLoaded)
}

func read(ctx context.Context, d *shop.Desk, photos place.Photos, w place.Where) (l loaded, err error) {
	if l.kase, err = d.Open(ctx, w.Visit); err != nil {
		return l, err
	}
	for _, p := range l.kase.Photos {
		if p.ID == w.Photo {
			l.photo = p
		}
	}
	if l.photo.ID == "" {
		return l, inspect.Refuse(inspect.NotFound, "this photo is not one of visit %d: open it from its own visit", l.kase.Visit.Ticket)
	}
	if l.layer, err = layerOf(ctx, d, w.Photo); err != nil {
		return l, err
	}
	if l.clocks, err = d.Lib.Clocks(ctx); err != nil {
		return l, err
	}
	id := l.photo.Check
	if id == "" {
		id = w.Check
	}
	l.check, _ = d.Catalog.Check(id)
	l.targets = targetsOf(d.Catalog, l, w)
	if l.print, err = cardprint.Factor(ctx, d.Lib); err != nil {
		return l, err
	}
	l.img, err = photos.Preview(ctx, l.photo.SHA256, previewPixels)
	return l, err
}

func layerOf(ctx context.Context, d *shop.Desk, photo inspect.ID) (marks.Layer, error) {
	var l marks.Layer
	ms, err := d.Marks(ctx, photo)
	if err != nil {
		return l, err
	}
	l.Marks = ms[photo]
	sizes, err := d.Measures(ctx, photo)
	for _, m := range sizes[photo] {
		l.Measures = append(l.Measures, marks.Ready(m))
	}
	return l, err
}

// targetsOf are the checks that a size on this photo can answer: its own where
// that takes a number, and those of the same part that are read on photos.
func targetsOf(c *catalog.Catalog, l loaded, w place.Where) []target {
	leg, stage := l.photo.Leg, l.photo.Stage
	if l.photo.Check == "" {
		leg = w.Leg
	}
	var out []target
	for _, k := range c.Checks {
		if len(k.Points) > 0 || !shop.TakesPhoto(k, "mm") && !shop.TakesPhoto(k, "mm2") {
			continue
		}
		if k.ID != l.check.ID && (l.check.Part == "" || k.Part != l.check.Part) {
			continue
		}
		t := target{k, leg, stage}
		if !slices.Contains(k.Stages, stage) && len(k.Stages) > 0 {
			t.stage = k.Stages[0]
		}
		out = append(out, t)
	}
	return out
}

func (s *Screen) onLoaded(l loaded, err error) {
	if err != nil {
		s.env.Say.Failed(err)
		s.state.Fail(err, container.NewHBox(widgets.NewTextButton(lang.L("Try again"), true, s.load),
			widgets.NewTextButton(lang.L("Back"), false, s.Back)))
		return
	}
	s.data = l
	if l.photo.Width <= 0 || l.photo.Height <= 0 {
		b := l.img.Bounds()
		s.data.photo.Width, s.data.photo.Height = b.Dx(), b.Dy()
	}
	s.takeKnownCard()
	s.build()
	s.canvas.SetPhoto(widgets.CanvasPhoto{Image: l.img, Width: s.data.photo.Width, Height: s.data.photo.Height})
	s.show()
	s.focusPhoto()
}

// reload reads marks and measures anew after one was kept or taken off.
func (s *Screen) reload() {
	d, photo := s.env.Desk, s.where.Photo
	later(s, func(ctx context.Context) (marks.Layer, error) { return layerOf(ctx, d, photo) }, func(l marks.Layer, err error) {
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		s.data.layer = l
		s.show()
	})
}

// Back leaves for where one came from; where that is not known, for the check
// in Inspect.
func (s *Screen) Back() {
	if s.env.Back != nil && s.env.Back() {
		return
	}
	w := place.Where{Name: place.Inspect, Visit: s.where.Visit, Check: s.where.Check, Leg: s.where.Leg}
	if s.data.photo.Check != "" {
		w.Check, w.Leg = s.data.photo.Check, s.data.photo.Leg
	}
	s.env.Go(w)
}

// toCompare opens the pair of this photo and an earlier one.
func (s *Screen) toCompare() {
	p := s.data.photo
	s.env.Go(place.Where{Name: place.Compare, Visit: s.where.Visit, Check: p.Check, Leg: p.Leg, Photo: p.ID})
}

func (s *Screen) focusPhoto() {
	if c := s.env.Window.Canvas(); c != nil {
		c.Focus(s.canvas)
	}
}
