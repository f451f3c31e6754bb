package shop

import (
	"math"
	"strings"
	"time"

	"forkwear/inspect"
	"forkwear/inspect/measure"
)

// Use is how much somebody rides, in words that a customer can answer.
type Use string

// The words for use.
const (
	LittleUse Use = "little"
	NormalUse Use = "normal"
	ALotOfUse Use = "a lot"
)

// Uses lists them from little to a lot.
func Uses() []Use { return []Use{LittleUse, NormalUse, ALotOfUse} }

// Shares of typed riding hours that are taken as their standard uncertainty:
// read off a bike computer, or guessed. Common practice, no source.
const (
	ComputerShare = 0.02
	GuessShare    = 0.25
)

// AWeek returns the riding hours of a week and their standard uncertainty, h:
// little 2 and 1, normal 4 and 2, a lot 8 and 3. Common practice, no source.
func (u Use) AWeek() (hours, uncertainty float64, ok bool) {
	switch u {
	case LittleUse:
		return 2, 1, true
	case NormalUse:
		return 4, 2, true
	case ALotOfUse:
		return 8, 3, true
	}
	return 0, 0, false
}

// HoursByUse returns riding hours since new from the hours at an earlier moment
// and the use since then: hours = before + rate*weeks, h. One rider's rate is
// off in the same direction every week, so its uncertainty grows with the weeks
// and not with their root: u = sqrt(beforeU² + (rateU*weeks)²) (JCGM 100, 5.1.2,
// before and rate independent). weeks is 0 to 5000, before and beforeU are 0 to
// 1e5; anything else, and a word that is no Use, is refused.
func HoursByUse(use Use, weeks, before, beforeU float64) (hours, u float64, err error) {
	rate, rateU, ok := use.AWeek()
	switch {
	case !ok:
		return 0, 0, inspect.Refuse(inspect.Invalid, "%q is no amount of riding: choose little, normal or a lot", string(use))
	case !(weeks >= 0 && weeks <= 5000):
		return 0, 0, inspect.Refuse(inspect.Invalid, "%g weeks of riding are not between 0 and 5000: type the time again", weeks)
	case !(before >= 0 && before <= 1e5) || !(beforeU >= 0 && beforeU <= 1e5):
		return 0, 0, inspect.Refuse(inspect.Invalid, "the hours before, %g with an uncertainty of %g, are not between 0 and 100 000", before, beforeU)
	}
	return before + rate*weeks, math.Hypot(beforeU, rateU*weeks), nil
}

// Weeks returns the weeks from one moment to a later one, 0 where it is not
// later or a moment is not known.
func Weeks(from, to time.Time) float64 {
	if from.IsZero() || !to.After(from) {
		return 0
	}
	return to.Sub(from).Hours() / (24 * 7)
}

// ParseSpan reads how long somebody has been riding, in weeks: "30 weeks",
// "18 months", "2 years"; a number alone is months. A year has 365.25 days
// (Julian year) and a month a twelfth of it.
func ParseSpan(text string) (weeks float64, err error) {
	s := strings.ToLower(strings.TrimSpace(text))
	word := strings.TrimLeft(s, "0123456789.,/½¼¾ ")
	const year = 365.25 / 7
	factor := 0.0
	switch strings.TrimSuffix(strings.TrimSpace(word), "s") {
	case "w", "wk", "week":
		factor = 1
	case "", "m", "mo", "month":
		factor = year / 12
	case "y", "yr", "year":
		factor = year
	}
	q, perr := measure.Parse(strings.TrimSuffix(s, word), measure.Pure)
	if factor == 0 || perr != nil || q.Value < 0 || q.Value*factor > 5000 {
		return 0, inspect.Refuse(inspect.Invalid, "%q is no time of riding: type it like 30 weeks, 18 months or 2 years", text)
	}
	return q.Value * factor, nil
}
