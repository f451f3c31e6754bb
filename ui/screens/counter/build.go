package counter

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) build() {
	if s.lock.pad != nil || s.data.story == nil { // the pad hides everything
		return
	}
	s.cancelPhotos()
	s.wipe = nil
	s.env.Window.Canvas().Unfocus() // what had the focus goes with the card
	switch {
	case len(s.data.cards) == 0:
		title, sentence := lang.L("Everything goes back in"), lang.L("No part needs a decision of yours.")
		if len(s.data.story.Lines) == 0 {
			title, sentence = lang.L("Nothing is decided yet"), lang.L("The parts are looked at first, then decided.")
		}
		s.page.ShowWhole(widgets.NewEmptyState(title, sentence, s.leaveWord(), s.Back))
	case s.atEnd():
		s.buildEnd()
	default:
		k := s.data.cards[s.at]
		content := container.New(layout.NewCustomPaddedLayout(4, 8, 24, 24), container.New(&stage{}, s.pictures(k), s.tale(k)))
		s.page.ShowWhole(container.NewBorder(s.top(), s.foot(k), nil, nil, container.NewVScroll(content)))
	}
}

func (s *Screen) leaveWord() string {
	if s.data.pin {
		return lang.L("For the shop")
	}
	return lang.L("Back to the bench")
}

func (s *Screen) top() fyne.CanvasObject {
	c := s.data.story.Case
	who := widget.NewLabel(fmt.Sprintf("%s · %s", c.Fork.Label(), words.Date(c.Visit.DroppedOff)))
	who.Alignment, who.Truncation = fyne.TextAlignCenter, fyne.TextTruncateEllipsis
	where := fmt.Sprintf(lang.L("%d of %d"), s.at+1, len(s.data.cards))
	if s.atEnd() {
		where = lang.L("All answers")
	}
	back := widgets.NewTextButton(s.leaveWord(), false, s.Back)
	return container.New(layout.NewCustomPaddedLayout(8, 0, 24, 24), container.NewBorder(nil, nil, back, widget.NewLabel(where), who))
}

// stage gives the pictures all the height that the words leave, and scrolls
// where that is too little.
type stage struct{}

const leastPicture = 230

// MinSize implements fyne.Layout.
func (*stage) MinSize(os []fyne.CanvasObject) fyne.Size {
	a, b := os[0].MinSize(), os[1].MinSize()
	return fyne.NewSize(max(a.Width, b.Width), max(a.Height, leastPicture)+8+b.Height)
}

// Layout implements fyne.Layout. Words know their height once they have their
// width, so it takes two turns.
func (*stage) Layout(os []fyne.CanvasObject, s fyne.Size) {
	for range 2 {
		os[1].Resize(fyne.NewSize(s.Width, os[1].MinSize().Height))
	}
	low := os[1].MinSize().Height
	high := max(s.Height-low-8, leastPicture)
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(fyne.NewSize(s.Width, high))
	os[1].Move(fyne.NewPos(0, high+8))
}

// tale is what is said under the pictures: the wear through the years beside
// the job, why, what happens if it stays, and the price.
func (s *Screen) tale(k card) fyne.CanvasObject {
	said := s.said(k)
	t := k.line.Trend
	// A slow wear line beside 'do not ride' would tell the opposite, unless it
	// is the line of what was found.
	if t == nil || len(t.Points) == 0 || k.line.Assessment.DoNotRide && t.Check.ID != k.line.Lead.ID {
		return said
	}
	wear := container.NewBorder(visitbar.Quiet(t.Check.Name), nil, nil, nil, visitbar.Tall(170, widgets.NewTrendPlot(visitbar.Wear(t))))
	return visitbar.Columns([]float32{-1, -1}, wear, said)
}

func (s *Screen) said(k card) fyne.CanvasObject {
	l := k.line
	name := visitbar.Heading(k.name())
	name.Wrapping = fyne.TextWrapWord
	col := visitbar.List(0, name)
	if with := k.with(); with != "" {
		col.Add(visitbar.Quiet(fmt.Sprintf(lang.L("With it: %s"), with)))
	}
	if k.job.DoNotRide {
		col.Add(widgets.NewVerdictMark(draw.DoNotRide, lang.L("Do not ride")))
	}
	why := k.job.Why
	if l.Sentence != "" {
		why = l.Sentence
	}
	col.Add(visitbar.Text(why))
	if f := l.Lead.Fails; f != "" && k.job.Verdict == inspect.Replace && !words.Routine(l.Assessment) && !strings.Contains(why, f) {
		f = words.Meaning(l.Assessment, f)
		col.Add(visitbar.Text(f))
	}
	if stays := words.StaysBeside(l.Assessment, why); stays != "" {
		col.Add(visitbar.Text(stays))
	}
	if k.job.Verdict == inspect.Replace {
		col.Add(visitbar.Bold(s.priceOf(k)))
	}
	if needs := s.needs(k); needs != "" {
		col.Add(visitbar.Quiet(needs))
	}
	return col
}

