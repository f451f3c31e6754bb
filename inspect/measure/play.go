package measure

// Rock is bushing play felt as rock: the lowers are pushed there and back at a
// distance from the middle of the two bushings.
type Rock struct {
	AtForce       Known  // total swing in mm at force F
	AtDoubleForce *Known // total swing in mm at 2F; nil: bending is not taken out
	Distance      Known  // mm from the middle of the bushings to the gauge
	Span          Known  // mm between the outer contact edges of the bushings
}

// RockPlay is the swing without the fork's bending, by rock at F and 2F:
// play = 2 r(F) - r(2F), as bending doubles with the force and play doesn't
// (common practice, no source). mm; r(2F) may not be below r(F).
func RockPlay(atForce, atDouble Length) (Length, error) {
	a, b := float64(atForce), float64(atDouble)
	if !finite(a) || !finite(b) || a < 0 || b < 0 {
		return 0, refuse("the rocks %v and %v mm can't be right: give the full swing, 0 or more", a, b)
	}
	if b < a {
		return 0, refuse("the rock at double force (%g mm) is below that at single force (%g mm): change them over or measure again", b, a)
	}
	return Length(2*a - b), nil
}

// Clearance works out the diametral clearance in mm:
//
//	c = rock L/(2 D), rock = 2 c D/L
//
// for two bushings whose outer contact edges are L apart and a gauge at D from
// their middle (rigid tube tilting between two edges; exact to second order for
// D >= L/2). It fails for D < L/2, lengths of 0 and a rock below 0.
func (r Rock) Clearance() (Sum, error) {
	if err := need(named{"the distance in mm", r.Distance.Value}, named{"the span in mm", r.Span.Value}); err != nil {
		return Sum{}, err
	}
	if !finite(r.AtForce.Value) || r.AtForce.Value < 0 {
		return Sum{}, refuse("the rock %v mm can't be right: give the full swing, 0 or more", r.AtForce.Value)
	}
	if r.Distance.Value < r.Span.Value/2 {
		return Sum{}, refuse("the gauge at %g mm stands between the bushings (%g mm apart): measure at %g mm or more from their middle", r.Distance.Value, r.Span.Value, r.Span.Value/2)
	}
	inputs := []Input{r.AtForce.input("rock", Millimetre), r.Distance.input("distance", Millimetre), r.Span.input("span", Millimetre)}
	if r.AtDoubleForce == nil {
		s, err := work(Millimetre, "c = rock·L/(2·D)", inputs, func(x []float64) float64 { return x[0] * x[2] / (2 * x[1]) })
		if err != nil {
			return Sum{}, err
		}
		s.floor(0)
		s.remark("the fork bends as much as it plays: rock at one force is an upper limit; measure at double force too")
		return s, nil
	}
	if _, err := RockPlay(Length(r.AtForce.Value), Length(r.AtDoubleForce.Value)); err != nil {
		return Sum{}, err
	}
	inputs = append(inputs, r.AtDoubleForce.input("rock at double force", Millimetre))
	s, err := work(Millimetre, "c = (2·rock(F) - rock(2F))·L/(2·D)", inputs, func(x []float64) float64 {
		return (2*x[0] - x[3]) * x[2] / (2 * x[1])
	})
	if err != nil {
		return Sum{}, err
	}
	if *s.Value < 0 {
		s.remark("less than nothing: the two rocks don't belong together; measure again with steady forces")
	}
	notePlay(&s)
	return s, nil
}

// BoreClearance is the diametral clearance bore - shaft in mm (subtraction).
// Negative is too tight. Both above 0.
func BoreClearance(bore, shaft Known) (Sum, error) {
	if err := need(named{"the bore in mm", bore.Value}, named{"the shaft in mm", shaft.Value}); err != nil {
		return Sum{}, err
	}
	s, err := work(Millimetre, "c = bore - shaft", []Input{bore.input("bore", Millimetre), shaft.input("shaft", Millimetre)},
		func(x []float64) float64 { return x[0] - x[1] })
	if err != nil {
		return Sum{}, err
	}
	if *s.Value < 0 {
		s.remark("the shaft is larger than the bore: too tight is as common as too loose; free slide and breakaway force settle it")
	}
	notePlay(&s)
	return s, nil
}

// notePlay says what the uncertainty leaves open. 0.03 to 0.10 mm new and 0.20
// to 0.25 mm worn are common practice, no source.
func notePlay(s *Sum) {
	if s.Low != nil && *s.Low < 0.10 && *s.High > 0.25 {
		s.remark("this can't tell a new bushing from a worn one (common practice: 0.03 to 0.10 mm new, 0.20 to 0.25 mm worn): repeat it or use a finer gauge")
	}
	s.remark("one-piece lowers couple the legs: rock can't be blamed on one leg")
}

// RunOutBow is the bow of a loose tube from its run-out: a tube turned on two
// supports swings the gauge by twice its bow. mm, 0 or more. Not for a tube
// pressed into a crown.
func RunOutBow(swing Known) (Sum, error) {
	if !finite(swing.Value) || swing.Value < 0 {
		return Sum{}, refuse("the run-out %v mm can't be right: give the full swing of the gauge, 0 or more", swing.Value)
	}
	s, err := work(Millimetre, "bow = run-out/2", []Input{swing.input("run-out", Millimetre)}, func(x []float64) float64 { return x[0] / 2 })
	if err != nil {
		return Sum{}, err
	}
	s.floor(0)
	s.remark("needs a loose tube on two supports: not for a tube pressed into its crown")
	return s, nil
}

// Parallelism is how far two tubes run apart: distance at the end less distance
// at the crown, in mm; negative runs together. Both above 0.
func Parallelism(crown, end Known) (Sum, error) {
	if err := need(named{"the distance at the crown in mm", crown.Value}, named{"the distance at the end in mm", end.Value}); err != nil {
		return Sum{}, err
	}
	s, err := work(Millimetre, "apart = end - crown", []Input{crown.input("at the crown", Millimetre), end.input("at the end", Millimetre)},
		func(x []float64) float64 { return x[1] - x[0] })
	if err != nil {
		return Sum{}, err
	}
	if *s.Value > 0.3 || *s.Value < -0.3 {
		s.remark("more than 0.3 mm (common practice, no source): look for an axle that squeezes, then for a bent tube")
	}
	return s, nil
}
