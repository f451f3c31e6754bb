package inspect

import "time"

// MostClockAdd is the most that a camera's clock can be taken to be off: a clock
// that was never set starts at some round year of the camera's making.
const MostClockAdd = 20 * 366 * 24 * time.Hour

// Validate says why a mark can't be kept, or nil.
func (m Mark) Validate() error {
	least, most := 2, 2
	switch m.Kind {
	case MarkCircle, MarkArrow:
	case MarkLine:
		most = 10000
	case MarkText:
		least, most = 1, 1
		if m.Text == "" {
			return Refuse(Invalid, "the words of the mark are missing: type them")
		}
	default:
		return Refuse(Invalid, "a mark is a circle, an arrow, a line or a text, not %q", m.Kind)
	}
	switch {
	case m.ID == "" || m.PhotoID == "":
		return Refuse(Invalid, "a mark needs its own id and a photo")
	case m.At.IsZero():
		return Refuse(Invalid, "the mark has no time")
	case len(m.Points) < least || len(m.Points) > most:
		return Refuse(Invalid, "a mark of the kind %s needs %d points, not %d: draw it again", m.Kind, least, len(m.Points))
	}
	return spots("mark", m.Points)
}

// Validate says why a size can't be kept, or nil.
func (m PhotoMeasure) Validate() error {
	unit, shape, least := "mm", m.Line, 2
	switch m.Kind {
	case "length", "width":
	case "area":
		unit, shape, least = "mm2", m.Outline, 3
	default:
		return Refuse(Invalid, "a size on a photo is a length, a width or an area, not %q", m.Kind)
	}
	switch {
	case m.ID == "" || m.PhotoID == "":
		return Refuse(Invalid, "a size needs its own id and a photo")
	case m.At.IsZero():
		return Refuse(Invalid, "the size on the photo has no time")
	case m.Unit != unit:
		return Refuse(Invalid, "the unit of a %s on a photo is %s, not %q", m.Kind, unit, m.Unit)
	case !finite(m.Value) || !finite(m.Low) || !finite(m.High) || m.Low < 0 || m.Low > m.Value || m.Value > m.High:
		return Refuse(Invalid, "the %s %g with the range %g to %g is not a number inside its range: measure it again", m.Kind, m.Value, m.Low, m.High)
	case len(m.Card) != 0 && len(m.Card) != 4:
		return Refuse(Invalid, "a card has four corners, not %d: mark them again", len(m.Card))
	case len(shape) < least && len(m.Mask) == 0:
		return Refuse(Invalid, "mark the %s on the photo first: it needs %d points", m.Kind, least)
	case m.Known != nil && !(m.Known.MM > 0 && finite(m.Known.MM)):
		return Refuse(Invalid, "the known distance %g mm is not more than 0: type it again", m.Known.MM)
	case m.Tube != nil && !(m.Tube.Diameter > 0 && finite(m.Tube.Diameter)):
		return Refuse(Invalid, "the tube's diameter %g mm is not more than 0: type it again", m.Tube.Diameter)
	}
	for _, w := range m.Window {
		if !finite(w) {
			return Refuse(Invalid, "the window of the damage is not on the photo: mark it again")
		}
	}
	return spots(m.Kind, m.allSpots())
}

func (m PhotoMeasure) allSpots() []Spot {
	var all []Spot
	for _, ss := range [][]Spot{m.Card, m.Line, m.Outline} {
		all = append(all, ss...)
	}
	if m.Known != nil {
		all = append(all, m.Known.A, m.Known.B)
	}
	if m.Tube != nil {
		all = append(all, m.Tube.Edges[:]...)
	}
	return all
}

// Validate says why a camera's clock can't be kept, or nil.
func (c CameraClock) Validate() error {
	switch {
	case c.ID == "" || c.At.IsZero():
		return Refuse(Invalid, "a camera's clock needs its own id and a time")
	case c.Camera == "":
		return Refuse(Invalid, "the photo does not say which camera it is from, so that its clock can't be told from others")
	case c.Add > MostClockAdd || c.Add < -MostClockAdd:
		return Refuse(Invalid, "the clock of %s would be more than 20 years off: check the year that was typed", c.Camera)
	}
	return nil
}

// Validate says why a focus can't be kept, or nil.
func (f Focus) Validate() error {
	switch {
	case f.ID == "" || f.VisitID == "" || f.At.IsZero():
		return Refuse(Invalid, "what is in front at the bench needs its own id, a visit and a time")
	case !f.Leg.Valid():
		return Refuse(Invalid, "leg %q of check %s is neither left nor right", f.Leg, f.Check)
	case f.Stage != "" && !f.Stage.Valid():
		return Refuse(Invalid, "stage %q of check %s is not received, stripped or after work", f.Stage, f.Check)
	}
	return nil
}

// Validate says why a signature can't be kept, or nil.
func (s Signature) Validate() error {
	n := 0
	for _, stroke := range s {
		n += len(stroke)
		for _, p := range stroke {
			if !(p.X >= 0 && p.X <= 1 && p.Y >= 0 && p.Y <= 1) {
				return Refuse(Invalid, "the signature leaves its field: sign again")
			}
		}
	}
	if n > 100000 {
		return Refuse(Invalid, "the signature has %d points, more than a hand draws: sign again", n)
	}
	return nil
}

func spots(what string, ss []Spot) error {
	for _, s := range ss {
		if !finite(s.X) || !finite(s.Y) {
			return Refuse(Invalid, "a point of the %s is not on the photo: mark it again", what)
		}
	}
	return nil
}
