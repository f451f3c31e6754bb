package measure

import (
	"context"
	"fmt"
	"math"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/media/scale"
	"forkwear/ui/marks"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

// Kind is what is measured.
type Kind int

// The kinds, in the order of their chips.
const (
	Length Kind = iota
	Width
	Area
	DamageArea
	DamageLength
)

func (k Kind) byMask() bool { return k == DamageArea || k == DamageLength }

// of is the kind as it is kept.
func (k Kind) of() string {
	switch k {
	case Width:
		return "width"
	case Area, DamageArea:
		return "area"
	}
	return "length"
}

func (k Kind) unit() string {
	if k.of() == "area" {
		return "mm2"
	}
	return "mm"
}

// task is everything needed to measure once.
type task struct {
	kind   Kind
	scene  scale.Scene
	u      scale.Uncertainty
	points []scale.Point
	pixels pixels // of the damage, without one empty
	draft  inspect.PhotoMeasure
	narrow float64 // photo pixels under which a width is no number
}

// narrowPixels is the width in pixels under which a width is only bounded.
const narrowPixels = 3

// measured measures and gives the draft with its value; it runs in a worker.
func measured(ctx context.Context, t task) (inspect.PhotoMeasure, error) {
	if t.kind.byMask() {
		d, err := t.pixels.damage()
		if err != nil {
			return t.draft, err
		}
		return d.measured(ctx, t)
	}
	m, err := size(t)
	return filled(t.draft, m), err
}

func size(t task) (scale.Measured, error) {
	switch t.kind {
	case Width:
		m, err := t.scene.Length(t.points, t.u)
		if err != nil {
			return m, err
		}
		if d := scale.PolylineLength(t.points); d < t.narrow {
			return m, fmt.Errorf(lang.L("it is too narrow for this photo: all that can be said is that it is under %s mm. Photograph it from nearer"), words.Fixed(math.Ceil(m.Value*t.narrow/d*10)/10, 1))
		}
		return m, nil
	case Area:
		return t.scene.Area(t.points, t.u)
	}
	return t.scene.Length(t.points, t.u)
}

// ready tells whether there is something to measure, else what is to be done.
func (s *Screen) ready() (string, bool) {
	if s.card == nil && s.tube == nil && s.known == nil {
		return lang.L("Choose what gives the scale."), false
	}
	if s.tube != nil && !(s.tube.Diameter > 0) {
		return lang.L("Type the diameter of the tube."), false
	}
	if s.known != nil && !(s.known.MM > 0) {
		return lang.L("Type the distance of the two points."), false
	}
	if todo := s.unplaced(); todo != "" {
		return todo, false
	}
	n := len(s.points)
	switch {
	case s.kind == Length && n < 2:
		return lang.L("Press along the mark, from end to end."), false
	case s.kind == Width && n < 2:
		return lang.L("Press both edges of the mark, straight across."), false
	case s.kind == Area && n < 3:
		return lang.L("Press around the mark, point after point."), false
	case s.kind.byMask() && s.damage == nil:
		return lang.L("Draw a box around the damage: the program proposes its outline, you correct it."), false
	}
	return "", true
}

// measureSoon measures beside the window; while one runs, the newest marks
// wait, so that dragging is never slow.
func (s *Screen) measureSoon() {
	if s.measuring {
		s.again = true
		return
	}
	if todo, ok := s.ready(); !ok {
		s.result, s.refused = nil, todo
		s.showResult()
		return
	}
	t := task{kind: s.kind, scene: s.scene(), u: s.uncertainty(), points: pointsOf(s.points), narrow: narrowPixels * s.canvas.Pixel()}
	t.draft = s.draft()
	if s.kind.byMask() {
		t.pixels = s.damage.pixels()
	}
	s.measuring = true
	later(s, func(ctx context.Context) (inspect.PhotoMeasure, error) { return measured(ctx, t) }, func(m inspect.PhotoMeasure, err error) {
		s.measuring = false
		if !s.again { // else what was measured is no longer what is marked
			s.take(m, err)
		}
		if s.again {
			s.again = false
			s.measureSoon()
		}
	})
}

func (s *Screen) take(m inspect.PhotoMeasure, err error) {
	s.result, s.refused = nil, ""
	if err != nil {
		s.refused = sentence(inspect.SaidIn(tongue.Say, err))
	} else {
		s.result = &m
	}
	s.showResult()
	s.drawLayer()
}

// draft is the measure as it is marked now, without a value.
func (s *Screen) draft() inspect.PhotoMeasure {
	m := inspect.PhotoMeasure{PhotoID: s.where.Photo, Kind: s.kind.of(), Unit: s.kind.unit()}
	m.Card = append([]inspect.Spot(nil), s.card...)
	if s.known != nil {
		k := *s.known
		m.Known = &k
	}
	if s.tube != nil {
		t := *s.tube
		m.Tube = &t
	}
	pts := append([]inspect.Spot(nil), s.points...)
	switch {
	case s.kind.byMask(): // the worker adds it
	case s.kind == Area:
		m.Outline = pts
	default:
		m.Line = pts
	}
	return m
}

// methodWords tells how a value was reached.
func methodWords(m inspect.PhotoMeasure) string {
	switch m.Method {
	case scale.ByTube:
		return lang.L("Measured on the tube's skin, unrolled: by its two edges, its diameter and the camera's focal length.")
	case scale.ByCard:
		return lang.L("Measured in the plane of the card, by its four corners.")
	case scale.ByCardAlong:
		return lang.L("Measured by the card, along the tube only.")
	case scale.ByKnown:
		return lang.L("Measured by two points a known distance apart.")
	case scale.ByKnownTube:
		return lang.L("Measured by two points a known distance apart, along the tube only.")
	}
	return m.Method
}

// rangeWords tells the 95 % range.
func rangeWords(m inspect.PhotoMeasure) string {
	unit := "mm"
	if m.Unit == "mm2" {
		unit = "mm²"
	}
	return fmt.Sprintf(lang.L("Between %s and %s, 95 times in 100."), words.Fixed(m.Low, 1), words.Fixed(m.High, 1)+words.Thin+unit)
}

// kindWords names a kept measure: "length 12.3 ± 0.5 mm".
func kindWords(m inspect.PhotoMeasure) string {
	switch m.Kind {
	case "width":
		return fmt.Sprintf(lang.L("width %s"), marks.Value(m))
	case "area":
		return fmt.Sprintf(lang.L("area %s"), marks.Value(m))
	}
	return fmt.Sprintf(lang.L("length %s"), marks.Value(m))
}

func sentence(t string) string {
	if t == "" {
		return ""
	}
	r := []rune(t)
	if r[0] >= 'a' && r[0] <= 'z' {
		r[0] -= 'a' - 'A'
	}
	if r[len(r)-1] != '.' {
		r = append(r, '.')
	}
	return string(r)
}
