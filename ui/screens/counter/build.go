package counter

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/forkdraw"
	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) build() {
	s.cancelPhotos()
	s.wipe = nil
	if len(s.data.cards) == 0 {
		title, sentence := lang.L("Everything goes back in"), lang.L("No part needs a decision of yours.")
		if len(s.data.story.Lines) == 0 {
			title, sentence = lang.L("Nothing is decided yet"), lang.L("The parts are looked at first, then decided.")
		}
		s.page.ShowWhole(widgets.NewEmptyState(title, sentence, lang.L("Back to the bench"), s.Back))
		return
	}
	l := s.data.cards[s.at]
	left, right := s.pictures(l), s.story(l)
	content := container.New(layout.NewCustomPaddedLayout(16, 16, 24, 24), visitbar.Columns([]float32{-3, -2}, left, right))
	s.page.ShowWhole(container.NewBorder(s.top(), s.foot(l), nil, nil, container.NewVScroll(content)))
}

func (s *Screen) top() fyne.CanvasObject {
	c := s.data.story.Case
	who := widget.NewLabel(fmt.Sprintf("%s · %s", c.Fork.Label(), words.Date(c.Visit.DroppedOff)))
	who.Alignment, who.Truncation = fyne.TextAlignCenter, fyne.TextTruncateEllipsis
	count := widget.NewLabel(fmt.Sprintf(lang.L("%d of %d"), s.at+1, len(s.data.cards)))
	back := widgets.NewTextButton(lang.L("Back to the bench"), false, s.Back)
	return container.New(layout.NewCustomPaddedLayout(8, 0, 24, 24), container.NewBorder(nil, nil, back, count, who))
}

// pictures are the photos of then and now, or the drawing of the fork where
// there is none.
func (s *Screen) pictures(l shop.Line) fyne.CanvasObject {
	if l.Then == nil && l.Now == nil {
		return container.NewBorder(nil, visitbar.Quiet(lang.L("No photo was taken of this part.")), nil, nil, s.drawing(l))
	}
	s.wipe = NewWipe()
	s.photo(l.Then, s.wipe.SetThen)
	s.photo(l.Now, s.wipe.SetNow)
	then := lang.L("Then: first visit, this is the baseline")
	if l.Then != nil {
		then = lang.L("Then") + ": " + words.PhotoDate(*l.Then)
		if l.ThenVisit != nil {
			then += " · " + words.Hours(l.ThenVisit.Hours)
		}
	}
	now := lang.L("Now: no photo today")
	if l.Now != nil {
		now = lang.L("Now") + ": " + words.PhotoDate(*l.Now) + " · " + words.Hours(s.data.story.Case.Claim.Hours)
	}
	right := visitbar.Text(now)
	right.Alignment = fyne.TextAlignTrailing
	captions := container.NewGridWithColumns(2, visitbar.Text(then), right)
	return container.NewBorder(nil, captions, nil, nil, visitbar.Tall(300, s.wipe))
}

func (s *Screen) drawing(l shop.Line) fyne.CanvasObject {
	d := forkdraw.NewForkDrawing(nil)
	d.SetDoubleCrown(s.data.story.Case.Sheet.Crown == "dual")
	side := ""
	switch l.Assessment.Leg {
	case inspect.Left:
		side = draw.Left
	case inspect.Right:
		side = draw.Right
	}
	mark := draw.Replace
	if l.Assessment.InForce() == inspect.Measure {
		mark = draw.Measure
	}
	d.SetStates(draw.States{{ID: l.Part.Zone, Side: side}: {Mark: mark}})
	d.SetMinHeight(320)
	return d
}

// story is what is said beside the pictures: the part, why, the wear through
// the years, what happens if it stays, and the price.
func (s *Screen) story(l shop.Line) fyne.CanvasObject {
	name := visitbar.Bold(words.PartAt(l.Part.Name, l.Assessment.Leg))
	name.SizeName = theme.SizeNameHeadingText
	col := visitbar.List(4, name)
	if l.Assessment.DoNotRide {
		col.Add(widgets.NewVerdictMark(draw.DoNotRide, lang.L("Do not ride")))
	}
	col.Add(larger(l.Sentence))
	// A slow wear line beside 'do not ride' would tell the opposite, unless it
	// is the line of what was found.
	if l.Trend != nil && len(l.Trend.Points) > 0 && (!l.Assessment.DoNotRide || l.Trend.Check.ID == l.Lead.ID) {
		col.Add(visitbar.Quiet(l.Trend.Check.Name))
		col.Add(visitbar.Tall(190, widgets.NewTrendPlot(visitbar.Wear(l.Trend))))
	}
	col.Add(visitbar.Text(words.IfItStays(l.Assessment)))
	if l.Assessment.InForce() == inspect.Replace {
		price := words.Money(inspect.Money{Minor: l.Kit.Price, Currency: s.data.currency})
		if price == "" {
			price = lang.L("ask us for the price")
		}
		if l.Kit.Name != "" {
			price = l.Kit.Name + ": " + price
		}
		col.Add(visitbar.Bold(price))
	}
	return col
}

func larger(s string) *widget.Label {
	l := visitbar.Text(s)
	l.SizeName = theme.SizeNameSubHeadingText
	return l
}

// foot has the two answers between the arrows.
func (s *Screen) foot(l shop.Line) fyne.CanvasObject {
	before := widgets.NewTextButton("←", false, func() { s.Show(s.at - 1) })
	after := widgets.NewTextButton("→", false, func() { s.Show(s.at + 1) })
	before.SetEnabled(s.at > 0)
	after.SetEnabled(s.at < len(s.data.cards)-1)
	middle := visitbar.List(4)
	switch {
	case l.Assessment.InForce() != inspect.Replace:
		middle.Add(larger(lang.L("We measure it once more before we decide.")))
	case s.data.story.Case.Visit.Closed():
		middle.Add(larger(lang.L("The record of this visit is locked.")))
	default:
		// Neither answer is put forward; the one that was given stands out.
		yes := l.Consent != nil && l.Consent.Accepted
		no := l.Consent != nil && !l.Consent.Accepted
		middle.Add(container.NewGridWithColumns(2,
			visitbar.Tall(72, widgets.NewTextButton(lang.L("Yes, renew it"), yes, func() { s.Answer(true) })),
			visitbar.Tall(72, widgets.NewTextButton(lang.L("No, leave it"), no, func() { s.Answer(false) }))))
	}
	if l.Consent != nil {
		said := visitbar.Quiet(lang.L("Answered") + ": " + words.ConsentLine(*l.Consent))
		said.Alignment = fyne.TextAlignCenter
		middle.Add(said)
	}
	wide := func(b fyne.CanvasObject) fyne.CanvasObject {
		return container.NewGridWrap(fyne.NewSize(96, 72), b)
	}
	return container.New(layout.NewCustomPaddedLayout(0, 16, 24, 24), container.NewBorder(nil, nil, wide(before), wide(after), middle))
}
