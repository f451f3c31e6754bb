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

// day reads a promised day; a day without a year is the next one to come.
func day(text string, now time.Time) (time.Time, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return time.Time{}, nil
	}
	if t, ok := words.TypedDay(text, now); ok {
		return t, nil
	}
	return time.Time{}, inspect.Refuse(inspect.Invalid, "the promised day %q can't be read: type it like 19 May or 2026-05-19, or leave it out", text)
}

// money reads an amount; what can't be read is the refusal given.
func money(text, currency string, refusal error) (inspect.Money, error) {
	text = strings.TrimSpace(strings.ToUpper(text))
	if text == "" {
		return inspect.Money{}, nil
	}
	q, err := measure.Parse(strings.TrimSpace(strings.TrimSuffix(text, currency)), measure.Pure)
	if err != nil || q.Value < 0 || q.Value > 1e7 {
		return inspect.Money{}, refusal
	}
	return inspect.Money{Minor: int64(math.Round(q.Value * 100)), Currency: currency}, nil
}

func amount(m inspect.Money) string {
	if m.Minor == 0 {
		return ""
	}
	return words.Decimal(fmt.Sprintf("%d.%02d", m.Minor/100, m.Minor%100))
}
