package words

import (
	"testing"
	"time"
)

func TestMinutes(t *testing.T) { // an hour has 60 minutes
	for n, want := range map[int]string{0: "0\u2009min", 45: "45\u2009min", 60: "1\u2009h", 135: "2\u2009h 15\u2009min"} {
		if got := Minutes(n); got != want {
			t.Errorf("%d minutes: %q, want %q", n, got, want)
		}
	}
}

// The expected texts follow from the calendar: 12 May 2026 is a Tuesday.
func TestPromised(t *testing.T) {
	now := time.Date(2026, 5, 12, 14, 2, 0, 0, time.UTC)
	at := func(days, hour int) time.Time { return time.Date(2026, 5, 12+days, hour, 0, 0, 0, time.UTC) }
	for _, c := range []struct {
		when time.Time
		want string
		over bool
	}{
		{time.Time{}, "No date promised", false},
		{at(0, 9), "Promised for today, 12 May", false}, // this morning is still today
		{at(1, 0), "Promised for tomorrow, 13 May", false},
		{at(7, 9), "Promised for Tue 19 May", false},
		{at(-1, 23), "Overdue by 1 day, 11 May", true},
		{at(-4, 9), "Overdue by 4 days, 8 May", true},
	} {
		if got := Promised(c.when, now); got != c.want || Overdue(c.when, now) != c.over {
			t.Errorf("%v: %q, overdue %v; want %q, %v", c.when, got, Overdue(c.when, now), c.want, c.over)
		}
	}
	for _, c := range []struct {
		since time.Time
		want  string
	}{{time.Time{}, ""}, {at(0, 1), "since today"}, {at(-1, 23), "since yesterday"}, {at(-5, 9), "for 5 days"}, {at(3, 9), "since today"}} {
		if got := SinceDay(c.since, now); got != c.want {
			t.Errorf("since %v: %q, want %q", c.since, got, c.want)
		}
	}
}
