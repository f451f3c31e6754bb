package words

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"forkwear/inspect"
	"forkwear/ui/tongue"
)

// Ended writes why a part was taken out: "worn out", "still in".
func Ended(e inspect.EndReason) string {
	switch e {
	case inspect.StillIn:
		return tongue.Say("still in")
	case inspect.EndFailed:
		return tongue.Say("failed in use")
	case inspect.EndWorn:
		return tongue.Say("worn out")
	case inspect.EndSchedule:
		return tongue.Say("by schedule or with its kit")
	case inspect.EndCrash:
		return tongue.Say("after a crash")
	case inspect.EndOverride:
		return tongue.Say("changed by hand")
	case inspect.EndArrival:
		return tongue.Say("broken when the fork first came")
	}
	return string(e)
}

// Setting writes one adjustment: "air pressure 85 psi", as it was typed where
// that says its unit.
func Setting(s inspect.Setting) string {
	return InSentence(SettingName(s.Key)) + " " + SettingValue(s)
}

// OnPart writes hours on a part, "at least" where its age is not known.
func OnPart(hours float64, known bool) string {
	if !known {
		return tongue.Sayf("at least %s", Hours(hours))
	}
	return Hours(hours)
}

// Count writes a number of things: "1 fork", "3 forks".
func Count(n int, thing string) string {
	if n == 1 {
		return "1 " + tongue.Say(thing)
	}
	return fmt.Sprintf("%d %s", n, tongue.Say(thing+"s"))
}

// Sentence gives a remark its capital and its full stop.
func Sentence(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + strings.TrimSuffix(s[n:], ".") + "."
}
