package decide

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// row is one part; a press opens it to its reasons.
type row struct {
	widget.BaseWidget

	screen *Screen
	line   shop.Line
	key    *widgets.TextButton
	inside *fyne.Container // what opens
	box    fyne.CanvasObject
	press  func()
}

var _ fyne.Tappable = (*row)(nil)

func (s *Screen) newRow(i int, l shop.Line) *row {
	r := &row{screen: s, line: l, press: func() { s.OpenRow(i) }, inside: container.NewStack()}
	r.ExtendBaseWidget(r)
	r.key = widgets.NewTextButton(lang.L("Why"), false, r.press)
	r.inside.Hide()
	head := visitbar.Row([]float32{176, 0, 190, 240, 88}, s.mark(l), said(l), s.wearOf(l), s.photos(l), r.key)
	r.box = widgets.NewCard(container.New(layout.NewCustomPaddedLayout(-8, -8, 0, 0), visitbar.List(8, head, r.inside)))
	return r
}

// CreateRenderer implements fyne.Widget.
func (r *row) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(r.box) }

// Tapped implements fyne.Tappable.
func (r *row) Tapped(*fyne.PointEvent) { r.press() }

// show opens or closes the row; what is inside is made when it is first seen.
func (r *row) show(open bool) {
	if open && len(r.inside.Objects) == 0 {
		r.inside.Objects = []fyne.CanvasObject{r.screen.detail(r.line)}
	}
	word := lang.L("Why")
	if open {
		word = lang.L("Close")
	}
	r.key.SetWord(word)
	if r.inside.Hidden == open {
		r.inside.Hidden = !open
		r.box.Refresh()
	}
}

func markOf(a inspect.Assessment) (draw.Mark, string) {
	if a.DoNotRide {
		return draw.DoNotRide, lang.L("Do not ride")
	}
	switch a.InForce() {
	case inspect.Replace:
		return draw.Replace, words.Verdict(inspect.Replace)
	case inspect.Measure:
		return draw.Measure, words.Verdict(inspect.Measure)
	}
	return draw.Reuse, words.Verdict(inspect.Reuse)
}

func (s *Screen) mark(l shop.Line) fyne.CanvasObject {
	m, word := markOf(l.Assessment)
	col := visitbar.List(0, widgets.NewVerdictMark(m, word))
	told := words.Remedy(l.Assessment.Remedy)
	price := words.Money(inspect.Money{Minor: l.Kit.Price, Currency: s.data.currency})
	if l.Assessment.InForce() == inspect.Replace {
		if price == "" {
			price = lang.L("no price yet")
		}
		if told != "" {
			told += " · "
		}
		told += price
	}
	if told != "" {
		col.Add(visitbar.Quiet(told))
	}
	return col
}

// said is the part, the deciding sentence and what one must know with it.
func said(l shop.Line) fyne.CanvasObject {
	col := visitbar.List(-12, visitbar.Bold(words.PartAt(l.Part.Name, l.Assessment.Leg)), visitbar.Text(l.Sentence))
	if l.Consent != nil {
		col.Add(visitbar.Quiet(words.ConsentLine(*l.Consent)))
	}
	chips := container.New(layout.NewRowWrapLayout())
	for _, w := range chipsOf(l) {
		chips.Add(widgets.NewChip(lang.L(w), nil))
	}
	if len(chips.Objects) == 0 {
		return col
	}
	return visitbar.List(4, col, chips)
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

func chipsOf(l shop.Line) []string {
	a := l.Assessment
	var out []string
	for _, c := range []struct {
		on   bool
		word string
	}{
		{photoWanted(l), "photo missing"}, {a.Baseline, "baseline taken"},
		{a.PriorOnly && !a.DoNotRide, "reckoned from usual life"}, {a.Override != nil, "changed by hand"}, {l.Renewed, "fitted new"},
	} {
		if c.on {
			out = append(out, c.word)
		}
	}
	return out
}

func (s *Screen) wearOf(l shop.Line) fyne.CanvasObject {
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
	used := words.Share(w.Used) + " " + lang.L("used")
	left := lang.L("no end in sight")
	switch {
	case w.Used >= 1:
		left = lang.L("past its limit")
	case a.DoNotRide, l.Part.NoLife:
		left = "" // hours left would contradict 'do not ride'
	case a.HoursLeft != nil:
		lead, _ := s.env.Desk.Catalog.Check(a.LeadCheck)
		left = words.LeftOf(lead, a.HoursLeft) + " " + lang.L("left")
	}
	col := visitbar.List(-8, visitbar.Quiet(used), widgets.NewWearBar(w))
	if left != "" {
		col.Add(visitbar.Quiet(left))
	}
	return col
}

// photos are the then and now pictures; a line without any keeps its room.
func (s *Screen) photos(l shop.Line) fyne.CanvasObject {
	if l.Then == nil && l.Now == nil {
		return visitbar.Quiet("")
	}
	then, now := fyne.CanvasObject(visitbar.Quiet(lang.L("first visit: baseline"))), fyne.CanvasObject(visitbar.Quiet(lang.L("no photo today")))
	if l.Then != nil {
		caption := lang.L("then")
		if l.ThenVisit != nil {
			caption += ", " + words.Hours(l.ThenVisit.Hours)
		}
		then = s.cell(*l.Then, caption)
	}
	if l.Now != nil {
		now = s.cell(*l.Now, lang.L("now")+", "+words.Hours(s.data.story.Case.Claim.Hours))
	}
	return container.NewGridWithColumns(2, then, now)
}
