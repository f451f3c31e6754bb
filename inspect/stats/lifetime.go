package stats

// Lifetime is one unit, or Count alike, watched from Entry to Time.
type Lifetime struct {
	Time   float64 // hours at the end of watching, >= 0
	Failed bool    // false: still good at Time
	Count  int     // how many alike; 0 means 1
	Entry  float64 // hours at the start of watching, 0 <= Entry < Time; 0: from new

	// Interval says that the failure was found at Time and happened after
	// LastGood, Entry <= LastGood <= Time. LastGood equal to Time is a failure
	// seen at that hour. Without Failed both are ignored.
	Interval bool
	LastGood float64
}

func (l Lifetime) weight() float64 { return float64(l.number()) }

func (l Lifetime) number() int {
	if l.Count == 0 {
		return 1
	}
	return l.Count
}

// ranged tells whether the failure lies in an interval of some width.
func (l Lifetime) ranged() bool { return l.Failed && l.Interval && l.LastGood < l.Time }

// checkLifetimes refuses rows that no lifetime can have; the error counts rows
// from 1.
func checkLifetimes(rows []Lifetime) error {
	if len(rows) == 0 {
		return tooFew("no lifetimes given")
	}
	for i, r := range rows {
		if err := r.check(i + 1); err != nil {
			return err
		}
	}
	return nil
}

func (l Lifetime) check(row int) error {
	switch {
	case !finite(l.Time) || l.Time < 0:
		return inputError("row %d: hours %g must be a number, 0 or more", row, l.Time)
	case l.Count < 0:
		return inputError("row %d: count %d must be 1 or more", row, l.Count)
	case !finite(l.Entry) || l.Entry < 0:
		return inputError("row %d: entry %g must be a number, 0 or more", row, l.Entry)
	case l.Entry > 0 && l.Entry >= l.Time:
		return inputError("row %d: entry %g must be less than hours %g", row, l.Entry, l.Time)
	case l.Failed && l.Interval && (!finite(l.LastGood) || l.LastGood < l.Entry):
		return inputError("row %d: last good %g must be a number, not below entry %g", row, l.LastGood, l.Entry)
	case l.Failed && l.Interval && l.LastGood > l.Time:
		return inputError("row %d: last good %g is later than hours %g at which the failure was found", row, l.LastGood, l.Time)
	}
	return nil
}

// tally counts failed units and all units.
func tally(rows []Lifetime) (events, units int) {
	for _, r := range rows {
		units += r.number()
		if r.Failed {
			events += r.number()
		}
	}
	return events, units
}

func anyRanged(rows []Lifetime) bool {
	for _, r := range rows {
		if r.ranged() {
			return true
		}
	}
	return false
}
