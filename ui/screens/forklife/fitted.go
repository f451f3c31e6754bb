package forklife

import (
	"fmt"
	"sort"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/measure"
	"forkwear/ui/screens/rows"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// through draws what one check read on every part that was ever in its place,
// over the hours of the fork: one curve a fitting. n is how many there are.
func (s *Screen) through(k check) (c widgets.Chart, n int) {
	by := map[inspect.ID][]inspect.Reading{}
	for _, r := range k.all {
		by[r.FittingID] = append(by[r.FittingID], r)
	}
	c = widgets.Chart{Across: "h", LimitWord: lang.L("limit"), EmptyWord: lang.L("Nothing was read")}
	unit := ""
	for _, f := range fittedInOrder(s.life.fittings, by) {
		curve := widgets.Curve{Name: fmt.Sprintf(lang.L("from %s"), words.Hours(f.FittedAt))}
		for _, r := range by[f.ID] {
			h, ok := s.life.hours(r.VisitID)
			if !ok {
				continue
			}
			v, u, in := words.Units().Show(r.Value, r.U, measure.Unit(r.Unit))
			unit = string(in)
			curve.Line = append(curve.Line, widgets.BandPoint{Hours: h, Low: v, Mid: v, High: v})
			curve.Marks = append(curve.Marks, widgets.Reading{ID: string(r.ID), Hours: h, Value: v, U: u,
				Label: fmt.Sprintf("%s, %s: %s", s.visitDate(r.VisitID), words.Hours(h), words.Reading(k.check, r))})
		}
		c.Curves = append(c.Curves, curve)
	}
	c.Unit = words.UnitWord(unit)
	if k.check.Kind == catalog.Grade {
		c.Unit = lang.L("grade")
		c.Low, c.High = 0, 5
	}
	c.Limit, c.HasLimit = limitOf(k.check, s.life.sheet)
	return c, len(c.Curves)
}

// fittedInOrder are the fittings that were read, the oldest first.
func fittedInOrder(all []inspect.Fitting, read map[inspect.ID][]inspect.Reading) []inspect.Fitting {
	var out []inspect.Fitting
	for _, f := range all {
		if len(read[f.ID]) > 0 {
			out = append(out, f)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].FittedAt < out[j].FittedAt })
	return out
}

// limitOf is the limit of a check in the unit that is shown.
func limitOf(k catalog.Check, sheet catalog.Sheet) (float64, bool) {
	if k.Kind == catalog.Grade {
		return k.LimitGrade, k.LimitGrade > 0
	}
	if _, l := k.Bounds(sheet); l != nil {
		v, _ := words.In(*l, k.Unit)
		return v, true
	}
	return 0, false
}

// views are the two plots of a check: the part that is in now, and all that
// were in its place. The second is offered once there was more than one.
type views struct {
	box   *fyne.Container
	bar   *fyne.Container
	chips [2]*widgets.Chip
	plots [2]fyne.CanvasObject
	all   *widgets.CurvePlot
}

func (s *Screen) newViews(now fyne.CanvasObject) *views {
	v := &views{box: container.NewStack(now), all: widgets.NewCurvePlot(widgets.Chart{})}
	v.all.OnTapped = func(id string) {
		if r, ok := s.readingOf(id); ok {
			s.onPoint(string(r.VisitID))
		}
	}
	v.all.OnHover = s.onReading
	v.plots = [2]fyne.CanvasObject{now, v.all}
	for i, word := range []string{lang.L("The part that is in now"), lang.L("All that were in its place")} {
		v.chips[i] = widgets.NewChip(word, func() { v.show(i) })
	}
	v.bar = container.NewHBox(v.chips[0], v.chips[1])
	return v
}

func (v *views) show(at int) {
	for i, c := range v.chips {
		c.SetSelected(i == at)
	}
	v.box.Objects = []fyne.CanvasObject{v.plots[at]}
	v.box.Refresh()
}

// showFittings fills the second plot for a check and goes back to the first.
func (s *Screen) showFittings(k check) {
	c, n := s.through(k)
	s.views.all.SetChart(c)
	s.views.bar.Hidden = n < 2
	s.views.show(0)
	rows.Settle(s.page)
}

// readingOf finds a reading of the check that is shown.
func (s *Screen) readingOf(id string) (inspect.Reading, bool) {
	for _, r := range s.life.checks[s.chosen.SelectedIndex()].all {
		if string(r.ID) == id {
			return r, true
		}
	}
	return inspect.Reading{}, false
}

// onReading tells the reading pointed at in the plot of all fittings.
func (s *Screen) onReading(id string) {
	r, ok := s.readingOf(id)
	s.point(r.VisitID, ok)
	if ok {
		s.showBeside(r.VisitID, s.toldReading(s.life.checks[s.chosen.SelectedIndex()], r))
	}
}

// toldReading writes a reading with its day, the fork's hours and the part's.
func (s *Screen) toldReading(k check, r inspect.Reading) string {
	h, _ := s.life.hours(r.VisitID)
	said := []string{s.visitDate(r.VisitID), fmt.Sprintf(lang.L("Found: %s"), words.Reading(k.check, r)), fmt.Sprintf(lang.L("At %s of the fork"), words.Hours(h))}
	for _, f := range s.life.fittings {
		if f.ID == r.FittingID {
			said = append(said, fmt.Sprintf(lang.L("On it: %s"), words.OnPart(h-f.FittedAt, f.AgeKnown)))
		}
	}
	return strings.Join(said, "\n")
}
