package service

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2/lang"

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
	q, err := words.Typed(text, string(unit))
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
		return fmt.Sprintf(lang.L("sheet: %s"), words.Measured(v, 0, k.Unit))
	}
	if r, ok := sheet.Ranges[k.Sheet]; ok && len(r) == 2 {
		low, _ := words.In(r[0], k.Unit)
		return fmt.Sprintf(lang.L("usual %s to %s; type it from the maker's sheet"), words.Number(low, 0), words.Measured(r[1], 0, k.Unit))
	}
	return lang.L("type it from the maker's sheet")
}

// asTyped stands in the record before what was typed for a value.
const asTyped = "typed: "

// typed writes a kept value as it stands in its field: as it was typed, or in
// the shop's unit of today where the text has another meaning by now.
func typed(t inspect.Task, k catalog.Task) string {
	if k.Unit == "" || t.Note == "" && t.Value == 0 {
		return ""
	}
	if text, ok := strings.CutPrefix(t.Note, asTyped); ok {
		if v, err := read(text, k); err == nil && math.Abs(v-t.Value) <= 1e-9*math.Max(1, math.Abs(v)) {
			return text
		}
	}
	v, _ := words.In(t.Value, k.Unit)
	return words.Number(v, 0)
}
