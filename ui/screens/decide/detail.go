package decide

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/checkdraw"
	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// detail is what an open row shows: its parts with every reason, the trend, the
// customer's answer and the change of a verdict.
func (s *Screen) detail(r *row) fyne.CanvasObject {
	all := visitbar.List(8, widget.NewSeparator())
	for i, p := range r.job.Parts {
		all.Add(s.part(p, i > 0 || r.job.Level))
	}
	all.Add(widget.NewSeparator())
	left, right := visitbar.List(8), visitbar.List(8)
	if t := s.trend(r.job); t != nil {
		left.Add(visitbar.Bold(t.Check.Name))
		left.Add(visitbar.Tall(220, widgets.NewTrendPlot(visitbar.Wear(t))))
		left.Add(visitbar.Quiet(t.Told))
	} else {
		left.Add(visitbar.Quiet(lang.L("There is no trend here: what is looked at is a state, or was read for the first time.")))
		lead := s.lead(r.job).Lead
		if d := checkdraw.New(lead.Drawing); !d.Empty() { // beside today, where there is no then
			left.Add(visitbar.Bold(lead.Name))
			left.Add(d)
		}
	}
	if !s.data.story.Case.Visit.Closed() {
		if r.job.Verdict == inspect.Replace {
			right.Add(s.answerForm(r))
		}
		right.Add(s.overrideForm(r))
	}
	all.Add(visitbar.Columns([]float32{0, 0}, left, right))
	return all
}

// trend is that of the first part that has one.
func (s *Screen) trend(j shop.Job) *shop.Trend {
	for _, p := range j.Parts {
		if t := s.data.lines[p.Assessment.ID].Trend; t != nil && len(t.Points) > 0 {
			return t
		}
	}
	return nil
}

// part is one part of an open row. Photos and wear of the first stand in the
// row itself already.
func (s *Screen) part(p shop.JobPart, more bool) fyne.CanvasObject {
	l := s.data.lines[p.Assessment.ID]
	m, word := markOf(p.Assessment.InForce(), p.Assessment.DoNotRide)
	switch {
	case p.WithKit:
		m, word = draw.NoMark, lang.L("renewed with the kit")
	case p.Assessment.NotOpened && p.Assessment.Override == nil:
		m, word = draw.NoMark, lang.L("not opened")
	}
	told := visitbar.List(-8, visitbar.Bold(words.PartAt(p.Part.Name, p.Assessment.Leg)), reasons(p, l))
	wear, photos := fyne.CanvasObject(visitbar.Quiet("")), fyne.CanvasObject(visitbar.Quiet(""))
	if more {
		wear, photos = s.wearOf(l, false), s.photos(l)
	}
	return visitbar.Row([]float32{184, 0, 190, 232}, widgets.NewVerdictMark(m, word), told, wear, photos)
}

// reasons are all that fired, the deciding one first, each with its figures; of
// a part that only goes with its kit, or because the level says so, the sentence
// is enough.
func reasons(p shop.JobPart, l shop.Line) fyne.CanvasObject {
	col := visitbar.List(-8)
	rs := slices.Clone(l.Assessment.Reasons)
	slices.SortStableFunc(rs, func(a, b inspect.Reason) int {
		return map[bool]int{true: 0, false: 1}[a.Decide] - map[bool]int{true: 0, false: 1}[b.Decide]
	})
	for _, r := range rs {
		said := strings.TrimPrefix(r.Plain, p.Part.Name+": ")
		if said != "" {
			said = strings.ToUpper(said[:1]) + said[1:]
		}
		col.Add(visitbar.Text(said))
		if r.Why != "" && !p.WithKit && r.Rule != bySchedule {
			col.Add(visitbar.Quiet(r.Why))
		}
	}
	if o := l.Assessment.Override; o != nil {
		col.Add(visitbar.Bold(fmt.Sprintf(lang.L("Changed by hand to '%s': %s"), words.Verdict(o.Verdict), o.Reason)))
		col.Add(visitbar.Quiet(fmt.Sprintf(lang.L("by %s, %s. Reckoned: '%s'"), o.By, words.DateTime(o.At), words.Verdict(l.Assessment.Verdict))))
	}
	return col
}

// bySchedule is the rule of what is renewed by level or age: its sentence has
// all there is to know.
const bySchedule = 4

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

// answerForm takes the customer's yes or no to the line, and says which others
// it answers too.
func (s *Screen) answerForm(r *row) fyne.CanvasObject {
	how := 0
	r.who = visitbar.NewField(s.data.story.Case.Customer.Name, lang.L("who answered"), nil)
	by := r.who
	keys := container.NewGridWithColumns(2,
		widgets.NewTextButton(lang.L("Yes, renew it"), false, func() { s.Answer(r.job, true, by.Text, ways[how]) }),
		widgets.NewTextButton(lang.L("No, leave it"), false, func() { s.Answer(r.job, false, by.Text, ways[how]) }))
	form := visitbar.List(6, visitbar.Bold(lang.L("What the customer said")), by,
		choice([]string{lang.L("here"), lang.L("by phone"), lang.L("by message")}, how, func(i int) { how = i }), keys)
	for _, yes := range []bool{true, false} {
		if names := s.others(r.job, yes); names != "" {
			word := lang.L("A yes is also a yes to: %s")
			if !yes {
				word = lang.L("A no is also a no to: %s")
			}
			form.Add(visitbar.Quiet(fmt.Sprintf(word, names)))
		}
	}
	return form
}

// others names the lines that an answer to j answers too.
func (s *Screen) others(j shop.Job, yes bool) string {
	var names []string
	for _, i := range shop.Together(s.data.jobs, j.Key, yes) {
		if s.data.jobs[i].Key != j.Key {
			names = append(names, words.JobName(s.data.jobs[i]))
		}
	}
	return strings.Join(names, ", ")
}

// overrideForm changes the verdict of a part by hand.
func (s *Screen) overrideForm(r *row) fyne.CanvasObject {
	var names []string
	var open []shop.JobPart
	for _, p := range r.job.Parts {
		if !p.Assessment.NotOpened {
			open, names = append(open, p), append(names, words.PartAt(p.Part.Name, p.Assessment.Leg))
		}
	}
	if len(open) == 0 {
		return visitbar.Quiet("")
	}
	at, chosen := 0, 0
	to, verdicts := []inspect.Verdict(nil), container.NewStack()
	offer := func() {
		to, chosen = nil, 0
		var offered []string
		for _, v := range []inspect.Verdict{inspect.Replace, inspect.Measure, inspect.Reuse} {
			if v != open[at].Assessment.InForce() {
				to, offered = append(to, v), append(offered, words.Verdict(v))
			}
		}
		verdicts.Objects = []fyne.CanvasObject{choice(offered, 0, func(i int) { chosen = i })}
		verdicts.Refresh()
	}
	offer()
	r.reason = visitbar.NewField("", lang.L("reason, for the record"), nil)
	reason := r.reason
	do := func() { s.Override(open[at], to[chosen], reason.Text) }
	reason.OnSubmitted = func(string) { do() }
	form := visitbar.List(6, visitbar.Bold(lang.L("Change the verdict to")))
	if len(open) > 1 {
		form.Add(choice(names, 0, func(i int) { at = i; offer() }))
	}
	form.Add(verdicts)
	form.Add(container.NewBorder(nil, nil, nil, widgets.NewTextButton(lang.L("Change"), false, do), reason))
	return form
}

// focusable is a field as something to type into; nil where there is none.
func focusable(f *visitbar.Field) fyne.Focusable {
	if f == nil {
		return nil
	}
	return f
}
