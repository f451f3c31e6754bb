package measure

import (
	"sort"
	"strings"

	"forkwear/inspect"
)

// Kind is what a unit measures; only units of one kind convert into each other.
type Kind string

// The kinds. Gauge and absolute pressure are two: changing one into the other
// needs the pressure of the air around.
const (
	KindLength      Kind = "length"
	KindVolume      Kind = "volume"
	KindGauge       Kind = "gauge pressure"
	KindAbsolute    Kind = "absolute pressure"
	KindTorque      Kind = "torque"
	KindForce       Kind = "force"
	KindTime        Kind = "time"
	KindTemperature Kind = "temperature"
	KindTurn        Kind = "turns"
	KindClick       Kind = "clicks"
	KindShare       Kind = "share"
	KindArea        Kind = "area"
	KindNumber      Kind = "number"
)

// Unit is a unit by its written sign.
type Unit string

// The units that values are shown and typed in.
const (
	Millimetre  Unit = "mm"
	Micrometre  Unit = "µm"
	Centimetre  Unit = "cm"
	Metre       Unit = "m"
	Inch        Unit = "in"
	Thou        Unit = "thou"
	Millilitre  Unit = "mL"
	Centilitre  Unit = "cL"
	Litre       Unit = "L"
	FluidOunce  Unit = "fl oz"
	Bar         Unit = "bar"
	PSI         Unit = "psi"
	Kilopascal  Unit = "kPa"
	BarAbs      Unit = "bar abs"
	PSIAbs      Unit = "psi abs"
	KPaAbs      Unit = "kPa abs"
	HPaAbs      Unit = "hPa"
	NewtonMetre Unit = "N·m"
	FootPound   Unit = "ft·lbf"
	InchPound   Unit = "in·lbf"
	Newton      Unit = "N"
	KilogramF   Unit = "kgf"
	PoundForce  Unit = "lbf"
	Hour        Unit = "h"
	Minute      Unit = "min"
	Day         Unit = "d"
	Celsius     Unit = "°C"
	Fahrenheit  Unit = "°F"
	Kelvin      Unit = "K"
	Turn        Unit = "turn"
	Degree      Unit = "°"
	Click       Unit = "click"
	Percent     Unit = "%"
	SquareMM    Unit = "mm²"
	SquareCM    Unit = "cm²"
	Pure        Unit = "1"
	BarPerDay   Unit = "bar/24 h" // results only, converts into nothing else
)

// scale says how a unit turns into its kind's first unit: first = value*factor + shift.
type scale struct {
	kind   Kind
	factor float64
	shift  float64
}

// Factors: the inch is 25.4 mm, the pound 0.45359237 kg and standard gravity
// 9.80665 m/s² exactly (BIPM SI brochure and NIST SP 811, appendix B); psi, ft·lbf
// and the US fluid ounce follow from them (1 US gal = 231 in³, 128 fl oz).
const (
	poundForceN = 0.45359237 * 9.80665
	psiBar      = poundForceN / (0.0254 * 0.0254) / 1e5
)

func scaleOf(u Unit) (scale, bool) {
	switch u {
	case Millimetre:
		return scale{KindLength, 1, 0}, true
	case Micrometre:
		return scale{KindLength, 1e-3, 0}, true
	case Centimetre:
		return scale{KindLength, 10, 0}, true
	case Metre:
		return scale{KindLength, 1000, 0}, true
	case Inch:
		return scale{KindLength, 25.4, 0}, true
	case Thou:
		return scale{KindLength, 0.0254, 0}, true
	case Millilitre:
		return scale{KindVolume, 1, 0}, true
	case Centilitre:
		return scale{KindVolume, 10, 0}, true
	case Litre:
		return scale{KindVolume, 1000, 0}, true
	case FluidOunce:
		return scale{KindVolume, 231 * 25.4 * 25.4 * 25.4 / 1000 / 128, 0}, true
	case Turn:
		return scale{KindTurn, 1, 0}, true
	case Degree:
		return scale{KindTurn, 1.0 / 360, 0}, true
	case Click:
		return scale{KindClick, 1, 0}, true
	case Percent:
		return scale{KindShare, 1, 0}, true
	case SquareMM:
		return scale{KindArea, 1, 0}, true
	case SquareCM:
		return scale{KindArea, 100, 0}, true
	case Pure:
		return scale{KindNumber, 1, 0}, true
	}
	return scaleOfStrain(u)
}

