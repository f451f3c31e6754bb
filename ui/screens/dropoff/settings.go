package dropoff

import (
	"strings"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/measure"
	"forkwear/ui/words"
)

// settingField is one adjustment that is asked for.
type settingField struct {
	key    string
	unit   string       // kept; shown and typed in the shop's one
	parse  measure.Unit // "" takes a text as it is
	spring string       // asked only where the sheet has this spring or none is known
}

// word names the field.
func (s settingField) word() string {
	switch s.key {
	case "rebound_clicks":
		return lang.L("Rebound from closed")
	case "compression_clicks":
		return lang.L("Compression from closed")
	}
	return words.SettingName(s.key)
}

var settingFields = []settingField{
	{"air_pressure", "bar", measure.Bar, "air"},
	{"spacers", "pieces", measure.Pure, "air"},
	{"coil_rate", "N/mm", measure.Pure, "coil"},
	{"preload", "turns", measure.Turn, "coil"},
	{"rebound_clicks", "clicks", measure.Click, ""},
	{"compression_clicks", "clicks", measure.Click, ""},
	{"lock", "", "", ""},
}

// found reads the settings. What is no number is kept as it was written.
func (f form) found() []inspect.Setting {
	var out []inspect.Setting
	for _, s := range settingFields {
		text := strings.TrimSpace(f.Settings[s.key])
		if text == "" {
			continue
		}
		set := inspect.Setting{Key: s.key, Text: text}
		if q, ok := s.read(text); ok {
			set.Value, set.Unit = q, s.unit
		}
		out = append(out, set)
	}
	return out
}

// read gives the value of a typed setting in the field's unit. A rate in lb/in
// is turned into N/mm by 4.4482216152605 N / 25.4 mm.
func (s settingField) read(text string) (float64, bool) {
	if s.parse == "" {
		return 0, false
	}
	if s.key == "coil_rate" {
		low := strings.ToLower(strings.ReplaceAll(text, " ", ""))
		number, imperial := strings.CutSuffix(strings.Replace(low, "lbs/in", "lb/in", 1), "lb/in")
		q, err := measure.Parse(strings.TrimSuffix(number, "n/mm"), measure.Pure)
		if imperial {
			q.Value *= 4.4482216152605 / 25.4
		}
		return q.Value, err == nil && q.Value >= 0
	}
	if s.parse == measure.Pure {
		text = strings.TrimSuffix(strings.TrimSuffix(text, " pieces"), " piece")
	}
	q, err := words.Typed(text, string(s.parse))
	return q.Value, err == nil
}

// fieldText is a setting as it stands in its field: as it was typed, or its
// value in the shop's unit where the text has another meaning today.
func fieldText(s inspect.Setting) string {
	if words.AsTyped(s) {
		return s.Text
	}
	return strings.ReplaceAll(words.SettingValue(inspect.Setting{Value: s.Value, Unit: s.Unit}), words.Thin, " ")
}
