package settings

import (
	"sort"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect/catalog"
	"forkwear/ui/screens/rows"
	"forkwear/ui/tongue"
	"forkwear/ui/words"
)

func (s *Screen) buildInstruments() fyne.CanvasObject {
	columns := []rows.Column{{Title: lang.L("Instrument"), Share: 2.4}, {Title: lang.L("Step"), Share: 1, Least: 80, Right: true},
		{Title: lang.L("Right within"), Share: 1.1, Least: 90, Right: true}}
	box := container.NewVBox(rows.Title(lang.L("Instruments"), false), rows.Heading(columns))
	for _, g := range s.env.Desk.Catalog.Instruments {
		if g.Resolution <= 0 && g.Calibration <= 0 {
			continue // eye, hand, lamp: nothing to state
		}
		l := rows.NewLine(columns).Low()
		l.Set(rows.Cell{Text: g.Name, Under: tongue.Say(g.Source)}, rows.Cell{Text: plusMinus(g.Resolution, g.Unit)}, rows.Cell{Text: plusMinus(g.Calibration, g.Unit)})
		box.Add(l)
	}
	box.Add(rows.Quiet(lang.L("Instruments and data sheets are changed in the shop's own files in the folder “catalog” of the library.")))
	return box
}

func plusMinus(half float64, unit string) string {
	if half <= 0 {
		return "–"
	}
	v, in := words.Difference(half, unit)
	return "±" + words.Thin + words.Number(v, 0) + words.Thin + words.UnitWord(in)
}

// buildSheets lists the data sheets; pressing one shows what it specifies.
func (s *Screen) buildSheets() fyne.CanvasObject {
	box := container.NewVBox(rows.Title(lang.L("Data sheets"), false))
	for _, sheet := range s.env.Desk.Catalog.Sheets {
		details := widget.NewLabel(s.details(sheet))
		details.Wrapping = fyne.TextWrapWord
		details.Hide()
		kind := lang.L("typed from a document")
		if sheet.Generic {
			kind = lang.L("generic: usual values, no targets")
		}
		var p *rows.Press
		p = rows.NewPress([]rows.Column{{Share: 1}}, func() {
			details.Hidden = !details.Hidden
			p.SetSelected(!details.Hidden)
			rows.Settle(s.page)
		}, rows.Cell{Text: sheet.Name, Under: kind})
		box.Add(p)
		box.Add(details)
	}
	return box
}

func (s *Screen) details(sh catalog.Sheet) string {
	var lines []string
	add := func(name, text string) {
		if text != "" {
			lines = append(lines, name+": "+text)
		}
	}
	word := func(w string) string { return tongue.Say(strings.ReplaceAll(w, "_", " ")) }
	onLeg := func(w, leg string) string {
		if leg != "" && w != "" {
			return w + ", " + leg
		}
		return w
	}
	add(lang.L("Spring"), onLeg(word(sh.Spring), words.Leg(sh.SpringOn)))
	add(lang.L("Damper"), onLeg(word(sh.Damper), words.Leg(sh.DamperOn)))
	add(lang.L("Crown"), word(sh.Crown))
	if sh.Stanchion > 0 {
		add(lang.L("Stanchions"), words.Measured(sh.Stanchion, 0, "mm"))
	}
	if len(sh.Travel) > 0 {
		var ts []string
		for _, t := range sh.Travel {
			v, _ := words.In(t, "mm")
			ts = append(ts, words.Number(v, 0))
		}
		add(lang.L("Travel"), strings.Join(ts, ", ")+words.Thin+words.Unit("mm"))
	}
	add(lang.L("Expected hours to the limit"), s.byCheck(sh.Lives, func(k catalog.Check, v float64) string {
		if k.Grows == catalog.ByMonths {
			return words.Number(v, 0) + words.Thin + words.UnitWord("months")
		}
		return words.Hours(v)
	}))
	inUnit := func(k catalog.Check, v float64) string { return words.Measured(v, 0, k.Unit) }
	add(lang.L("New"), s.byCheck(sh.New, inUnit))
	add(lang.L("Limits"), s.byCheck(sh.Limits, inUnit))
	var ranges []string
	for _, k := range keys(sh.Ranges) {
		if r := sh.Ranges[k]; len(r) == 2 {
			name, unit := s.entered(k)
			low, _ := words.In(r[0], unit)
			ranges = append(ranges, name+" "+words.Number(low, 0)+"–"+words.Measured(r[1], 0, unit))
		}
	}
	add(lang.L("Usual ranges"), strings.Join(ranges, ", "))
	var targets []string
	for _, k := range keys(sh.Targets) {
		name, unit := s.entered(k)
		targets = append(targets, name+" "+words.Measured(sh.Targets[k], 0, unit))
	}
	if len(targets) == 0 {
		targets = []string{lang.L("blank until typed from the maker's sheet")}
	}
	add(lang.L("Target volumes and torques"), strings.Join(targets, ", "))
	add(lang.L("Document"), sh.Document)
	add(lang.L("Source"), tongue.Say(sh.Source))
	return strings.Join(lines, "\n")
}

// byCheck writes values of checks, key to value.
func (s *Screen) byCheck(values map[string]float64, show func(catalog.Check, float64) string) string {
	var out []string
	for _, id := range keys(values) {
		k, _ := s.env.Desk.Catalog.Check(id)
		if k.Name == "" {
			k.Name = id
		}
		out = append(out, k.Name+" "+show(k, values[id]))
	}
	return strings.Join(out, ", ")
}

// entered names what a key of a sheet is entered for, by the line of work that
// asks for it.
func (s *Screen) entered(key string) (name, unit string) {
	for _, t := range s.env.Desk.Catalog.Tasks {
		if t.Sheet == key {
			return t.Name, t.Unit
		}
	}
	return strings.NewReplacer("_", " ", ".", " ").Replace(key), ""
}

func keys[T any](m map[string]T) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}
