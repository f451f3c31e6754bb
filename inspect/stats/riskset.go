package stats

import "sort"

// riskStep is one time at which something failed, with the number at risk
// just before it: units with entry < t <= time.
type riskStep struct {
	time   float64
	atRisk int
	events int
}

// riskSteps counts events and units at risk at each event time, ascending.
// A failure in an interval counts at the hour it was found.
// Rows must have passed checkLifetimes. O(n log n).
func riskSteps(rows []Lifetime) []riskStep {
	type change struct {
		time float64
		n    int
	}
	var leave, enter []change
	events := map[float64]int{}
	for _, r := range rows {
		leave = append(leave, change{r.Time, r.number()})
		if r.Entry > 0 {
			enter = append(enter, change{r.Entry, r.number()})
		}
		if r.Failed {
			events[r.Time] += r.number()
		}
	}
	sort.Slice(leave, func(i, j int) bool { return leave[i].time < leave[j].time })
	sort.Slice(enter, func(i, j int) bool { return enter[i].time < enter[j].time })
	steps := make([]riskStep, 0, len(events))
	for t, d := range events {
		steps = append(steps, riskStep{time: t, events: d})
	}
	sort.Slice(steps, func(i, j int) bool { return steps[i].time < steps[j].time })

	_, units := tally(rows)
	present := units
	for _, e := range enter {
		present -= e.n
	}
	li, ei := 0, 0
	for i := range steps {
		for ; ei < len(enter) && enter[ei].time < steps[i].time; ei++ {
			present += enter[ei].n
		}
		for ; li < len(leave) && leave[li].time < steps[i].time; li++ {
			present -= leave[li].n
		}
		steps[i].atRisk = present
	}
	return steps
}
