package measure

import (
	"math"
	"strconv"
)

// The quantity types. They are distinct so that the compiler refuses a gauge
// pressure where an absolute one is needed, or a length where a volume is.
type (
	Length      float64 // mm
	Volume      float64 // mL (= cm³)
	GaugeBar    float64 // bar above the air around
	AbsoluteBar float64 // bar above nothing
	Torque      float64 // N·m
	Force       float64 // N
	Hours       float64 // h
	Temperature float64 // K
)

// FromCelsius makes a temperature from degrees Celsius.
func FromCelsius(c float64) Temperature { return Temperature(c + 273.15) }

// Celsius gives the temperature in °C.
func (t Temperature) Celsius() float64 { return float64(t) - 273.15 }

// Absolute adds the pressure of the air around: p_abs = p + p_atm.
func (p GaugeBar) Absolute(atm AbsoluteBar) AbsoluteBar {
	return AbsoluteBar(float64(p) + float64(atm))
}

// Gauge takes the pressure of the air around away: p = p_abs - p_atm.
func (p AbsoluteBar) Gauge(atm AbsoluteBar) GaugeBar { return GaugeBar(float64(p) - float64(atm)) }

// Quantity is a number in a unit that is only known when it is typed.
type Quantity struct {
	Value float64
	Unit  Unit
}

// In gives q in another unit of the same kind; errors as Convert.
func (q Quantity) In(u Unit) (Quantity, error) {
	v, err := Convert(q.Value, q.Unit, u)
	return Quantity{v, u}, err
}

// Length gives q in mm, or an error where q is no length.
func (q Quantity) Length() (Length, error) { r, err := q.In(Millimetre); return Length(r.Value), err }

// Volume gives q in mL, or an error where q is no volume.
func (q Quantity) Volume() (Volume, error) { r, err := q.In(Millilitre); return Volume(r.Value), err }

// Gauge gives q in bar gauge, or an error where q is no gauge pressure.
func (q Quantity) Gauge() (GaugeBar, error) { r, err := q.In(Bar); return GaugeBar(r.Value), err }

// Absolute gives q in bar absolute, or an error where q is no absolute pressure.
func (q Quantity) Absolute() (AbsoluteBar, error) {
	r, err := q.In(BarAbs)
	return AbsoluteBar(r.Value), err
}

// Torque gives q in N·m, or an error where q is no torque.
func (q Quantity) Torque() (Torque, error) { r, err := q.In(NewtonMetre); return Torque(r.Value), err }

// Force gives q in N, or an error where q is no force.
func (q Quantity) Force() (Force, error) { r, err := q.In(Newton); return Force(r.Value), err }

// Hours gives q in h, or an error where q is no time.
func (q Quantity) Hours() (Hours, error) { r, err := q.In(Hour); return Hours(r.Value), err }

// Temperature gives q in K, or an error where q is no temperature.
func (q Quantity) Temperature() (Temperature, error) {
	r, err := q.In(Kelvin)
	return Temperature(r.Value), err
}

// String writes q with all its digits, so that Parse reads the same number back.
func (q Quantity) String() string {
	form := byte('f')
	if a := math.Abs(q.Value); a != 0 && (a < 1e-6 || a >= 1e15) {
		form = 'e'
	}
	return withUnit(strconv.FormatFloat(q.Value, form, -1, 64), q.Unit)
}

// Format writes q with the given number of decimals (0 to 12), rounded half to
// even as strconv does; zero never shows as -0.
func (q Quantity) Format(decimals int) string {
	decimals = max(0, min(12, decimals))
	s := strconv.FormatFloat(q.Value, 'f', decimals, 64)
	if v, err := strconv.ParseFloat(s, 64); err == nil && v == 0 {
		s = strconv.FormatFloat(0, 'f', decimals, 64)
	}
	return withUnit(s, q.Unit)
}

func withUnit(s string, u Unit) string {
	switch u {
	case Pure, "":
		return s
	case Degree:
		return s + string(u)
	}
	return s + " " + string(u)
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
