package measure

import "math"

// CompressionSet works out how much of its squeeze a ring has kept, in percent:
//
//	set = 100 (h0 - h1)/(h0 - hs)
//
// (ISO 815-1, ASTM D395 method B): h0 height new, h1 after, hs held at, all in
// one unit, mm as a rule; h0 > hs. The set doesn't depend on the unit.
func CompressionSet(h0, h1, hs Known) (Sum, error) {
	if err := need(named{"the height new (h0)", h0.Value}, named{"the height after (h1)", h1.Value}, named{"the height squeezed (hs)", hs.Value}); err != nil {
		return Sum{}, err
	}
	if h0.Value <= hs.Value {
		return Sum{}, refuse("the height new (%g) is not above the height squeezed (%g): there was no squeeze to keep", h0.Value, hs.Value)
	}
	inputs := []Input{h0.input("h0", Millimetre), h1.input("h1", Millimetre), hs.input("hs", Millimetre)}
	s, err := work(Percent, "set = 100·(h0 - h1)/(h0 - hs)", inputs, func(x []float64) float64 {
		return 100 * (x[0] - x[1]) / (x[0] - x[2])
	})
	if err != nil {
		return Sum{}, err
	}
	switch {
	case *s.Value < 0:
		s.remark("thicker than new: the ring has swollen; look at the fluid it stood in")
	case *s.Value > 100:
		s.remark("thinner than its groove held it: the ring is worn or cut, this is no set")
	}
	if squeeze := 100 * (h0.Value - hs.Value) / h0.Value; squeeze < 5 || squeeze > 40 {
		s.remark("the squeeze is far from the 10 to 25 % of the test (ISO 815-1): compare with nothing")
	}
	s.remark("rubber gives under a calliper: a ring in the kit costs less than this reading")
	return s, nil
}

// Section is a standard O-ring section.
type Section struct {
	Diameter  float64 // mm
	Tolerance float64 // mm, ±
}

// ORingSections gives the five standard sections in mm (ISO 3601-1, the inch
// series 0.070 ±0.003, 0.103 ±0.003, 0.139 ±0.004, 0.210 ±0.005, 0.275 ±0.006 in
// of AS568, rounded to 0.01 mm).
func ORingSections() []Section {
	return []Section{{1.78, 0.08}, {2.62, 0.08}, {3.53, 0.10}, {5.33, 0.13}, {6.99, 0.15}}
}

// SectionOf tells which standard section a new ring measured at d mm belongs to,
// when d with its uncertainty (2u) reaches into one tolerance only. It fails
// when none fits: a worn, swollen or non-standard ring.
func SectionOf(d Known) (Section, error) {
	if err := need(named{"the section in mm", d.Value}); err != nil {
		return Section{}, err
	}
	if !finite(d.U) || d.U < 0 {
		return Section{}, refuse("the uncertainty %v mm can't be right: give a number of 0 or more", d.U)
	}
	var fit []Section
	for _, s := range ORingSections() {
		if math.Abs(d.Value-s.Diameter) <= s.Tolerance+2*d.U {
			fit = append(fit, s)
		}
	}
	switch len(fit) {
	case 0:
		return Section{}, refuse("%g mm is no standard section (1.78, 2.62, 3.53, 5.33, 6.99 mm): the ring is worn, swollen or special", d.Value)
	case 1:
		return fit[0], nil
	}
	return Section{}, refuse("%g mm ± %g mm could be several sections: measure it better", d.Value, 2*d.U)
}
