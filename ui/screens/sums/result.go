package sums

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect/measure"
	"forkwear/ui/screens/rows"
	"forkwear/ui/theme"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) buildResult() fyne.CanvasObject {
	s.wrong = rows.NewRefusal()
	s.head = widget.NewRichText()
	s.head.Wrapping = fyne.TextWrapWord
	s.lines = widget.NewLabel("")
	s.lines.Wrapping = fyne.TextWrapWord
	s.figures = container.NewVBox()
	s.formula, s.from, s.mind = rows.Quiet(""), rows.Quiet(""), rows.Quiet("")
	s.why = container.NewVBox(rows.Title(lang.L("Why"), false), s.formula, s.from, s.mind)
	return container.NewVBox(widgets.NewCard(container.NewVBox(s.head, s.lines, s.figures, s.wrong.RichText, s.why)), layout.NewSpacer())
}

func (s *Screen) show(r result, err error) {
	s.wrong.Set(err)
	if err != nil {
		r = result{head: lang.L("No result")}
	}
	style := widget.RichTextStyle{SizeName: theme.SizeNameFigure, TextStyle: fyne.TextStyle{Bold: true}}
	if r.formula == "" {
		style = widget.RichTextStyle{SizeName: fynetheme.SizeNameSubHeadingText, ColorName: theme.ColorNameQuietInk}
	}
	s.head.Segments = []widget.RichTextSegment{&widget.TextSegment{Text: r.head, Style: style}}
	s.head.Refresh()
	s.lines.SetText(strings.Join(r.lines, "\n"))
	s.lines.Hidden = len(r.lines) == 0
	s.showFigures(r)
	s.why.Hidden = r.formula == ""
	rows.SetQuiet(s.formula, r.formula)
	rows.SetQuiet(s.from, fmt.Sprintf(lang.L("From: %s"), inputLine(r.inputs)))
	rows.SetQuiet(s.mind, fmt.Sprintf(lang.L("Mind: %s"), sentences(r.remarks)))
	s.from.Hidden, s.mind.Hidden = len(r.inputs) == 0, len(r.remarks) == 0
	s.why.Refresh()
	rows.Settle(s.right)
}

// showFigures puts the plot and the columns of figures of a result in place.
func (s *Screen) showFigures(r result) {
	s.figures.Objects = nil
	if r.chart != nil && len(r.chart.Curves) > 0 {
		p := widgets.NewCurvePlot(*r.chart)
		s.figures.Add(container.New(fynePlot{300}, p))
		s.figures.Add(rows.Quiet(lang.L("The arrow keys and the mouse point at what was read; the band holds the limits.")))
	}
	if len(r.ratios) > 0 {
		s.figures.Add(widgets.NewRatioPlot(r.ratios))
	}
	if r.grid != nil && len(r.grid.lines) > 0 {
		s.figures.Add(r.grid.build())
	}
	s.figures.Hidden = len(s.figures.Objects) == 0
	s.figures.Refresh()
}

// fynePlot gives a plot its height.
type fynePlot struct{ height float32 }

// MinSize implements fyne.Layout.
func (p fynePlot) MinSize(os []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(os[0].MinSize().Width, p.height)
}

// Layout implements fyne.Layout.
func (p fynePlot) Layout(os []fyne.CanvasObject, s fyne.Size) { os[0].Resize(s) }

// most is how many lines of figures are shown.
const most = 60

func (g *grid) build() fyne.CanvasObject {
	columns := make([]rows.Column, len(g.heads))
	for i, h := range g.heads {
		widest := utf8.RuneCountInString(h)
		for _, line := range g.lines {
			widest = max(widest, utf8.RuneCountInString(line[i]))
		}
		columns[i] = rows.Column{Title: h, Share: float32(widest + 2), Least: 40, Right: i > 0}
	}
	box := container.New(layout.NewCustomPaddedVBoxLayout(0), rows.Heading(columns))
	for i, line := range g.lines {
		if i == most {
			box.Add(rows.Quiet(fmt.Sprintf(lang.L("and %d more; the command line gives all"), len(g.lines)-most)))
			break
		}
		cells := make([]rows.Cell, len(line))
		for j, text := range line {
			cells[j] = rows.Cell{Text: text}
		}
		l := rows.NewLine(columns).Low()
		l.Set(cells...)
		box.Add(l)
	}
	return box
}

// sentences joins remarks, each with its capital.
func sentences(remarks []string) string {
	var out []string
	for _, r := range remarks {
		out = append(out, words.Sentence(tongue.Say(r)))
	}
	return strings.Join(out, " ")
}

func inputLine(inputs []measure.Input) string {
	var out []string
	for _, in := range inputs {
		unit := in.Unit
		if unit == "1" {
			unit = ""
		}
		t := tongue.Say(in.Name) + " " + words.Measured(in.Value, 0, unit)
		if in.U != nil && *in.U > 0 {
			_, u, _ := words.Units().Show(in.Value, *in.U, measure.Unit(unit))
			t += fmt.Sprintf(lang.L(" (u %s)"), sig(u))
		}
		out = append(out, t)
	}
	return strings.Join(out, ", ")
}
