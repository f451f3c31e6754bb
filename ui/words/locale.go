package words

import (
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"forkwear/inspect/measure"
	"forkwear/ui/tongue"
)

// How a language writes dates and numbers; English where nothing is said.
type style struct {
	comma       bool // 2,41 instead of 2.41
	day, moment string
	short       string // day and month
	weekday     string
	months      []string // as in a date; nil keeps English
	weekdays    []string // from Sunday
}

func styleNow() style {
	if tongue.Code() == "de" {
		return style{comma: true, day: "2. Jan 2006", moment: "2. Jan 2006, 15:04", short: "2. Jan", weekday: "Mon 2. Jan",
			months:   []string{"Jan.", "Feb.", "März", "Apr.", "Mai", "Juni", "Juli", "Aug.", "Sept.", "Okt.", "Nov.", "Dez."},
			weekdays: []string{"So", "Mo", "Di", "Mi", "Do", "Fr", "Sa"}}
	}
	return style{day: "2 Jan 2006", moment: "2 Jan 2006, 15:04", short: "2 Jan", weekday: "Mon 2 Jan"}
}

// format writes a moment by a layout with the language's own names.
func (s style) format(t time.Time, layout string) string {
	if s.months == nil {
		return t.Format(layout)
	}
	layout = strings.ReplaceAll(layout, "Jan", "\x01")
	layout = strings.ReplaceAll(layout, "Mon", "\x02")
	out := t.Format(layout)
	out = strings.ReplaceAll(out, "\x01", s.months[t.Month()-1])
	return strings.ReplaceAll(out, "\x02", s.weekdays[t.Weekday()])
}

// MonthYear writes a month: "May 2026".
func MonthYear(t time.Time) string { return styleNow().format(t, "Jan 2006") }

// Decimal writes a plain number, as strconv or fmt made it, in the way of the
// language.
func Decimal(number string) string {
	if styleNow().comma {
		return strings.Replace(number, ".", ",", 1)
	}
	return number
}

// Fixed writes a number with so many decimals.
func Fixed(v float64, decimals int) string {
	return Decimal(strconv.FormatFloat(v, 'f', decimals, 64))
}

var units atomic.Pointer[measure.Preference]

// UseUnits puts the shop's units in force, for the whole program.
func UseUnits(p measure.Preference) { units.Store(&p) }

// Units are the shop's units.
func Units() measure.Preference {
	if p := units.Load(); p != nil {
		return *p
	}
	return measure.Preference{}
}

// Unit is the unit in which values recorded in u are shown and typed.
func Unit(u string) string { return string(Units().For(measure.Unit(u))) }

// Typed reads what was typed for a value that is recorded in u; a number
// without a unit is meant in the shop's.
func Typed(text, u string) (measure.Quantity, error) {
	return Units().Typed(text, measure.Unit(u))
}

// Difference turns a recorded difference into the shop's unit: unlike In it never
// shifts, as a difference of temperatures must not.
func Difference(v float64, u string) (value float64, unit string) {
	_, value, in := Units().Show(0, v, measure.Unit(u))
	return value, string(in)
}

func signed(v float64) string {
	s := Number(v, 0)
	if v > 0 {
		s = "+" + s
	}
	return s
}

// In turns a recorded value into the shop's unit.
func In(v float64, u string) (value float64, unit string) {
	value, _, unit2 := Units().Show(v, 0, measure.Unit(u))
	return value, string(unit2)
}
