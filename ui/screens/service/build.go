package service

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/forkdraw/draw"
	"forkwear/ui/place"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// line is one row of the sheet with its fields.
type line struct {
	tick        *visitbar.Tick
	value, tool *visitbar.Field
	task        catalog.Task
}

func (l *line) keep() {
	for _, f := range []*visitbar.Field{l.value, l.tool} {
		if f != nil {
			f.Keep()
		}
	}
}

// show puts what is on record; what is being typed is left alone.
func (l *line) show(t inspect.Task) { l.tick.Set(t.Done) }

func (s *Screen) build() {
	bar := visitbar.New(s.env, s.c, inspect.StepService)
	s.lines = map[string]*line{}
	work, proof := s.list("service"), s.list("function")
	if len(work)+len(proof) == 0 {
		s.page.Empty(bar, lang.L("No work sheet"), fmt.Sprintf(lang.L("The level %s has no work of its own: nothing is opened."), s.c.Level.Name),
			lang.L("Go on to hand-back"), s.GoOn)
		return
	}
	sheet := visitbar.List(4, visitbar.Heading(s.c.Level.Name), visitbar.Quiet(fmt.Sprintf(lang.L("Data sheet: %s"), s.c.Sheet.Name)))
	for _, o := range work {
		sheet.Add(o)
	}
	if len(proof) > 0 {
		sheet.Add(visitbar.Heading(lang.L("It works")))
		for _, o := range proof {
			sheet.Add(o)
		}
	}
	side := visitbar.List(12, s.parts(), s.after())
	s.page.Show(bar, visitbar.Columns([]float32{0, 360}, sheet, side), s.foot())
}

func (s *Screen) list(name string) []fyne.CanvasObject {
	var out []fyne.CanvasObject
	for _, k := range catalog.TasksFor(s.env.Desk.Catalog, s.c.Sheet, s.c.Visit.Level, name) {
		out = append(out, s.row(k), widget.NewSeparator())
	}
	return out
}

func (s *Screen) row(k catalog.Task) fyne.CanvasObject {
	t := s.tasks[k.ID]
	l := &line{task: k}
	s.lines[k.ID] = l
	l.tick = visitbar.NewTick(t.Done, func(on bool) { s.Tick(k, on) })
	named := visitbar.List(-8, visitbar.Text(k.Name))
	if k.Caution != "" {
		caution := visitbar.Text(fmt.Sprintf(lang.L("Caution: %s"), k.Caution))
		caution.Importance, caution.SizeName = widget.WarningImportance, theme.SizeNameCaptionText
		named.Add(caution)
	}
	if tg := target(k, s.c.Sheet); tg != "" {
		named.Add(visitbar.Quiet(tg))
	}
	if k.Unit != "" {
		l.value = visitbar.NewField(typed(t, k), "", func(text string) { s.Value(k, text) })
		l.tool = visitbar.NewField(t.Tool, lang.L("tool"), func(text string) { s.Tool(k, text) })
	}
	if s.c.Visit.Closed() {
		l.tick.Disable()
		if l.value != nil {
			l.value.Disable()
			l.tool.Disable()
		}
	}
	box := container.NewCenter(l.tick)
	if l.value == nil {
		return visitbar.Row([]float32{44, 0}, box, named)
	}
	value := container.NewBorder(nil, nil, nil, widget.NewLabel(words.UnitWord(words.Unit(k.Unit))), l.value)
	return visitbar.Tight([]float32{44, 0, 150, 130}, box, named, value, l.tool)
}

// parts lists what goes in new, with where each part stands.
func (s *Screen) parts() fyne.CanvasObject {
	as, states := toFit(s.c)
	list := visitbar.List(8, visitbar.Heading(lang.L("Parts to fit new")))
	open := 0
	for i, a := range as {
		list.Add(s.part(a, states[i]))
		if states[i] == agreed || states[i] == waits {
			open++
		}
	}
	switch {
	case len(s.c.Assessments) == 0:
		list.Add(visitbar.Quiet(lang.L("Nothing is decided yet.")))
		list.Add(widgets.NewTextButton(lang.L("Go to Decide"), false, func() {
			s.env.Go(place.Where{Name: place.Decide, Visit: s.visit})
		}))
	case len(as) == 0:
		list.Add(visitbar.Quiet(lang.L("Everything goes back in.")))
	case open > 1 && !s.c.Visit.Closed():
		list.Add(widgets.NewTextButton(fmt.Sprintf(lang.L("All %d fitted new"), open), false, s.FitAll))
	}
	return widgets.NewCard(list)
}

