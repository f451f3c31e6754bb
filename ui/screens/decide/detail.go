package decide

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// detail is what an open row shows: every reason, the trend, the customer's
// answer and the change of the verdict.
func (s *Screen) detail(l shop.Line) fyne.CanvasObject {
	left := visitbar.List(8, s.reasons(l))
	right := visitbar.List(8)
	if l.Trend != nil && len(l.Trend.Points) > 0 {
		right.Add(visitbar.Bold(l.Trend.Check.Name))
		right.Add(visitbar.Tall(220, widgets.NewTrendPlot(visitbar.Wear(l.Trend))))
		right.Add(visitbar.Quiet(l.Trend.Told))
	} else {
		right.Add(visitbar.Quiet(lang.L("There is no trend of this part: its checks are a state, or were read for the first time.")))
	}
	if !s.data.story.Case.Visit.Closed() {
		if l.Assessment.InForce() == inspect.Replace {
			left.Add(s.answerForm(l))
		}
		right.Add(s.overrideForm(l))
	}
	return visitbar.List(8, widget.NewSeparator(), visitbar.Columns([]float32{0, 0}, left, right))
}

func (s *Screen) reasons(l shop.Line) fyne.CanvasObject {
	col := visitbar.List(-4)
	for _, r := range l.Assessment.Reasons {
		said := visitbar.Text(r.Plain)
		if r.Decide {
			said = visitbar.Bold(r.Plain)
		}
		col.Add(said)
		if r.Why != "" {
			col.Add(visitbar.Quiet(r.Why))
		}
	}
	if o := l.Assessment.Override; o != nil {
		col.Add(visitbar.Bold(lang.L("Changed by hand to") + " " + strings.ToLower(words.Verdict(o.Verdict)) + ": " + o.Reason))
		col.Add(visitbar.Quiet(lang.L("by") + " " + o.By + ", " + words.DateTime(o.At) + ". " +
			lang.L("Reckoned") + ": " + strings.ToLower(words.Verdict(l.Assessment.Verdict))))
	}
	return col
}

// choice is a row of chips of which one is chosen.
func choice(names []string, chosen int, picked func(i int)) fyne.CanvasObject {
	chips := make([]*widgets.Chip, len(names))
	row := container.New(layout.NewRowWrapLayout())
	for i, n := range names {
		chips[i] = widgets.NewChip(n, func() {
			for j, c := range chips {
				c.SetSelected(i == j)
			}
			picked(i)
		})
		chips[i].SetSelected(i == chosen)
		row.Add(chips[i])
	}
	return row
}

var ways = []string{"here", "phone", "message"}

// answerForm takes the customer's yes or no.
func (s *Screen) answerForm(l shop.Line) fyne.CanvasObject {
	how := 0
	by := visitbar.NewField(s.data.story.Case.Customer.Name, lang.L("who answered"), nil)
	keys := container.NewGridWithColumns(2,
		widgets.NewTextButton(lang.L("Yes, renew it"), false, func() { s.Answer(l, true, by.Text, ways[how]) }),
		widgets.NewTextButton(lang.L("No, leave it"), false, func() { s.Answer(l, false, by.Text, ways[how]) }))
	return visitbar.List(6, visitbar.Bold(lang.L("What the customer said")), by,
		choice([]string{lang.L("here"), lang.L("by phone"), lang.L("by message")}, how, func(i int) { how = i }), keys)
}

// overrideForm changes the verdict by hand.
func (s *Screen) overrideForm(l shop.Line) fyne.CanvasObject {
	all := []inspect.Verdict{inspect.Replace, inspect.Measure, inspect.Reuse}
	var to []inspect.Verdict
	var names []string
	for _, v := range all {
		if v != l.Assessment.InForce() {
			to, names = append(to, v), append(names, words.Verdict(v))
		}
	}
	chosen := 0
	reason := visitbar.NewField("", lang.L("reason, for the record"), nil)
	change := widgets.NewTextButton(lang.L("Change"), false, func() { s.Override(l, to[chosen], reason.Text) })
	return visitbar.List(6, visitbar.Bold(lang.L("Change the verdict to")), choice(names, chosen, func(i int) { chosen = i }),
		container.NewBorder(nil, nil, nil, change, reason))
}
