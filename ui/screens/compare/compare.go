package compare

import (
	"context"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/marks"
	"forkwear/ui/place"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
)

// Mode is how the two photos are laid.
type Mode int

// The modes, in the order of their keys.
const (
	SideBySide Mode = iota
	Slider
	Blink
)

// Screen is the place.
type Screen struct {
	env   *place.Env
	where place.Where
	root  *fyne.Container
	state rows.State
	data  loaded

	then, now int // places in the strip, -1 without
	mode      Mode
	pixels    map[string]image.Image // previews by SHA-256
	asked     map[string]bool

	want     bool // aligned, where it can be
	busy     bool // an alignment runs
	fits     map[pair]fit
	marking  bool // pairs of points are being marked
	points   [2][]inspect.Spot
	blinking bool

	left, right, both    *widgets.PhotoCanvas
	stage                *fyne.Container
	modes                []*widgets.Chip
	work                 *widgets.Chip // before and after the work
	taken, aligned       *widgets.Chip
	byPoints, take       *widgets.Chip
	page                 *container.Scroll
	told                 *widget.Label
	toldHigh             float32
	saying               *fyne.Container // both, with what is told between
	thenSays, nowSays    *widget.Label
	cells                []*widgets.PhotoCell
	open                 context.Context // done when the screen is left
	leave                func()
	jobs                 []func()
	working              bool
	stopBlink, stopAlign func()
	closed               bool

	// wait lets half a second pass between two turns of the blinking.
	wait func(ctx context.Context) error
}

// loaded is what the worker read.
type loaded struct {
	kase   *shop.Case
	check  catalog.Check
	strip  []shop.OnVisit
	layers map[inspect.ID]marks.Layer
	clocks []inspect.CameraClock
}

// pair names two photos by their place in the strip.
type pair struct{ then, now inspect.ID }

const previewPixels = 1600

var (
	_ place.Screen = (*Screen)(nil)
	_ place.Keyed  = (*Screen)(nil)
)

// New returns the screen of a check of a visit.
func New(env *place.Env, where place.Where) place.Screen {
	s := &Screen{env: env, where: where, state: rows.NewState(), then: -1, now: -1,
		pixels: map[string]image.Image{}, asked: map[string]bool{}, fits: map[pair]fit{},
		stopBlink: func() {}, stopAlign: func() {}, wait: halfSecond}
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
	s.stopBlink()
	s.stopAlign()
	s.leave()
	s.jobs = nil
}

func (s *Screen) load() {
	d, w := s.env.Desk, s.where
	soon(s, s.open, true, func(ctx context.Context) (loaded, error) { return read(ctx, d, w) }, s.onLoaded)
}

func read(ctx context.Context, d *shop.Desk, w place.Where) (l loaded, err error) {
	if l.kase, err = d.Open(ctx, w.Visit); err != nil {
		return l, err
	}
	if l.clocks, err = d.Lib.Clocks(ctx); err != nil {
		return l, err
	}
	l.check, _ = d.Catalog.Check(w.Check)
	l.strip = l.kase.Through(w.Check, w.Leg)
	l.layers, err = layersOf(ctx, d, l.strip)
	return l, err
}

// layersOf reads what was marked and measured on the photos.
func layersOf(ctx context.Context, d *shop.Desk, strip []shop.OnVisit) (map[inspect.ID]marks.Layer, error) {
	var ids []inspect.ID
	for _, o := range strip {
		ids = append(ids, o.Photo.ID)
	}
	out := map[inspect.ID]marks.Layer{}
	if len(ids) == 0 {
		return out, nil
	}
	drawn, err := d.Marks(ctx, ids...)
	if err != nil {
		return nil, err
	}
	sizes, err := d.Measures(ctx, ids...)
	if err != nil {
		return nil, err
	}
	for _, id := range ids {
		l := marks.Layer{Marks: drawn[id]}
		for _, m := range sizes[id] {
			l.Measures = append(l.Measures, marks.Ready(m))
		}
		out[id] = l
	}
	return out, nil
}

