package visitbar

import (
	"fmt"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// Across is the unit of a trend's long axis.
func Across(t *shop.Trend) string {
	if t.Check.Grows == catalog.ByMonths {
		return words.UnitWord("months")
	}
	return "h"
}

// Wear through the visits, for a TrendPlot: share of the way from new to the
// limit over hours (months where the check grows by months) on the part.
func Wear(t *shop.Trend) widgets.Trend {
	out := widgets.Trend{Unit: lang.L("% worn"), Across: Across(t), Limit: 100, HasLimit: true, LimitWord: lang.L("limit"), NextWord: lang.L("next visit"),
		NextVisit: t.Now + t.Horizon, HasNext: t.Horizon > 0 && t.Check.Grows == catalog.ByHours, EmptyWord: lang.L("no reading yet")}
	for i, p := range t.Points {
		r := widgets.Reading{ID: fmt.Sprint(i), Hours: p.Hours, Value: 100 * p.Used, U: 100 * p.U,
			Label: words.Share(p.Used) + ", " + words.Date(p.On), Date: words.Date(p.On)}
		out.Readings = append(out.Readings, r)
	}
	for _, b := range t.Band {
		out.Band = append(out.Band, widgets.BandPoint{Hours: b.T, Low: 100 * b.Low, Mid: 100 * b.Mean, High: 100 * b.High})
	}
	return out
}
