package measure

import "fmt"

// DefaultRecovery is the share of a bath that comes out, until the shop's own has
// been learnt: 75 % with u 12 % (common practice, no source).
func DefaultRecovery() Known { return Known{0.75, 0.12} }

// Bath is the fluid of one chamber: what was filled last time, what came out now.
type Bath struct {
	In, Out  Known // mL
	Recovery Known // share; the zero value takes DefaultRecovery
}

// BathSum is the outcome of a fluid balance; the Sum's value is the missing
// volume in mL, negative when more came out than should.
type BathSum struct {
	Sum
	ExpectedOut float64 `json:"expected_out"`
	InMinusOut  float64 `json:"in_minus_out"`
	Finding     string  `json:"finding"` // "gained", "lost", "more than usual" or "as expected"
}

// Balance works the bath out: missing = in·recovery - out. A loss counts only
// beyond 2u; a gain is more out than ever went in, by 3 mL or twice its
// uncertainty (common practice, no source). In above 0, out 0 or more,
// recovery above 0 and not above 1. Not for dampers filled by bleeding.
func (b Bath) Balance() (BathSum, error) {
	if b.Recovery == (Known{}) {
		b.Recovery = DefaultRecovery()
	}
	if err := need(named{"the volume filled in mL", b.In.Value}, named{"the recovery", b.Recovery.Value}); err != nil {
		return BathSum{}, err
	}
	if !finite(b.Out.Value) || b.Out.Value < 0 {
		return BathSum{}, refuse("the volume that came out is %v mL: give 0 or more", b.Out.Value)
	}
	if b.Recovery.Value > 1 {
		return BathSum{}, refuse("the recovery %v is more than all of it: give a share such as 0.75", b.Recovery.Value)
	}
	inputs := []Input{b.In.input("in", Millilitre), b.Out.input("out", Millilitre), b.Recovery.input("recovery", Pure)}
	s, err := work(Millilitre, "missing = in·recovery - out", inputs, func(x []float64) float64 { return x[0]*x[2] - x[1] })
	if err != nil {
		return BathSum{}, err
	}
	r := BathSum{Sum: s, ExpectedOut: b.In.Value * b.Recovery.Value, InMinusOut: b.In.Value - b.Out.Value, Finding: "as expected"}
	r.judge(b)
	return r, nil
}

func (r *BathSum) judge(b Bath) {
	gain, err := Combine([]Term{{Name: "in", U: b.In.U, Sens: 1}, {Name: "out", U: b.Out.U, Sens: 1}})
	u := 0.0
	if r.U != nil {
		u = *r.U
	}
	switch {
	case err == nil && -r.InMinusOut > max(3, 2*gain.U):
		r.Finding = "gained"
		r.remark("more came out than went in: strong; something passes into this chamber (damper shaft seal, seal head) or water came in: look at its colour")
	case *r.Value > 2*u:
		r.Finding = "lost"
		r.remark("less than the usual film explains: weak alone; look for weeping and at the foot bolt")
	case -*r.Value > 2*u:
		r.Finding = "more than usual"
		r.remark("more came out than usually does, but not more than went in: look at its colour and at what was written last time")
	}
	r.remark(fmt.Sprintf("expected %.3g mL out of %.3g mL; bleed-filled dampers have no such balance", r.ExpectedOut, b.In.Value))
}
