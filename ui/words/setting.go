package words

import (
	"math"
	"strconv"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/measure"
	"forkwear/ui/tongue"
)

// SettingName names an adjustment by the key that it is kept under.
func SettingName(key string) string {
	switch key {
	case "air_pressure":
		return tongue.Say("Air pressure")
	case "spacers":
		return tongue.Say("Spacers")
	case "coil_rate":
		return tongue.Say("Coil rate")
	case "preload", "preload_turns":
		return tongue.Say("Preload")
	case "rebound_clicks":
		return tongue.Say("Rebound")
	case "compression_clicks":
		return tongue.Say("Compression")
	case "lock":
		return tongue.Say("Lock")
	case "":
		return tongue.Say("Setting")
	}
	s := strings.ReplaceAll(key, "_", " ")
	return strings.ToUpper(s[:1]) + s[1:]
}

// SettingValue writes a setting as it was typed. A number that was typed without
// a unit gets it behind, and stands in the shop's unit of today where that is
// another one than on the day.
func SettingValue(s inspect.Setting) string {
	if s.Text == "" {
		return converted(s.Value, s.Unit)
	}
	if AsTyped(s) {
		if u := UnitWord(Unit(s.Unit)); bare(s.Text) && u != "" {
			return s.Text + Thin + u
		}
		return s.Text
	}
	return converted(s.Value, s.Unit)
}

// AsTyped tells whether the text of a setting still means its value: words and
// numbers with a unit always do, a bare number only in the unit of its day.
func AsTyped(s inspect.Setting) bool {
	if !bare(s.Text) {
		return s.Text != ""
	}
	q, err := measure.Parse(s.Text, measure.Pure)
	if err != nil {
		return true
	}
	v, _ := In(s.Value, s.Unit)
	return math.Abs(q.Value-v) <= 1e-6*math.Max(1, math.Abs(v))
}

// bare is a number without a unit or a word.
func bare(text string) bool {
	return text != "" && strings.TrimLeft(text, "0123456789.,-−+ ") == ""
}

// converted writes a value in the shop's unit, with four figures where it had to
// be turned into it.
func converted(v float64, unit string) string {
	if Unit(unit) == unit {
		return Measured(v, 0, unit)
	}
	x, in := In(v, unit)
	return Decimal(strconv.FormatFloat(x, 'f', max(0, 3-int(math.Floor(math.Log10(math.Max(1e-9, math.Abs(x)))))), 64)) + Thin + in
}

// UnitWord writes a unit that is a word in the language in force.
func UnitWord(unit string) string {
	switch unit {
	case "clicks":
		return tongue.Say("clicks")
	case "turns":
		return tongue.Say("turns")
	case "pieces":
		return tongue.Say("pieces")
	case "months":
		return tongue.Say("months")
	}
	return unit
}

// InSentence begins a name in the middle of a sentence: in English small, in
// German nouns keep their capital.
func InSentence(name string) string {
	if tongue.Code() != tongue.English {
		return name
	}
	return lowerFirst(name)
}