func (st fitState) words() string {
	switch st {
	case agreed:
		return lang.L("the customer said yes")
	case declined:
		return lang.L("the customer said no: it goes back in")
	case fitted:
		return lang.L("fitted new")
	}
	return lang.L("the customer has not answered yet")
}

// markWidth is the room of a mark without a word: names stand in one line.
const markWidth = 36

func (s *Screen) part(a inspect.Assessment, st fitState) fyne.CanvasObject {
	mark := draw.Replace
	if st == fitted || st == declined {
		mark = draw.NoMark
	}
	if a.DoNotRide && st != fitted {
		mark = draw.DoNotRide
	}
	name := visitbar.Bold(s.partName(a))
	said := st.words()
	if st == fitted {
		said += s.batchOf(a)
	}
	col := visitbar.List(-8, name, visitbar.Quiet(said))
	head := fyne.CanvasObject(col)
	switch {
	case mark == draw.DoNotRide:
		head = visitbar.List(0, widgets.NewVerdictMark(mark, lang.L("Do not ride")),
			container.New(layout.NewCustomPaddedLayout(0, 0, markWidth, 0), col))
	case mark != draw.NoMark:
		head = container.NewBorder(nil, nil, container.NewVBox(widgets.NewVerdictMark(mark, "")), nil, col)
	}
	if st == fitted || st == declined || s.c.Visit.Closed() {
		return head
	}
	if mates := s.matesOf(a); mates != "" {
		col.Add(visitbar.Quiet(fmt.Sprintf(lang.L("with its kit: %s"), mates)))
	}
	batch := visitbar.NewField("", lang.L("batch, from the bag"), nil)
	key := widgets.NewTextButton(lang.L("Fitted"), false, func() { s.FitNew(a, batch.Text) })
	return visitbar.List(2, head, container.NewBorder(nil, nil, nil, key, batch))
}

// matesOf names what is fitted with a part because it comes in its kit.
func (s *Screen) matesOf(a inspect.Assessment) string {
	var fs []inspect.Fitting
	for _, r := range s.env.Desk.KitMates(s.c, shop.Renewal{Part: a.Part, Leg: a.Leg}) {
		fs = append(fs, inspect.Fitting{Part: r.Part, Leg: r.Leg})
	}
	return s.names(fs)
}

// noBatch stands in the record where no batch was typed.
const noBatch = "fitted here"

func (s *Screen) batchOf(a inspect.Assessment) string {
	for _, f := range s.c.Fittings {
		if f.Part == a.Part && f.Leg == a.Leg && f.FittedVisit == s.visit && f.In() {
			on := " · " + words.Date(f.FittedOn)
			if f.Batch == "" || f.Batch == noBatch {
				return on
			}
			return " · " + f.Batch + on
		}
	}
	return ""
}

func (s *Screen) after() fyne.CanvasObject {
	done, of := s.env.Desk.Progress(s.c, inspect.AfterWork, "", inspect.Whole)
	text := lang.L("No check of this level comes after the work.")
	if of > 0 {
		text = fmt.Sprintf(lang.L("%d of %d checks after the work have an answer."), done, of)
	}
	list := visitbar.List(4, visitbar.Heading(lang.L("Checks after the work")), visitbar.Quiet(text))
	if of > 0 {
		list.Add(widgets.NewTextButton(lang.L("Check after the work"), false, s.CheckAfter))
	}
	return widgets.NewCard(list)
}

func (s *Screen) foot() fyne.CanvasObject {
	count := visitbar.Bold("")
	s.count = func() {
		done := 0
		for id := range s.lines {
			if s.tasks[id].Done {
				done++
			}
		}
		count.SetText(fmt.Sprintf(lang.L("%d of %d lines done"), done, len(s.lines)))
	}
	s.count()
	goOn := widgets.NewTextButton(lang.L("Go on to hand-back"), true, s.GoOn)
	return container.NewVBox(widget.NewSeparator(), container.New(layout.NewCustomPaddedLayout(4, 8, 16, 16),
		container.NewBorder(nil, nil, nil, goOn, count)))
}
