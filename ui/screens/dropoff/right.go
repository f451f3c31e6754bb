package dropoff

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect"
	"forkwear/inspect/catalog"
	"forkwear/inspect/measure"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) buildWork() fyne.CanvasObject {
	var levels []option
	for _, l := range s.levels() {
		levels = append(levels, option{l.ID, l.Name})
	}
	s.levelLine = quiet("", true)
	s.levelRoom = flush(s.levelLine)
	level := s.one(levels, false, func(f *form) *string { return &f.Level }, s.relayout)
	purpose := s.one(said("paid", "warranty", "goodwill", "own rework", "test"), false, func(f *form) *string { return &f.Purpose }, nil)
	promised := s.of("promised", lang.L("19 May"), func(f *form) *string { return &f.Promised }, nil)
	days := newFlow()
	for _, n := range []int{1, 3, 7, 14} {
		word := fmt.Sprintf(lang.L("in %d days"), n)
		if n == 1 {
			word = lang.L("tomorrow")
		}
		days.Add(widgets.NewChip(word, func() { s.onPromised(n) }))
	}
	came := s.many(said("axle", "guard", "wheel", "brake calliper", "stem", "shock pump", "whole bike"), func(f *form) *[]string { return &f.CameWith })
	also := s.of("also", lang.L("a shock, a seat post ..."), func(f *form) *string { return &f.AlsoHere }, nil)
	return section(lang.L("Work"), field(lang.L("Service level"), level), s.levelRoom,
		field(lang.L("Purpose"), purpose),
		newRow([]float32{2, 5}, field(lang.L("Promised for"), promised), field("", days)),
		field(lang.L("Came with it"), came),
		field(lang.L("Also here, gets no record"), also))
}

func (s *Screen) levels() []catalog.Level {
	ls := slices.Clone(s.env.Desk.Catalog.Levels)
	slices.SortStableFunc(ls, func(a, b catalog.Level) int { return a.Order - b.Order })
	return ls
}

func (s *Screen) onPromised(days int) {
	s.form.Promised = words.Date(s.env.Desk.Clock().AddDate(0, 0, days))
	s.sync()
	s.changed()
}

// levelText says what the chosen level opens, renews and how often it is due.
func (s *Screen) levelText() string {
	l, ok := s.env.Desk.Catalog.Level(s.form.Level)
	if !ok {
		return ""
	}
	t := l.About
	switch {
	case l.Hours > 0 && l.Months > 0:
		t += " " + fmt.Sprintf(lang.L("Usually every %s or %.0f months."), words.Hours(l.Hours), l.Months)
	case l.Hours > 0:
		t += " " + fmt.Sprintf(lang.L("Usually every %s."), words.Hours(l.Hours))
	}
	return t
}

// usual are the complaints that are heard most; the others stand under More.
var usual = []string{"weeping", "sticky", "knocks", "loses_air", "sits_low", "no_full_travel", "tops_out", "harsh", "creaks", "crash"}

func (s *Screen) buildComplaints() fyne.CanvasObject {
	s.complaints = container.NewVBox()
	chips := newFlow()
	var rest []*widgets.Chip
	byID := map[string]*widgets.Chip{}
	for _, y := range s.symptoms() {
		c := widgets.NewChip(y.Name, func() { s.onSymptom(y.ID) })
		byID[y.ID] = c
		chips.Add(c)
		if !slices.Contains(usual, y.ID) {
			rest = append(rest, c)
		}
	}
	more := widgets.NewChip(lang.L("More ..."), func() {
		s.moreSymptoms = !s.moreSymptoms
		s.sync()
	})
	chips.Add(more)
	s.syncs = append(s.syncs, func() {
		for id, c := range byID {
			has := slices.ContainsFunc(s.form.Complaints, func(x complaint) bool { return x.Symptom == id })
			c.SetSelected(has)
			if slices.Contains(rest, c) {
				show(c, has || s.moreSymptoms)
			}
		}
		more.SetText(map[bool]string{true: lang.L("Fewer"), false: lang.L("More ...")}[s.moreSymptoms])
		s.showComplaints()
	})
	return section(lang.L("What bothers the customer"), chips, s.complaints)
}

// symptoms are the usual ones first, then the rest, in the order of the catalog.
func (s *Screen) symptoms() []catalog.Symptom {
	ys := slices.Clone(s.env.Desk.Catalog.Symptoms)
	rank := func(y catalog.Symptom) int {
		if i := slices.Index(usual, y.ID); i >= 0 {
			return i
		}
		return len(usual)
	}
	slices.SortStableFunc(ys, func(a, b catalog.Symptom) int { return rank(a) - rank(b) })
	return ys
}

func (s *Screen) onSymptom(id string) {
	if i := slices.IndexFunc(s.form.Complaints, func(x complaint) bool { return x.Symptom == id }); i >= 0 {
		s.form.Complaints = slices.Delete(s.form.Complaints, i, i+1)
	} else {
		s.form.Complaints = append(s.form.Complaints, complaint{Symptom: id})
	}
	s.sync()
	s.changed()
}

