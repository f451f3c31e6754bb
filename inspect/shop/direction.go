package shop

import (
	"forkwear/inspect/stats"

	"forkwear/inspect"
)

// fewestForDirection is from how many readings of one fitting its own direction
// is told without the group (domain rule).
const fewestForDirection = 5

// direction tells, from five readings on, which way one fitting's own readings
// go: Sen's slope and the exact one-sided Mann-Kendall test, neither of which
// needs the group or a straight line. "" below that.
func direction(t inspect.Tongue, points []TrendPoint, unit string) string {
	if len(points) < fewestForDirection {
		return ""
	}
	var x, y []float64
	for _, p := range points {
		x, y = append(x, p.Hours), append(y, p.Used)
	}
	test, err := stats.MannKendall(x, y)
	if err != nil {
		return ""
	}
	said := t.Say("no direction of its own is proved")
	if test.Rising < 0.05 {
		said = t.Say("it rises by itself")
	}
	told := t.Sayf(". Its own %d readings: %s (Mann-Kendall, one-sided p = %.3f", len(points), said, test.Rising)
	if s, err := stats.TheilSen(x, y, 0.90); err == nil {
		told += t.Sayf("; Sen's slope %.1f %% in 100 %s", 1e4*s.Value, unit)
	}
	return told + ")"
}