// scaleOfStrain is the second half of scaleOf: pressures, forces, torques, time, heat.
func scaleOfStrain(u Unit) (scale, bool) {
	switch u {
	case Bar:
		return scale{KindGauge, 1, 0}, true
	case PSI:
		return scale{KindGauge, psiBar, 0}, true
	case Kilopascal:
		return scale{KindGauge, 0.01, 0}, true
	case BarAbs:
		return scale{KindAbsolute, 1, 0}, true
	case PSIAbs:
		return scale{KindAbsolute, psiBar, 0}, true
	case KPaAbs:
		return scale{KindAbsolute, 0.01, 0}, true
	case HPaAbs:
		return scale{KindAbsolute, 0.001, 0}, true
	case NewtonMetre:
		return scale{KindTorque, 1, 0}, true
	case FootPound:
		return scale{KindTorque, poundForceN * 0.3048, 0}, true
	case InchPound:
		return scale{KindTorque, poundForceN * 0.0254, 0}, true
	case Newton:
		return scale{KindForce, 1, 0}, true
	case KilogramF:
		return scale{KindForce, 9.80665, 0}, true
	case PoundForce:
		return scale{KindForce, poundForceN, 0}, true
	case Hour:
		return scale{KindTime, 1, 0}, true
	case Minute:
		return scale{KindTime, 1.0 / 60, 0}, true
	case Day:
		return scale{KindTime, 24, 0}, true
	case Celsius:
		return scale{KindTemperature, 1, 0}, true
	case Fahrenheit:
		return scale{KindTemperature, 5.0 / 9, -160.0 / 9}, true
	case Kelvin:
		return scale{KindTemperature, 1, -273.15}, true
	}
	return scale{}, false
}

// KindOf tells what u measures, "" for an unknown unit.
func KindOf(u Unit) Kind { s, _ := scaleOf(u); return s.kind }

// Convert changes x from one unit to another of the same kind. It fails for an
// unknown unit, for two kinds, for a number that isn't finite and for a
// temperature below absolute zero.
func Convert(x float64, from, to Unit) (float64, error) {
	if !finite(x) {
		return 0, refuse("%v is no number to convert: type it again", x)
	}
	a, ok := scaleOf(from)
	if !ok {
		return 0, refuse("the unit %q is unknown: use one of %s", from, unitList())
	}
	b, ok := scaleOf(to)
	if !ok {
		return 0, refuse("the unit %q is unknown: use one of %s", to, unitList())
	}
	if a.kind != b.kind {
		return 0, refuse("%s is a unit of %s, but %s (%s) is wanted here", from, a.kind, b.kind, to)
	}
	if from == to {
		return x, nil
	}
	base := x*a.factor + a.shift
	y := (base - b.shift) / b.factor
	if !finite(y) {
		return 0, refuse("%g %s is too large to convert to %s", x, from, to)
	}
	return y, nil
}

// AllUnits lists the units that can be converted, in order of their sign.
func AllUnits() []Unit {
	us := []Unit{Millimetre, Micrometre, Centimetre, Metre, Inch, Thou, Millilitre, Centilitre, Litre,
		FluidOunce, Bar, PSI, Kilopascal, BarAbs, PSIAbs, KPaAbs, HPaAbs, NewtonMetre, FootPound, InchPound,
		Newton, KilogramF, PoundForce, Hour, Minute, Day, Celsius, Fahrenheit, Kelvin, Turn, Degree, Click,
		Percent, SquareMM, SquareCM, Pure}
	sort.Slice(us, func(i, j int) bool { return us[i] < us[j] })
	return us
}

func unitList() string {
	var names []string
	for _, u := range AllUnits() {
		names = append(names, string(u))
	}
	return strings.Join(names, ", ")
}

func refuse(format string, args ...any) error {
	return inspect.Refuse(inspect.Invalid, format, args...)
}
