package stats

import (
	"sort"

	"gonum.org/v1/gonum/mat"
)

// LogRankResult compares k survival curves. Groups are in the order of the
// names, sorted.
type LogRankResult struct {
	Groups   []string
	Observed []float64
	Expected []float64
	Variance [][]float64 // of Observed - Expected, k x k
	Chi2     float64
	DF       int
	P        float64
}

// LogRank tests that all groups fail at the same rate:
//
//	O_g - E_g, E_g = sum d n_g/n,
//	V_gh = sum d (n_g/n) (delta_gh - n_h/n) (n - d)/(n - 1),
//	chi2 = (O-E)' V^-1 (O-E) over all groups but one, df = k - 1
//
// over the event times, n_g at risk in group g. Groups never at risk at an
// event carry no information and do not count in df. Fails with ErrTooFew for
// fewer than two such groups or no event; with ErrInput for failures known only
// within an interval.
//
// Source: Mantel 1966; Kalbfleisch and Prentice 2002, section 1.5.
func LogRank(groups map[string][]Lifetime) (LogRankResult, error) {
	var r LogRankResult
	for name := range groups {
		r.Groups = append(r.Groups, name)
	}
	sort.Strings(r.Groups)
	var all []Lifetime
	for _, name := range r.Groups {
		if err := checkLifetimes(groups[name]); err != nil {
			return LogRankResult{}, inputError("group %q: %v", name, err)
		}
		if anyRanged(groups[name]) {
			return LogRankResult{}, inputError("group %q has failures known only between two hours; the log-rank test needs the hour", name)
		}
		all = append(all, groups[name]...)
	}
	k := len(r.Groups)
	if k < 2 {
		return LogRankResult{}, tooFew("a comparison needs two groups, %d given", k)
	}
	v := r.accumulate(groups, all)
	return r, r.solve(v)
}

// accumulate fills Observed, Expected and Variance.
func (r *LogRankResult) accumulate(groups map[string][]Lifetime, all []Lifetime) *mat.SymDense {
	k := len(r.Groups)
	r.Observed, r.Expected = make([]float64, k), make([]float64, k)
	v := mat.NewSymDense(k, nil)
	counts := make([]counter, k)
	for g, name := range r.Groups {
		events, _ := tally(groups[name])
		r.Observed[g] = float64(events)
		counts[g] = newCounter(groups[name])
	}
	share := make([]float64, k)
	for _, s := range riskSteps(all) {
		n, d := float64(s.atRisk), float64(s.events)
		for g := range counts {
			share[g] = counts[g].atRisk(s.time) / n
			r.Expected[g] += d * share[g]
		}
		if s.atRisk < 2 {
			continue
		}
		f := d * (n - d) / (n - 1)
		for g := range share {
			for h := g; h < k; h++ {
				delta := 0.0
				if g == h {
					delta = 1
				}
				v.SetSym(g, h, v.At(g, h)+f*share[g]*(delta-share[h]))
			}
		}
	}
	for g := range k {
		r.Variance = append(r.Variance, mat.Row(nil, g, v))
	}
	return v
}

// solve forms the quadratic form over the informative groups but the last.
func (r *LogRankResult) solve(v *mat.SymDense) error {
	var use []int
	for g, e := range r.Expected {
		if e > 0 && v.At(g, g) > 0 {
			use = append(use, g)
		}
	}
	if len(use) < 2 {
		return tooFew("no failure happened while two groups were being watched, so they cannot be compared")
	}
	use = use[:len(use)-1]
	m := mat.NewSymDense(len(use), nil)
	diff := mat.NewVecDense(len(use), nil)
	for i, g := range use {
		diff.SetVec(i, r.Observed[g]-r.Expected[g])
		for j := i; j < len(use); j++ {
			m.SetSym(i, j, v.At(g, use[j]))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(m) || chol.Cond() > 1e12 {
		return tooFew("the groups were hardly watched over the same hours, so they cannot be compared together; compare two at a time")
	}
	var x mat.VecDense
	if err := chol.SolveVecTo(&x, diff); err != nil {
		return tooFew("the groups cannot be compared together; compare two at a time")
	}
	r.Chi2, r.DF = mat.Dot(diff, &x), len(use)
	r.P = chiSquareTail(r.Chi2, r.DF)
	return nil
}

// counter answers how many of a group are at risk at a time.
type counter struct {
	ends, entries    []float64 // ascending
	endSum, entrySum []float64 // units with a time at or below the index
}

func newCounter(rows []Lifetime) counter {
	byEnd := append([]Lifetime(nil), rows...)
	sort.Slice(byEnd, func(i, j int) bool { return byEnd[i].Time < byEnd[j].Time })
	byEntry := append([]Lifetime(nil), rows...)
	sort.Slice(byEntry, func(i, j int) bool { return byEntry[i].Entry < byEntry[j].Entry })
	var c counter
	ended, entered := 0.0, 0.0
	for i := range rows {
		ended += byEnd[i].weight()
		entered += byEntry[i].weight()
		c.ends, c.endSum = append(c.ends, byEnd[i].Time), append(c.endSum, ended)
		c.entries, c.entrySum = append(c.entries, byEntry[i].Entry), append(c.entrySum, entered)
	}
	return c
}

// atRisk counts units with entry < t <= time; an entry of 0 means from new, so
// it is at risk at 0 as well.
func (c counter) atRisk(t float64) float64 {
	below := func(times, sums []float64) float64 {
		i := sort.SearchFloat64s(times, t)
		if i == 0 {
			return 0
		}
		return sums[i-1]
	}
	entered := below(c.entries, c.entrySum)
	if t == 0 {
		i := sort.Search(len(c.entries), func(i int) bool { return c.entries[i] > 0 })
		if i > 0 {
			entered = c.entrySum[i-1]
		}
	}
	return entered - below(c.ends, c.endSum)
}
