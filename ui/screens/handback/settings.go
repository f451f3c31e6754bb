package handback

import (
	"slices"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/measure"
	"forkwear/inspect/shop"
	"forkwear/ui/words"
)

// pair is one setting as found beside as left.
type pair struct {
	key, unit   string
	found, left *inspect.Setting
}

// usual are the settings that every fork of a kind has, with their units.
func usual(sheet catalog.Sheet) []pair {
	ps := []pair{{key: "rebound_clicks", unit: "clicks"}, {key: "compression_clicks", unit: "clicks"}}
	if sheet.Spring == "coil" {
		return append([]pair{{key: "preload_turns", unit: "turns"}}, ps...)
	}
	return append([]pair{{key: "air_pressure", unit: "bar"}, {key: "spacers", unit: "pieces"}}, ps...)
}

// pairs joins what was found with what was left: first what was found, then
// what a fork of this kind has besides.
func pairs(c *shop.Case) []pair {
	var out []pair
	at := func(key, unit string) *pair {
		i := slices.IndexFunc(out, func(p pair) bool { return p.key == key })
		if i < 0 {
			out = append(out, pair{key: key, unit: unit})
			i = len(out) - 1
		}
		return &out[i]
	}
	for i, st := range c.Settings {
		if st.Moment == "found" {
			at(st.Key, st.Unit).found = &c.Settings[i]
		}
	}
	for _, p := range usual(c.Sheet) {
		at(p.key, p.unit)
	}
	for i, st := range c.Settings {
		if st.Moment == "left" {
			at(st.Key, st.Unit).left = &c.Settings[i]
		}
	}
	return out
}

func written(st *inspect.Setting) string {
	if st == nil || st.None() {
		return ""
	}
	return words.SettingValue(*st)
}

// read takes a setting as typed: a quantity where it is one, a bare number in
// the shop's unit, else the text alone, such as "open". A unit that was put
// behind the number by the program is taken off again.
func read(text string, p pair) inspect.Setting {
	text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), words.Thin+words.UnitWord(words.Unit(p.unit))))
	st := inspect.Setting{Moment: "left", Key: p.key, Unit: p.unit, Text: text}
	unit, err := measure.ParseUnit(strings.TrimSuffix(p.unit, "s"))
	if err != nil {
		unit = measure.Pure
	}
	if q, err := words.Typed(st.Text, string(unit)); err == nil {
		st.Value = q.Value
	}
	return st
}
