package dropoff

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/measure"
	"forkwear/ui/words"
)

func year(text string) (int, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0, nil
	}
	y, err := strconv.Atoi(text)
	if err != nil {
		return 0, inspect.Refuse(inspect.Invalid, "the year %q of the fork can't be read: type it like 2023, or leave it out", text)
	}
	return y, nil
}

// dayShown is how a promised day is written into its field.
const dayShown = "2 Jan 2006"

// day reads a promised day; a day without a year is the next one to come. The
// time of day is noon, so that a change of place never moves it to another day.
func day(text string, now time.Time) (time.Time, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return time.Time{}, nil
	}
	for _, form := range []string{dayShown, "2006-01-02", "2.1.2006", "2 January 2006", "2 Jan", "2 January", "2.1."} {
		t, err := time.ParseInLocation(form, text, now.Location())
		if err != nil {
			continue
		}
		if t.Year() == 0 {
			t = t.AddDate(now.Year(), 0, 0)
			if words.Days(now, t) < 0 {
				t = t.AddDate(1, 0, 0)
			}
		}
		return t.Add(12 * time.Hour), nil
	}
	return time.Time{}, inspect.Refuse(inspect.Invalid, "the promised day %q can't be read: type it like 19 May or 2026-05-19, or leave it out", text)
}

func money(what, text, currency string) (inspect.Money, error) {
	text = strings.TrimSpace(strings.ToUpper(text))
	if text == "" {
		return inspect.Money{}, nil
	}
	q, err := measure.Parse(strings.TrimSpace(strings.TrimSuffix(text, currency)), measure.Pure)
	if err != nil || q.Value < 0 || q.Value > 1e7 {
		return inspect.Money{}, inspect.Refuse(inspect.Invalid, "%s, %q, can't be read: type an amount like 129.90", what, text)
	}
	m := inspect.Money{Minor: int64(math.Round(q.Value * 100)), Currency: currency}
	return m, nil
}

func amount(m inspect.Money) string {
	if m.Minor == 0 {
		return ""
	}
	return fmt.Sprintf("%d.%02d", m.Minor/100, m.Minor%100)
}
