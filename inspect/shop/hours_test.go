package shop

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"forkwear/inspect"
)

func TestHoursByUse(t *testing.T) {
	// Rates: common practice, no source. Sums by hand from the formula in the
	// doc comment: 10*2=20, 10*1=10; 26*4=104+212, hypot(12, 52)=53.3667 (12²+52²=2848);
	// 52*8=416, 52*3=156.
	for _, c := range []struct {
		use                    Use
		weeks, before, beforeU float64
		wantHours, wantU       float64
	}{
		{LittleUse, 10, 0, 0, 20, 10},
		{NormalUse, 26, 212, 12, 316, math.Sqrt(2848)},
		{ALotOfUse, 52, 0, 0, 416, 156},
		{ALotOfUse, 0, 90, 9, 90, 9}, // no time, nothing added
	} {
		h, u, err := HoursByUse(c.use, c.weeks, c.before, c.beforeU)
		if err != nil || math.Abs(h-c.wantHours) > 1e-9 || math.Abs(u-c.wantU) > 1e-9 {
			t.Errorf("%s, %g weeks after %g±%g: %g ± %g, %v; want %g ± %g", c.use, c.weeks, c.before, c.beforeU, h, u, err, c.wantHours, c.wantU)
		}
	}
	for _, c := range []struct {
		use                    Use
		weeks, before, beforeU float64
	}{
		{"sometimes", 1, 0, 0}, {NormalUse, -1, 0, 0}, {NormalUse, math.NaN(), 0, 0}, {NormalUse, math.Inf(1), 0, 0},
		{NormalUse, 1, -1, 0}, {NormalUse, 1, 0, math.NaN()}, {NormalUse, 1, math.Inf(1), 0},
	} {
		if _, _, err := HoursByUse(c.use, c.weeks, c.before, c.beforeU); inspect.CodeOf(err) != inspect.Invalid {
			t.Errorf("%+v: %v, want a refusal", c, err)
		}
	}
}

func TestHoursByUseGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weeks := rapid.Float64Range(0, 500).Draw(t, "weeks")
		before, bu := rapid.Float64Range(0, 5000).Draw(t, "before"), rapid.Float64Range(0, 500).Draw(t, "u")
		last := -1.0
		for _, use := range Uses() {
			h, u, err := HoursByUse(use, weeks, before, bu)
			if err != nil || h < before || u < bu || h < last {
				t.Fatalf("%s: %g ± %g after %g ± %g, %v", use, h, u, before, bu, err)
			}
			last = h
		}
	})
}

func TestWeeks(t *testing.T) {
	day := time.Date(2026, 5, 12, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		from, to time.Time
		want     float64 // by the calendar: 7 days a week
	}{
		{day, day.AddDate(0, 0, 14), 2}, {day, day, 0}, {day.AddDate(0, 0, 1), day, 0}, {time.Time{}, day, 0},
	} {
		if got := Weeks(c.from, c.to); got != c.want {
			t.Errorf("from %v to %v: %g weeks, want %g", c.from, c.to, got, c.want)
		}
	}
}

func TestParseSpan(t *testing.T) {
	// 365.25 days are 52.178571 weeks (Julian year); the rest by hand from it.
	for text, want := range map[string]float64{
		"30 weeks": 30, "1 week": 1, "2 years": 104.357143, "18 months": 78.267857, "12": 52.178571, "1/2 year": 26.089286, "1,5 y": 78.267857,
	} {
		if got, err := ParseSpan(text); err != nil || math.Abs(got-want) > 1e-6 {
			t.Errorf("%q: %g weeks, %v; want %g", text, got, err, want)
		}
	}
	for _, text := range []string{"", "long", "-3 weeks", "3 fortnights", "1e9 years", "3 weeks 2"} {
		if got, err := ParseSpan(text); inspect.CodeOf(err) != inspect.Invalid {
			t.Errorf("%q: %g, %v; want a refusal", text, got, err)
		}
	}
}

func FuzzParseSpan(f *testing.F) {
	for _, s := range []string{"30 weeks", "18", "½ year", "1.5 y"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if w, err := ParseSpan(s); err == nil && !(w >= 0 && w <= 5000) {
			t.Fatalf("%q: %g weeks", s, w)
		}
	})
}
