package verdict

import (
	"fmt"
	"math"
	"unicode"
	"unicode/utf8"

	"forkwear/inspect"
)

// Chance says a probability as a customer understands it: "About one chance
// in four". Values outside 0..1 are taken as the nearer end.
func Chance(p float64) string { return ChanceIn(nil, p) }

// ChanceIn is Chance in a tongue.
func ChanceIn(t inspect.Tongue, p float64) string {
	switch {
	case math.IsNaN(p):
		return t.Say("An unknown chance")
	case p < 0.02:
		return t.Say("Hardly any chance")
	case p > 0.98:
		return t.Say("It is all but certain")
	case p > 0.9:
		return t.Say("More than nine chances in ten")
	case p > 0.55:
		return t.Sayf("About %s chances in ten", number(t, int(math.Round(p*10))))
	case p > 0.45:
		return t.Say("About one chance in two")
	case p > 0.36: // 1/p would round to a half or a third
		return t.Say("About four chances in ten")
	}
	return t.Sayf("About one chance in %s", number(t, oneIn(p)))
}

// oneIn is 1/p, above ten in fives: 'about one in 33' claims too much.
func oneIn(p float64) int {
	n := 1 / p
	if n > 10 {
		return int(math.Round(n/5)) * 5
	}
	return int(math.Round(n))
}

func number(t inspect.Tongue, n int) string {
	words := []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	if n < len(words) {
		return t.Say(words[n])
	}
	return fmt.Sprint(n)
}

// inside is a name inside a sentence. Only English writes it small there.
func (in Input) inside(s string) string {
	if in.Tongue != nil {
		return s
	}

	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}
