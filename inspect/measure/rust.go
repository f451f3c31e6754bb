package measure

import "math"

// GradeRule says how an area between two reference pictures becomes a grade.
type GradeRule string

// The rules. The pictures show areas, no class limits, so that one must be stated.
const (
	UpperLimit GradeRule = "upper limit" // the lowest grade whose picture shows as much or more
	NearestLog GradeRule = "nearest"     // the picture nearest on a logarithmic scale; 0 only for none
)

// riAreas are the rusted areas in percent of the pictures Ri 0 to Ri 5
// (ISO 4628-3:2016, table 1; Ri 5 as 40/50).
func riAreas() [6]float64 { return [6]float64{0, 0.05, 0.5, 1, 8, 40} }

// RustGrade gives the degree of rusting Ri 0 to 5 of a rusted share in percent
// (ISO 4628-3), by the stated rule. Only for rust on coated steel: anodised
// aluminium doesn't rust. 0 <= percent <= 100.
func RustGrade(percent float64, rule GradeRule) (int, error) {
	if !finite(percent) || percent < 0 || percent > 100 {
		return 0, refuse("the rusted share %v %% can't be right: give 0 to 100", percent)
	}
	areas := riAreas()
	switch rule {
	case UpperLimit:
		for g, a := range areas {
			if percent <= a {
				return g, nil
			}
		}
		return 5, nil
	case NearestLog:
		if percent == 0 {
			return 0, nil
		}
		best := 1
		for g := 2; g < len(areas); g++ {
			if math.Abs(math.Log(percent/areas[g])) < math.Abs(math.Log(percent/areas[best])) {
				best = g
			}
		}
		return best, nil
	}
	return 0, refuse("the rule %q is unknown: use %q or %q", rule, UpperLimit, NearestLog)
}

// Rust works out the grade from a rusted area and the area looked at, in one
// unit. Low and High are the grades at the 95 % limits of the share; the value
// has no standard uncertainty, since grades are steps.
func Rust(area, whole Known, rule GradeRule) (Sum, error) {
	if err := need(named{"the area looked at", whole.Value}); err != nil {
		return Sum{}, err
	}
	if !finite(area.Value) || area.Value < 0 || area.Value > whole.Value {
		return Sum{}, refuse("the rusted area %v is not between 0 and the area looked at, %g", area.Value, whole.Value)
	}
	share, err := work(Percent, "", []Input{area.input("rusted area", SquareMM), whole.input("area looked at", SquareMM)},
		func(x []float64) float64 { return 100 * x[0] / x[1] })
	if err != nil {
		return Sum{}, err
	}
	g, err := RustGrade(min(100, *share.Value), rule)
	if err != nil {
		return Sum{}, err
	}
	s := Sum{Value: ptr(float64(g)), Unit: "Ri", Inputs: share.Inputs, Remarks: share.Remarks,
		Formula: "Ri from 100·area/whole by the rule '" + string(rule) + "', pictures 0, 0.05, 0.5, 1, 8, 40 %"}
	s.Inputs = append(s.Inputs, Input{Name: "rusted share", Value: *share.Value, Unit: string(Percent), U: share.U})
	if share.Low != nil {
		low, errLow := RustGrade(min(100, max(0, *share.Low)), rule)
		high, errHigh := RustGrade(min(100, max(0, *share.High)), rule)
		if errLow == nil && errHigh == nil {
			s.Low, s.High = ptr(float64(low)), ptr(float64(high))
		}
	}
	s.remark("for rust on coated steel only; the standard's pictures show areas and set no class limits, so the rule is ours")
	return s, nil
}
