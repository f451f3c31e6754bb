package dropoff

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/shop"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) buildCustomer() fyne.CanvasObject {
	s.customersFound = container.NewVBox()
	name := s.of("name", lang.L("type to find, or a new name"), func(f *form) *string { return &f.Customer.Name }, s.findCustomers)
	phone := s.of("phone", "", func(f *form) *string { return &f.Customer.Phone }, s.findCustomers)
	email := s.of("email", "", func(f *form) *string { return &f.Customer.Email }, nil)
	reach := s.one(said("phone", "message", "email"), false, func(f *form) *string { return &f.Customer.ReachBy }, nil)
	return section(lang.L("Customer"),
		newRow([]float32{3, 2}, field(lang.L("Name"), name), field(lang.L("Phone"), phone)),
		s.customersFound,
		newRow([]float32{1, 1}, field(lang.L("Email"), email), field(lang.L("Reach by"), reach)))
}

func (s *Screen) buildFork() fyne.CanvasObject {
	s.forksFound = container.NewVBox()
	s.lastLine = quiet("", true)
	s.lastRoom = flush(s.lastLine)
	maker := s.of("maker", "", func(f *form) *string { return &f.Fork.Maker }, nil)
	model := s.of("model", "", func(f *form) *string { return &f.Fork.Model }, s.findForks)
	year := s.of("year", "", func(f *form) *string { return &f.Year }, nil)
	serial := s.of("serial", "", func(f *form) *string { return &f.Fork.Serial }, s.findForks)
	tag := s.of("tag", lang.L("finds a known fork"), func(f *form) *string { return &f.Fork.Tag }, s.findForks)
	return section(lang.L("Fork"),
		newRow([]float32{3, 4}, field(lang.L("Workshop tag"), tag), field(lang.L("Serial"), serial)),
		s.forksFound,
		newRow([]float32{3, 3, 2}, field(lang.L("Maker"), maker), field(lang.L("Model"), model), field(lang.L("Year"), year)),
		field(lang.L("Kind of fork (data sheet)"), container.NewStack(newGround(true), s.buildSheets())),
		s.lastRoom)
}

// buildSheets is the choice of the data sheet, by name.
func (s *Screen) buildSheets() fyne.CanvasObject {
	var names []string
	ids, byID := map[string]string{}, map[string]string{}
	for _, sh := range s.env.Desk.Catalog.Sheets {
		name := sh.Name
		if sh.Generic {
			name = fmt.Sprintf(lang.L("%s (generic)"), name)
		}
		names, ids[name], byID[sh.ID] = append(names, name), sh.ID, name
	}
	sel := widgets.NewChoice(lang.L("Kind of fork (data sheet)"), lang.L("Choose tube size, spring and damper"), names)
	sel.OnChanged = func(name string) {
		if s.filling {
			return
		}
		s.form.Fork.Sheet = ids[name]
		s.showSettings()
		s.changed()
	}
	s.syncs = append(s.syncs, func() {
		if name := byID[s.form.Fork.Sheet]; name != "" {
			sel.SetSelected(name)
		} else {
			sel.ClearSelected()
		}
		s.showSettings()
	})
	return sel
}