func (s *Screen) onLoaded(l loaded, err error) {
	if s.closed {
		return
	}
	if err != nil {
		s.env.Say.Failed(err)
		s.state.Fail(err, container.NewHBox(widgets.NewTextButton(lang.L("Try again"), true, s.load),
			widgets.NewTextButton(lang.L("Back"), false, s.Back)))
		return
	}
	s.data = l
	if len(l.strip) == 0 {
		s.state.Fill(widgets.NewEmptyState(lang.L("No photo of this check yet"),
			lang.L("Two photos of it make a pair: attach one in Inspect, today or at the next visit."), lang.L("Back"), s.Back))
		return
	}
	s.then, s.now = s.first()
	s.build()
	s.showPair()
	s.loadCells()
}

// first is the pair to begin with: the photo that was asked for, else the
// newest of this visit, and the newest of an earlier visit; in one visit, the
// photo before.
func (s *Screen) first() (then, now int) {
	strip := s.data.strip
	now = len(strip) - 1
	for i, o := range strip {
		if o.Photo.VisitID == s.where.Visit {
			now = i
		}
	}
	for i, o := range strip {
		if s.where.Photo != "" && o.Photo.ID == s.where.Photo {
			now = i
		}
	}
	for i := now - 1; i >= 0; i-- {
		if strip[i].Photo.VisitID != strip[now].Photo.VisitID {
			return i, now
		}
	}
	switch {
	case now > 0:
		return now - 1, now
	case len(strip) > 1:
		return 0, len(strip) - 1
	}
	return -1, now
}

// Back leaves for where one came from; where that is not known, for where the
// check is worked on, or for the fork's life.
func (s *Screen) Back() {
	if s.env.Back != nil && s.env.Back() {
		return
	}
	w := place.Where{Name: place.Inspect, Visit: s.where.Visit, Check: s.where.Check, Leg: s.where.Leg}
	if s.where.Fork != "" {
		w = place.Where{Name: place.ForkLife, Fork: s.where.Fork, Check: s.where.Check, Leg: s.where.Leg}
	}
	s.env.Go(w)
}

// measure opens the photo of now, or then, to mark and measure.
func (s *Screen) measure(i int) {
	if i < 0 || i >= len(s.data.strip) {
		return
	}
	p := s.data.strip[i].Photo
	s.env.Go(place.Where{Name: place.Measure, Visit: p.VisitID, Photo: p.ID, Check: s.where.Check, Leg: s.where.Leg})
}

func (s *Screen) pair() pair {
	if s.then < 0 || s.now < 0 {
		return pair{}
	}
	return pair{s.data.strip[s.then].Photo.ID, s.data.strip[s.now].Photo.ID}
}

// Pick makes a photo of the strip then, or now. The photo that is the other of
// the pair changes places with it.
func (s *Screen) Pick(i int, asNow bool) {
	if i < 0 || i >= len(s.data.strip) || s.marking {
		return
	}
	then, now := s.then, s.now
	switch {
	case asNow && i == then, !asNow && i == now:
		then, now = now, then
	case asNow:
		now = i
	default:
		then = i
	}
	if then < 0 || now < 0 || then == s.then && now == s.now {
		return
	}
	s.then, s.now = then, now
	s.stopAlign()
	s.showPair()
}

// workPair are the newest photos of one visit before and after the work, of the
// visit of now; false where it has not both.
func (s *Screen) workPair() (before, after int, ok bool) {
	before, after = -1, -1
	if s.now < 0 {
		return before, after, false
	}
	for i, o := range s.data.strip {
		switch {
		case o.Photo.VisitID != s.data.strip[s.now].Photo.VisitID:
		case o.Photo.Stage == inspect.AfterWork:
			after = i
		default:
			before = i
		}
	}
	return before, after, before >= 0 && after >= 0
}

// isWork tells whether the pair shows one visit before and after the work.
func (s *Screen) isWork() bool {
	if s.then < 0 || s.now < 0 {
		return false
	}
	then, now := s.data.strip[s.then].Photo, s.data.strip[s.now].Photo
	return then.VisitID == now.VisitID && then.Stage != inspect.AfterWork && now.Stage == inspect.AfterWork
}

// PickWork takes before and after the work as the pair, or the usual pair again.
func (s *Screen) PickWork() {
	if s.marking || s.left == nil {
		return
	}
	then, now, ok := s.workPair()
	if s.isWork() {
		then, now = s.first()
	}
	if !ok || then < 0 || then == s.then && now == s.now {
		return
	}
	s.then, s.now = then, now
	s.stopAlign()
	s.showPair()
}

// pressed picks as then; with Shift, or pressed again, as now.
func (s *Screen) pressed(i int) { s.Pick(i, i == s.then || shifted()) }
