package measure

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"
)

// Gauge is what a diameter was measured with.
type Gauge struct {
	Name        string
	Calibration float64 // mm, half-width; common to all readings, repeats never shrink it
	Scatter     float64 // mm, u of one reading
}

// Micrometer is a usual outside micrometer, ± 0.004 mm (common practice, no source).
func Micrometer() Gauge { return Gauge{"micrometer", 0.004, 0.001} }

// Calliper is a usual calliper, ± 0.03 mm (common practice, no source).
func Calliper() Gauge { return Gauge{"calliper", 0.03, 0.01} }

// CanDecide fails when the gauge is too coarse to tell the given difference in
// mm: its limit of error may be half of the difference at most, and no number of
// repeats mends a calibration.
func (g Gauge) CanDecide(difference float64) error {
	if err := need(named{"the difference to tell in mm", difference}); err != nil {
		return err
	}
	if !finite(g.Calibration) || g.Calibration < 0 || !finite(g.Scatter) || g.Scatter < 0 {
		return refuse("the %s has no true limits of error (± %v mm, scatter %v mm): give numbers of 0 or more", g.Name, g.Calibration, g.Scatter)
	}
	if g.Calibration > difference/2 {
		return refuse("a %s of ± %g mm can't decide %g mm, and repeats don't mend that: use a micrometer", g.Name, g.Calibration, difference)
	}
	if g.Scatter > difference {
		return refuse("a %s whose readings scatter by %g mm can't decide %g mm: clean the tube and the anvils, or use a better one", g.Name, g.Scatter, difference)
	}
	return nil
}

// Spot is one diameter of a tube.
type Spot struct {
	Height    float64 // mm from the lower end, or any fixed mark
	Direction float64 // degrees round the tube; 0 and 180 are the same diameter
	Diameter  float64 // mm
}

// TubeSum is the outcome of a tube's diameters; the Sum's value is the least
// diameter in mm.
type TubeSum struct {
	Sum
	LeastRead float64  `json:"least_read"` // lowest reading, before its bias is taken out
	Mean      float64  `json:"mean"`
	Ovality   *float64 `json:"ovality"` // greatest difference of directions at one height
	OvalityU  *float64 `json:"ovality_u"`
	Taper     *float64 `json:"taper"` // greatest difference between the means of heights
	TaperU    *float64 `json:"taper_u"`
	Worn      *float64 `json:"worn"` // new diameter less the least
	WornU     *float64 `json:"worn_u"`
}

// Diameters reduces the spots of one tube to least diameter, ovality and taper
// (differences, in which the calibration cancels). decide is the difference in
// mm that has to be told (0.02 as a rule); too coarse a gauge is refused.
// fresh is the diameter when new, nil if unknown. The lowest of several noisy
// readings is low by chance alone; the expected amount is taken out (LeastOf).
func Diameters(spots []Spot, g Gauge, decide float64, fresh *Known) (TubeSum, error) {
	if err := g.CanDecide(decide); err != nil {
		return TubeSum{}, err
	}
	if len(spots) == 0 || len(spots) > 1000 {
		return TubeSum{}, refuse("there are %d diameters: give 1 to 1000", len(spots))
	}
	ds := make([]float64, len(spots))
	var inputs []Input
	for i, s := range spots {
		if !finite(s.Height) || !finite(s.Direction) || !finite(s.Diameter) || s.Diameter < 1 || s.Diameter > 500 {
			return TubeSum{}, refuse("the diameter %v mm at height %v mm, direction %v° can't be right: give 1 to 500 mm", s.Diameter, s.Height, s.Direction)
		}
		ds[i] = s.Diameter
		inputs = append(inputs, Input{Name: fmt.Sprintf("height %g mm, %g°", s.Height, s.Direction), Value: s.Diameter, Unit: string(Millimetre), U: ptr(g.Scatter)})
	}
	least, u, err := LeastOf(ds, g.Scatter)
	if err != nil {
		return TubeSum{}, err
	}
	u = math.Hypot(u, g.Calibration/sqrt3)
	t := TubeSum{Sum: Sum{Value: ptr(least), U: ptr(u), Low: ptr(least - 1.959964*u), High: ptr(least + 1.959964*u),
		Unit: string(Millimetre), Formula: "least diameter, 2·min - E[min of readings with scatter]", Inputs: inputs, Remarks: []string{}}}
	t.shape(spots, g)
	if fresh != nil {
		if err := t.wear(*fresh, least, u); err != nil {
			return TubeSum{}, err
		}
	}
	return t, nil
}

