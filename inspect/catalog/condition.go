package catalog

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"forkwear/inspect"
)

// TermKind is what a term of a condition asks about.
type TermKind string

// What a term can ask about.
const (
	OfCheck     TermKind = "check"
	OfSymptom   TermKind = "symptom"
	OfHours     TermKind = "hours"
	OfCondition TermKind = "condition"
)

// Term is one question about the evidence: "check:seals.weep>=3".
type Term struct {
	Kind TermKind
	Both bool   // the term must hold at the left and at the right leg
	ID   string // check id, symptom id or riding condition; "" for hours
	Op   string // ">=", "<=", ">", "<", "="; "" for symptom and condition
	// Word stands in place of a number: "fine", "not_fine" or "over" (beyond
	// the limit in force).
	Word  string
	Value float64
}

// Condition is one or more terms, of which one must hold: "a | b".
type Condition struct {
	Text  string
	Terms []Term
}

// ParseCondition reads one condition:
//
//	condition = term { "|" term }
//	term      = [ "both:" ] "check:" id op ( number | "fine" | "not_fine" | "over" )
//	          | "symptom:" id | "condition:" word | "hours" op number
//	op        = ">=" | "<=" | ">" | "<" | "="
//
// A word goes with "=" only, and "both:" with a check only. It never panics;
// what can't be read is refused with the text and the reason.
func ParseCondition(text string) (Condition, error) {
	c := Condition{Text: strings.TrimSpace(text)}
	for _, part := range strings.Split(text, "|") {
		t, err := parseTerm(strings.TrimSpace(part))
		if err != nil {
			return Condition{}, inspect.Refuse(inspect.Invalid, "condition %q: %w", text, err)
		}
		c.Terms = append(c.Terms, t)
	}
	return c, nil
}

func parseTerm(s string) (Term, error) {
	t := Term{}
	rest, both := strings.CutPrefix(s, "both:")
	t.Both = both
	kind, arg, colon := strings.Cut(rest, ":")
	switch {
	case both && (!colon || kind != string(OfCheck)):
		return t, fmt.Errorf("'both:' stands before 'check:' only")
	case colon && kind == string(OfCheck):
		t.Kind = OfCheck
		return t.withComparison(arg)
	case colon && (kind == string(OfSymptom) || kind == string(OfCondition)):
		t.Kind, t.ID = TermKind(kind), strings.TrimSpace(arg)
		if t.ID == "" || strings.ContainsAny(t.ID, "<>=:") {
			return t, fmt.Errorf("%q is not the name of a %s", arg, kind)
		}
		return t, nil
	case !colon && strings.HasPrefix(rest, string(OfHours)):
		t.Kind = OfHours
		t, err := t.withComparison(rest)
		if err == nil && (t.ID != string(OfHours) || t.Word != "") {
			err = fmt.Errorf("hours are compared with a number: hours>=500")
		}
		t.ID = ""
		return t, err
	}
	return t, fmt.Errorf("%q begins with none of check:, symptom:, condition:, hours", s)
}

func (t Term) withComparison(s string) (Term, error) {
	i := strings.IndexAny(s, "<>=")
	if i <= 0 {
		return t, fmt.Errorf("%q compares nothing: write check:id>=3 or check:id=not_fine", s)
	}
	t.ID, t.Op = strings.TrimSpace(s[:i]), s[i:i+1]
	value := s[i+1:]
	if t.Op != "=" && strings.HasPrefix(value, "=") {
		t.Op, value = t.Op+"=", value[1:]
	}
	value = strings.TrimSpace(value)
	if t.ID == "" || strings.ContainsAny(t.ID, ": \t\n") {
		return t, fmt.Errorf("%q is not an id", t.ID)
	}
	switch value {
	case "fine", "not_fine", "over":
		if t.Op != "=" {
			return t, fmt.Errorf("%q goes with '=' only", value)
		}
		t.Word = value
		return t, nil
	}
	x, err := strconv.ParseFloat(value, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return t, fmt.Errorf("%q is neither a number nor fine, not_fine or over", value)
	}
	t.Value = x
	return t, nil
}

// String writes the term so that ParseCondition reads the same again.
func (t Term) String() string {
	var b strings.Builder
	if t.Both {
		b.WriteString("both:")
	}
	switch t.Kind {
	case OfSymptom, OfCondition:
		return string(t.Kind) + ":" + t.ID
	case OfHours:
		b.WriteString("hours")
	default:
		b.WriteString("check:" + t.ID)
	}
	b.WriteString(t.Op)
	if t.Word != "" {
		b.WriteString(t.Word)
	} else {
		b.WriteString(strconv.FormatFloat(t.Value, 'g', -1, 64))
	}
	return b.String()
}

// String writes the condition so that ParseCondition reads the same again.
func (c Condition) String() string {
	parts := make([]string, len(c.Terms))
	for i, t := range c.Terms {
		parts[i] = t.String()
	}
	return strings.Join(parts, " | ")
}

// compare tells whether x op y; false for an op that is none.
func compare(x float64, op string, y float64) bool {
	switch op {
	case ">=":
		return x >= y
	case "<=":
		return x <= y
	case ">":
		return x > y
	case "<":
		return x < y
	case "=":
		return x == y
	}
	return false
}
