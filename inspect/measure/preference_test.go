package measure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Expected values: 1 in = 25.4 mm exactly (BIPM SI brochure); 1 psi =
// 0.0689475729 bar, 32 °F = 0 °C, 1 US fl oz = 29.5735295625 mL (NIST SP 811,
// appendix B).
func TestPreferenceShows(t *testing.T) {
	us := Preference{Length: Inch, Pressure: PSI, Volume: FluidOunce, Temperature: Fahrenheit}
	for _, c := range []struct {
		v, u   float64
		unit   Unit
		want   float64
		wantU  float64
		wantIn Unit
	}{
		{25.4, 0.0254, Millimetre, 1, 0.001, Inch},
		{0.689475729, 0.0689475729, Bar, 10, 1, PSI},
		{29.5735295625, 0, Millilitre, 1, 0, FluidOunce},
		{0, 1, Celsius, 32, 1.8, Fahrenheit},
		{6, 0.5, NewtonMetre, 6, 0.5, NewtonMetre},
		{3, 0.5, SquareMM, 3, 0.5, SquareMM},
	} {
		v, u, unit := us.Show(c.v, c.u, c.unit)
		if math.Abs(v-c.want) > 1e-6 || math.Abs(u-c.wantU) > 1e-6 || unit != c.wantIn {
			t.Errorf("%g ± %g %s shows as %g ± %g %s, want %g ± %g %s", c.v, c.u, c.unit, v, u, unit, c.want, c.wantU, c.wantIn)
		}
		v, u, unit = (Preference{}).Show(c.v, c.u, c.unit)
		if v != c.v || u != c.u || unit != c.unit {
			t.Errorf("without a choice %g %s shows as %g %s", c.v, c.unit, v, unit)
		}
	}
}

// A unit of another kind is never taken: a shop that chose psi for lengths by a
// broken file still reads millimetres.
func TestPreferenceOfAnotherKindCountsForNothing(t *testing.T) {
	bad := Preference{Length: PSI, Pressure: Inch, Volume: Celsius, Temperature: Bar}
	for _, u := range []Unit{Millimetre, Bar, Millilitre, Celsius} {
		if got := bad.For(u); got != u {
			t.Errorf("%s is shown in %s", u, got)
		}
	}
}

// What is shown and typed again is what was recorded, in every choice.
func TestPreferenceTypedIsWhatWasShown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]Kind{KindLength, KindGauge, KindVolume, KindTemperature}).Draw(t, "kind")
		units := Choices(kind)
		chosen := rapid.SampledFrom(units).Draw(t, "chosen")
		p := Preference{Length: chosen, Pressure: chosen, Volume: chosen, Temperature: chosen}
		v := rapid.Float64Range(0, 500).Draw(t, "value")
		shown, _, unit := p.Show(v, 0, units[0])
		q, err := p.Typed(Quantity{Value: shown, Unit: unit}.Format(9), units[0])
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(q.Value-v) > 1e-6 || q.Unit != units[0] {
			t.Fatalf("%g %s was shown as %g %s and typed again as %g %s", v, units[0], shown, unit, q.Value, q.Unit)
		}
	})
}

func TestATypedUnitBeatsTheChoice(t *testing.T) {
	us := Preference{Pressure: PSI}
	for text, want := range map[string]float64{"85": 85 * psiBar, "6 bar": 6, "85 psi": 85 * psiBar} {
		q, err := us.Typed(text, Bar)
		if err != nil || math.Abs(q.Value-want) > 1e-9 {
			t.Errorf("%q is %g bar (%v), want %g", text, q.Value, err, want)
		}
	}
	if _, err := us.Typed("12 mm", Bar); err == nil {
		t.Error("a length was taken for a pressure")
	}
}
