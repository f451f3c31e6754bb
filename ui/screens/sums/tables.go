package sums

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect/life"
	"forkwear/inspect/measure"
	"forkwear/inspect/stats"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

const yes, no = "yes", "no"

func level() field {
	return field{key: "level", label: lang.L("Limits that hold in"), unit: measure.Percent, usual: "95"}
}

func rowsOf(a *asked) field {
	return field{key: "rows", label: lang.L("Rows, the first line names the columns"), many: true, table: a}
}

// The examples are invented.
func lives() sum {
	return sum{lang.L("How long parts last"), lang.L("Survival curve, Weibull life and, between groups, the log-rank test, from parts that failed and parts that are still good."),
		[]field{rowsOf(&asked{[]column{
			{"hours", lang.L("on the part when it failed or was last seen good")},
			{"failed", lang.L("1 failed, 0 still good")},
			{"count", lang.L("how many alike, 1 where it is left out")},
			{"entry", lang.L("hours on it when watching began, from new where it is left out")},
			{"last_good", lang.L("hours at which a failed one was last seen good")},
			{"group", lang.L("what it is compared by, such as a maker or a sheet")},
		}, "hours,failed,group\n60,1,dust\n95,1,dust\n110,1,dust\n130,0,dust\n140,1,dust\n170,1,dust\n180,0,dust\n120,1,road\n190,1,road\n230,1,road\n260,0,road\n310,1,road\n340,0,road\n380,1,road\n"}),
			{key: "by", label: lang.L("A Weibull life for each group"), usual: no, choices: []choice{{no, lang.L("all together only")}, {yes, lang.L("each group as well")}}},
			level()}, workLives}
}

func workLives(in inputs) (result, error) {
	records, err := life.ReadRecords(strings.NewReader(in.text["rows"]))
	if err != nil {
		return result{}, err
	}
	l, err := life.NewLivesIn(tongue.Say, records, in.number["level"]/100, in.text["by"] == yes)
	if err != nil {
		return result{}, err
	}
	r := result{head: lang.L("No life can be told"), remarks: l.Remarks, grid: &grid{heads: []string{"", lang.L("Value"), lang.L("Limits")}}, chart: chartOfLives(l, records)}
	for _, g := range l.Groups {
		r = r.and(lang.L("%s: %d of %d failed, half are gone after %s"), groupName(g.Group), g.Events, g.Units, medianOf(g))
		r.grid.weibull(groupName(g.Group), g.Weibull)
		for _, x := range g.Remarks {
			r.remarks = append(r.remarks, fmt.Sprintf("%s: %s", groupName(g.Group), x))
		}
	}
	if w := l.Weibull; w != nil {
		r.head = fmt.Sprintf(lang.L("Half are gone after %s"), hoursWith(w.Median))
		r.formula = fmt.Sprintf(lang.L("S(t) = exp(−(t/scale)^shape): %s"), tongue.Say(w.Method))
		r.grid.weibull(lang.L("all together"), w)
	} else if len(l.Groups) > 0 {
		r.head, r.formula = fmt.Sprintf(lang.L("Half are gone after %s"), medianOf(l.Groups[0])), tongue.Say(l.Groups[0].Method)
	}
	if k := l.LogRank; k != nil {
		r = r.and(lang.L("log-rank test of the groups: χ² %s, degrees of freedom %d, p %s"), sig(k.Chi2), k.DF, sig(k.P))
	}
	return r, nil
}

func (g *grid) weibull(name string, w *life.Weibull) {
	if w == nil {
		return
	}
	for _, x := range []struct {
		name string
		e    stats.Estimate
		unit string
	}{{lang.L("Shape, %s"), w.Shape, ""}, {lang.L("Scale, %s"), w.Scale, "h"}, {lang.L("One in ten is gone, %s"), w.B10, "h"}, {lang.L("Half are gone, %s"), w.Median, "h"}} {
		v := sig(x.e.Value)
		if x.unit != "" {
			v += words.Thin + x.unit
		}
		g.lines = append(g.lines, []string{fmt.Sprintf(x.name, name), v, fmt.Sprintf(lang.L("%s to %s"), open(x.e.Low), open(x.e.High))})
	}
}

