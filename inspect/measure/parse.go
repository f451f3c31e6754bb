package measure

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// maxTyped is the longest text that Parse looks at, in bytes.
const maxTyped = 64

// Parse reads what a person types as a number with or without a unit, and gives
// it in the unit that is wanted: "70cc", "2,5 mm", "45 psi", "1/4 turn",
// "1 1/2 turns", "½ turn", "6.2 bar", "0.3in", "3/8\"".
//
// A number without a unit is in the unit wanted. Comma and point are both the
// decimal sign; a text with both is refused, since either could mean thousands.
// A pressure without "abs" takes the sense that is wanted; one marked gauge or
// absolute is refused where the other is wanted. kg and lb are read as forces
// (a luggage scale) where a force is wanted. want must be a known unit.
func Parse(text string, want Unit) (Quantity, error) {
	target, ok := scaleOf(want)
	if !ok {
		return Quantity{}, refuse("the unit %q is unknown: use one of %s", want, unitList())
	}
	if len(text) > maxTyped || !utf8.ValidString(text) {
		return Quantity{}, refuse("that is too long or garbled for a number in %s: type it like 2.5 %s", want, want)
	}
	s := tidy(text)
	if s == "" {
		return Quantity{}, refuse("nothing was typed: type a number in %s", want)
	}
	value, rest, err := leadingNumber(s)
	if err != nil {
		return Quantity{}, refuse("%q can't be read: %w; type it like 2.5 %s", text, err, want)
	}
	from := want
	if rest != "" {
		if from, ok = unitByName(rest, target.kind); !ok {
			return Quantity{}, refuse("%q has the unit %q, which is unknown: a number in %s is wanted", text, rest, want)
		}
	}
	v, err := Convert(value, from, want)
	if err != nil {
		return Quantity{}, refuse("%q doesn't fit: %w", text, err)
	}
	if target.kind == KindTemperature {
		if k, err := Convert(v, want, Kelvin); err != nil || k < 0 {
			return Quantity{}, refuse("%q is below absolute zero (-273.15 °C)", text)
		}
	}
	return Quantity{v, want}, nil
}

// ParseUnit reads the name of a unit in any of its usual spellings.
func ParseUnit(name string) (Unit, error) {
	if len(name) <= maxTyped && utf8.ValidString(name) {
		if u, ok := unitByName(tidy(name), ""); ok {
			return u, nil
		}
	}
	return "", refuse("the unit %q is unknown: use one of %s", clip(name), unitList())
}

// clip keeps an error message short and printable.
func clip(s string) string {
	s = strings.ToValidUTF8(s, "?")
	if r := []rune(s); len(r) > 24 {
		return string(r[:24]) + "..."
	}
	return s
}

// tidy makes one spelling of the signs that keyboards and phones put in.
func tidy(s string) string {
	s = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ",
		"−", "-", "–", "-", "½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⁄", "/",
		"″", "\"", "”", "\"", "''", "\"", "µ", "µ", "μ", "µ").Replace(s)
	return strings.Join(strings.Fields(s), " ")
}

// leadingNumber splits "1 1/2 turns" into 1.5 and "turns".
func leadingNumber(s string) (value float64, rest string, err error) {
	sign := 1.0
	switch {
	case strings.HasPrefix(s, "-"):
		sign, s = -1, s[1:]
	case strings.HasPrefix(s, "+"):
		s = s[1:]
	}
	s = strings.TrimLeft(s, " ")
	first, rest, err := decimal(s)
	if err != nil {
		return 0, "", err
	}
	rest = strings.TrimLeft(rest, " ")
	if strings.HasPrefix(rest, "/") {
		value, rest, err = divide(first, rest[1:])
		return sign * value, strings.TrimSpace(rest), err
	}
	if rest != "" && isDigit(rest[0]) { // a whole number and a fraction
		top, after, err := decimal(rest)
		after = strings.TrimLeft(after, " ")
		if err != nil || !strings.HasPrefix(after, "/") || first != math.Trunc(first) {
			return 0, "", refuse("there are two numbers")
		}
		part, after, err := divide(top, after[1:])
		if err != nil {
			return 0, "", err
		}
		if part >= 1 {
			return 0, "", refuse("the fraction after the whole number is not below 1")
		}
		return sign * (first + part), strings.TrimSpace(after), nil
	}
	if strings.ContainsAny(rest[:min(1, len(rest))], ".,") {
		return 0, "", refuse("there are two decimal signs")
	}
	return sign * first, strings.TrimSpace(rest), nil
}

