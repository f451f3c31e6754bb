package decide

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/place"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) build() {
	st := s.data.story
	bar := visitbar.New(s.env, st.Case, inspect.StepDecide)
	s.stopPhotos()
	s.rows, s.wants = nil, nil
	if len(st.Lines) == 0 {
		s.page.Empty(bar, lang.L("Nothing to decide yet"),
			lang.L("No check of this visit has an answer. What was not looked at gets no verdict."),
			lang.L("Go to Inspect"), func() { s.env.Go(place.Where{Name: place.Inspect, Visit: s.visit}) })
		return
	}
	body := visitbar.List(8)
	if st.DoNotRide {
		body.Add(s.banner())
	}
	if not := st.Case.InConflict(); len(not) > 0 {
		body.Add(s.conflicts(not))
	}
	if len(st.Causes) > 0 {
		body.Add(s.causes())
	}
	for _, v := range []inspect.Verdict{inspect.Replace, inspect.Measure, inspect.Reuse} {
		s.group(body, v)
	}
	if shut := s.data.shut(); len(shut) > 0 {
		body.Add(s.unopened(shut))
	}
	s.page.Show(bar, body, s.foot())
	for _, r := range s.rows {
		r.choose(r.job.Key == s.at)
	}
	s.startPhotos()
}

func groupWords(v inspect.Verdict, n int) string {
	switch v {
	case inspect.Replace:
		return fmt.Sprintf(lang.L("To replace (%d)"), n)
	case inspect.Measure:
		return fmt.Sprintf(lang.L("To measure again (%d)"), n)
	}
	return fmt.Sprintf(lang.L("To reuse (%d)"), n)
}

func (s *Screen) group(body *fyne.Container, v inspect.Verdict) {
	var rows []fyne.CanvasObject
	for _, j := range s.data.jobs {
		if j.Verdict != v {
			continue
		}
		r := s.newRow(len(s.rows), j)
		s.rows = append(s.rows, r)
		rows = append(rows, r)
		r.show(s.open == j.Key)
	}
	if len(rows) == 0 {
		return
	}
	body.Add(visitbar.Heading(groupWords(v, len(rows))))
	for _, r := range rows {
		body.Add(r)
	}
}

func (s *Screen) banner() fyne.CanvasObject {
	why := lang.L("One or more parts are not safe to ride on. Tell the customer before the fork leaves.")
	for _, l := range s.data.story.Lines {
		if l.Assessment.DoNotRide && !l.Renewed {
			why = fmt.Sprintf("%s: %s", words.PartAt(l.Part.Name, l.Assessment.Leg), l.Sentence)
			break
		}
	}
	return widgets.NewCard(visitbar.Row([]float32{150, 0},
		widgets.NewVerdictMark(draw.DoNotRide, lang.L("Do not ride")), visitbar.Bold(why)))
}

// causes lists what ties the findings together; a cause condemns nothing.
func (s *Screen) causes() fyne.CanvasObject {
	list := visitbar.List(0, visitbar.Heading(lang.L("Likely causes")))
	for _, f := range s.data.story.Causes {
		says := fmt.Sprintf("%s: %s", words.Certainty(f.Cause.Certainty), f.Cause.Says)
		if f.Leg != inspect.Whole {
			says = fmt.Sprintf("%s (%s)", says, words.Leg(f.Leg))
		}
		list.Add(visitbar.Text(says))
		if f.Cause.SettleBy != "" {
			list.Add(visitbar.Quiet(fmt.Sprintf(lang.L("What settles it: %s"), f.Cause.SettleBy)))
		}
	}
	return widgets.NewCard(list)
}

// unopened is one line that opens to the parts that nobody looked at.
func (s *Screen) unopened(lines []shop.Line) fyne.CanvasObject {
	parts := visitbar.List(0)
	for _, l := range lines {
		parts.Add(visitbar.Quiet(fmt.Sprintf("%s: %s", words.PartAt(l.Part.Name, l.Assessment.Leg), nextSeen(l))))
	}
	parts.Hidden = s.folded
	word := func() string {
		if s.folded {
			return fmt.Sprintf(lang.L("%d parts not opened this time · show"), len(lines))
		}
		return fmt.Sprintf(lang.L("%d parts not opened this time · hide"), len(lines))
	}
	var key *widgets.TextButton
	key = widgets.NewTextButton(word(), false, func() {
		s.folded = !s.folded
		parts.Hidden = s.folded
		key.SetWord(word())
		s.page.Content().Refresh()
	})
	return visitbar.List(4, key, parts)
}

func nextSeen(l shop.Line) string {
	if l.Assessment.NextLevel == "" {
		return lang.L("seen when its door is next opened")
	}
	return fmt.Sprintf(lang.L("next seen at: %s"), l.Assessment.NextLevel)
}