func (s *Screen) buildHours() fyne.CanvasObject {
	hours := s.of("hours", lang.L("a number"), func(f *form) *string { return &f.Hours }, s.onHours)
	sure := s.one([]option{{fromComputer, lang.L("off a computer, ±2 %")}, {aGuess, lang.L("a guess, ±25 %")}}, false,
		func(f *form) *string { return &f.Sure }, nil)
	use := s.one([]option{{string(shop.LittleUse), lang.L("little")}, {string(shop.NormalUse), lang.L("normal")}, {string(shop.ALotOfUse), lang.L("a lot")}}, true,
		func(f *form) *string { return (*string)(&f.Use) }, s.onUse)
	span := s.of("span", lang.L("18 months, 2 years"), func(f *form) *string { return &f.Span }, s.onSpan)
	s.spanField = field(lang.L("Ridden for, since new"), span)
	since := widgets.NewChip(lang.L("count from new"), func() { s.onTick(&s.form.SinceNew) })
	sinceRow := field("", newFlow(since))
	atLeast := widgets.NewChip(lang.L("at least these hours"), func() { s.onTick(&s.form.AtLeast) })
	s.syncs = append(s.syncs, func() {
		since.SetSelected(s.form.SinceNew)
		atLeast.SetSelected(s.form.AtLeast)
		show(sinceRow, s.known.here())
		show(s.spanField, !s.known.here() || s.form.SinceNew)
	})
	s.hoursLine = widget.NewLabel("")
	s.hoursRoom = flush(s.hoursLine)
	s.hoursLine.TextStyle.Bold, s.hoursLine.Wrapping = true, fyne.TextWrapWord
	conditions := s.many(said("dry", "dust", "mud", "wet", "bike park", "road salt"), func(f *form) *[]string { return &f.Conditions })
	return section(lang.L("Riding"),
		newRow([]float32{2, 5}, field(lang.L("Hours since new"), hours), field(lang.L("How sure"), sure)),
		newRow([]float32{4, 4}, field(lang.L("or: ridden how much a week"), use), container.NewVBox(s.spanField, sinceRow)),
		s.hoursRoom, field(lang.L("If nobody knows what it ran before"), newFlow(atLeast)),
		field(lang.L("Conditions"), conditions))
}

func show(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// onHours: a number that is typed takes the place of what was told otherwise.
func (s *Screen) onHours() {
	s.form.Given = nil
	if strings.TrimSpace(s.form.Hours) != "" && s.form.Use != "" {
		s.form.Use = ""
		s.sync()
	}
	s.follow()
}

func (s *Screen) onUse() {
	s.form.Given = nil
	if s.form.Use != "" {
		s.form.Hours = ""
	}
	s.sync()
}

func (s *Screen) onSpan() {
	s.form.Given = nil
	s.follow()
}

func (s *Screen) onTick(at *bool) {
	*at = !*at
	if s.form.Given != nil {
		s.form.Given.AtLeast = s.form.AtLeast
	}
	s.sync()
	s.changed()
}

// hoursText says what will be kept as riding hours.
func (s *Screen) hoursText() string {
	c, err := s.form.hours(s.known, s.env.Desk.Clock())
	switch {
	case err != nil:
		return inspect.SaidIn(tongue.Say, err)
	case c.Words == "not told" && s.known.here():
		return fmt.Sprintf(lang.L("Not told: kept as at least the %s of the last visit"), words.Hours(c.Hours))
	case c.Words == "not told":
		return ""
	case c.From == "estimated" && s.form.Use != "":
		return lang.L("Say for how long it has been ridden, then the hours are worked out")
	}
	text := words.Hours(c.Hours)
	if c.U > 0 {
		text = fmt.Sprintf(lang.L("%s, give or take %s"), text, words.Hours(c.U))
	}
	if c.From == "weekly use" {
		text += " · " + s.form.useText(s.known)
	}
	if c.AtLeast {
		text = fmt.Sprintf(lang.L("At least %s"), text)
	}
	return text
}

// lastText is what is known of the fork from its last visit.
func (s *Screen) lastText() string {
	if !s.known.here() {
		if s.form.Fork.ID != "" {
			return lang.L("Known fork, no visit on record")
		}
		return ""
	}
	v := s.known.last.Visit
	t := fmt.Sprintf(lang.L("Last here %s, %s"), words.Date(v.DroppedOff), words.Hours(s.known.claim.Hours))
	if l, ok := s.env.Desk.Catalog.Level(v.Level); ok {
		t += ", " + l.Name
	}
	return t
}

// useText says which use the hours were worked out from; the record keeps its
// own words.
func (f form) useText(k known) string {
	use := map[shop.Use]string{shop.LittleUse: lang.L("little"), shop.NormalUse: lang.L("normal"), shop.ALotOfUse: lang.L("a lot")}[f.Use]
	if k.here() && !f.SinceNew {
		return fmt.Sprintf(lang.L("%s a week since the visit of %s"), use, words.Date(k.last.Visit.DroppedOff))
	}
	return fmt.Sprintf(lang.L("%s a week for %s, since new"), use, f.Span)
}
