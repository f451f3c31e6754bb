package sums

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect/measure"
	"forkwear/ui/words"
)

// field is one thing that a sum asks for.
type field struct {
	key, label, hint string
	unit             measure.Unit // of a number; "" for words
	usual            string       // stands in the entry at first
	may              bool         // may stay empty
	choices          []string     // to be chosen instead of typed
	many             bool         // several lines
}

// sum is one calculation with its fields.
type sum struct {
	name, about string
	fields      []field
	work        func(in inputs) (result, error)
}

// result is what a sum found, in the words of the screen.
type result struct {
	head    string   // the figure with its unit and uncertainty, or what is decided
	lines   []string // the rest of the figures
	formula string
	inputs  []measure.Input
	remarks []string
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
			q, err := measure.Parse(text, f.unit)
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
		u := 0.0
		if s.U != nil {
			u = *s.U
		}
		r.lines = append(r.lines, fmt.Sprintf(lang.L("95 %% of the time between %s and %s"), words.Number(*s.Low, u), words.Measured(*s.High, 0, s.Unit)))
		if u > 0 {
			r.lines[len(r.lines)-1] = fmt.Sprintf(lang.L("95 %% of the time between %s and %s%s%s"), words.Number(*s.Low, u), words.Number(*s.High, u), words.Thin, s.Unit)
		}
	}
	return r
}

func figure(v float64, u *float64, unit string) string {
	if u == nil {
		return words.Measured(v, 0, unit)
	}
	return words.Measured(v, *u, unit)
}

func (r result) and(line string, args ...any) result {
	r.lines = append(r.lines, fmt.Sprintf(line, args...))
	return r
}

// found puts what was found before the figure.
func (r result) found(finding string) result {
	r.lines = append([]string{r.head}, r.lines...)
	r.head = strings.ToUpper(finding[:1]) + finding[1:]
	return r
}

// parseSpots reads lines of height, direction and diameter.
func parseSpots(text string) ([]measure.Spot, error) {
	var out []measure.Spot
	for i, line := range strings.Split(text, "\n") {
		words := strings.Fields(line)
		if len(words) == 0 {
			continue
		}
		if len(words) != 3 {
			return nil, fmt.Errorf("line %d: write height, direction and diameter with blanks between, such as 20 90 34.985", i+1)
		}
		var x [3]float64
		for j, unit := range []measure.Unit{measure.Millimetre, measure.Degree, measure.Millimetre} {
			q, err := measure.Parse(words[j], unit)
			if err != nil {
				return nil, fmt.Errorf("line %d: %w", i+1, err)
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
		return 0, fmt.Errorf("%s spacers is not a whole number from 0 to 50", strconv.FormatFloat(x, 'g', -1, 64))
	}
	return int(x), nil
}
