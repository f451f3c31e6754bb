package measure

import (
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/media/scale"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
)

// toggleCard, toggleTube and toggleKnown take a scale into use or lay it aside.

func (s *Screen) toggleCard() {
	switch {
	case s.card != nil:
		s.card, s.cards = nil, nil
	case !s.takeKnownCard():
		s.card, s.cardFrom = s.usualCard(), cardFrom{}
		s.cardSays = lang.L("Drag the four corners onto those of the card, from its top left one clockwise, or let the program find them.")
	}
	s.changed()
}

// cardFrom is how the card's corners are known.
type cardFrom struct {
	sigma     float64 // photo pixels, of corners that the program found; 0 by eye
	longFirst bool    // its code told which side is long
	printed   bool    // a bench card: the printer may not have kept its size
}

// takeKnownCard takes the card that was found when the photo came in.
func (s *Screen) takeKnownCard() bool {
	p := s.data.photo
	if len(p.Card) != 4 {
		return false
	}
	s.card = append([]inspect.Spot(nil), p.Card...)
	s.cardFrom = cardFrom{longFirst: p.CardCode != "", printed: p.CardCode != ""}
	s.cardSays = lang.L("The card was found when the photo came in: check its four corners.")
	return true
}

// togglePrinted tells a printed bench card from a bank card.
func (s *Screen) togglePrinted() {
	if s.card == nil || s.data.print == 1 {
		return
	}
	s.cardFrom.printed = !s.cardFrom.printed
	s.changed()
}

// usualCard is where a card is drawn before anybody has dragged it: in the
// middle, 40 % of the width.
func (s *Screen) usualCard() []inspect.Spot {
	w, h := float64(s.data.photo.Width), float64(s.data.photo.Height)
	a := w * 0.4
	b := a * scale.CardHeight / scale.CardWidth
	x, y := (w-a)/2, (h-b)/2
	return []inspect.Spot{{X: x, Y: y}, {X: x + a, Y: y}, {X: x + a, Y: y + b}, {X: x, Y: y + b}}
}

// usualTube is where the edges of a tube are drawn, usualEnds where the two
// points, before anybody has dragged them.
func (s *Screen) usualTube() [4]inspect.Spot {
	w, h := float64(s.data.photo.Width), float64(s.data.photo.Height)
	return [4]inspect.Spot{{X: w * .35, Y: h * .2}, {X: w * .35, Y: h * .8}, {X: w * .65, Y: h * .2}, {X: w * .65, Y: h * .8}}
}

func (s *Screen) usualEnds() [2]inspect.Spot {
	w, h := float64(s.data.photo.Width), float64(s.data.photo.Height)
	return [2]inspect.Spot{{X: w * .3, Y: h * .6}, {X: w * .7, Y: h * .6}}
}

// unplaced says which scale still stands where the program drew it, "" where
// none does: from a point that nobody has placed no size is told.
func (s *Screen) unplaced() string {
	stays := func(now, drawn []inspect.Spot) bool {
		for i, p := range now {
			if p == drawn[i] {
				return true
			}
		}
		return false
	}
	switch tube, ends := s.usualTube(), s.usualEnds(); {
	case s.card != nil && stays(s.card, s.usualCard()):
		return lang.L("Drag each of the four corners onto the card first.")
	case s.tube != nil && stays(s.tube.Edges[:], tube[:]):
		return lang.L("Drag all four points onto the tube's two edges first.")
	case s.known != nil && stays([]inspect.Spot{s.known.A, s.known.B}, ends[:]):
		return lang.L("Drag both points onto the ends of the known distance first.")
	}
	return ""
}

func (s *Screen) toggleTube() {
	if s.tube != nil {
		s.tube = nil
	} else {
		s.tube = &inspect.TubeMarks{Diameter: s.typed(s.diameter), Edges: s.usualTube()}
	}
	s.changed()
}

func (s *Screen) toggleKnown() {
	if s.known != nil {
		s.known = nil
	} else {
		ends := s.usualEnds()
		s.known = &inspect.KnownLength{A: ends[0], B: ends[1], MM: s.typed(s.distance)}
	}
	s.changed()
}

// typedScale takes in a diameter or distance as it is typed.
func (s *Screen) typedScale(string) {
	if s.tube != nil {
		s.tube.Diameter = s.typed(s.diameter)
	}
	if s.known != nil {
		s.known.MM = s.typed(s.distance)
	}
	s.measureSoon()
}

// typed is the number in an entry, 0 where there is none.
func (s *Screen) typed(e *widget.Entry) float64 {
	v, err := widgets.ParseNumber(e.Text)
	if err != nil || v < 0 {
		return 0
	}
	return v
}

// scene is all that gives the scale now.
func (s *Screen) scene() scale.Scene {
	p := s.data.photo
	out := scale.Scene{Camera: scale.CameraOf(p.Width, p.Height, float64(p.FocalLength35)), Tongue: tongue.Say}
	if s.card != nil {
		out.Card, out.LongFirst = pointsOf(s.card), s.cardFrom.longFirst
		if s.cardFrom.printed {
			out.PrintFactor = s.data.print
		}
	}
	if k := s.known; k != nil {
		out.Known = &scale.KnownLength{A: scale.Point(k.A), B: scale.Point(k.B), MM: k.MM}
	}
	if t := s.tube; t != nil {
		out.Tube = &scale.Tube{Diameter: t.Diameter, Edges: [4]scale.Point(pointsOf(t.Edges[:]))}
	}
	return out
}

// uncertainty is how exactly this photo can be marked: 1.5 pixels of what is
// shown, which may be coarser than the photo.
func (s *Screen) uncertainty() scale.Uncertainty {
	u := scale.DefaultUncertainty()
	u.ClickSigma *= s.canvas.Pixel()
	u.CornerSigma *= s.canvas.Pixel()
	if s.cardFrom.sigma > 0 && s.tube == nil {
		u.CornerSigma = s.cardFrom.sigma
	}
	if s.rough {
		u.Redraws = 100
	}
	return u
}

func pointsOf(ss []inspect.Spot) []scale.Point {
	out := make([]scale.Point, len(ss))
	for i, p := range ss {
		out[i] = scale.Point(p)
	}
	return out
}

func spotsOf(ps []scale.Point) []inspect.Spot {
	out := make([]inspect.Spot, len(ps))
	for i, p := range ps {
		out[i] = inspect.Spot(p)
	}
	return out
}
