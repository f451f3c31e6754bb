package widgets

import (
	"math"
	"strconv"

	"fyne.io/fyne/v2"

	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme/tokens"
)

// GradePad takes a grade from 0 to 5: six large keys with a word under each,
// and small keys for the half steps between them when wanted. A digit typed
// while any key has the focus presses that grade; left and right arrows walk.
type GradePad struct {
	widget.BaseWidget

	// OnChanged is called when the user gives a grade.
	OnChanged func(grade float64)

	grade float64 // -1 while none is given
	keys  []*padKey
	marks []float64 // the grade of each key
}

// NewGradePad returns a pad without an answer. words go under the grades 0
// to 5; missing ones stay empty.
func NewGradePad(words []string, halfSteps bool, onChanged func(grade float64)) *GradePad {
	g := &GradePad{OnChanged: onChanged, grade: -1}
	for i := 0; i <= 5; i++ {
		word := ""
		if i < len(words) {
			word = words[i]
		}
		g.addKey(float64(i), strconv.Itoa(i), word, false)
		if halfSteps && i < 5 {
			g.addKey(float64(i)+0.5, "½", "", true)
		}
	}
	g.ExtendBaseWidget(g)
	return g
}

// CreateRenderer implements fyne.Widget.
func (g *GradePad) CreateRenderer() fyne.WidgetRenderer {
	objs := make([]fyne.CanvasObject, len(g.keys))
	for i, k := range g.keys {
		objs[i] = k
	}
	refresh := func() {
		for i, k := range g.keys {
			k.selected = g.marks[i] == g.grade
			k.Refresh()
		}
	}
	return newRendered(objs, g.layout, g.least, refresh)
}

// Grade returns the grade given; ok is false while there is none.
func (g *GradePad) Grade() (grade float64, ok bool) { return max(g.grade, 0), g.grade >= 0 }

// SetGrade shows a grade without calling OnChanged. Anything that is not a
// step of the pad clears it.
func (g *GradePad) SetGrade(grade float64) {
	g.grade = -1
	for _, m := range g.marks {
		if m == grade {
			g.grade = grade
		}
	}
	g.Refresh()
}

// Clear takes the answer away without calling OnChanged.
func (g *GradePad) Clear() { g.SetGrade(-1) }

func (g *GradePad) addKey(grade float64, top, under string, small bool) {
	k := newPadKey(top, under, small, func() { g.give(grade) })
	i := len(g.keys)
	k.onRune = func(r rune) {
		if r >= '0' && r <= '5' {
			g.give(float64(r - '0'))
		}
	}
	k.onKey = func(e *fyne.KeyEvent) {
		switch e.Name {
		case fyne.KeyLeft:
			g.focus(i - 1)
		case fyne.KeyRight:
			g.focus(i + 1)
		}
	}
	g.keys = append(g.keys, k)
	g.marks = append(g.marks, grade)
}

func (g *GradePad) give(grade float64) {
	g.SetGrade(grade)
	if g.OnChanged != nil {
		g.OnChanged(grade)
	}
}

func (g *GradePad) focus(i int) {
	if i < 0 || i >= len(g.keys) {
		return
	}
	if c := fyne.CurrentApp().Driver().CanvasForObject(g.keys[i]); c != nil {
		c.Focus(g.keys[i])
	}
}

func (g *GradePad) layout(s fyne.Size) {
	large, small := 0, 0
	for _, k := range g.keys {
		if k.small {
			small++
		} else {
			large++
		}
	}
	room := s.Width - float32(len(g.keys)-1)*tokens.Inner - float32(small)*tokens.Target
	w := float32(math.Floor(float64(room / float32(large))))
	x := float32(0)
	for _, k := range g.keys {
		kw := w
		if k.small {
			kw = tokens.Target
		}
		place(k, x, 0, kw, s.Height)
		x += kw + tokens.Inner
	}
}

func (g *GradePad) least() fyne.Size {
	widest, small, n := float32(tokens.Target), 0, 0
	for _, k := range g.keys {
		if k.small {
			small++
			continue
		}
		n++
		widest = max(widest, k.MinSize().Width)
	}
	gaps := float32(len(g.keys)-1) * tokens.Inner
	return fyne.NewSize(widest*float32(n)+float32(small)*tokens.Target+gaps, 60)
}
