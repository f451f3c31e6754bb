package life

import (
	"math/rand/v2"

	"forkwear/inspect/stats"
)

// shuffles is how often the sheets are dealt anew over the forks.
const shuffles = 1999

// forkSum is one fork's failures beyond the expected, of one part.
type forkSum struct {
	sheet  string
	excess float64
}

// shuffle returns the p value of each sheet when at least one fork gave several
// fittings, which are not independent then; nil otherwise. The statistic is
// failures minus expected of the sheet; sheets are dealt anew over whole forks;
// p is central, counting the real deal: 2 min(1 + #, ...)/(shuffles + 1), at
// most 1. The same fittings always give the same p (fixed seed). No p where a
// fork is not known or changed its sheet.
func shuffle(used []Fitting, hazard stats.Hazard) map[string]*float64 {
	forks, several := sumForks(used, hazard)
	if !several || len(forks) < 2 {
		return nil
	}
	number := map[string]int{}
	labels := make([]int, len(forks))
	for i, f := range forks {
		if _, ok := number[f.sheet]; !ok {
			number[f.sheet] = len(number)
		}
		labels[i] = number[f.sheet]
	}
	deal := func() []float64 {
		sums := make([]float64, len(number))
		for i, f := range forks {
			sums[labels[i]] += f.excess
		}
		return sums
	}
	real := deal()
	atLeast, atMost := make([]int, len(real)), make([]int, len(real))
	random := rand.New(rand.NewPCG(1, 2))
	for range shuffles {
		random.Shuffle(len(labels), func(i, j int) { labels[i], labels[j] = labels[j], labels[i] })
		for g, s := range deal() {
			if s >= real[g]-1e-9 {
				atLeast[g]++
			}
			if s <= real[g]+1e-9 {
				atMost[g]++
			}
		}
	}
	p := map[string]*float64{}
	for sheet, g := range number {
		v := min(1, 2*float64(1+min(atLeast[g], atMost[g]))/(shuffles+1))
		p[sheet] = &v
	}
	return p
}

// sumForks adds up each fork in the order of first mention.
func sumForks(used []Fitting, hazard stats.Hazard) (forks []forkSum, several bool) {
	at := map[string]int{}
	for _, f := range used {
		i, seen := at[f.ForkID]
		if !seen {
			i = len(forks)
			at[f.ForkID] = i
			forks = append(forks, forkSum{sheet: f.Sheet})
		}
		several = several || seen
		if f.ForkID == "" || forks[i].sheet != f.Sheet {
			return nil, false
		}
		forks[i].excess -= hazard.Expected(f.EntryHours, f.Hours)
		if f.event() {
			forks[i].excess++
		}
	}
	return forks, several
}
