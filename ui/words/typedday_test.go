package words

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"forkwear/inspect"
	"forkwear/inspect/measure"
	"forkwear/ui/tongue"
)

var today = time.Date(2026, 5, 12, 14, 2, 0, 0, time.FixedZone("", 2*3600))

// By the calendar.
func TestTypedDay(t *testing.T) {
	for text, want := range map[string]string{
		"19 May": "2026-05-19", "2026-11-30": "2026-11-30", "2 Jan 2027": "2027-01-02", "19.5.2026": "2026-05-19", "19. Mai": "2026-05-19",
		"3. März 2027": "2027-03-03", "11 May": "2027-05-11", "12.5.": "2026-05-12", "2. Dez. 2026": "2026-12-02", "1 september": "2026-09-01",
		"31 June": "", "soon": "", "": "", "30": "", "1 2": "", "5 x 2026": "", "1.13.2026": "", "19 May 26": "", "2026-02-30": "",
	} {
		got, ok := TypedDay(text, today)
		if ok != (want != "") || ok && got.Format("2006-01-02") != want {
			t.Errorf("%q: %v, %v, want %s", text, got, ok, want)
		}
	}
}

// What is written into a field can be read out of it again, in every language.
func TestDateIsReadBack(t *testing.T) {
	t.Cleanup(func() { _ = tongue.Use(tongue.English) })
	rapid.Check(t, func(r *rapid.T) {
		day := time.Date(2026, 1, 1, 12, 0, 0, 0, today.Location()).AddDate(0, 0, rapid.IntRange(0, 3000).Draw(r, "days"))
		for _, l := range tongue.Languages() {
			if err := tongue.Use(l.Code); err != nil {
				r.Fatal(err)
			}
			if got, ok := TypedDay(Date(day), today); !ok || !got.Equal(day) {
				r.Fatalf("%s: %q was read as %v", l.Code, Date(day), got)
			}
		}
	})
}

// 1 psi = 0.0689475729 bar (NIST SP 811, appendix B.8): 80 psi = 5.51580583 bar.
func TestSettingValue(t *testing.T) {
	t.Cleanup(func() { UseUnits(measure.Preference{}) })
	psi := inspect.Setting{Key: "air_pressure", Value: 5.51580583, Unit: "bar", Text: "80"}
	for _, c := range []struct {
		name string
		in   measure.Preference
		s    inspect.Setting
		want string
	}{
		{"typed in psi, shown in psi", measure.Preference{Pressure: measure.PSI}, psi, "80" + Thin + "psi"},
		{"typed in psi, the shop has bar now", measure.Preference{}, psi, "5.5158" + Thin + "bar"},
		{"typed in bar, the shop has psi now", measure.Preference{Pressure: measure.PSI}, inspect.Setting{Value: 5.5, Unit: "bar", Text: "5.5"}, "79.77" + Thin + "psi"},
		{"a unit of its own stays", measure.Preference{}, inspect.Setting{Value: 5.51580583, Unit: "bar", Text: "80 psi"}, "80 psi"},
		{"a word", measure.Preference{}, inspect.Setting{Text: "open"}, "open"},
		{"counted", measure.Preference{}, inspect.Setting{Value: 7, Unit: "clicks", Text: "7"}, "7" + Thin + "clicks"},
		{"no text", measure.Preference{Pressure: measure.PSI}, inspect.Setting{Value: 5.51580583, Unit: "bar"}, "80.00" + Thin + "psi"},
	} {
		UseUnits(c.in)
		if got := SettingValue(c.s); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestUnitsFrom(t *testing.T) {
	got := UnitsFrom(map[string]string{"units.pressure": "psi", "units.length": "in", "units.volume": "fl oz", "units.temperature": "°F"})
	if want := (measure.Preference{Length: measure.Inch, Pressure: measure.PSI, Volume: measure.FluidOunce, Temperature: measure.Fahrenheit}); got != want {
		t.Errorf("%+v", got)
	}
	if got := UnitsFrom(map[string]string{"units.pressure": "kPa", "units.length": "psi"}); got != (measure.Preference{}) {
		t.Errorf("what can't be chosen was taken: %+v", got)
	}
	if n := len(UnitChoices()); n != 4 {
		t.Errorf("%d kinds", n)
	}
}
