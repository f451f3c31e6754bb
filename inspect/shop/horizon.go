package shop

import (
	"math"

	"forkwear/inspect/catalog"
	"forkwear/inspect/wear"
)

const (
	// fallbackHorizon is the interval of a lowers service where a level names
	// none, hours (common practice, no source).
	fallbackHorizon = 100
	// horizonShare is the standard uncertainty of a horizon as a share of it:
	// customers come early and late (common practice, no source).
	horizonShare = 0.2
	// lateQuantile is the standard normal 0.8 quantile.
	lateQuantile = 0.8416
)

// door is the level that opens a part next.
func (d *Desk) door(c *Case, part string) catalog.Level {
	if p, ok := d.Catalog.Part(part); ok {
		if l, ok := d.Catalog.Level(p.Door); ok && (l.Hours > 0 || l.Months > 0) {
			return l
		}
	}
	return c.Level
}

// horizon is the riding hours until a part's door is next opened: the interval
// of its door's level, and where the fork has been opened so before, the hours
// that it really rode in between. The interval counts as one such gap; H is the
// 0.8 quantile about their mean m, H = m (1 + 0.8416 * 0.2), once there is one.
func (d *Desk) horizon(c *Case, part string) float64 {
	door := d.door(c, part)
	interval := door.Hours
	if interval <= 0 {
		interval = fallbackHorizon
	}
	sum, n := interval, 1.0
	last := c.Claim.Hours
	for _, e := range c.Earlier { // newest first
		if !d.opens(e.Row.Visit.Level, door.ID) {
			continue
		}
		if gap := last - e.Row.Hours; gap > 0 && e.Row.Hours > 0 {
			sum, n = sum+gap, n+1
		}
		last = e.Row.Hours
	}
	if n == 1 {
		return interval
	}
	return sum / n * (1 + lateQuantile*horizonShare)
}

func (d *Desk) opens(level, door string) bool {
	for _, id := range d.Catalog.Doors(level) {
		if id == door {
			return true
		}
	}
	return false
}

// ownHorizon gives the horizon on the check's own axis: hours, or the months of
// the level that opens the part next (a year where it names none).
func ownHorizon(k catalog.Check, hours float64, door catalog.Level) float64 {
	if k.Grows != catalog.ByMonths {
		return hours
	}
	if door.Months > 0 {
		return door.Months
	}
	return 12
}

// safeFor is how long from now, in tens of hours (months: in whole ones), the
// chance to be over the limit stays at or below p; 0 where it is above already.
func safeFor(post wear.Posterior, now, h, p, step float64) float64 {
	if q, err := wear.PExceed(post, now, h, horizonShare*h); err == nil && q <= p {
		return math.Floor(h/step) * step
	}
	lo, hi := 0.0, h
	for i := 0; i < 12; i++ {
		mid := (lo + hi) / 2
		if q, err := wear.PExceed(post, now, mid, horizonShare*mid); err == nil && q <= p {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Floor(lo/step) * step
}
