package dropoff

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"forkwear/inspect/measure"
	"forkwear/ui/words"
)

// psiBar is the pound per square inch in bar: 6894.757 Pa (NIST SP 811, B.8).
const psiBar = 0.06894757

// A pressure typed in psi is kept in bar and shown again as it was typed, with
// a point or a comma, with or without its unit.
func TestTypedInPsiKeptInBar(t *testing.T) {
	t.Cleanup(func() { words.UseUnits(measure.Preference{}) })
	words.UseUnits(measure.Preference{Pressure: measure.PSI})
	rapid.Check(t, func(r *rapid.T) {
		tenths := rapid.IntRange(1, 3000).Draw(r, "tenths of psi")
		text := strconv.Itoa(tenths/10) + rapid.SampledFrom([]string{".", ","}).Draw(r, "sign") + strconv.Itoa(tenths%10)
		behind := rapid.SampledFrom([]string{"", " psi"}).Draw(r, "unit")
		f := blank()
		f.Settings["air_pressure"] = text + behind
		found := f.found()
		if len(found) != 1 || found[0].Unit != "bar" {
			r.Fatalf("kept %+v", found)
		}
		if want := float64(tenths) / 10 * psiBar; math.Abs(found[0].Value-want) > 1e-6*want {
			r.Fatalf("%q is kept as %v bar, want %v", text, found[0].Value, want)
		}
		if got := fieldText(found[0]); got != text+behind {
			r.Fatalf("%q is shown again as %q", text+behind, got)
		}
		want := text + behind
		if behind == "" {
			want = text + words.Thin + "psi"
		}
		if got := words.SettingValue(found[0]); got != want {
			r.Fatalf("%q is told as %q", text, got)
		}
	})
}

// Where the shop changes its unit, a bare number of the old one is turned into
// the new one and never read as if it had been typed in it.
func TestChangedUnitIsNotReadIntoOldNumbers(t *testing.T) {
	t.Cleanup(func() { words.UseUnits(measure.Preference{}) })
	words.UseUnits(measure.Preference{Pressure: measure.PSI})
	f := blank()
	f.Settings["air_pressure"] = "80"
	kept := f.found()[0]
	words.UseUnits(measure.Preference{})
	again := blank()
	again.Settings["air_pressure"] = fieldText(kept)
	if v := again.found()[0].Value; math.Abs(v-80*psiBar) > 1e-3 {
		t.Errorf("80 psi came back as %v bar", v)
	}
}

// The label over the field names the shop's unit.
func TestFieldNamesTheShopsUnit(t *testing.T) {
	t.Cleanup(func() { words.UseUnits(measure.Preference{}) })
	if u := words.Unit(settingFields[0].unit); u != "bar" {
		t.Errorf("without a choice %q", u)
	}
	words.UseUnits(measure.Preference{Pressure: measure.PSI})
	if u := words.Unit(settingFields[0].unit); u != "psi" {
		t.Errorf("with psi %q", u)
	}
}
