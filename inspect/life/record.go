package life

import (
	"forkwear/inspect"
	"forkwear/inspect/stats"
)

// Record is one unit, or Count alike, watched to Hours.
type Record struct {
	Group    string
	Unit     string
	Hours    float64
	Failed   bool
	Count    int      // 0 means 1
	Entry    *float64 // hours when watching began; nil: from new
	LastGood *float64 // hours last seen good before the failure was found; nil: failed at Hours

	// End is why it ended. A state on arrival is left out: it was broken before
	// anybody watched. Otherwise Failed alone decides what is an event.
	End inspect.EndReason
}

func (r Record) lifetime() stats.Lifetime {
	l := stats.Lifetime{Time: r.Hours, Failed: r.Failed, Count: r.Count}
	if r.Entry != nil {
		l.Entry = *r.Entry
	}
	if r.LastGood != nil && r.Failed {
		l.Interval, l.LastGood = true, *r.LastGood
	}
	return l
}

// sample is the usable records of one group, or of all.
type sample struct {
	rows          []stats.Lifetime
	entry, ranged bool // any delayed entry, any failure known in an interval
}

func (s *sample) add(l stats.Lifetime) {
	s.rows = append(s.rows, l)
	s.entry = s.entry || l.Entry > 0
	s.ranged = s.ranged || l.Interval && l.LastGood < l.Time
}

// split sorts records into groups, in the order of first mention.
func split(records []Record) (all sample, names []string, groups map[string]*sample, arrivals int) {
	groups = map[string]*sample{}
	for _, r := range records {
		if r.End == inspect.EndArrival {
			arrivals++
			continue
		}
		if groups[r.Group] == nil {
			groups[r.Group] = &sample{}
			names = append(names, r.Group)
		}
		groups[r.Group].add(r.lifetime())
		all.add(r.lifetime())
	}
	return all, names, groups, arrivals
}
