package life

import (
	"fmt"
	"math"

	"forkwear/inspect"
	"forkwear/inspect/stats"
)

// RateCount is the events of one group beside the expected number, or beside
// its exposure (hours, services ...).
type RateCount struct {
	Group  string
	Events int
	Amount float64 // expected events, or exposure
}

// Rates compares groups with their expected numbers.
type Rates struct {
	Groups  []Rate   `json:"groups"`
	Level   float64  `json:"level"`
	Method  string   `json:"method"`
	Remarks []string `json:"remarks"`
}

// Rate is one group: ratio = events / expected with Garwood limits, central p
// against 1, q over all groups that have a p.
type Rate struct {
	Group    string   `json:"group"`
	Events   int      `json:"events"`
	Expected float64  `json:"expected"`
	Ratio    *float64 `json:"ratio"`
	Low      *float64 `json:"low"`
	High     *float64 `json:"high"`
	P        *float64 `json:"p"`
	Q        *float64 `json:"q"`
}

// ExpectedFromExposure turns exposures into expected numbers: exposure times
// all events over all exposure. Fails when there is no exposure at all.
func ExpectedFromExposure(rows []RateCount) ([]RateCount, error) {
	events, exposure := 0.0, 0.0
	for _, r := range rows {
		if err := r.check("exposure"); err != nil {
			return nil, err
		}
		events += float64(r.Events)
		exposure += r.Amount
	}
	if exposure <= 0 || math.IsInf(exposure, 0) {
		return nil, fmt.Errorf("%w: the exposures add up to %g; at least one must be more than 0", stats.ErrInput, exposure)
	}
	out := append([]RateCount(nil), rows...)
	for i := range out {
		out[i].Amount *= events / exposure
	}
	return out, nil
}

// NewRates gives each group's ratio, limits, p and q in the order given. A
// group that expects nothing has no ratio.
func NewRates(rows []RateCount, level float64) (Rates, error) { return NewRatesIn(nil, rows, level) }

// NewRatesIn is NewRates with its remarks in a tongue.
func NewRatesIn(t inspect.Tongue, rows []RateCount, level float64) (Rates, error) {
	out := Rates{Groups: []Rate{}, Level: level, Remarks: []string{},
		Method: "Garwood limits, central Poisson p, Benjamini-Hochberg q"}
	for _, r := range rows {
		if err := r.check("expected"); err != nil {
			return Rates{}, err
		}
		rate := Rate{Group: r.Group, Events: r.Events, Expected: r.Amount}
		low, high, err := stats.Garwood(r.Events, level)
		if err != nil {
			return Rates{}, err
		}
		if r.Amount > 0 && !math.IsInf(high/r.Amount, 0) {
			p, err := stats.PoissonP(r.Events, r.Amount)
			if err != nil {
				return Rates{}, err
			}
			ratio, low, high := float64(r.Events)/r.Amount, low/r.Amount, high/r.Amount
			rate.Ratio, rate.Low, rate.High, rate.P = &ratio, &low, &high, &p
		} else {
			out.Remarks = append(out.Remarks, t.Sayf("group %q: next to nothing was expected, so there is no ratio", r.Group))
		}
		out.Groups = append(out.Groups, rate)
	}
	p, q := []*float64{}, []**float64{}
	for i := range out.Groups {
		p, q = append(p, out.Groups[i].P), append(q, &out.Groups[i].Q)
	}
	return out, setQ(p, q)
}

// setQ fills the q of all that have a p.
func setQ(p []*float64, q []**float64) error {
	var values []float64
	for _, v := range p {
		if v != nil {
			values = append(values, *v)
		}
	}
	adjusted, err := stats.BenjaminiHochberg(values)
	if err != nil {
		return err
	}
	next := 0
	for i, v := range p {
		if v != nil {
			*q[i] = &adjusted[next]
			next++
		}
	}
	return nil
}

func (r RateCount) check(amount string) error {
	if r.Events < 0 {
		return fmt.Errorf("%w: group %q: events %d must be 0 or more", stats.ErrInput, r.Group, r.Events)
	}
	if math.IsNaN(r.Amount) || math.IsInf(r.Amount, 0) || r.Amount < 0 {
		return fmt.Errorf("%w: group %q: %s %g must be a number, 0 or more", stats.ErrInput, r.Group, amount, r.Amount)
	}
	return nil
}