// showComplaints lists the chosen ones, each with its leg and since when.
func (s *Screen) showComplaints() {
	s.complaints.RemoveAll()
	for i, c := range s.form.Complaints {
		y, _ := s.env.Desk.Catalog.Symptom(c.Symptom)
		name := y.Name
		if name == "" {
			name = c.Symptom
		}
		since := widgets.NewField(fmt.Sprintf(lang.L("%s: since when"), name), lang.L("since when"))
		since.SetText(c.Since)
		since.OnChanged = func(t string) {
			s.form.Complaints[i].Since = t
			s.changed()
		}
		s.texts["since "+c.Symptom] = since
		word := widget.NewLabel(name)
		word.Truncation = fyne.TextTruncateEllipsis
		var legs fyne.CanvasObject = container.NewHBox()
		if y.Legs {
			legs = s.legChips(i)
		}
		note := widgets.NewField(fmt.Sprintf(lang.L("%s: in the customer's words"), name), lang.L("in the customer's words"))
		note.SetText(c.Note)
		note.OnChanged = func(t string) {
			s.form.Complaints[i].Note = t
			s.changed()
		}
		s.texts["note "+c.Symptom] = note
		s.complaints.Add(newRow([]float32{10, 9, 6}, flush(container.New(tall{}, word)), container.New(tall{}, since), container.New(tall{}, legs)))
		s.complaints.Add(container.New(tall{}, note))
	}
}

func (s *Screen) legChips(i int) fyne.CanvasObject {
	bar := container.NewHBox()
	for _, l := range []inspect.Leg{inspect.Left, inspect.Right} {
		c := widgets.NewChip(words.Leg(l), func() {
			if at := &s.form.Complaints[i].Leg; *at == l {
				*at = inspect.Whole
			} else {
				*at = l
			}
			s.sync()
			s.changed()
		})
		c.SetSelected(s.form.Complaints[i].Leg == l)
		bar.Add(c)
	}
	return bar
}

func (s *Screen) buildSettings() fyne.CanvasObject {
	s.settings = container.NewVBox()
	return section(lang.L("Settings as found"), s.settings)
}

// showSettings asks for what the data sheet has: air or coil.
func (s *Screen) showSettings() {
	if s.settings == nil {
		return
	}
	if s.form.Settings == nil {
		s.form.Settings = map[string]string{}
	}
	sheet, _ := s.env.Desk.Catalog.Sheet(s.form.Fork.Sheet)
	s.settings.RemoveAll()
	var pair []fyne.CanvasObject
	for _, f := range settingFields {
		if f.spring != "" && sheet.Spring != "" && f.spring != sheet.Spring && s.form.Settings[f.key] == "" {
			continue
		}
		pair = append(pair, s.settingEntry(f))
		if len(pair) == 2 {
			s.settings.Add(newRow([]float32{1, 1}, pair...))
			pair = nil
		}
	}
	if pair != nil {
		s.settings.Add(newRow([]float32{1, 1}, append(pair, container.NewHBox())...))
	}
	if !s.filling { // else all is laid out at the end
		s.relayout()
	}
}

func (s *Screen) settingEntry(f settingField) fyne.CanvasObject {
	caption := f.word()
	if f.unit != "" {
		caption += ", " + words.UnitWord(words.Unit(f.unit))
	}
	left := ""
	if t := s.leftText(f.key); t != "" {
		left = " · " + fmt.Sprintf(lang.L("left with %s"), t)
	}
	label := quiet("", false)
	e := widgets.NewField(f.word(), "")
	e.SetText(s.form.Settings[f.key])
	e.OnChanged = func(t string) {
		s.form.Settings[f.key] = t
		label.SetText(caption + s.readBack(f, t) + left)
		s.changed()
	}
	label.SetText(caption + s.readBack(f, e.Text) + left)
	s.texts[f.key] = e
	return container.New(&captioned{}, label, container.New(tall{}, e))
}

// readBack says what a text with another unit, or with no number, is kept as.
func (s *Screen) readBack(f settingField, text string) string {
	text = strings.TrimSpace(text)
	if text == "" || f.parse == "" {
		return ""
	}
	v, ok := f.read(text)
	if !ok {
		return " · " + lang.L("kept as written")
	}
	bare := strings.TrimRightFunc(text, func(r rune) bool { return r < '0' || r > '9' })
	v, _ = words.In(v, f.unit)
	if q, err := measure.Parse(bare, measure.Pure); err == nil && math.Abs(q.Value-v) <= 1e-6*math.Max(1, math.Abs(v)) {
		return ""
	}
	return " · = " + words.Number(v, 0.5)
}

// leftText is how a setting was left at the last visit.
func (s *Screen) leftText(key string) string {
	for _, x := range s.known.left {
		if x.Key == key {
			return words.SettingValue(x)
		}
	}
	return ""
}

func (s *Screen) buildAgreement() fyne.CanvasObject {
	pack := s.of("package", "", func(f *form) *string { return &f.Package }, nil)
	ahead := s.of("ahead", "", func(f *form) *string { return &f.GoAhead }, nil)
	note := widgets.NewNote()
	note.SetMinRowsVisible(2)
	note.OnChanged = func(t string) {
		if !s.filling {
			s.form.Note = t
			s.changed()
		}
	}
	s.syncs = append(s.syncs, func() { note.SetText(s.form.Note) })
	s.sign = widgets.NewSignatureField(s.onSigned)
	s.syncs = append(s.syncs, func() { s.sign.Set(s.form.Signed) })
	return section(lang.L("Agreed"),
		newRow([]float32{1, 1}, field(lang.L("Package price"), pack), field(lang.L("Go ahead up to"), ahead)),
		field(lang.L("Note, damage seen"), note),
		container.New(&captioned{}, quiet(lang.L("The customer signs what is agreed"), false), s.sign))
}

func (s *Screen) onSigned() {
	if !s.filling {
		s.form.Signed = s.sign.Value()
		s.changed()
	}
}
