package handback

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/shop"
	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) build() {
	s.fields, s.left, s.ticks = nil, map[string]*visitbar.Field{}, map[string]func(){}
	step := inspect.StepHandBack
	bar := visitbar.New(s.env, s.c, step)
	left := visitbar.List(16, s.settings(), s.safetyList())
	right := visitbar.List(12)
	if s.c.Visit.Closed() {
		right.Add(s.locked())
	}
	right.Add(s.next())
	right.Add(s.gaps())
	s.page.Show(bar, visitbar.Columns([]float32{0, 380}, left, right), s.foot())
}

// settings shows each setting as found beside as left.
func (s *Screen) settings() fyne.CanvasObject {
	closed := s.c.Visit.Closed()
	widths := []float32{0, 130, 150, 90}
	list := visitbar.List(4, visitbar.Heading(lang.L("Settings")),
		visitbar.Tight(widths, visitbar.Quiet(""), visitbar.Quiet(lang.L("as found")), visitbar.Quiet(lang.L("as left")), visitbar.Quiet("")))
	for _, p := range pairs(s.c) {
		f := visitbar.NewField(written(p.left), words.UnitWord(words.Unit(p.unit)), func(text string) { s.Left(p, text) })
		s.fields, s.left[p.key] = append(s.fields, f), f
		found := written(p.found)
		same := fyne.CanvasObject(widget.NewLabel(""))
		if p.found != nil && !closed {
			same = widgets.NewTextButton(lang.L("Same"), false, func() { f.SetText(found); f.Keep() })
		}
		if found == "" {
			found = "–"
		}
		if closed {
			f.Disable()
		}
		list.Add(visitbar.Tight(widths, visitbar.Text(words.SettingName(p.key)), visitbar.Text(found), f, same))
	}
	return list
}

func (s *Screen) safetyList() fyne.CanvasObject {
	list := visitbar.List(4, visitbar.Heading(lang.L("Safety list")))
	for _, k := range s.safety() {
		list.Add(s.line(k))
	}
	if ts := shop.Torques(s.env.Desk.Catalog, s.c); len(ts) > 0 {
		list.Add(visitbar.Bold(lang.L("Torques at the service")))
		for _, t := range ts {
			list.Add(torque(t))
		}
	}
	return list
}

// torque is one bolt of the work sheet with what was typed there.
func torque(t shop.Torque) fyne.CanvasObject {
	value, how := visitbar.Text(lang.L("not written down")), visitbar.Quiet("")
	if t.Typed() {
		value = visitbar.Bold(words.Measured(t.Done.Value, 0, t.Done.Unit))
		how = visitbar.Quiet(strings.Join(slices.DeleteFunc([]string{t.Done.Tool, t.Done.By}, func(s string) bool { return s == "" }), ", "))
	} else {
		value.Importance = widget.WarningImportance
	}
	return visitbar.Row([]float32{44, 0, 150, 200}, widget.NewLabel(""), visitbar.Text(t.Task.Name), value, how)
}

func (s *Screen) line(k catalog.Task) fyne.CanvasObject {
	by := widget.NewLabel("")
	by.SizeName, by.Importance, by.Truncation = theme.SizeNameCaptionText, widget.LowImportance, fyne.TextTruncateEllipsis
	who := func() {
		by.SetText("")
		if t := s.tasks[k.ID]; t.Done {
			by.SetText(t.By + ", " + words.DateTime(t.At))
		}
	}
	tick := visitbar.NewTick(s.tasks[k.ID].Done, func(on bool) { s.Tick(k, on); who() })
	who()
	s.ticks[k.ID] = func() { tick.Set(s.tasks[k.ID].Done); who() }
	if s.c.Visit.Closed() {
		tick.Disable()
	}
	named := visitbar.List(-8, visitbar.Text(k.Name))
	if k.Caution != "" {
		c := visitbar.Text(fmt.Sprintf(lang.L("Caution: %s"), k.Caution))
		c.Importance, c.SizeName = widget.WarningImportance, theme.SizeNameCaptionText
		named.Add(c)
	}
	return visitbar.Row([]float32{44, 0, 200}, container.NewCenter(tick), named, by)
}

