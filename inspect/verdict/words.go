package verdict

import (
	"fmt"
	"math"
	"unicode"
	"unicode/utf8"
)

// Chance says a probability as a customer understands it: "About one chance
// in four". Values outside 0..1 are taken as the nearer end.
func Chance(p float64) string {
	switch {
	case math.IsNaN(p):
		return "An unknown chance"
	case p < 0.02:
		return "Hardly any chance"
	case p > 0.98:
		return "It is all but certain"
	case p > 0.9:
		return "More than nine chances in ten"
	case p > 0.55:
		return fmt.Sprintf("About %s chances in ten", number(int(math.Round(p*10))))
	case p > 0.45:
		return "About one chance in two"
	case p > 0.36: // 1/p would round to a half or a third
		return "About four chances in ten"
	}
	return fmt.Sprintf("About one chance in %s", number(oneIn(p)))
}

// oneIn is 1/p, above ten in fives: 'about one in 33' claims too much.
func oneIn(p float64) int {
	n := 1 / p
	if n > 10 {
		return int(math.Round(n/5)) * 5
	}
	return int(math.Round(n))
}

func number(n int) string {
	words := []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

func lower(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}
