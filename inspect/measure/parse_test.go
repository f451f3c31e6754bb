package measure

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseWhatPeopleType(t *testing.T) {
	for _, c := range []struct {
		text string
		want Unit
		out  float64
		src  string
	}{
		{"70cc", Millilitre, 70, "1 cc = 1 mL, common practice"},
		{"70", Millilitre, 70, "arithmetic"},
		{"2,5 mm", Millimetre, 2.5, "arithmetic"},
		{"34,985", Millimetre, 34.985, "decimal comma"},
		{"45 psi", Bar, 3.10264078, "NIST SP 811: 1 psi = 6894.757 Pa"},
		{"1/4 turn", Turn, 0.25, "arithmetic"},
		{"1 1/2 turns", Turn, 1.5, "arithmetic"},
		{"1½", Turn, 1.5, "arithmetic"},
		{"90°", Turn, 0.25, "360° to the turn"},
		{"6.2 bar", Bar, 6.2, "arithmetic"},
		{"6,2bar", Bar, 6.2, "arithmetic"},
		{"0.3in", Millimetre, 7.62, "1 in = 25.4 mm"},
		{"3/8\"", Millimetre, 9.525, "1 in = 25.4 mm"},
		{"250 kPa", Bar, 2.5, "1 bar = 100 kPa"},
		{"1013.25 hPa", BarAbs, 1.01325, "1 bar = 1000 hPa"},
		{"2 bar", BarAbs, 2, "unmarked takes the sense wanted"},
		{"12 Nm", NewtonMetre, 12, "arithmetic"},
		{"12 N·m", NewtonMetre, 12, "arithmetic"},
		{"10 ft-lb", NewtonMetre, 13.55817948, "NIST SP 811: 1 ft·lbf = 1.355818 N·m"},
		{"60 in lb", NewtonMetre, 6.7790897, "NIST SP 811: 1 in·lbf = 0.1129848 N·m"},
		{"2 kg", Newton, 19.6133, "9.80665 m/s²"},
		{"68 F", Celsius, 20, "definition"},
		{"20 °C", Kelvin, 293.15, "definition"},
		{"−5 °C", Celsius, -5, "arithmetic"},
		{"90 min", Hour, 1.5, "arithmetic"},
		{"1 fl oz", Millilitre, 29.57353, "NIST SP 811: US fluid ounce 29.57353 mL"},
		{"25 %", Percent, 25, "arithmetic"},
		{"20 µm", Millimetre, 0.02, "arithmetic"},
		{"5e-05", Millimetre, 5e-5, "arithmetic"},
	} {
		q, err := Parse(c.text, c.want)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		near(t, c.text+" ("+c.src+")", q.Value, c.out, 1e-6*math.Max(1, math.Abs(c.out)))
		if q.Unit != c.want {
			t.Errorf("%q gives %s, want %s", c.text, q.Unit, c.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		want Unit
	}{
		{"", Millimetre}, {"   ", Millimetre}, {"mm", Millimetre}, {"NaN", Bar}, {"Inf", Bar}, {"1.2.3", Bar},
		{"1.234,5", Millimetre}, {"1,234.5", Millimetre}, {"1 2", Turn}, {"1/0 turn", Turn}, {"1/2/3", Turn},
		{"1 3/2 turns", Turn}, {"70 cc", Millimetre}, {"6 bar abs", Bar}, {"6 barg", BarAbs}, {"5 furlong", Millimetre},
		{"1e999", Bar}, {"-300 °C", Celsius}, {"5", "stone"}, {"--5", Bar}, {"\xff5", Bar}, {strings.Repeat("9", 65), Bar},
		{"0x10", Bar}, {"5 kg", NewtonMetre}, {"1 hPa", Bar},
	} {
		if q, err := Parse(c.text, c.want); err == nil {
			t.Errorf("Parse(%q, %s) = %v, want a refusal", c.text, c.want, q)
		} else if len(err.Error()) < 20 {
			t.Errorf("Parse(%q): the refusal %q says too little", c.text, err)
		}
	}
}

// Every unit's own sign is read back, and every conversion comes back.
func TestRoundTrips(t *testing.T) {
	units := AllUnits()
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(units).Draw(t, "unit")
		x := rapid.Float64Range(0, 1e6).Draw(t, "x")
		q := Quantity{x, u}
		back, err := Parse(q.String(), u)
		if err != nil || back != q {
			t.Fatalf("%q reads as %v, %v", q.String(), back, err)
		}
		for _, v := range units {
			if KindOf(v) != KindOf(u) {
				if _, err := q.In(v); err == nil {
					t.Fatalf("%v turned into %s", q, v)
				}
				continue
			}
			there, err := q.In(v)
			if err != nil {
				t.Fatal(err)
			}
			again, err := there.In(u)
			if err != nil || math.Abs(again.Value-x) > 1e-9*(1000+x) {
				t.Fatalf("%v -> %v -> %v, %v", q, there, again, err)
			}
		}
	})
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		q    Quantity
		dec  int
		want string
	}{
		{Quantity{2.5, Millimetre}, 2, "2.50 mm"}, {Quantity{-0.001, Bar}, 1, "0.0 bar"},
		{Quantity{90, Degree}, 0, "90°"}, {Quantity{0.75, Pure}, 2, "0.75"},
	} {
		if got := c.q.Format(c.dec); got != c.want { // arithmetic
			t.Errorf("Format = %q, want %q", got, c.want)
		}
	}
}

func TestGaugeAndAbsolute(t *testing.T) {
	if p := GaugeBar(2.5).Absolute(StandardAtmosphere); math.Abs(float64(p)-3.51325) > 1e-12 { // 2.5 + 1.01325
		t.Errorf("absolute %v", p)
	}
	if p := GaugeBar(2.5).Absolute(0.9).Gauge(0.9); math.Abs(float64(p)-2.5) > 1e-12 {
		t.Errorf("there and back %v", p)
	}
}

// FuzzParse: any bytes give a finite number in the unit wanted, or a refusal.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"70cc", "2,5 mm", "45 psi", "1/4 turn", "1½ turns", "6.2 bar abs", "0.3in", "3/8\"", "-", "1e", "/", "1 /", "½½", "9e307", "5e-324 in"} {
		f.Add(s, 3)
	}
	units := AllUnits()
	f.Fuzz(func(t *testing.T, text string, n int) {
		u := units[((n%len(units))+len(units))%len(units)]
		q, err := Parse(text, u)
		if err != nil {
			return
		}
		if !finite(q.Value) || q.Unit != u {
			t.Fatalf("Parse(%q, %s) = %v", text, u, q)
		}
		if s := q.String(); len(s) <= maxTyped {
			back, err := Parse(s, u)
			if err != nil || back.Value != q.Value {
				t.Fatalf("%q -> %v -> %q -> %v, %v", text, q, s, back, err)
			}
		}
	})
}
