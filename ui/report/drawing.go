package report

import (
	"bytes"
	"fmt"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/theme/tokens"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

const drawingW, drawingH = 640, 900

// forkDrawing draws the fork of a story with the marks of its zones as PNG.
func forkDrawing(st *shop.Story) ([]byte, error) {
	o := draw.DefaultOptions(false)
	o.Palette = tokens.Light()
	o.Palette.Paper = o.Palette.Panel // on white paper
	o.LeftWord, o.RightWord = words.Leg(inspect.Left), words.Leg(inspect.Right)
	o.SideNote, o.DoNotRideWord = tongue.Say("as the rider sees it"), tongue.Say("do not ride")
	o.PixelRatio = 3 // small in print: larger words and marks
	sheet := st.Case.Sheet
	o.DoubleCrown = sheet.Crown == "dual"
	o.LeftInside, o.RightInside = insideOf(sheet, inspect.Left), insideOf(sheet, inspect.Right)
	var out bytes.Buffer
	if err := draw.RenderPNG(&out, drawingW, drawingH, states(st.Lines), o); err != nil {
		return nil, fmt.Errorf("the fork can't be drawn: %w", err)
	}
	return out.Bytes(), nil
}

func insideOf(s catalog.Sheet, leg inspect.Leg) draw.Inside {
	spring, damper := s.SpringOn == leg, s.DamperOn == leg
	switch {
	case spring && damper:
		return draw.AirAndDamper
	case damper:
		return draw.DamperOnly
	case spring && s.Spring == "coil":
		return draw.Coil
	case spring:
		return draw.Air
	}
	return draw.Empty
}

// states gives each zone its gravest verdict and how many parts have it. A
// part of the whole fork counts at both sides of its zone.
func states(lines []shop.Line) draw.States {
	out := draw.States{}
	for _, l := range lines {
		sides := []string{string(l.Assessment.Leg)}
		if l.Assessment.Leg == inspect.Whole {
			sides = []string{draw.None, draw.Left, draw.Right}
		}
		m := markOf(l)
		for _, side := range sides {
			z := draw.Zone{ID: l.Part.Zone, Side: side}
			st := out[z]
			switch {
			case m > st.Mark:
				st = draw.State{Mark: m, Count: 1}
			case m == st.Mark:
				st.Count++
			}
			out[z] = st
		}
	}
	return out
}

// markOf is the mark of a line as it was found, also where the part is new by
// now; the marks of package draw rise with gravity. Only 'do not ride' ends
// with the part that caused it.
func markOf(l shop.Line) draw.Mark {
	switch {
	case l.Assessment.DoNotRide && !l.Renewed:
		return draw.DoNotRide
	case l.Assessment.InForce() == inspect.Replace:
		return draw.Replace
	case l.Assessment.InForce() == inspect.Measure:
		return draw.Measure
	}
	return draw.Reuse
}
