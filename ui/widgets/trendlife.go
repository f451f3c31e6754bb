package widgets

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect/life"
	"forkwear/ui/words"
)

// LifeChart is an empty chart for LifeCurves: percent still good over hours.
func LifeChart() Chart {
	return Chart{Unit: lang.L("% still good"), Across: "h", High: 100, EmptyWord: lang.L("No curve can be drawn")}
}

// LifeCurve draws the survival of one group in percent, from all at no hours;
// its steps can be pointed at. It goes on flat to the hours until which they were
// watched.
func LifeCurve(name string, g life.GroupLife, until float64) Curve {
	c := Curve{Name: name, Steps: true, Line: []BandPoint{{Hours: 0, Low: 100, Mid: 100, High: 100}}}
	for _, s := range g.Steps {
		b := BandPoint{Hours: s.Hours, Mid: 100 * s.Survival, Low: math.NaN(), High: math.NaN()}
		told := fmt.Sprintf(lang.L("%s: %s still good"), words.Hours(s.Hours), words.Share(s.Survival))
		if s.Low != nil && s.High != nil {
			b.Low, b.High = 100**s.Low, 100**s.High
			told = fmt.Sprintf(lang.L("%s: %s still good (%s to %s)"), words.Hours(s.Hours), words.Share(s.Survival), words.Fixed(b.Low, 0), words.Share(*s.High))
		}
		c.Line = append(c.Line, b)
		c.Marks = append(c.Marks, Reading{ID: told, Hours: s.Hours, Value: b.Mid, Label: told})
	}
	if end := c.Line[len(c.Line)-1]; until > end.Hours {
		end.Hours = until
		c.Line = append(c.Line, end)
	}
	return c
}
