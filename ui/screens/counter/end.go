package counter

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"

	"forkwear/inspect"
	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// buildEnd is the page of all answers, what they come to, and the signature.
func (s *Screen) buildEnd() {
	left := visitbar.List(2, visitbar.Heading(lang.L("What you said")))
	for i, k := range s.data.cards {
		left.Add(s.answerRow(i, k))
	}
	left.Add(visitbar.Bold(s.data.total()))
	if v := s.data.story.Case.Visit; v.GoAhead.Minor > 0 {
		left.Add(visitbar.Quiet(fmt.Sprintf(lang.L("Go ahead was agreed up to %s"), words.Money(v.GoAhead))))
	}
	content := visitbar.Columns([]float32{-1.2, -1}, left, s.signature())
	padded := container.New(layout.NewCustomPaddedLayout(8, 16, 24, 24), content)
	s.page.ShowWhole(container.NewBorder(s.top(), s.endFoot(), nil, nil, container.NewVScroll(padded)))
}

// answerRow is one job with its answer; pressing it goes back to its card.
func (s *Screen) answerRow(i int, k card) fyne.CanvasObject {
	name := visitbar.Text(words.JobName(k.job))
	price := visitbar.Text("")
	if k.job.Verdict == inspect.Replace {
		price.SetText(words.Amount(k.job.Price))
		if k.job.Included {
			price.SetText(lang.L("in the package"))
		}
	}
	price.Alignment = fyne.TextAlignTrailing
	change := widgets.NewTextButton(k.said(), false, func() { s.Show(i) })
	rows := visitbar.List(0, visitbar.Tight([]float32{-1.2, -1, 190}, name, price, change))
	if yes, answered := k.job.Answered(); k.job.DoNotRide && answered && !yes {
		rows.Add(widgets.NewVerdictMark(draw.DoNotRide, lang.L("Do not ride")))
		rows.Add(visitbar.Bold(lang.L("You were told not to ride it, and declined.")))
	}
	return rows
}

// said is the answer to a job in a word.
func (k card) said() string {
	yes, answered := k.job.Answered()
	switch {
	case k.job.Verdict != inspect.Replace:
		return lang.L("measured again")
	case !answered:
		return lang.L("not answered")
	case yes:
		return lang.L("Yes")
	case k.job.DoNotRide:
		return lang.L("No, not safe to ride")
	}
	return lang.L("No")
}

// answers is each answer in words, as it is kept with the signature.
func (l loaded) answers() []string {
	var out []string
	for _, k := range l.cards {
		text := words.JobName(k.job) + ": " + k.said()
		if k.job.Verdict == inspect.Replace && !k.job.Included {
			text += ", " + words.Amount(k.job.Price)
		}
		if yes, answered := k.job.Answered(); k.job.DoNotRide && answered && !yes {
			text += " (declined although told: do not ride)"
		}
		out = append(out, text)
	}
	return append(out, l.total())
}

// total is what the accepted jobs come to.
func (l loaded) total() string {
	if l.bill.Accepted == 0 && l.story.Case.Visit.Package.Minor == 0 {
		return lang.L("Nothing was said yes to.")
	}
	if p := l.story.Case.Visit.Package; p.Minor > 0 {
		return fmt.Sprintf(lang.L("Total of what you said yes to: %s, with the agreed package price of %s"), words.Amount(l.bill.Yes), words.Money(p))
	}
	return fmt.Sprintf(lang.L("Total of what you said yes to: %s"), words.Amount(l.bill.Yes))
}

// open counts the jobs that wait for an answer.
func (l loaded) open() (n int) {
	for _, k := range l.cards {
		if _, answered := k.job.Answered(); !answered && k.job.Verdict == inspect.Replace {
			n++
		}
	}
	return n
}

// signature is the field to sign in, or the signature that was given.
func (s *Screen) signature() fyne.CanvasObject {
	c := s.data.story.Case
	title := visitbar.Heading(lang.L("Signature"))
	k, stale, ok := c.Signed()
	if ok && (!stale || c.Visit.Closed()) {
		col := visitbar.List(8, title)
		if len(k.Signature) > 0 {
			shown := widgets.NewSignaturePad("", nil)
			shown.SetStrokes(k.Signature)
			shown.SetLocked(true)
			col.Add(visitbar.Tall(130, shown))
		}
		said := words.SignedBy(k.By, len(k.Signature) == 0)
		col.Add(visitbar.Text(strings.ToUpper(said[:1]) + said[1:] + ", " + words.DateTime(k.At)))
		return col
	}
	s.sign = nil
	if c.Visit.Closed() {
		return visitbar.List(8, title, visitbar.Text(lang.L("The record of this visit is locked; it was not signed.")))
	}
	if s.signed.By == "" {
		s.signed.By = c.Customer.Name
	}
	s.sign = widgets.NewSignatureField(nil)
	s.sign.Set(s.signed)
	s.sign.OnChanged = func() { s.signed = s.sign.Value() }
	col := visitbar.List(8, title)
	if stale {
		col.Add(visitbar.Bold(lang.L("An answer has changed since it was signed. Please sign again.")))
	}
	if n := s.data.open(); n > 0 {
		col.Add(visitbar.Quiet(fmt.Sprintf(lang.L("%d without an answer: the signature covers what was answered."), n)))
	}
	col.Add(s.sign)
	return col
}

func (s *Screen) endFoot() fyne.CanvasObject {
	_, stale, ok := s.data.story.Case.Signed()
	if s.sign == nil || ok && !stale {
		return s.withArrows(plain(lang.L("Thank you. Please give the screen back to the shop.")))
	}
	return s.withArrows(visitbar.Tall(72, widgets.NewTextButton(lang.L("Sign these answers"), true, s.Sign)))
}
