package service

import (
	"strconv"
	"strings"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/measure"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// read takes what was typed for a line, in the unit of the line. Units that are
// counted, such as pieces, take a plain number.
func read(text string, k catalog.Task) (float64, error) {
	text = strings.TrimSpace(text)
	unit, err := measure.ParseUnit(k.Unit)
	if err != nil {
		v, err := widgets.ParseNumber(text)
		if err != nil {
			return 0, inspect.Refuse(inspect.Invalid, "%s: %q is not a number: type how many %s", k.Name, text, k.Unit)
		}
		return v, nil
	}
	q, err := measure.Parse(text, unit)
	if err != nil {
		return 0, inspect.Refuse(inspect.Invalid, "%s: %w", k.Name, err)
	}
	return q.Value, nil
}

// target is what the data sheet gives for a line; blank sheets give nothing.
func target(k catalog.Task, sheet catalog.Sheet) string {
	if k.Unit == "" {
		return ""
	}
	if v, ok := sheet.Targets[k.Sheet]; ok {
		return "sheet: " + words.Number(v, 0) + words.Thin + k.Unit
	}
	if r, ok := sheet.Ranges[k.Sheet]; ok && len(r) == 2 {
		return "usual " + words.Number(r[0], 0) + " to " + words.Number(r[1], 0) + words.Thin + k.Unit + "; type it from the maker's sheet"
	}
	return "type it from the maker's sheet"
}

// typed writes a kept value as it stands in its field.
func typed(t inspect.Task, k catalog.Task) string {
	if k.Unit == "" || t.Note == "" && t.Value == 0 {
		return ""
	}
	return strconv.FormatFloat(t.Value, 'f', -1, 64)
}
