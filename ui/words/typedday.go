package words

import (
	"strconv"
	"strings"
	"time"
	"unicode"
)

// monthNames are the names of months as they are typed: English and German,
// whole or from their third letter on.
var monthNames = [12][]string{{"january", "januar", "jänner"}, {"february", "februar"}, {"march", "märz", "maerz", "mrz"}, {"april"}, {"may", "mai"},
	{"june", "juni"}, {"july", "juli"}, {"august"}, {"september"}, {"october", "oktober"}, {"november"}, {"december", "dezember"}}

func monthOf(word string) time.Month {
	word = strings.TrimSuffix(strings.ToLower(word), ".")
	if len([]rune(word)) < 3 {
		return 0
	}
	for i, names := range monthNames {
		for _, n := range names {
			if strings.HasPrefix(n, word) {
				return time.Month(i + 1)
			}
		}
	}
	return 0
}

// TypedDay reads a day as Date writes it in either language, or as 2026-05-19,
// 19.5.2026, 19 May, 19.5.; a day without a year is the next one to come after
// now. The time of day is noon in now's place, so that a change of place never
// moves it to another day.
func TypedDay(text string, now time.Time) (time.Time, bool) {
	text = strings.TrimSpace(text)
	if t, err := time.ParseInLocation("2006-01-02", text, now.Location()); err == nil {
		return t.Add(12 * time.Hour), true
	}
	words := strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || r == '.' })
	if len(words) < 2 || len(words) > 3 {
		return time.Time{}, false
	}
	d, err := strconv.Atoi(words[0])
	if err != nil {
		return time.Time{}, false
	}
	m := monthOf(words[1])
	if n, err := strconv.Atoi(words[1]); err == nil && strings.Contains(text, ".") {
		m = time.Month(n)
	}
	year := now.Year()
	if len(words) == 3 {
		if year, err = strconv.Atoi(words[2]); err != nil || year < 1000 {
			return time.Time{}, false
		}
	}
	t := time.Date(year, m, d, 12, 0, 0, 0, now.Location())
	if len(words) == 2 && Days(now, t) < 0 {
		t = time.Date(year+1, m, d, 12, 0, 0, 0, now.Location())
	}
	return t, m >= 1 && m <= 12 && t.Day() == d && t.Month() == m
}
