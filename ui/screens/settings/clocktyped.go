package settings

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"forkwear/inspect"
)

// readOffset reads by how much a clock is to be corrected: a sign, then
// hours:minutes(:seconds) or numbers with d, h, min and s: "+1 h", "-00:03:20",
// "1 h 30 min", "2 d". Without a sign it is added. "0" takes a correction away.
// It refuses what is more than inspect.MostClockAdd.
func readOffset(text string) (time.Duration, error) {
	t := strings.TrimSpace(strings.ReplaceAll(text, "\u2009", " "))
	wrong := fmt.Errorf("%.40q is not a time to add: type such as +1 h, -00:03:20 or 1 h 30 min", text)
	sign := 1.0
	switch {
	case strings.HasPrefix(t, "+"):
		t = t[1:]
	case strings.HasPrefix(t, "-"), strings.HasPrefix(t, "−"):
		sign = -1
		t = strings.TrimPrefix(strings.TrimPrefix(t, "-"), "−")
	}
	t = strings.TrimSpace(t)
	var seconds float64
	var ok bool
	switch {
	case t == "0":
		return 0, nil
	case strings.Contains(t, ":"):
		seconds, ok = clockSeconds(t)
	default:
		seconds, ok = unitSeconds(t)
	}
	if !ok {
		return 0, wrong
	}
	if seconds > inspect.MostClockAdd.Seconds() {
		return 0, fmt.Errorf("%.40q is more than 20 years: look at the year that the camera shows", text)
	}
	return time.Duration(sign * math.Round(seconds*1000) * float64(time.Millisecond)), nil
}

// clockSeconds reads h:mm or h:mm:ss.
func clockSeconds(t string) (float64, bool) {
	parts := strings.Split(t, ":")
	if len(parts) > 3 {
		return 0, false
	}
	sum, unit := 0.0, 3600.0
	for i, p := range parts {
		n, err := strconv.ParseUint(p, 10, 32)
		if err != nil || i > 0 && (n > 59 || len(p) != 2) {
			return 0, false
		}
		sum += float64(n) * unit
		unit /= 60
	}
	return sum, true
}

var unitOf = map[string]float64{"d": 86400, "h": 3600, "min": 60, "m": 60, "s": 1}

// unitSeconds reads numbers with a unit each.
func unitSeconds(t string) (float64, bool) {
	sum, any := 0.0, false
	for t = strings.TrimSpace(t); t != ""; t = strings.TrimSpace(t) {
		n := strings.IndexFunc(t, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' })
		if n <= 0 {
			return 0, false
		}
		x, err := strconv.ParseFloat(strings.Replace(t[:n], ",", ".", 1), 64)
		t = strings.TrimSpace(t[n:])
		end := strings.IndexFunc(t, func(r rune) bool { return r < 'a' || r > 'z' })
		if end < 0 {
			end = len(t)
		}
		unit, ok := unitOf[t[:end]]
		if err != nil || !ok {
			return 0, false
		}
		sum, any, t = sum+x*unit, true, t[end:]
	}
	return sum, any
}

// readShown reads what the shop's clock showed: a date and time as 2026-05-12
// 14:02:30, or a time alone, which is then of the day that brings it nearest to
// near, the photo's own time.
func readShown(text string, near time.Time, zone *time.Location) (time.Time, error) {
	t := strings.TrimSpace(text)
	for _, layout := range []string{"2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02T15:04:05", "2.1.2006 15:04:05", "2.1.2006 15:04"} {
		if at, err := time.ParseInLocation(layout, t, zone); err == nil {
			return at, nil
		}
	}
	for _, layout := range []string{"15:04:05", "15:04"} {
		at, err := time.Parse(layout, t)
		if err != nil || near.IsZero() {
			continue
		}
		day := near.In(zone)
		best := time.Time{}
		for _, add := range []int{-1, 0, 1} {
			c := time.Date(day.Year(), day.Month(), day.Day()+add, at.Hour(), at.Minute(), at.Second(), 0, zone)
			if best.IsZero() || c.Sub(near).Abs() < best.Sub(near).Abs() {
				best = c
			}
		}
		return best, nil
	}
	return time.Time{}, fmt.Errorf("%.40q is not a time: type what the shop's clock shows, such as 14:02:30 or 2026-05-12 14:02:30", text)
}
