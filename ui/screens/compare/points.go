package compare

import (
	"fmt"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/media/align"
	"forkwear/media/scale"
	"forkwear/ui/widgets"
)

const mostPoints = 8

// startPoints lets the user mark the same places on both photos, as taken.
func (s *Screen) startPoints() {
	if s.then < 0 || s.busy {
		return
	}
	s.marking, s.mode = true, SideBySide
	s.points = [2][]inspect.Spot{}
	for _, c := range []*widgets.PhotoCanvas{s.left, s.right} {
		c.SetTool(widgets.ToolPoint, "")
	}
	s.show()
	s.showPoints()
}

func (s *Screen) endPoints() {
	s.marking = false
	s.points = [2][]inspect.Spot{}
	for _, c := range []*widgets.PhotoCanvas{s.left, s.right} {
		c.SetTool(widgets.ToolLook, "")
	}
	s.showPoints()
	s.show()
}

func (s *Screen) addPoint(side int, at inspect.Spot) {
	if !s.marking || len(s.points[side]) >= mostPoints {
		return
	}
	s.points[side] = append(s.points[side], at)
	s.showPoints()
	[]*widgets.PhotoCanvas{s.left, s.right}[side].Choose(len(s.points[side]) - 1)
}

// dropPoint takes the last point off: on the side that has more of them.
func (s *Screen) dropPoint() {
	if !s.marking {
		return
	}
	side := 1
	if len(s.points[0]) > len(s.points[1]) {
		side = 0
	}
	if n := len(s.points[side]); n > 0 {
		s.points[side] = s.points[side][:n-1]
	}
	s.showPoints()
}

func (s *Screen) showPoints() {
	for side, c := range []*widgets.PhotoCanvas{s.left, s.right} {
		var hs []widgets.Handle
		for i, p := range s.points[side] {
			hs = append(hs, widgets.Handle{At: p, Label: fmt.Sprint(i + 1), Scale: true})
		}
		c.SetHandles(hs)
	}
	s.showTake()
}

func (s *Screen) pairs() int { return min(len(s.points[0]), len(s.points[1])) }

// showTake says what pressing the chip does at this number of pairs.
func (s *Screen) showTake() {
	s.take.Hidden = !s.marking
	switch n := s.pairs(); {
	case n < 2:
		s.take.SetText(fmt.Sprintf(lang.L("%d of 2 pairs · leave it"), n))
	default:
		s.take.SetText(fmt.Sprintf(lang.L("Align by these %d pairs  A"), n))
	}
	s.take.Refresh()
}

// alignByPoints lays now upon then by the pairs; with fewer than two it leaves
// the marking.
func (s *Screen) alignByPoints() {
	n := s.pairs()
	if !s.marking || s.busy {
		return
	}
	if n < 2 {
		s.endPoints()
		return
	}
	kThen, kNow := ratio(s.picture(s.then)), ratio(s.picture(s.now))
	var ps []align.Pair
	for i := range n {
		a, b := s.points[0][i], s.points[1][i]
		ps = append(ps, align.Pair{Then: scale.Point{X: a.X / kThen, Y: a.Y / kThen}, Now: scale.Point{X: b.X / kNow, Y: b.Y / kNow}})
	}
	s.want = true
	s.align(lang.L("Aligning by your points"), ps)
}
