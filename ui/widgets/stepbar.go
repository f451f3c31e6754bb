package widgets

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme/tokens"
)

// StepBar shows the steps of a visit: done ones with a tick, the one at work
// underlined. Any step can be pressed.
type StepBar struct {
	widget.BaseWidget

	// OnTapped is called with the number of the step, from 0.
	OnTapped func(step int)

	steps         []*stepKey
	current, done int
}

// NewStepBar returns a bar at its first step, none done.
func NewStepBar(words []string, onTapped func(step int)) *StepBar {
	s := &StepBar{OnTapped: onTapped}
	for i, w := range words {
		s.steps = append(s.steps, newStepKey(w, func() {
			if s.OnTapped != nil {
				s.OnTapped(i)
			}
		}))
	}
	s.ExtendBaseWidget(s)
	return s
}

// CreateRenderer implements fyne.Widget.
func (s *StepBar) CreateRenderer() fyne.WidgetRenderer {
	var objs []fyne.CanvasObject
	for _, k := range s.steps {
		objs = append(objs, k)
	}
	refresh := func() {
		for i, k := range s.steps {
			k.done, k.current = i < s.done, i == s.current
			k.Refresh()
		}
	}
	layout := func(z fyne.Size) {
		x, wide := float32(0), float32(0)
		for _, k := range s.steps {
			wide += k.width(stepAir)
		}
		air := float32(stepAir)
		if wide > z.Width { // closer together before the last one is cut
			air = max(tightAir, air-(wide-z.Width)/float32(stepGaps*len(s.steps)))
		}
		for _, k := range s.steps {
			w := k.width(air)
			k.air = air
			place(k, x, 0, w, z.Height)
			x += w
		}
	}
	least := func() fyne.Size {
		w := float32(0)
		for _, k := range s.steps {
			w += k.width(stepAir)
		}
		return fyne.NewSize(w, tokens.Target)
	}
	return newRendered(objs, layout, least, refresh)
}

// Set shows which step is at work and how many are done, from the first.
func (s *StepBar) Set(current, done int) { s.current, s.done = current, done; s.Refresh() }

// stepKey is one step of the bar.
type stepKey struct {
	press

	word          string
	done, current bool
	air           float32 // on each side, and behind the word
}

// The air of a step: as a rule, and where the window is narrow. A step has
// stepGaps of it beside its sign and its word.
const (
	stepAir  = tokens.Step
	tightAir = 3
	stepGaps = 3
	signSide = 18
	signGap  = 6
)

// width is that of the step with some air.
func (k *stepKey) width(air float32) float32 {
	return max(tokens.Target, stepGaps*air+signSide+signGap+fyne.MeasureText(k.word, textSize(k), fyne.TextStyle{Bold: true}).Width)
}

func newStepKey(word string, onPress func()) *stepKey {
	k := &stepKey{word: word, air: stepAir}
	k.onPress = onPress
	k.ExtendBaseWidget(k)
	return k
}

// CreateRenderer implements fyne.Widget.
func (k *stepKey) CreateRenderer() fyne.WidgetRenderer {
	box, under, word := canvas.NewRectangle(nil), canvas.NewRectangle(nil), canvas.NewText("", nil)
	var sign *canvas.Raster
	sign = canvas.NewRaster(func(w, h int) image.Image { return k.paintSign(w, h, ratioOf(sign, w)) })
	refresh := func() {
		pal := paletteOf(k)
		k.ground(box, pal, false)
		if !k.focused {
			box.StrokeWidth = 0
		}
		if !k.hovered {
			box.FillColor = nil
		}
		ink := pal.QuietInk
		if k.current || k.done {
			ink = pal.Ink
		}
		under.FillColor, under.Hidden = pal.Accent, !k.current
		setText(word, k.word, textSize(k), ink, k.current)
		box.Refresh()
		under.Refresh()
		sign.Refresh()
	}
	layout := func(s fyne.Size) {
		box.Resize(s)
		place(sign, k.air, (s.Height-signSide)/2, signSide, signSide)
		m := word.MinSize()
		place(word, k.air+signSide+signGap, (s.Height-m.Height)/2, m.Width, m.Height)
		place(under, k.air, s.Height-3, s.Width-2*k.air, 3)
	}
	least := func() fyne.Size {
		return fyne.NewSize(k.width(tightAir), tokens.Target)
	}
	return newRendered([]fyne.CanvasObject{box, sign, word, under}, layout, least, refresh)
}

// paintSign draws a tick in a disc for done, a dot for current, else a ring.
func (k *stepKey) paintSign(w, h int, ratio float64) image.Image {
	p, pal := pen.New(w, h), paletteOf(k)
	cx, cy := float64(w)/2, float64(h)/2
	r := math.Min(cx, cy) - 1.5*ratio
	switch {
	case k.done:
		p.Fill(pen.Circle(cx, cy, r+0.7*ratio), pal.Ink)
		tick := new(pen.Path).M(cx-r*0.48, cy+r*0.02).L(cx-r*0.12, cy+r*0.38).L(cx+r*0.5, cy-r*0.36)
		p.Stroke(tick, 1.8*ratio, pal.Panel)
	case k.current:
		p.Stroke(pen.Circle(cx, cy, r), 2*ratio, pal.Accent)
		p.Fill(pen.Circle(cx, cy, r*0.45), pal.Accent)
	default:
		p.Stroke(pen.Circle(cx, cy, r), 1.3*ratio, pal.QuietInk)
	}
	return p.Image()
}
