package measure

import "math"

// Preference is the units that a shop reads and types; an empty one leaves the
// unit of the record: mm, bar, mL, °C.
type Preference struct {
	Length, Pressure, Volume, Temperature Unit
}

// Choices are the units a shop can choose from for each kind, the record's own
// first.
func Choices(k Kind) []Unit {
	switch k {
	case KindLength:
		return []Unit{Millimetre, Inch}
	case KindGauge:
		return []Unit{Bar, PSI}
	case KindVolume:
		return []Unit{Millilitre, FluidOunce}
	case KindTemperature:
		return []Unit{Celsius, Fahrenheit}
	}
	return nil
}

// For is the unit in which a value recorded in u is shown and typed.
func (p Preference) For(u Unit) Unit {
	want := Unit("")
	switch u {
	case Millimetre:
		want = p.Length
	case Bar:
		want = p.Pressure
	case Millilitre:
		want = p.Volume
	case Celsius:
		want = p.Temperature
	}
	if want == "" || KindOf(want) != KindOf(u) {
		return u
	}
	return want
}

// Show turns a value and its standard uncertainty, recorded in u, into the
// preferred unit. Temperatures shift, their uncertainty only scales.
func (p Preference) Show(v, s float64, u Unit) (value, uncertainty float64, unit Unit) {
	to := p.For(u)
	if to == u {
		return v, s, u
	}
	value, err := Convert(v, u, to)
	if err != nil {
		return v, s, u
	}
	one, err := Convert(v+1, u, to)
	if err != nil {
		return v, s, u
	}
	return value, s * math.Abs(one-value), to
}

// Typed reads what was typed for a value that is recorded in u: a number
// without a unit is meant in the preferred one.
func (p Preference) Typed(text string, u Unit) (Quantity, error) {
	q, err := Parse(text, p.For(u))
	if err != nil {
		return Quantity{}, err
	}
	return q.In(u)
}
