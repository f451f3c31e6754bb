package inspection

import (
	"fmt"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/words"
)

func viewOf(st inspect.Stage) draw.View {
	if st == inspect.Stripped {
		return draw.Stripped
	}
	return draw.Assembled
}

// insides says what each leg of a data sheet holds.
func insides(sh catalog.Sheet) (left, right draw.Inside) {
	of := func(leg inspect.Leg) draw.Inside {
		spring, damper := sh.SpringOn == leg, sh.DamperOn == leg
		switch {
		case spring && damper && sh.Spring != "coil":
			return draw.AirAndDamper
		case spring && sh.Spring == "coil":
			return draw.Coil
		case spring:
			return draw.Air
		case damper:
			return draw.DamperOnly
		}
		return draw.Empty
	}
	if sh.SpringOn == "" && sh.DamperOn == "" {
		return draw.Air, draw.DamperOnly
	}
	return of(inspect.Left), of(inspect.Right)
}

// sideless are the zones that the drawing also shows between the legs.
var sideless = map[string]bool{draw.Crown: true, draw.Lowers: true, draw.Fasteners: true}

// states are the marks of all zones: do not ride, failing, missing, open
// questions, done. They are a first look; the verdict is made at Decide.
func (s *Screen) states() draw.States {
	out := draw.States{}
	for _, p := range s.route {
		r := regionOf(p)
		lines := inRegion(s.route, r)
		if r.leg != inspect.Whole && !sideless[r.zone] {
			lines = append(lines, inRegion(s.route, region{r.zone, inspect.Whole})...)
		}
		z := draw.Zone{ID: r.zone, Side: string(r.leg)}
		if _, had := out[z]; !had {
			out[z] = s.state(lines)
		}
	}
	return out
}

func (s *Screen) state(lines []catalog.Position) draw.State {
	st := draw.State{Of: len(lines)}
	ride, open := true, false
	for _, p := range lines {
		r, ok := s.answerOf(p)
		if !ok {
			continue
		}
		st.Done++
		open = open || unsettled(r.Answer)
		if fails(p.Check, s.kase.Sheet, r) {
			st.Count++
			ride = ride && !p.Check.DoNotRide
		}
	}
	switch {
	case !ride:
		st.Mark, st.Count = draw.DoNotRide, 0
	case st.Count > 0:
		st.Mark = draw.Replace
	case st.Done < st.Of:
		st.Mark = draw.Missing
	case open:
		st.Mark = draw.Measure
	default:
		st.Mark = draw.Reuse
	}
	return st
}

// zoneLines are the lines that a zone of the drawing stands for.
func (s *Screen) zoneLines(z draw.Zone) []catalog.Position {
	lines := inRegion(s.route, region{z.ID, inspect.Leg(z.Side)})
	if len(lines) == 0 || z.Side != "" && !sideless[z.ID] {
		lines = append(lines, inRegion(s.route, region{z.ID, inspect.Whole})...)
	}
	if len(lines) == 0 {
		for _, p := range s.route {
			if p.Check.Zone == z.ID {
				lines = append(lines, p)
			}
		}
	}
	return lines
}

func (s *Screen) zonePressed(z draw.Zone) {
	if s.kase == nil {
		return
	}
	s.blur() // the keys belong to the check again
	lines := s.zoneLines(z)
	if len(lines) == 0 {
		s.tell(lang.L("Nothing is asked here at this stage. Find a check with / to open one."))
		return
	}
	for _, p := range lines {
		if _, ok := s.answerOf(p); !ok {
			s.goTo(s.start(p))
			return
		}
	}
	s.goTo(spot{lines[0].Check.ID, lines[0].Leg, points(lines[0].Check)[0]})
}

func (s *Screen) zoneHovered(z draw.Zone, over bool) {
	if !over || s.kase == nil {
		s.env.Say.Hint("")
		return
	}
	lines := s.zoneLines(z)
	s.env.Say.Hint(fmt.Sprintf(lang.L("%s: %d of %d answered"), s.regionTitle(region{z.ID, inspect.Leg(z.Side)}), s.progress(lines), len(lines)))
}

func (s *Screen) turnDrawing(stripped bool) {
	s.drawing.SetView(map[bool]draw.View{false: draw.Assembled, true: draw.Stripped}[stripped])
	s.showDrawing()
}

func (s *Screen) showDrawing() {
	view := s.drawing.View()
	s.viewChips[0].SetSelected(view == draw.Assembled)
	s.viewChips[1].SetSelected(view == draw.Stripped)
	s.drawing.SetStates(s.states())
	if p, ok := s.line(); ok {
		s.drawing.SetSelected(&draw.Zone{ID: p.Check.Zone, Side: string(p.Leg)})
	} else {
		s.drawing.SetSelected(nil)
	}
}

// regionTitle names a zone with its side.
func (s *Screen) regionTitle(r region) string {
	z, _ := s.env.Desk.Catalog.Zone(r.zone)
	switch {
	case r.leg != inspect.Whole:
		return words.PartAt(z.Name, r.leg)
	case z.Legs:
		return fmt.Sprintf(lang.L("%s, whole fork"), z.Name)
	}
	return z.Name
}
