package inspection

import (
	"context"
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/place"
	"forkwear/ui/screens/rows"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/theme"
	"forkwear/ui/widgets"
)

// evidence is what makes the photos of this visit certain: what is in front at
// the bench, photos that come by themselves, and what speaks against a photo.
type evidence struct {
	clocks   []inspect.CameraClock
	front    front
	queue    visitbar.Queue // what was in front is kept in its order
	untold   bool           // that it can't be kept was told
	closed   bool
	stop     func() // ends listening
	doubts   map[inspect.ID][]shop.Doubt
	doubtsOf *shop.Case

	said   *widget.RichText // the doubts of the photo that is shown
	seen   *widget.RichText // the card in it
	like   *fyne.Container
	room   *fyne.Container // of these three
	cells  [2]*widgets.PhotoCell
	likeOf inspect.ID // whose look-alike is shown or on its way
	likeIs inspect.Photo
}

// front is what was last told to be in front, and when.
type front struct {
	at    spot
	stage inspect.Stage
	on    time.Time
}

// renewFront is after how long what stays in front is told again.
const renewFront = 10 * time.Minute

func (s *Screen) buildEvidence() fyne.CanvasObject {
	e := &s.evidence
	e.doubts = map[inspect.ID][]shop.Doubt{}
	e.said, e.seen = rows.Quiet(""), rows.Quiet("")
	for i := range e.cells {
		e.cells[i] = widgets.NewPhotoCell(func(string) { s.toCompare() })
	}
	e.like = container.NewGridWithColumns(2, e.cells[0], e.cells[1])
	e.said.Hide()
	e.seen.Hide()
	e.like.Hide()
	e.room = container.New(atMost{}, container.NewVScroll(container.NewVBox(e.seen, e.said, e.like)))
	return e.room
}

// atMost lets what it holds scroll before the column gets higher than the
// window: the keys below it stay in sight.
type atMost struct{}

const mostDoubts = 244

// MinSize implements fyne.Layout.
func (atMost) MinSize(os []fyne.CanvasObject) fyne.Size {
	m := os[0].(*container.Scroll).Content.MinSize()
	return fyne.NewSize(m.Width, min(m.Height, mostDoubts))
}

// Layout implements fyne.Layout.
func (atMost) Layout(os []fyne.CanvasObject, s fyne.Size) { os[0].Resize(s) }

// keepFront logs what is in front, so that a photo that comes later finds it.
func (s *Screen) keepFront() {
	e := &s.evidence
	if e.closed || s.kase == nil || !s.shown {
		return
	}
	now := front{spot{check: s.at.check, leg: s.at.leg}, s.stage, s.env.Desk.Clock()}
	if now.at == e.front.at && now.stage == e.front.stage && now.on.Sub(e.front.on) < renewFront {
		return
	}
	e.front = now
	s.logFront(now.at.check, now.at.leg, now.stage)
}

// logFront keeps it also while the window closes, which waits for its workers:
// else the case would count as in front for hours.
func (s *Screen) logFront(check string, leg inspect.Leg, stage inspect.Stage) {
	e, c, d := &s.evidence, s.kase, s.env.Desk
	e.queue.Do(s.env.Run, func(ctx context.Context) error {
		return d.FocusOn(context.WithoutCancel(ctx), c, check, leg, stage)
	}, func(err error) {
		s.oneAtATime.Lock()
		defer s.oneAtATime.Unlock()
		if err != nil && !e.untold {
			e.untold = true
			s.env.Say.Failed(fmt.Errorf("%s: %w", lang.L("photos will not find their check by themselves"), err))
		}
	})
}

// beginEvidence listens to photos that come by themselves.
func (s *Screen) beginEvidence() {
	e := &s.evidence
	e.closed, e.front = false, front{}
	if a := s.env.Arrivals; a != nil && e.stop == nil {
		e.stop = a.Listen(func(x place.Arrival) {
			s.oneAtATime.Lock()
			defer s.oneAtATime.Unlock()
			s.photosCame(x)
		})
	}
}