func groupName(g string) string {
	switch strings.TrimSpace(g) {
	case "":
		return lang.L("no group")
	case "all":
		return lang.L("all")
	}
	return g
}

func medianOf(g life.GroupLife) string {
	if g.Median == nil {
		return lang.L("longer than was watched")
	}
	return hoursWith(stats.Estimate{Value: *g.Median, Low: g.MedianLow, High: g.MedianHigh})
}

func hoursWith(e stats.Estimate) string {
	return fmt.Sprintf(lang.L("%s (%s to %s)"), words.Hours(e.Value), openHours(e.Low), openHours(e.High))
}

func openHours(v *float64) string {
	if v == nil {
		return "…"
	}
	return words.Fixed(*v, 0)
}

func open(v *float64) string {
	if v == nil {
		return "…"
	}
	return sig(*v)
}

// sig writes three significant figures.
func sig(v float64) string { return about(v, 3, "") }

// chartOfLives draws each group's curve from 1 at no hours.
func chartOfLives(l life.Lives, records []life.Record) *widgets.Chart {
	c := widgets.LifeChart()
	for _, g := range l.Groups {
		until := 0.0
		for _, r := range records {
			if r.Group == g.Group {
				until = max(until, r.Hours)
			}
		}
		if len(g.Steps) > 0 {
			c.Curves = append(c.Curves, widgets.LifeCurve(groupName(g.Group), g, until))
		}
	}
	return &c
}

func rates() sum {
	return sum{lang.L("Failures against expected"), lang.L("How many failed in each group against how many were to be expected: the ratio with its limits, and whether chance alone makes such a difference."),
		[]field{rowsOf(&asked{[]column{
			{"group", lang.L("name of the group")},
			{"events", lang.L("how many failed")},
			{"expected", lang.L("how many were to be expected; or")},
			{"exposure", lang.L("hours or services: expected is then this share of all that failed")},
		}, "group,events,exposure\ndust,14,4200\nmud,9,1900\nroad,6,6100\nwinter,3,800\n"}), level()}, workRates}
}

func workRates(in inputs) (result, error) {
	counts, err := life.ReadCounts(strings.NewReader(in.text["rows"]))
	if err != nil {
		return result{}, err
	}
	l, err := life.NewRatesIn(tongue.Say, counts, in.number["level"]/100)
	if err != nil {
		return result{}, err
	}
	r := result{formula: tongue.Say(l.Method), remarks: l.Remarks,
		grid: &grid{heads: []string{lang.L("Group"), lang.L("Failed"), lang.L("Expected"), lang.L("Ratio"), lang.L("Limits"), "p", "q"}}}
	apart := 0
	for i, g := range l.Groups {
		r.grid.lines = append(r.grid.lines, []string{g.Group, fmt.Sprint(g.Events), sig(g.Expected), open(g.Ratio), fmt.Sprintf(lang.L("%s to %s"), open(g.Low), open(g.High)), open(g.P), open(g.Q)})
		x := widgets.Ratio{ID: fmt.Sprint(i), Name: g.Group, Value: math.NaN(), Label: fmt.Sprintf(lang.L("%s: no ratio"), g.Group)}
		if g.Ratio != nil {
			x.Value, x.Low, x.High = *g.Ratio, *g.Low, *g.High
			x.Label = fmt.Sprintf(lang.L("%s: %s (%s to %s), %d failed, %s expected"), g.Group, sig(x.Value), sig(x.Low), sig(x.High), g.Events, sig(g.Expected))
		}
		if g.Q != nil && *g.Q < 0.05 {
			apart++
		}
		r.ratios = append(r.ratios, x)
	}
	r.head = lang.L("Nothing here is beyond chance")
	if apart > 0 {
		r.head = fmt.Sprintf(lang.L("%d of %d groups are beyond chance"), apart, len(l.Groups))
	}
	return r.and(lang.L("q is p corrected for the number of groups; below %s counts as beyond chance here."), words.Decimal("0.05")), nil
}
