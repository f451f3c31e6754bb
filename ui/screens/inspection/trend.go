package inspection

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// loadTrend fetches the trend of the check at work, one at a time: of checks
// that were passed quickly only the last is fetched.
func (s *Screen) loadTrend() {
	p, ok := s.line()
	if !ok || s.card.trendRuns {
		return
	}
	at, c := spot{check: p.Check.ID, leg: p.Leg}, s.kase
	s.card.trendRuns = true
	later(s, func(ctx context.Context) (*shop.Trend, error) {
		return s.env.Desk.Trend(ctx, c, p.Check, p.Leg)
	}, func(t *shop.Trend, err error) {
		s.card.trendRuns = false
		now := spot{check: s.at.check, leg: s.at.leg}
		if now != at {
			s.showTrend()
			return
		}
		s.card.trendOf = at
		if err != nil {
			s.card.plot.SetTrend(widgets.Trend{EmptyWord: fmt.Sprintf(lang.L("No trend: %s"), inspect.SaidIn(tongue.Say, err))})
			s.showBeside(true)
			return
		}
		if t != nil {
			s.card.plot.SetTrend(plotOf(t))
		}
		s.showBeside(t != nil && !t.Baseline && len(t.Points) > 0)
		s.card.frame.Refresh()
	})
}

func (s *Screen) showTrend() {
	p, ok := s.line()
	has := ok && (p.Check.Grows == catalog.ByHours || p.Check.Grows == catalog.ByMonths) && p.Check.LifeFor(s.kase.Sheet) > 0
	if !has {
		s.showBeside(false)
		return
	}
	if s.card.trendOf != (spot{check: s.at.check, leg: s.at.leg}) {
		s.waitBeside() // the plot has the trend of another check
	}
	s.loadTrend()
}

// plotOf draws wear used in per cent of the way from new to the limit.
func plotOf(t *shop.Trend) widgets.Trend {
	if t.Baseline || len(t.Points) == 0 {
		return widgets.Trend{EmptyWord: lang.L("Baseline taken")}
	}
	out := widgets.Trend{Unit: lang.L("% used"), HasLimit: true, Limit: 100, LimitWord: lang.L("limit"), HasNext: t.Horizon > 0, NextVisit: t.Now + t.Horizon, NextWord: lang.L("next visit"), Across: visitbar.Across(t)}
	for _, p := range t.Points {
		out.Readings = append(out.Readings, widgets.Reading{ID: string(p.Visit), Hours: p.Hours, Value: 100 * p.Used, U: 100 * p.U,
			Label: words.Measured(p.Raw, 0, p.Unit), Date: words.MonthYear(p.On)})
	}
	for _, b := range t.Band {
		out.Band = append(out.Band, widgets.BandPoint{Hours: b.T, Low: 100 * b.Low, Mid: 100 * b.Mean, High: 100 * b.High})
	}
	return out
}
