package widgets

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"pgregory.net/rapid"

	"forkwear/inspect/life"
)

func sampleChart() Chart {
	return Chart{Unit: "% still good", Across: "h", High: 100, HasLimit: true, Limit: 50, LimitWord: "half", Curves: []Curve{
		{Name: "dust", Steps: true, Line: []BandPoint{{0, 100, 100, 100}, {60, 40, 80, 95}, {120, 20, 45, 70}, {180, 20, 45, 70}},
			Marks: []Reading{{ID: "a", Hours: 60, Value: 80, Label: "60 h: 80 %"}, {ID: "b", Hours: 120, Value: 45, Label: "120 h: 45 %"}}},
		{Name: "road", Line: []BandPoint{{0, 90, 95, 100}, {200, 60, 70, 80}},
			Marks: []Reading{{ID: "c", Hours: 100, Value: 82, U: 4, Label: "100 h: 82 %"}}},
	}}
}

func sampleRatios() []Ratio {
	return []Ratio{{"a", "dust", 1.4, .7, 2.3, "dust: 1.4 (0.7 to 2.3)"}, {"b", "a road with a long name", .4, 0, .9, "road: 0.4"},
		{"c", "none", math.NaN(), 0, 0, "none: no ratio"}, {"d", "open", 3, 1.2, math.Inf(1), "open: 3"}}
}

func TestChartPictures(t *testing.T) {
	curves := NewCurvePlot(sampleChart())
	for name, c := range map[string]struct {
		o    fyne.CanvasObject
		w, h float32
	}{
		"curveplot": {curves, 440, 240},
		"ratioplot": {NewRatioPlot(sampleRatios()), 440, 180},
	} {
		t.Run(name, func(t *testing.T) {
			w := window(t, c.o, c.w, c.h)
			test.AssertImageMatches(t, "image/"+name+".png", w.Canvas().Capture())
		})
	}
}

func TestCurvePlotKeysAndMouse(t *testing.T) {
	p := NewCurvePlot(sampleChart())
	window(t, p, 440, 240)
	var hovers, opened []string
	p.OnHover, p.OnTapped = func(id string) { hovers = append(hovers, id) }, func(id string) { opened = append(opened, id) }
	p.FocusGained()
	for _, k := range []fyne.KeyName{fyne.KeyReturn, fyne.KeyRight, fyne.KeyRight, fyne.KeyRight, fyne.KeyDown, fyne.KeyUp, fyne.KeyReturn} {
		typeKey(p, k)
	}
	// right: a, b, and no further on this curve; down to c at 100 h, up to the
	// nearest of 60 and 120 h, which is b; Enter before anything opens nothing
	if got := strings.Join(hovers, " "); got != "a b c b" {
		t.Errorf("pointed at %s", got)
	}
	if got := strings.Join(opened, " "); got != "b" {
		t.Errorf("opened %s", got)
	}
	if p.Says() != "120 h: 45 %" {
		t.Errorf("says %q", p.Says())
	}
	p.FocusLost()
	v := p.view(440, 240, 1)
	at := fyne.NewPos(float32(v.x(100)), float32(v.y(82)))
	p.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
	if p.Says() != "100 h: 82 %" {
		t.Errorf("the mouse over a point finds %q", p.Says())
	}
	p.Tapped(&fyne.PointEvent{Position: at})
	p.Tapped(&fyne.PointEvent{Position: fyne.NewPos(1, 1)})
	if got := strings.Join(opened, " "); got != "b c" {
		t.Errorf("presses opened %s", got)
	}
	p.MouseOut()
	if hovers[len(hovers)-1] != "" {
		t.Error("the mouse leaves, but a point stays pointed at")
	}
}

func TestRatioPlotKeysAndMouse(t *testing.T) {
	p := NewRatioPlot(sampleRatios())
	window(t, p, 440, 180)
	var hovers []string
	p.OnHover = func(id string) { hovers = append(hovers, id) }
	for _, k := range []fyne.KeyName{fyne.KeyUp, fyne.KeyDown, fyne.KeyUp} {
		typeKey(p, k)
	}
	p.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(10, 40)}})
	p.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(10, 170)}})
	// up from nothing is the last, down stays there, up again is the one before;
	// the second line is 30 to 60 px down; below the lines there is none
	if got := strings.Join(hovers, ","); got != "d,c,b," {
		t.Errorf("pointed at %q", got)
	}
}

// The axis of ratios holds every limit up to 64 times, alike on both sides.
func TestRatioAxisHoldsItsLimits(t *testing.T) {
	for high, want := range map[float64]float64{1.5: 2, 2.5: 4, 8: 8, 9: 16, 1000: 64} { // doubled by hand
		p := NewRatioPlot([]Ratio{{Value: 1, Low: 1, High: high}})
		if got := p.ends(); got != want {
			t.Errorf("with a limit of %g the axis ends at %g, want %g", high, got, want)
		}
	}
}

// Whatever comes in, the plots draw.
func TestChartsDrawAnything(t *testing.T) {
	test.NewTempApp(t)
	num := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, 1e308, -1e308}))
	rapid.Check(t, func(t *rapid.T) {
		var c Chart
		for range rapid.IntRange(0, 8).Draw(t, "curves") {
			k := Curve{Steps: rapid.Bool().Draw(t, "steps")}
			for range rapid.IntRange(0, 3).Draw(t, "points") {
				k.Line = append(k.Line, BandPoint{num.Draw(t, "h"), num.Draw(t, "low"), num.Draw(t, "mid"), num.Draw(t, "high")})
				k.Marks = append(k.Marks, Reading{ID: "x", Hours: num.Draw(t, "x"), Value: num.Draw(t, "y"), U: num.Draw(t, "u"), Label: "l"})
			}
			c.Curves = append(c.Curves, k)
		}
		c.HasLimit, c.Limit = true, num.Draw(t, "limit")
		p := NewCurvePlot(c)
		p.at = min(0, len(p.marks)-1)
		p.view(120, 80, 1).paint(120, 80)
		r := NewRatioPlot([]Ratio{{"a", "a", num.Draw(t, "v"), num.Draw(t, "l"), num.Draw(t, "h"), ""}})
		r.paint(120, 80, 1)
	})
}

func TestLifeCurveGoesOnToWhereItWasWatched(t *testing.T) {
	low, high := .3, .9
	c := LifeCurve("x", life.GroupLife{Steps: []life.Step{{Hours: 50, Survival: .7, Low: &low, High: &high}, {Hours: 80, Survival: .5}}}, 120)
	if n := len(c.Line); n != 4 || c.Line[3].Hours != 120 || c.Line[3].Mid != 50 || len(c.Marks) != 2 {
		t.Errorf("%+v", c)
	}
	if b := c.Line[1]; b.Low != 30 || b.High != 90 || !math.IsNaN(c.Line[2].Low) {
		t.Errorf("limits %+v", c.Line)
	}
	if got := c.Marks[0].Label; !strings.Contains(got, "70") || !strings.Contains(got, "30 to 90") {
		t.Errorf("%q", got)
	}
}
