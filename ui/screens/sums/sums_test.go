package sums

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/place"
	"forkwear/ui/screens/screentest"
)

func at(t *testing.T, s *Screen, name string) {
	t.Helper()
	for i, k := range s.sums {
		if k.name == name {
			s.choose(i)
			return
		}
	}
	t.Fatalf("there is no sum %q", name)
}

func head(s *Screen) string { return s.head.Segments[0].(*widget.TextSegment).Text }

func newScreen(t *testing.T) *Screen {
	env := screentest.Env(t)
	s := New(env, place.Where{Name: place.Sums}).(*Screen)
	env.Window.SetContent(s.Content())
	env.Window.Resize(fyne.NewSize(1190, 700))
	return s
}

func TestSums(t *testing.T) {
	s := newScreen(t)
	for _, c := range []struct {
		sum, source string
		typed       map[string]string
		want        []string
	}{
		{"Sag", "32/160 by hand", map[string]string{"sunk": "32 mm", "travel": "16 cm"}, []string{"20.0", "%"}},
		{"Travel from spacers", "180 - 2 x 10 by hand", map[string]string{"full": "180", "n": "2"}, []string{"160", "mm"}},
		{"Travel on the tube", "182 - 22 by hand", map[string]string{"out": "182", "home": "22"}, []string{"160", "mm"}},
		{"Compression set", "100 (3.53-3.31)/(3.53-2.65) = 25 by hand, ISO 815-1's formula", map[string]string{"h0": "3.53", "h1": "3.31", "hs": "2.65"}, []string{"25.0", "%"}},
		{"Fit of hole and shaft", "ISO 286-2: 40 H7 0/+25, f7 -25/-50 µm, from memory", map[string]string{"size": "40"}, []string{"25 to 75 µm", "clearance"}},
		{"Bushing play from rock", "r = 2 0.60 - 0.90 = 0.30; c = 0.30 130/(2 250) = 0.078 by hand", map[string]string{"rock": "0.6", "rock2": "0,9", "distance": "250", "span": "130"}, []string{"0.078", "mm"}},
		{"Bushing play from diameters", "35.06 - 34.98 by hand", map[string]string{"bore": "35.06", "shaft": "34.98"}, []string{"0.080", "mm"}},
		{"Fluid balance", "20 x 0.75 - 13 = 2 mL by hand", map[string]string{"in": "20cc", "out": "13"}, []string{"2.0", "mL", "15.0\u2009mL were expected"}},
		{"Inside its limits?", "(34.975-34.97)/0.004 = 1.25: normal table 0.8944", map[string]string{"value": "34.975", "u": "0.004", "lower": "34.97"}, []string{"Not decided", "89.4"}},
		{"Air hold", "same temperature: 24 (6-5)/24 bar in 24 h by hand", map[string]string{"p1": "6", "p2": "5", "hours": "1 d"}, []string{"Leaks", "1.00", "bar"}},
		{"Run-out of a loose tube", "0.06/2 by hand", map[string]string{"swing": "0.06"}, []string{"0.030", "mm"}},
		{"Are the tubes parallel", "131.30 - 131.20 by hand", map[string]string{"crown": "131.2", "end": "131.3"}, []string{"0.10", "mm"}},
		{"Degree of rusting", "ISO 4628-3 table 1: 0.8 % lies above Ri 2 (0.5 %) and within Ri 3 (1 %)", map[string]string{"area": "8", "whole": "1000"}, []string{"3", "Ri"}},
		{"Stanchion diameters", "least and mean of the three by hand", map[string]string{"spots": "20 0 34.990\n20 90 34.970\n120 0 35.000"}, []string{"lowest reading 34.970\u2009mm, mean 34.987\u2009mm", "out of round 0.020"}},
	} {
		t.Run(c.sum, func(t *testing.T) {
			at(t, s, c.sum)
			for k, text := range c.typed {
				s.onTyped(k, text)
			}
			got := head(s) + "\n" + s.lines.Text
			for _, want := range c.want {
				if !strings.Contains(got, want) {
					t.Errorf("%q does not say %q (%s)", got, want, c.source)
				}
			}
			if s.why.Hidden || s.wrong.Visible() {
				t.Errorf("a result without its why, or with a refusal")
			}
		})
	}
}

func TestErrorsStandBesideTheFieldAndNothingIsLost(t *testing.T) {
	s := newScreen(t)
	at(t, s, "Sag")
	s.onTyped("sunk", "32 bar")
	if !s.refused["sunk"].Visible() || s.refused["travel"].Visible() {
		t.Error("the refusal of a pressure for a length does not stand at its field alone")
	}
	s.onTyped("travel", "20")
	s.onTyped("sunk", "32")
	if s.refused["sunk"].Visible() || !s.wrong.Visible() || head(s) != "No result" {
		t.Errorf("sag over the whole travel gives %q", head(s))
	}
	at(t, s, "Fluid balance")
	at(t, s, "Sag")
	if s.typed[s.at]["sunk"] != "32" || s.typed[s.at]["travel"] != "20" {
		t.Error("what was typed is lost by looking at another sum")
	}
	s.onTyped("travel", "")
	if head(s) != "Fill in the fields" || s.wrong.Visible() {
		t.Errorf("an empty field gives %q", head(s))
	}
}

func FuzzSpots(f *testing.F) {
	for _, s := range []string{"", "20 0 35", "20 0", "a b c", "1e400 0 35", "20 0 35\n\n120 90 NaN", "½ ¼ ¾"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		spots, err := parseSpots(text)
		if err != nil && spots != nil {
			t.Fatalf("%q is refused and read", text)
		}
		_, _ = workDiameters(inputs{map[string]float64{"decide": 0.02}, map[string]string{"spots": text, "gauge": micrometer}})
	})
}
