// Package cardprint knows whether the shop's printer keeps the size of bench
// cards: what their check line measures, and what lengths are multiplied by.
//
// Glossary
//
//   - check line: the printed line that should be 100 mm long.
//   - factor: its true length by that; 1 where nobody measured it.
package cardprint

import (
	"context"
	"math"
	"strconv"

	"forkwear/inspect"
	"forkwear/media/benchcard"
	"forkwear/ui/words"
)

// Key is the preference that holds the factor.
const Key = "card.print_factor"

// Factor reads the factor of a library, 1 where none is kept. One that can't be
// right is refused, with the way out.
func Factor(ctx context.Context, lib inspect.Library) (float64, error) {
	kept, err := lib.Preference(ctx, Key)
	if err != nil {
		return 1, err
	}
	return Parse(kept)
}

// Parse reads a factor as it is kept; "" is 1.
func Parse(kept string) (float64, error) {
	if kept == "" {
		return 1, nil
	}
	f, err := strconv.ParseFloat(kept, 64)
	if err == nil {
		f, err = benchcard.PrintFactor(f * benchcard.CheckLine)
	}
	if err != nil || math.IsNaN(f) {
		return 1, inspect.Refuse(inspect.Invalid, "the print of the bench card is kept as %.20q, which can't be right: measure its check line again and type it in the settings", kept)
	}
	return f, nil
}

// FromLine is the factor as it is kept for a check line of so many mm; 100 keeps
// nothing.
func FromLine(mm float64) (kept string, err error) {
	f, err := benchcard.PrintFactor(mm)
	if err != nil {
		return "", inspect.Refuse(inspect.Invalid, "a check line of %s mm can't be right, it is printed 100 mm long: measure it again, or print the card at 100 %%", words.Number(mm, 0))
	}
	if f == 1 {
		return "", nil
	}
	return strconv.FormatFloat(f, 'g', 12, 64), nil
}

// Line is the length of the check line in mm as it is typed; "" where none is
// kept, and what is kept where that can't be read.
func Line(kept string) string {
	f, err := Parse(kept)
	if kept == "" || err != nil {
		return kept
	}
	return words.Number(f*benchcard.CheckLine, 0)
}