func divide(top float64, s string) (float64, string, error) {
	s = strings.TrimLeft(s, " ")
	bottom, rest, err := decimal(s)
	if err != nil {
		return 0, "", err
	}
	if bottom == 0 || !finite(top/bottom) {
		return 0, "", refuse("a fraction needs a number other than 0 below the line")
	}
	rest = strings.TrimLeft(rest, " ")
	if rest != "" && (isDigit(rest[0]) || strings.ContainsAny(rest[:1], "./,")) {
		return 0, "", refuse("there is a number too many after the fraction")
	}
	return top / bottom, rest, nil
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// decimal reads digits with at most one decimal sign and, for scripts, an
// exponent as in 5e-05.
func decimal(s string) (float64, string, error) {
	i, digits, marks := 0, 0, 0
	for ; i < len(s); i++ {
		if isDigit(s[i]) {
			digits++
		} else if (s[i] == '.' || s[i] == ',') && marks == 0 {
			marks++
		} else {
			break
		}
	}
	if digits == 0 {
		return 0, "", refuse("there is no number")
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		start := j
		for j < len(s) && isDigit(s[j]) {
			j++
		}
		if j > start {
			i = j
		}
	}
	v, err := strconv.ParseFloat(strings.Replace(s[:i], ",", ".", 1), 64)
	if err != nil || !finite(v) {
		return 0, "", refuse("the number is too large")
	}
	return v, s[i:], nil
}

// unitByName finds a unit by its spellings; kind settles names with two senses.
func unitByName(name string, kind Kind) (Unit, bool) {
	plain := strings.ToLower(strings.TrimSuffix(name, "."))
	key := strings.NewReplacer(" ", "", "·", "", "*", "", "-", "", ".", "", "³", "3", "²", "2", "^", "", "(", "", ")", "").Replace(plain)
	if u, ok := pressureByName(key, kind); ok {
		return u, true
	}
	switch key {
	case "kg", "kgs", "kgf", "kp":
		return KilogramF, key == "kgf" || key == "kp" || kind == KindForce
	case "lb", "lbs", "lbf":
		return PoundForce, key == "lbf" || kind == KindForce
	case "m":
		if kind == KindTime {
			return Minute, true
		}
		return Metre, true
	case "d":
		return Day, kind == KindTime || kind == ""
	case "c":
		return Celsius, kind == KindTemperature || kind == ""
	case "f":
		return Fahrenheit, kind == KindTemperature || kind == ""
	case "oz":
		return FluidOunce, kind == KindVolume
	case "°", "deg", "degree", "degrees":
		if kind == KindTemperature {
			return Celsius, true
		}
		return Degree, true
	}
	u, ok := unitBySpelling(key)
	return u, ok
}

func unitBySpelling(key string) (Unit, bool) {
	for _, s := range []struct {
		unit  Unit
		names string
	}{
		{Millimetre, "mm millimetre millimetres millimeter millimeters"},
		{Micrometre, "µm um micron microns micrometre micrometres micrometer micrometers"},
		{Centimetre, "cm centimetre centimetres centimeter centimeters"},
		{Metre, "metre metres meter meters"},
		{Inch, "in inch inches \""},
		{Thou, "thou mil mils"},
		{Millilitre, "ml cc ccm cm3 millilitre millilitres milliliter milliliters"},
		{Centilitre, "cl"},
		{Litre, "l litre litres liter liters"},
		{FluidOunce, "floz"},
		{NewtonMetre, "nm newtonmetre newtonmetres newtonmeter newtonmeters"},
		{FootPound, "ftlb ftlbs ftlbf lbft lbfft"},
		{InchPound, "inlb inlbs inlbf lbin lbfin"},
		{Newton, "n newton newtons"},
		{Hour, "h hr hrs hour hours"},
		{Minute, "min mins minute minutes"},
		{Day, "day days"},
		{Celsius, "°c degc celsius ℃"},
		{Fahrenheit, "°f degf fahrenheit ℉"},
		{Kelvin, "k kelvin"},
		{Turn, "turn turns rev revs t"},
		{Click, "click clicks clk"},
		{Percent, "% percent pct"},
		{SquareMM, "mm2"},
		{SquareCM, "cm2"},
		{Pure, "1"},
	} {
		for _, n := range strings.Fields(s.names) {
			if n == key {
				return s.unit, true
			}
		}
	}
	return "", false
}

// pressureByName reads bar, psi, kPa and hPa (mbar) with an optional mark of
// gauge (g) or absolute (a); without a mark, kind decides and gauge is usual,
// but hPa is always the weather's pressure, thus absolute.
func pressureByName(key string, kind Kind) (Unit, bool) {
	for _, s := range []struct {
		name       string
		gauge, abs Unit
	}{{"bar", Bar, BarAbs}, {"bars", Bar, BarAbs}, {"psi", PSI, PSIAbs}, {"kpa", Kilopascal, KPaAbs},
		{"hpa", HPaAbs, HPaAbs}, {"mbar", HPaAbs, HPaAbs}} {
		switch strings.TrimPrefix(key, s.name) {
		case "":
			if key == "" {
				continue
			}
			if kind == KindAbsolute {
				return s.abs, true
			}
			return s.gauge, true
		case "g", "gauge":
			if s.gauge != HPaAbs && strings.HasPrefix(key, s.name) {
				return s.gauge, true
			}
		case "a", "abs", "absolute":
			if strings.HasPrefix(key, s.name) {
				return s.abs, true
			}
		}
	}
	return "", false
}
