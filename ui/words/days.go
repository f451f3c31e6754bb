package words

import (
	"fmt"
	"time"
)

// Days counts the midnights between two moments, by the calendar of to's place;
// negative where to is the earlier one.
func Days(from, to time.Time) int {
	midnight := func(t time.Time) time.Time {
		y, m, d := t.In(to.Location()).Date()
		return time.Date(y, m, d, 12, 0, 0, 0, time.UTC)
	}
	return int(midnight(to).Sub(midnight(from)).Hours() / 24)
}

// Minutes writes working time: "45 min", "2 h", "2 h 15 min".
func Minutes(n int) string {
	h, m := n/60, n%60
	switch {
	case h == 0:
		return fmt.Sprintf("%d%smin", m, Thin)
	case m == 0:
		return fmt.Sprintf("%d%sh", h, Thin)
	}
	return fmt.Sprintf("%d%sh %d%smin", h, Thin, m, Thin)
}

// Promised writes when a fork was promised, with overdue said in words.
func Promised(promised, now time.Time) string {
	if promised.IsZero() {
		return "No date promised"
	}
	day := promised.In(now.Location()).Format("2 Jan")
	switch n := Days(now, promised); {
	case n == -1:
		return "Overdue by 1 day, " + day
	case n < 0:
		return fmt.Sprintf("Overdue by %d days, %s", -n, day)
	case n == 0:
		return "Promised for today, " + day
	case n == 1:
		return "Promised for tomorrow, " + day
	}
	return "Promised for " + promised.In(now.Location()).Format("Mon 2 Jan")
}

// Overdue tells whether the day promised is past.
func Overdue(promised, now time.Time) bool {
	return !promised.IsZero() && Days(now, promised) < 0
}

// SinceDay writes since when: "since today", "since yesterday", "for 5 days".
func SinceDay(since, now time.Time) string {
	switch n := Days(since, now); {
	case since.IsZero():
		return ""
	case n <= 0:
		return "since today"
	case n == 1:
		return "since yesterday"
	default:
		return fmt.Sprintf("for %d days", n)
	}
}
