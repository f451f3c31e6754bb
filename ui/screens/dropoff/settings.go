package dropoff

import (
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/measure"
	"forkwear/ui/words"
)

// settingField is one adjustment that is asked for.
type settingField struct {
	key, word string
	unit      string       // kept, and shown behind the entry
	parse     measure.Unit // "" takes a text as it is
	spring    string       // asked only where the sheet has this spring or none is known
}

var settingFields = []settingField{
	{"air_pressure", "Air pressure", "bar", measure.Bar, "air"},
	{"spacers", "Spacers", "pieces", measure.Pure, "air"},
	{"coil_rate", "Coil rate", "N/mm", measure.Pure, "coil"},
	{"preload", "Preload", "turns", measure.Turn, "coil"},
	{"rebound_clicks", "Rebound from closed", "clicks", measure.Click, ""},
	{"compression_clicks", "Compression from closed", "clicks", measure.Click, ""},
	{"lock", "Lock", "", "", ""},
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
	q, err := measure.Parse(text, s.parse)
	return q.Value, err == nil
}

// settingText writes a setting as it was typed, or its value.
func settingText(s inspect.Setting) string {
	if s.Text != "" {
		return s.Text
	}
	return strings.TrimSpace(words.Number(s.Value, 0) + " " + s.Unit)
}