// wear compares with the diameter when new.
func (t *TubeSum) wear(fresh Known, least, u float64) error {
	if err := need(named{"the diameter when new in mm", fresh.Value}); err != nil {
		return err
	}
	if fresh.Value > 500 || !finite(fresh.U) || fresh.U < 0 || fresh.U > fresh.Value {
		return refuse("the diameter when new, %v ± %v mm, can't be right: give 1 to 500 mm and its uncertainty", fresh.Value, fresh.U)
	}
	t.Worn, t.WornU = ptr(fresh.Value-least), ptr(math.Hypot(u, fresh.U))
	t.Inputs = append(t.Inputs, fresh.input("new", Millimetre))
	if *t.Worn < -2**t.WornU {
		t.remark("larger than when new: the gauge, its zero or the noted new diameter is wrong")
	}
	return nil
}

// shape fills mean, ovality and taper from the spots grouped by height.
func (t *TubeSum) shape(spots []Spot, g Gauge) {
	byHeight := map[float64][]float64{}
	t.LeastRead = spots[0].Diameter
	for _, s := range spots {
		byHeight[s.Height] = append(byHeight[s.Height], s.Diameter)
		t.LeastRead = min(t.LeastRead, s.Diameter)
		t.Mean += s.Diameter / float64(len(spots))
	}
	heights := make([]float64, 0, len(byHeight))
	for h := range byHeight {
		heights = append(heights, h)
	}
	sort.Float64s(heights)
	var means []float64
	fewest := len(spots)
	for _, h := range heights {
		ds := byHeight[h]
		sort.Float64s(ds)
		fewest = min(fewest, len(ds))
		if oval := ds[len(ds)-1] - ds[0]; len(ds) > 1 && (t.Ovality == nil || oval > *t.Ovality) {
			t.Ovality, t.OvalityU = ptr(oval), ptr(math.Sqrt2*g.Scatter)
		}
		sum := 0.0
		for _, d := range ds {
			sum += d
		}
		means = append(means, sum/float64(len(ds)))
	}
	if len(means) > 1 {
		sort.Float64s(means)
		t.Taper = ptr(means[len(means)-1] - means[0])
		t.TaperU = ptr(math.Sqrt2 * g.Scatter / math.Sqrt(float64(fewest)))
	}
	if t.Ovality == nil {
		t.remark("one direction only: no ovality; measure twice at 90° at each height")
	}
	if t.Taper == nil {
		t.remark("one height only: no taper; the wear is greatest where the bushings run")
	}
	t.remark("the lowest reading is low by chance; what is expected of that was added back")
}

// LeastOf estimates the least of k true values from k readings with scatter u
// each. The lowest reading is biased low, and the bias is estimated at the
// readings themselves: least = 2 min(x) - E[min(x_i + e_i)], e ~ N(0, u²); its u
// is √Var[min(x_i + e_i)]. Both moments come from the survival function
// Π(1 - Φ((m - x_i)/u)) by quadrature, which is a Monte Carlo run without its
// noise. Any one unit; u >= 0, one reading or more. The correction never goes
// above the mean of the readings.
func LeastOf(readings []float64, u float64) (least, uLeast float64, err error) {
	if len(readings) == 0 {
		return 0, 0, refuse("there is no reading: type one or more")
	}
	if !finite(u) || u < 0 {
		return 0, 0, refuse("the scatter %v can't be right: give a number of 0 or more", u)
	}
	low, mean := math.Inf(1), 0.0
	for _, x := range readings {
		if !finite(x) {
			return 0, 0, refuse("the reading %v is no number: read it again", x)
		}
		low = min(low, x)
		mean += x / float64(len(readings))
	}
	if u == 0 || len(readings) == 1 {
		return low, u, nil
	}
	m1, m2 := momentsOfLeast(readings, low, u)
	return min(low-u*m1, max(low, mean)), u * math.Sqrt(math.Max(0, m2-m1*m1)), nil
}

// momentsOfLeast gives the first two moments of (min(x_i+e_i) - low)/u by the
// trapezium rule on z = -9..9, where the integrand is smooth and dies at both
// ends: E z = ∫0..∞ S - ∫-∞..0 (1-S), E z² = 2∫ z S - 2∫ z(1-S).
func momentsOfLeast(readings []float64, low, u float64) (m1, m2 float64) {
	const half, step = 900, 0.01
	for i := -half; i <= half; i++ {
		z := float64(i) * step
		s := 1.0
		for _, x := range readings {
			if d := z - (x-low)/u; d > -9 {
				s *= distuv.UnitNormal.Survival(d)
			}
		}
		if i == 0 {
			m1 += step * (s - 0.5) // the two one-sided rules meet here with half a step each
			continue
		}
		if i < 0 {
			s -= 1
		}
		m1 += step * s
		m2 += step * 2 * z * s
	}
	// z·S has a kink at 0, for which the trapezium rule owes h²/6 (Euler-Maclaurin).
	return m1, m2 + step*step/6
}
