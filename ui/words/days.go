package words

import (
	"fmt"
	"time"

	"forkwear/ui/tongue"
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
		return tongue.Say("No date promised")
	}
	s := styleNow()
	day := s.format(promised.In(now.Location()), s.short)
	switch n := Days(now, promised); {
	case n == -1:
		return tongue.Sayf("Overdue by 1 day, %s", day)
	case n < 0:
		return tongue.Sayf("Overdue by %d days, %s", -n, day)
	case n == 0:
		return tongue.Sayf("Promised for today, %s", day)
	case n == 1:
		return tongue.Sayf("Promised for tomorrow, %s", day)
	}
	return tongue.Sayf("Promised for %s", s.format(promised.In(now.Location()), s.weekday))
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
		return tongue.Say("since today")
	case n == 1:
		return tongue.Say("since yesterday")
	default:
		return tongue.Sayf("for %d days", n)
	}
}
