package shop

import (
	"math"
	"time"

	"forkwear/inspect/catalog"
)

// dueByYears says in words why the rubber at a position is due by its age, ""
// where it is not: calendar years from its fitting to this drop-off against the
// catalog's years (common practice, no source). Only where this level opens the
// part, and only for a part fitted here: of one that came with its fork the
// hours may be known, the years are not.
func (d *Desk) dueByYears(c *Case, at catalog.PartAt) string {
	limit := at.Part.Years
	if !(limit > 0) || !d.opens(c.Visit.Level, at.Part.Door) {
		return ""
	}
	f, ok := c.Fitting(at.Part.ID, at.Leg)
	if !ok || !f.AgeKnown || cameWithFork(f) || f.FittedOn.IsZero() {
		return ""
	}
	if !passed(f.FittedOn, int(math.Round(12*limit)), c.Visit.DroppedOff) {
		return ""
	}
	whole := 0
	for passed(f.FittedOn, 12*(whole+1), c.Visit.DroppedOff) {
		whole++
	}
	switch whole {
	case 0:
		return d.Catalog.Tongue.Sayf("fitted less than a year ago; rubber is renewed after %g of one.", limit)
	case 1:
		return d.Catalog.Tongue.Sayf("fitted 1 year ago; rubber is renewed after %g.", limit)
	}
	return d.Catalog.Tongue.Sayf("fitted %d years ago; rubber is renewed after %g.", whole, limit)
}

// passed tells whether so many calendar months after a day have come, by the
// day and not by the hour.
func passed(from time.Time, months int, now time.Time) bool {
	y, m, day := from.Date()
	return !now.Before(time.Date(y, m+time.Month(months), day, 0, 0, 0, 0, from.Location()))
}
