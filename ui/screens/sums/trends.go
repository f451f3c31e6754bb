package sums

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect/measure"
	"forkwear/inspect/wear"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func trends() sum {
	return sum{lang.L("Wear of many units"), lang.L("A line for each unit that borrows from its kin, by restricted maximum likelihood, and the hours to a limit from its last reading."),
		[]field{rowsOf(&asked{[]column{
			{"unit", lang.L("which part, such as a tag")},
			{"hours", lang.L("on the part at the reading")},
			{"value", lang.L("what was read, any unit, the same in all rows")},
			{"sd", lang.L("standard uncertainty of the value, where it is known")},
		}, "unit,hours,value\nA,0,0.031\nA,80,0.055\nA,170,0.079\nA,240,0.104\nB,20,0.025\nB,120,0.038\nB,210,0.047\nB,300,0.061\nC,0,0.038\nC,90,0.079\nC,150,0.101\nD,40,0.036\nD,160,0.071\nD,230,0.086\nE,10,0.022\nE,110,0.055\nE,190,0.078\n"}),
			{key: "model", label: lang.L("Units differ in"), usual: string(wear.Line), choices: []choice{{string(wear.Line), lang.L("level and slope")}, {string(wear.Level), lang.L("level only")}}},
			{key: "limit", label: lang.L("Limit, in the unit of the value"), unit: measure.Pure, may: true}}, workTrends}
}

func workTrends(in inputs) (result, error) {
	model := wear.Model(in.text["model"])
	data, err := wear.ReadReadings(strings.NewReader(in.text["rows"]), model)
	if err != nil {
		return result{}, err
	}
	fit, err := wear.FitREML(data, model)
	if err != nil {
		return result{}, err
	}
	t, err := wear.NewTrendsIn(tongue.Say, fit, in.maybe("limit"))
	if err != nil {
		return result{}, err
	}
	r := result{formula: lang.L("value = (b0 + a) + (b1 + s) · hours + e, each unit with its own a and s; restricted maximum likelihood, no prior"), remarks: t.Remarks,
		chart: chartOfTrends(data, fit, in.maybe("limit"))}
	r.head = fmt.Sprintf(lang.L("Level %s"), estimate(t.Fixed.Intercept))
	if s := t.Fixed.Slope; s != nil {
		r.head = fmt.Sprintf(lang.L("%s an hour"), estimate(*s))
		r = r.and(lang.L("at no hours %s"), estimate(t.Fixed.Intercept))
	}
	r = r.and(lang.L("between units: level %s, slope %s, correlation %s; readings scatter by %s"), open(t.SDIntercept), open(t.SDSlope), open(t.Correlation), open(t.SDResidual)).
		and(lang.L("± is one standard error; REML criterion %s"), about(fit.Criterion, 6, ""))
	r.grid = &grid{heads: []string{lang.L("Unit"), lang.L("Readings"), lang.L("Level against all"), lang.L("Slope against all")}}
	if t.Limit != nil {
		r.grid.heads = append(r.grid.heads, lang.L("Hours to the limit"))
	}
	for _, u := range t.Units {
		line := []string{u.Unit, fmt.Sprint(u.Readings), open(u.InterceptEffect), open(u.SlopeEffect)}
		if t.Limit != nil {
			line = append(line, toLimit(u.HoursToLimit))
		}
		r.grid.lines = append(r.grid.lines, line)
	}
	return r, nil
}

func estimate(e wear.TrendEstimate) string {
	if e.Value == nil || e.SE == nil {
		return "…"
	}
	return sig(*e.Value) + " ±" + words.Thin + about(*e.SE, 2, "")
}

func toLimit(h *wear.HoursToLimit) string {
	switch {
	case h == nil:
		return "–"
	case h.Over:
		return lang.L("over it now")
	case h.NoTrend:
		return lang.L("no trend seen")
	case h.P50 == nil:
		return lang.L("no end in sight")
	}
	return fmt.Sprintf(lang.L("%s (%s to %s)"), words.Hours(*h.P50), openHours(h.P05), openHours(h.P95))
}

// chartOfTrends draws the readings of each unit and its own line with the 90 %
// band of the line, from its first reading to its last.
func chartOfTrends(data wear.Data, f wear.Fit, limit *float64) *widgets.Chart {
	c := &widgets.Chart{Unit: lang.L("value"), Across: "h", EmptyWord: lang.L("No line can be drawn"), LimitWord: lang.L("limit")}
	if limit != nil {
		c.Limit, c.HasLimit = *limit, true
	}
	at := map[string]int{}
	for _, u := range f.Units {
		at[u.Unit] = len(c.Curves)
		c.Curves = append(c.Curves, widgets.Curve{Name: u.Unit})
	}
	for i, o := range data.Observations {
		k, ok := at[o.Unit]
		if !ok {
			continue
		}
		told := fmt.Sprintf(lang.L("%s at %s: %s"), o.Unit, words.Hours(o.Hours), sig(o.Value))
		if o.U > 0 {
			told += " ±" + words.Thin + about(o.U, 2, "")
		}
		c.Curves[k].Marks = append(c.Curves[k].Marks, widgets.Reading{ID: fmt.Sprint(i, " ", told), Hours: o.Hours, Value: o.Value, U: o.U, Label: told})
	}
	for name, k := range at {
		p, err := f.Posterior(name)
		if err != nil {
			continue
		}
		c.Curves[k].Line = lineOf(p, c.Curves[k].Marks)
	}
	return c
}

func lineOf(p wear.Posterior, marks []widgets.Reading) []widgets.BandPoint {
	first, last := math.Inf(1), math.Inf(-1)
	for _, m := range marks {
		first, last = math.Min(first, m.Hours), math.Max(last, m.Hours)
	}
	if !(last >= first) {
		return nil
	}
	const n = 12
	var hours []float64
	for i := range n + 1 {
		hours = append(hours, first+(last-first)*float64(i)/n)
	}
	var out []widgets.BandPoint
	for _, b := range wear.Band(p, hours) {
		out = append(out, widgets.BandPoint{Hours: b.T, Low: b.Low, Mid: b.Mean, High: b.High})
	}
	return out
}
