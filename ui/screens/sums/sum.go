package sums

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/measure"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// field is one thing that a sum asks for.
type field struct {
	key, label, hint string
	unit             measure.Unit // of a number; "" for words
	usual            string       // stands in the entry at first
	may              bool         // may stay empty
	choices          []choice     // to be chosen instead of typed
	many             bool         // several lines
	table            *asked       // the lines are rows of a table
}

// choice is one of a few, kept by its key.
type choice struct{ key, label string }

// sum is one calculation with its fields.
type sum struct {
	name, about string
	fields      []field
	work        func(in inputs) (result, error)
}

// asked is what a table is to hold.
type asked struct {
	columns []column
	example string // a small table, invented
}

// column is one column with its meaning.
type column struct{ name, told string }

// table is the table that a sum asks for, nil for none.
func (s sum) table() *asked {
	for _, f := range s.fields {
		if f.table != nil {
			return f.table
		}
	}
	return nil
}

// result is what a sum found, in the words of the screen.
type result struct {
	head    string   // the figure with its unit and uncertainty, or what is decided
	lines   []string // the rest of the figures
	formula string
	inputs  []measure.Input
	remarks []string
	chart   *widgets.Chart
	ratios  []widgets.Ratio
	grid    *grid
}

// grid is figures in columns; the first is words, the others stand at the right.
type grid struct {
	heads []string
	lines [][]string
}

// inputs are the fields of a sum, read.
type inputs struct {
	number map[string]float64
	text   map[string]string
}

func (in inputs) has(key string) bool { _, ok := in.number[key]; return ok }

func (in inputs) exactly(key string) measure.Known { return measure.Exactly(in.number[key]) }

func (in inputs) within(key, half string) measure.Known {
	return measure.Within(in.number[key], in.number[half])
}

func (in inputs) maybe(key string) *float64 {
	if x, ok := in.number[key]; ok {
		return &x
	}
	return nil
}

// refusals are what is wrong with fields, by their key.
type refusals map[string]error

// read turns typed texts into inputs; missing tells that a wanted field is
// still empty.
func (s sum) read(texts map[string]string) (in inputs, bad refusals, missing bool) {
	in, bad = inputs{map[string]float64{}, map[string]string{}}, refusals{}
	for _, f := range s.fields {
		text := strings.TrimSpace(texts[f.key])
		switch {
		case text == "":
			missing = missing || !f.may
		case f.unit == "":
			in.text[f.key] = text
		default:
			q, err := words.Typed(text, string(f.unit))
			if err != nil {
				bad[f.key] = err
				continue
			}
			in.number[f.key] = q.Value
		}
	}
	return in, bad, missing
}

func plain(s measure.Sum, err error) (result, error) {
	if err != nil {
		return result{}, err
	}
	return ofSum(s), nil
}

func ofSum(s measure.Sum) result {
	r := result{formula: s.Formula, inputs: s.Inputs, remarks: s.Remarks, head: lang.L("no figure")}
	if s.Value == nil {
		return r
	}
	r.head = figure(*s.Value, s.U, s.Unit)
	if s.Low != nil && s.High != nil {
		r = r.and(lang.L("95 %% of the time between %s and %s"), limit(*s.Low, s.U, s.Unit, false), limit(*s.High, s.U, s.Unit, true))
	}
	return r
}

func figure(v float64, u *float64, unit string) string {
	if u == nil {
		return words.Measured(v, 0, unit)
	}
	return words.Measured(v, *u, unit)
}

// limit writes a limit with the digits that the uncertainty allows, in the shop's unit.
func limit(v float64, u *float64, unit string, withUnit bool) string {
	s := 0.0
	if u != nil {
		s = *u
	}
	v, s, in := words.Units().Show(v, s, measure.Unit(unit))
	if !withUnit || in == "" {
		return words.Number(v, s)
	}
	return words.Number(v, s) + words.Thin + string(in)
}

// fixed writes a value recorded in unit with so many decimals, in the shop's
// unit; one or two more where that is the larger one.
func fixed(v float64, decimals int, unit string) string {
	shown, in := words.In(v, unit)
	if v != 0 && math.Abs(shown) < math.Abs(v)/8 {
		decimals += 1 + int(math.Abs(v/shown)/20)
	}
	return words.Fixed(shown, decimals) + words.Thin + in
}

// about writes a value with so many significant figures, an exponent only where
// plain decimals can't be read any more.
func about(v float64, figures int, unit string) string {
	v, in := words.In(v, unit)
	s := words.Decimal(strconv.FormatFloat(v, 'g', figures, 64))
	switch a := math.Abs(v); {
	case a >= 1e-6 && a < 1e-4:
		s = words.Fixed(v, figures-1-int(math.Floor(math.Log10(a))))
	case a >= 1 && a < 1e9 && strings.Contains(s, "e"):
		s = words.Fixed(v, 0)
	}
	if in == "" {
		return s
	}
	return s + words.Thin + in
}

func signed(v float64) string {
	if v > 0 {
		return "+" + words.Number(v, 0)
	}
	return words.Number(v, 0)
}

func (r result) and(line string, args ...any) result {
	r.lines = append(r.lines, fmt.Sprintf(line, args...))
	return r
}

// found puts what was found before the figure.
func (r result) found(finding string) result {
	r.lines = append([]string{r.head}, r.lines...)
	r.head = words.Sentence(tongue.Say(finding))
	r.head = strings.TrimSuffix(r.head, ".")
	return r
}

// parseSpots reads lines of height, direction and diameter.
func parseSpots(text string) ([]measure.Spot, error) {
	var out []measure.Spot
	for i, line := range strings.Split(text, "\n") {
		cells := strings.Fields(line)
		if len(cells) == 0 {
			continue
		}
		if len(cells) != 3 {
			return nil, inspect.Refuse(inspect.Invalid, "line %d: write height, direction and diameter with blanks between, such as 20 90 34.985", i+1)
		}
		var x [3]float64
		for j, unit := range []measure.Unit{measure.Millimetre, measure.Degree, measure.Millimetre} {
			q, err := words.Typed(cells[j], string(unit))
			if err != nil {
				return nil, inspect.Refuse(inspect.Invalid, "line %d: %w", i+1, err)
			}
			x[j] = q.Value
		}
		out = append(out, measure.Spot{Height: x[0], Direction: x[1], Diameter: x[2]})
	}
	return out, nil
}

// count reads a whole number of pieces.
func count(x float64) (int, error) {
	if x != float64(int(x)) || x < 0 || x > 50 {
		return 0, inspect.Refuse(inspect.Invalid, "%s spacers is not a whole number from 0 to 50", words.Number(x, 0))
	}
	return int(x), nil
}
