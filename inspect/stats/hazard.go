package stats

import "sort"

// Hazard is a cumulative hazard that rises at its Times.
type Hazard struct {
	Times      []float64 // ascending
	Cumulative []float64 // after the rise at the same index
}

// NelsonAalen returns the cumulative hazard H(t) = sum_{t_i <= t} d_i/n_i of
// the rows, d_i failures among n_i at risk. A failure known only within an
// interval counts at the hour it was found. Without events H is 0 everywhere.
//
// Source: Aalen 1978; Kalbfleisch and Prentice 2002, section 1.4.
func NelsonAalen(rows []Lifetime) (Hazard, error) {
	if err := checkLifetimes(rows); err != nil {
		return Hazard{}, err
	}
	var h Hazard
	sum := 0.0
	for _, s := range riskSteps(rows) {
		sum += float64(s.events) / float64(s.atRisk)
		h.Times = append(h.Times, s.time)
		h.Cumulative = append(h.Cumulative, sum)
	}
	return h, nil
}

// At returns H(t), 0 before the first event.
func (h Hazard) At(t float64) float64 {
	i := sort.Search(len(h.Times), func(i int) bool { return h.Times[i] > t })
	if i == 0 {
		return 0
	}
	return h.Cumulative[i-1]
}

// Expected returns the failures this hazard would have given a unit watched
// from entry to time. Over the rows that made the hazard these add up to the
// number that failed (indirect standardisation).
func (h Hazard) Expected(entry, time float64) float64 {
	if entry <= 0 {
		return h.At(time)
	}
	return h.At(time) - h.At(entry)
}
