package wear

import (
	"fmt"
	"math"
	"sort"
)

// Departure is the newest reading against the fitting's own earlier trend.
type Departure struct {
	Unit         string
	Expected, SD float64 // what the earlier readings foretold, and how surely
	Z            float64 // (w - expected)/SD
	P            float64 // one-sided: chance of so much wear or more
	Earlier      int     // readings before it
}

// Faster compares the last of obs with the prediction from the ones before it:
//
//	z = (w - m)/sqrt(v + sigma^2 + u^2)
//
// m and v mean and variance of the latent wear there. With no earlier reading
// the group alone foretells it. Refused: no reading, a censored newest reading,
// faulty readings. Judge the p-values of one visit together with Holm.
func (f Fit) Faster(unit Unit, obs []Observation) (Departure, error) {
	if len(obs) == 0 {
		return Departure{}, fmt.Errorf("unit %q has no reading: nothing can be compared", unit.ID)
	}
	k := len(obs) - 1
	newest := obs[k]
	if why := faulty(newest); why != "" {
		return Departure{}, fmt.Errorf("the newest reading of unit %q %s", unit.ID, why)
	}
	if newest.Left || newest.Right {
		return Departure{}, fmt.Errorf("the newest reading of unit %q is an end of its scale: a departure cannot be put in figures", unit.ID)
	}
	p, err := f.PosteriorOf(unit, obs[:k])
	if err != nil {
		return Departure{}, err
	}
	m, sd := p.Wear(newest.Hours)
	z := p.z(newest.Hours)
	v := sd*sd + f.par.sigma2 + known2(newest, z, p.Start, f.beta[1], f.g.power)
	if !(v > 0) {
		return Departure{}, fmt.Errorf("the newest reading of unit %q has no uncertainty at all: give it one", unit.ID)
	}
	d := Departure{Unit: unit.ID, Expected: m, SD: math.Sqrt(v), Earlier: k}
	d.Z = (newest.Value - m) / d.SD
	d.P = upper(d.Z)
	return d, nil
}

// Holm gives Holm's step-down adjusted p-values (Holm 1979) in the order of the
// input: max over smaller p of (m - rank + 1) p, at most 1. NaN or values
// outside 0..1 are refused.
func Holm(p []float64) ([]float64, error) {
	order := make([]int, len(p))
	for i, v := range p {
		if !(v >= 0 && v <= 1) {
			return nil, fmt.Errorf("p-value %d is %g: give a number from 0 to 1", i+1, v)
		}
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return p[order[a]] < p[order[b]] })
	out, run := make([]float64, len(p)), 0.0
	for rank, i := range order {
		run = math.Max(run, math.Min(1, float64(len(p)-rank)*p[i]))
		out[i] = run
	}
	return out, nil
}
