package inspection

import (
	"fyne.io/fyne/v2/lang"
)

// showBeside fills the place beside the facts: the trend where there is one,
// else the drawing of the check, new and at its limit. Where there are both a
// key turns to the other; else the room of the key goes to the check's name.
func (s *Screen) showBeside(trend bool) {
	c := &s.card
	c.trendThere = trend
	p, ok := s.line()
	if !ok {
		return
	}
	c.drawing.SetName(p.Check.Drawing)
	drawn := !c.drawing.Empty() && (!trend || c.turned[p.Check.ID])
	c.drawing.Hidden, c.plot.Hidden = !drawn, !trend || drawn
	word := lang.L("drawing")
	if drawn {
		word = lang.L("trend")
	}
	c.drawKey.Hidden = !trend || c.drawing.Empty()
	c.drawKey.SetText(word)
	c.box.Refresh()
}

// waitBeside leaves the place empty while the trend of a check is read, so that
// nothing flashes up on the way through the checks.
func (s *Screen) waitBeside() {
	s.card.plot.Hide()
	s.card.drawing.Hide()
	s.card.drawKey.Hide()
}

func (s *Screen) turnBeside() {
	if p, ok := s.line(); ok {
		s.card.turned[p.Check.ID] = !s.card.turned[p.Check.ID]
		s.showBeside(s.card.trendThere)
	}
}
