package decide

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// said is the line's name, the deciding sentence and what one must know with it.
func (s *Screen) said(j shop.Job) fyne.CanvasObject {
	col := visitbar.List(-12, visitbar.Bold(words.JobName(j)), visitbar.Text(sentence(j)))
	for _, q := range []string{parts(j), s.along(j)} {
		if q != "" {
			col.Add(visitbar.Quiet(q))
		}
	}
	if j.Answer != nil {
		col.Add(visitbar.Quiet(words.ConsentLine(*j.Answer)))
	}
	chips := container.New(layout.NewRowWrapLayout())
	for _, w := range s.chips(j) {
		chips.Add(widgets.NewChip(w, nil))
	}
	if len(chips.Objects) == 0 {
		return col
	}
	return visitbar.List(4, col, chips)
}

// sentence is the deciding reason with the part and the leg that it is about,
// unless the name of the line says both.
func sentence(j shop.Job) string {
	p := j.Parts[0]
	name := words.PartAt(p.Part.Name, p.Assessment.Leg)
	if j.Level || j.Name == name || strings.HasPrefix(j.Why, p.Part.Name) {
		return j.Why
	}
	return fmt.Sprintf("%s: %s", name, j.Why)
}

// parts names the parts of a line of several: those that ask for it, then those
// that are renewed with it.
func parts(j shop.Job) string {
	if len(j.Parts) == 1 {
		return ""
	}
	var asked, with, rest []shop.JobPart
	for _, p := range j.Parts {
		switch {
		case p.Asked:
			asked = append(asked, p)
		case p.WithKit:
			with = append(with, p)
		default:
			rest = append(rest, p)
		}
	}
	if len(asked) == 0 {
		return strings.Join(joinLegs(rest), " · ")
	}
	var out []string
	if len(asked) > 1 {
		out = append(out, strings.Join(joinLegs(asked), " · "))
	}
	if len(with) > 0 {
		out = append(out, fmt.Sprintf(lang.L("renewed with it: %s"), strings.Join(joinLegs(with), " · ")))
	}
	return strings.Join(out, "; ")
}

// joinLegs names parts, both legs of one in one word.
func joinLegs(ps []shop.JobPart) []string {
	legs, at := map[string]int{}, map[string]inspect.Leg{}
	for _, p := range ps {
		legs[p.Part.Name]++
		at[p.Part.Name] = p.Assessment.Leg
	}
	var out []string
	for _, p := range ps {
		switch n := legs[p.Part.Name]; {
		case n == 0:
			continue
		case n > 1:
			out = append(out, fmt.Sprintf(lang.L("%s, both"), p.Part.Name))
		default:
			out = append(out, words.PartAt(p.Part.Name, at[p.Part.Name]))
		}
		legs[p.Part.Name] = 0
	}
	return out
}

// along says what the price is for, which work another line already carries,
// and what goes with it.
func (s *Screen) along(j shop.Job) string {
	var out []string
	if holds := words.JobHolds(j, s.data.jobs); j.Verdict == inspect.Replace && !j.Included && holds != "" {
		out = append(out, fmt.Sprintf(lang.L("in the price: %s"), holds))
	}
	for _, key := range j.Needs {
		for _, o := range s.data.jobs {
			if o.Key == key {
				out = append(out, fmt.Sprintf(lang.L("goes only together with: %s"), words.JobName(o)))
			}
		}
	}
	return strings.Join(out, " · ")
}

// photoWanted tells whether a photo should still be taken: of what was found,
// where its check asks for one. A forecast or a part that goes back in needs
// none.
func photoWanted(l shop.Line) bool {
	a := l.Assessment
	if !a.NoPhoto || !l.Lead.Photo || l.Now != nil || a.InForce() == inspect.Reuse {
		return false
	}
	for _, r := range a.Reasons {
		if r.Decide && r.Rule <= lastFinding {
			return true
		}
	}
	return false
}

// lastFinding is the last of the rules that decide by what was found today;
// those after it decide by age and forecast.
const lastFinding = 3

// chips are the marks of a line, those that warn first.
func (s *Screen) chips(j shop.Job) []string {
	noPhoto, byHand, renewed := false, false, true
	for _, p := range j.Parts {
		noPhoto = noPhoto || photoWanted(s.data.lines[p.Assessment.ID])
		byHand = byHand || p.Assessment.Override != nil
		renewed = renewed && (p.Renewed || !p.Asked && !p.WithKit)
	}
	lead := j.Parts[0].Assessment
	yes, answered := j.Answered()
	var out []string
	for _, c := range []struct {
		on   bool
		word string
	}{
		{answered && !yes && j.DoNotRide, lang.L("declined although not safe")},
		{noPhoto, lang.L("photo missing")},
		{lead.Baseline, lang.L("baseline taken")},
		{lead.PriorOnly && !lead.DoNotRide, lang.L("reckoned from usual life")},
		{byHand, lang.L("changed by hand")},
		{renewed && j.Verdict == inspect.Replace, lang.L("fitted new")},
	} {
		if c.on {
			out = append(out, c.word)
		}
	}
	return out
}

// wearOf is the bar of wear used and what is left; named where the row is about
// another part.
func (s *Screen) wearOf(l shop.Line, named bool) fyne.CanvasObject {
	a := l.Assessment
	if a.WearUsed == nil || a.DoNotRide && l.Lead.ID != a.LeadCheck {
		return visitbar.Quiet("") // little wear of another kind would tell the opposite
	}
	w := widgets.Wear{Used: *a.WearUsed, Low: math.NaN(), High: math.NaN(), Next: math.NaN()}
	if a.WearU != nil {
		w.Low, w.High = math.Max(0, w.Used-2**a.WearU), w.Used+2**a.WearU
	}
	if a.Mu != [2]float64{} {
		w.Next = math.Max(w.Used, a.Mu[0]+a.Mu[1]*(a.TNow+a.Horizon))
	}
	used := fmt.Sprintf(lang.L("%s used"), words.Share(w.Used))
	left := lang.L("no end in sight")
	switch {
	case w.Used >= 1:
		left = lang.L("past its limit")
	case a.DoNotRide, l.Part.NoLife:
		left = "" // hours left would contradict 'do not ride'
	case a.HoursLeft != nil:
		lead, _ := s.env.Desk.Catalog.Check(a.LeadCheck)
		left = fmt.Sprintf(lang.L("%s left"), words.LeftOf(lead, a.HoursLeft))
	}
	if named {
		used = fmt.Sprintf("%s: %s", words.PartAt(l.Part.Name, l.Assessment.Leg), used)
	}
	col := visitbar.List(-8, visitbar.Quiet(used), widgets.NewWearBar(w))
	if left != "" {
		col.Add(visitbar.Quiet(left))
	}
	return col
}
