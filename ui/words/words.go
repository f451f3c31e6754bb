package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/measure"
	"forkwear/ui/tongue"
)

// Thin is the space between a number and its unit.
const Thin = "\u2009"

// Hours writes riding hours: "318 h".
func Hours(h float64) string {
	if math.IsNaN(h) || math.IsInf(h, 0) {
		return "–"
	}
	return fmt.Sprintf("%.0f%sh", h, Thin)
}

// HoursRange writes hours left: "140 h (60 to 290)".
func HoursRange(l *inspect.HoursLeft) string {
	if l == nil {
		return "–"
	}
	return tongue.Sayf("%.0f%sh (%.0f to %.0f)", l.P50, Thin, l.P05, l.P95)
}

// LeftOf writes what is left until a check's limit on the axis that it grows
// on: riding hours, or months.
func LeftOf(k catalog.Check, l *inspect.HoursLeft) string {
	if l == nil || k.Grows != catalog.ByMonths {
		return HoursRange(l)
	}
	return tongue.Sayf("%.0f%smonths (%.0f to %.0f)", l.P50, Thin, l.P05, l.P95)
}

// Date writes a day: "12 May 2026".
func Date(t time.Time) string {
	if t.IsZero() {
		return "–"
	}
	s := styleNow()
	return s.format(t, s.day)
}

// DateTime writes a moment: "12 May 2026, 14:02".
func DateTime(t time.Time) string {
	if t.IsZero() {
		return "–"
	}
	s := styleNow()
	return s.format(t, s.moment)
}

// Clock writes the time of day of what was saved: "14:02:11".
func Clock(t time.Time) string { return t.Format("15:04:05") }

// Share writes wear used: "62 %".
func Share(w float64) string { return fmt.Sprintf("%.0f%s%%", w*100, Thin) }

// Number writes a value with the digits that its uncertainty allows (two
// significant figures of u, JCGM 100 clause 7.2.6); u 0 is written as typed.
func Number(v, u float64) string {
	if u <= 0 || math.IsNaN(u) {
		return Decimal(strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64))
	}
	digits := 1 - int(math.Floor(math.Log10(u)))
	if digits < 0 {
		digits = 0
	}
	if digits > 4 {
		digits = 4
	}
	return Fixed(v, digits)
}

// Measured writes a value with unit and expanded uncertainty (k = 2), in the
// shop's unit.
func Measured(v, u float64, unit string) string {
	v, u, in := Units().Show(v, u, measure.Unit(unit))
	unit = string(in)
	s := Number(v, u)
	if u > 0 {
		s += " ±" + Thin + Number(2*u, u)
	}
	if unit != "" {
		s += Thin + UnitWord(unit)
	}
	return s
}

// Money writes an amount; "" where there is none.
func Money(m inspect.Money) string {
	if m.Minor == 0 {
		return ""
	}
	return Decimal(fmt.Sprintf("%d.%02d", m.Minor/100, m.Minor%100)) + " " + m.Currency
}

// Leg writes a side.
func Leg(l inspect.Leg) string {
	switch l {
	case inspect.Left:
		return tongue.Say("left")
	case inspect.Right:
		return tongue.Say("right")
	}
	return ""
}

// PartAt writes a part with its side: "Wiper seal, left".
func PartAt(name string, l inspect.Leg) string {
	if l == inspect.Whole {
		return name
	}
	return name + ", " + Leg(l)
}

// Stage writes a stage.
func Stage(s inspect.Stage) string {
	switch s {
	case inspect.Received:
		return tongue.Say("As received")
	case inspect.Stripped:
		return tongue.Say("Stripped")
	case inspect.AfterWork:
		return tongue.Say("After the work")
	}
	return string(s)
}

// Step writes a step of a visit.
func Step(s inspect.Step) string {
	switch s {
	case inspect.StepDropOff:
		return tongue.Say("Drop-off")
	case inspect.StepInspect:
		return tongue.Say("Inspect")
	case inspect.StepDecide:
		return tongue.Say("Decide")
	case inspect.StepService:
		return tongue.Say("Service")
	case inspect.StepHandBack:
		return tongue.Say("Hand-back")
	case inspect.StepDone:
		return tongue.Say("Collected")
	}
	return string(s)
}

// Verdict writes a verdict.
func Verdict(v inspect.Verdict) string {
	switch v {
	case inspect.Replace:
		return tongue.Say("Replace")
	case inspect.Measure:
		return tongue.Say("Measure again")
	}
	return tongue.Say("Reuse")
}

// Remedy writes what is to be done beside a verdict.
func Remedy(r string) string {
	if r == "" || r == "nothing" {
		return ""
	}
	return tongue.SayAs("remedy", strings.ReplaceAll(r, "_", " "))
}

// Reading writes what a check found: "3 clear knock", "2.41 ± 0.02 mm", "fine".
func Reading(k catalog.Check, r inspect.Reading) string {
	switch r.Answer {
	case inspect.Graded:
		s := Decimal(strconv.FormatFloat(r.Value, 'f', -1, 64))
		if w := k.Word(r.Value); w != "" {
			s += " · " + w
		}
		return s
	case inspect.Measured:
		return Measured(r.Value, r.U, r.Unit)
	}
	return k.AnswerWord(r.Answer)
}

// Limit writes a check's limit as it stands beside the check.
func Limit(k catalog.Check, sheet catalog.Sheet) string {
	switch k.Kind {
	case catalog.Grade:
		if k.LimitGrade > 0 {
			return tongue.Sayf("goes out from %s", Decimal(strconv.FormatFloat(k.LimitGrade, 'f', -1, 64)))
		}
	case catalog.Number:
		if _, l := k.Bounds(sheet); l != nil {
			return tongue.Sayf("limit %s", Measured(*l, 0, k.Unit))
		}
		if k.LimitFromNew != nil {
			v, unit := Difference(*k.LimitFromNew, k.Unit)
			return tongue.Sayf("limit %s from its own new value", signed(v)+Thin+unit)
		}
	}
	return ""
}

// PhotoDate writes when a photo was taken and how that is known.
func PhotoDate(p inspect.Photo) string {
	switch {
	case p.WallTime == "":
		return tongue.Say("no camera date")
	case p.DateSource == "file time":
		return tongue.Sayf("%s (file time, no camera date)", day(p.WallTime))
	}
	return day(p.WallTime)
}

func day(wall string) string {
	t, err := time.Parse("2006-01-02T15:04:05", wall)
	if err != nil {
		return wall
	}
	return DateTime(t)
}