// endEvidence tells that the case is left.
func (s *Screen) endEvidence() {
	e := &s.evidence
	e.closed = true
	if e.stop != nil {
		e.stop()
		e.stop = nil
	}
	if s.kase != nil {
		s.logFront("", inspect.Whole, "")
	}
}

// photosCame takes up photos of this visit that came without a hand.
func (s *Screen) photosCame(x place.Arrival) {
	if s.evidence.closed || s.kase == nil || !x.Touches(s.where.Visit) {
		return
	}
	var again []string
	for _, r := range x.Received {
		if r.Visit == s.where.Visit && !r.Photo.Usable {
			again = append(again, fmt.Sprintf(lang.L("%s: blurred, take it again while the fork is as it is."), r.Photo.FileName))
		}
		if r.Photo.Check == s.at.check {
			s.photos.turn = 0
		}
	}
	var clocks []inspect.CameraClock
	s.send(errand{
		work: func(ctx context.Context, c *shop.Case) (err error) {
			if clocks, err = s.env.Desk.Lib.Clocks(ctx); err != nil {
				return err
			}
			c.Photos, err = s.env.Desk.Lib.Photos(ctx, inspect.PhotoFilter{VisitID: c.Visit.ID})
			return err
		},
		done: func() { s.evidence.clocks = clocks },
	})
	if len(again) > 0 {
		s.tell(strings.Join(again, "\n"))
	}
}

// doubtsOn are what speaks against a photo of this case.
func (s *Screen) doubtsOn(p inspect.Photo) []shop.Doubt {
	e := &s.evidence
	if e.doubtsOf != s.kase {
		clear(e.doubts)
		e.doubtsOf = s.kase
	}
	ds, ok := e.doubts[p.ID]
	if !ok {
		ds = s.env.Desk.Doubts(p, s.kase, e.clocks, s.env.Desk.Clock())
		e.doubts[p.ID] = ds
	}
	return ds
}

// doubtWords are the doubts on a photo in one line; "" without any.
func (s *Screen) doubtWords(p inspect.Photo) string {
	var parts []string
	for _, d := range s.doubtsOn(p) {
		parts = append(parts, d.Words)
	}
	return strings.Join(parts, " ")
}

func (s *Screen) hintOn(id inspect.ID) string {
	for _, p := range s.kase.Photos {
		if p.ID == id {
			return s.doubtWords(p)
		}
	}
	return ""
}

// showEvidence tells under the large photo what speaks against it, what it
// looks like, and the card in it. The zero photo shows nothing.
func (s *Screen) showEvidence(p inspect.Photo) {
	e := &s.evidence
	text := ""
	if p.ID != "" {
		text = s.doubtWords(p)
	}
	e.said.Hidden = text == ""
	setDoubt(e.said, text)
	seen, wrong := s.cardSeen(p)
	e.seen.Hidden = seen == ""
	if wrong {
		setDoubt(e.seen, seen)
	} else {
		rows.SetQuiet(e.seen, seen)
	}
	s.showLike(p)
	e.room.Hidden = e.said.Hidden && e.seen.Hidden && e.like.Hidden
	e.room.Refresh()
}

func setDoubt(t *widget.RichText, text string) {
	rows.SetQuiet(t, text)
	t.Segments[0].(*widget.TextSegment).Style.ColorName = theme.ColorNameReplace
	t.Refresh()
}

// cardSeen is what a card in the photo says.
func (s *Screen) cardSeen(p inspect.Photo) (text string, wrong bool) {
	switch {
	case p.CardCode == "" && len(p.Card) == 0:
		return "", false
	case p.CardCode == "":
		return lang.L("A card is seen: sizes can be measured."), false
	}
	visit, ok := inspect.ID(p.CardCode), true
	if s.env.Desk.CardVisit != nil {
		visit, ok = s.env.Desk.CardVisit(p.CardCode)
	}
	switch {
	case !ok:
		return lang.L("A code is seen that is no bench card of this shop."), true
	case visit == s.where.Visit:
		return lang.L("Bench card seen: this visit."), false
	}
	return lang.L("Bench card seen: another visit! Is this photo of this fork?"), true
}
