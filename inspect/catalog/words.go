package catalog

import (
	"fmt"
	"math"
	"strconv"

	"forkwear/inspect"
)

// Word returns the check's own word for a grade of 0 to 5. A half step, or a
// grade without a word of its own, is told by its two neighbours. Empty for a
// check that is not graded and for what is no grade.
func (k Check) Word(grade float64) string {
	if k.Kind != Grade || math.IsNaN(grade) || grade < 0 || grade > 5 {
		return ""
	}
	if w, ok := k.Words[strconv.FormatFloat(grade, 'g', -1, 64)]; ok {
		return w
	}
	below, above := "", ""
	for g := 0; g <= 5; g++ {
		w, ok := k.Words[strconv.Itoa(g)]
		switch {
		case ok && float64(g) < grade:
			below = w
		case ok && float64(g) > grade && above == "":
			above = w
		}
	}
	if below == "" || above == "" {
		return below + above
	}
	return k.Tongue.Sayf("between '%s' and '%s'", below, above)
}

// GradeWords returns the words of grades 0 to 5 in order, empty where the check
// has none of its own.
func (k Check) GradeWords() [6]string {
	var out [6]string
	for g := range out {
		out[g] = k.Words[strconv.Itoa(g)]
	}
	return out
}

// AnswerWord returns what an answer without a value is called on screen. A fine
// or not-fine check may bring its own words for these two.
func (k Check) AnswerWord(a inspect.Answer) string {
	if w, ok := k.Words[string(a)]; ok {
		return w
	}
	switch a {
	case inspect.Fine:
		return k.Tongue.Say("fine")
	case inspect.NotFine:
		return k.Tongue.Say("not fine")
	case inspect.NotLooked:
		return k.Tongue.Say("not looked at")
	case inspect.CannotSee:
		return k.Tongue.Say("cannot be seen")
	case inspect.CannotGauge:
		return k.Tongue.Say("cannot be measured here")
	case inspect.DoesNotApply:
		return k.Tongue.Say("does not apply")
	case inspect.ZoneSeen:
		return k.Tongue.Say("zone seen, nothing found")
	}
	return ""
}

// said is a finding in plain words.
func (k Check) said(f finding) string {
	switch f.answer {
	case inspect.Graded:
		return k.Tongue.Sayf("grade %g, %s", f.value, k.Word(f.value))
	case inspect.Measured:
		if k.Unit == "" {
			return fmt.Sprintf("%g", f.value)
		}
		return fmt.Sprintf("%g %s", f.value, k.Unit)
	}
	return k.AnswerWord(f.answer)
}