// name is the part that the card is about.
func (k card) name() string {
	if k.line.Part.ID != "" && !k.job.Level {
		return words.PartAt(k.line.Part.Name, k.line.Assessment.Leg)
	}
	return words.JobName(k.job)
}

// with lists the other parts of the job that are asked for, both legs in one.
func (k card) with() string {
	legs := map[string][]string{}
	var names []string
	for _, p := range k.asked {
		if p.Part.ID == k.line.Part.ID && p.Assessment.Leg == k.line.Assessment.Leg && !k.job.Level {
			continue
		}
		if legs[p.Part.Name] == nil {
			names = append(names, p.Part.Name)
		}
		legs[p.Part.Name] = append(legs[p.Part.Name], words.Leg(p.Assessment.Leg))
	}
	for i, n := range names {
		if i > 0 {
			n = words.InSentence(n)
		}
		if l := strings.TrimSpace(bothLegs(legs[names[i]])); l != "" {
			n += " " + l
		}
		names[i] = n
	}
	return strings.Join(names, ", ")
}

func bothLegs(legs []string) string {
	if len(legs) == 2 {
		return fmt.Sprintf(lang.L("%s and %s"), legs[0], legs[1])
	}
	return strings.Join(legs, ", ")
}

func (s *Screen) priceOf(k card) string {
	price := words.Amount(k.job.Price)
	switch {
	case k.job.Included:
		price = lang.L("in the agreed package price")
	default:
		if holds := words.JobHolds(k.job, s.data.jobs); holds != "" {
			price = fmt.Sprintf("%s (%s)", price, holds)
		}
	}
	return fmt.Sprintf("%s: %s", words.JobName(k.job), price)
}

// needs tells which other jobs go together with this one.
func (s *Screen) needs(k card) string {
	var names []string
	for _, key := range k.job.Needs {
		for _, j := range s.data.jobs {
			if j.Key == key {
				names = append(names, words.JobName(j))
			}
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf(lang.L("Goes together with: %s"), strings.Join(names, ", "))
}

func plain(s string) *widget.Label {
	l := visitbar.Text(s)
	l.SizeName = theme.SizeNameSubHeadingText
	l.Alignment = fyne.TextAlignCenter
	return l
}

// foot has the two answers between the arrows.
func (s *Screen) foot(k card) fyne.CanvasObject {
	middle := visitbar.List(4)
	switch {
	case k.job.Verdict != inspect.Replace:
		middle.Add(plain(lang.L("We measure it once more before we decide.")))
	case s.data.story.Case.Visit.Closed():
		middle.Add(plain(lang.L("The record of this visit is locked.")))
	default:
		// Neither answer is put forward; the one that was given stands out.
		said, answered := k.job.Answered()
		yes := lang.L("Yes, renew it")
		if len(k.job.Kits) == 0 {
			yes = lang.L("Yes, do it")
		}
		middle.Add(container.NewGridWithColumns(2,
			visitbar.Tall(72, widgets.NewTextButton(yes, answered && said, func() { s.Answer(true) })),
			visitbar.Tall(72, widgets.NewTextButton(lang.L("No, leave it"), answered && !said, func() { s.Answer(false) }))))
	}
	if a := k.job.Answer; a != nil {
		said := visitbar.Quiet(fmt.Sprintf(lang.L("Answered: %s"), words.ConsentLine(*a)))
		said.Alignment = fyne.TextAlignCenter
		if s.data.story.Case.Visit.Closed() {
			middle.Add(said)
		} else {
			back := widgets.NewTextButton(lang.L("Take the answer back"), false, s.TakeBack)
			middle.Add(container.NewBorder(nil, nil, nil, back, said))
		}
	}
	return s.withArrows(middle)
}

// withArrows sets the foot of a page between the arrows, and what went wrong
// over it.
func (s *Screen) withArrows(middle fyne.CanvasObject) fyne.CanvasObject {
	before := widgets.NewTextButton("←", false, func() { s.Show(s.at - 1) })
	after := widgets.NewTextButton("→", false, func() { s.Show(s.at + 1) })
	before.SetEnabled(s.at > 0)
	after.SetEnabled(!s.atEnd())
	wide := func(b fyne.CanvasObject) fyne.CanvasObject {
		return container.NewGridWrap(fyne.NewSize(96, 72), b)
	}
	foot := visitbar.List(4)
	if s.told != "" {
		told := visitbar.Bold(s.told)
		told.Importance = widget.DangerImportance
		foot.Add(told)
	}
	foot.Add(container.NewBorder(nil, nil, wide(before), wide(after), middle))
	return container.New(layout.NewCustomPaddedLayout(0, 16, 24, 24), foot)
}