// next says when the fork should come again, and lets it be changed.
func (s *Screen) next() fyne.CanvasObject {
	hours, date := s.nextTyped()
	var atHours, atDate *visitbar.Field
	keep := func(string) { s.Next(atHours.Text, atDate.Text) }
	atHours, atDate = visitbar.NewField(hours, "h", keep), visitbar.NewField(date, "2026-11-30", keep)
	s.showNext = func() {
		h, d := s.nextTyped()
		atHours.Put(h)
		atDate.Put(d)
	}
	if s.c.Visit.Closed() {
		atHours.Disable()
		atDate.Disable()
	}
	s.fields = append(s.fields, atHours, atDate)
	return widgets.NewCard(visitbar.List(4, visitbar.Heading(lang.L("Next visit")),
		visitbar.Row([]float32{144, 0}, visitbar.Text(lang.L("at hours")), atHours),
		visitbar.Row([]float32{144, 0}, visitbar.Text(lang.L("or by date")), atDate),
		visitbar.Quiet(fmt.Sprintf(lang.L("Whichever is first. Now at %s."), words.Hours(s.c.Claim.Hours)))))
}

// nextTyped is the next visit as it stands in its fields: on record, or what the
// service level suggests.
func (s *Screen) nextTyped() (hours, date string) {
	h, d := s.c.Visit.NextHours, s.c.Visit.NextDate
	if h == 0 && d.IsZero() {
		h, d = s.env.Desk.Next(s.c)
	}
	if h > 0 {
		hours = words.Number(h, 0)
	}
	if !d.IsZero() {
		date = words.Date(d)
	}
	return hours, date
}

// gaps says what is missing; it follows every entry.
func (s *Screen) gaps() fyne.CanvasObject {
	list := visitbar.List(0)
	s.lists = func() {
		list.RemoveAll()
		list.Add(visitbar.Heading(lang.L("Before it goes")))
		gaps := s.missing()
		switch {
		case len(gaps) == 0:
			list.Add(visitbar.Text(lang.L("Nothing is missing.")))
		case s.asked:
			list.Add(visitbar.Bold(lang.L("Still missing. Press Collected again to lock the record all the same.")))
		}
		for _, g := range gaps {
			list.Add(visitbar.Text("• " + g))
		}
		list.Refresh()
	}
	if s.c.Visit.Closed() {
		s.lists = func() {}
		return visitbar.Quiet("")
	}
	s.lists()
	return widgets.NewCard(list)
}

// locked says since when the record is locked, and takes amendments.
func (s *Screen) locked() fyne.CanvasObject {
	list := visitbar.List(4, visitbar.Heading(lang.L("Collected")),
		visitbar.Text(fmt.Sprintf(lang.L("%s. The record is locked; a later word is added as an amendment."), words.DateTime(s.c.Visit.Collected))))
	for _, a := range s.c.Amendments {
		list.Add(visitbar.List(-8, visitbar.Bold(a.What), visitbar.Text(a.Why), visitbar.Quiet(a.By+", "+words.DateTime(a.At))))
	}
	what := visitbar.NewField("", lang.L("what changed"), nil)
	why := visitbar.NewField("", lang.L("why"), nil)
	list.Add(what)
	list.Add(why)
	list.Add(widgets.NewTextButton(lang.L("Add amendment"), false, func() { s.Amend(what.Text, why.Text) }))
	return widgets.NewCard(list)
}

func (s *Screen) foot() fyne.CanvasObject {
	v := s.c.Visit
	state := lang.L("Not ready yet")
	switch {
	case v.Closed():
		state = fmt.Sprintf(lang.L("Collected %s"), words.DateTime(v.Collected))
	case !v.Ready.IsZero():
		state = fmt.Sprintf(lang.L("Ready since %s"), words.DateTime(v.Ready))
	}
	keys := container.NewHBox(layout.NewSpacer(), widgets.NewTextButton(lang.L("Report"), false, s.Report))
	if !v.Closed() {
		ready := widgets.NewTextButton(lang.L("Ready"), v.Ready.IsZero(), s.Ready)
		ready.SetEnabled(v.Ready.IsZero())
		keys.Add(ready)
		keys.Add(widgets.NewTextButton(lang.L("Collected"), !v.Ready.IsZero(), s.Collect))
	}
	return container.NewVBox(widget.NewSeparator(), container.New(layout.NewCustomPaddedLayout(4, 8, 16, 16),
		visitbar.Row([]float32{0, 330}, visitbar.Bold(strings.TrimSpace(state)), keys)))
}
