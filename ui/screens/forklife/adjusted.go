package forklife

import (
	"sort"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/screens/rows"
	"forkwear/ui/words"
)

// adjusted is one setting at one visit, as found and as left.
type adjusted struct{ name, found, left string }

// adjustedAt puts what was found and left of each setting beside each other.
func adjustedAt(settings []inspect.Setting) []adjusted {
	at := map[string]*adjusted{}
	for _, x := range settings {
		a := at[x.Key]
		if a == nil {
			a = &adjusted{name: words.SettingName(x.Key)}
			at[x.Key] = a
		}
		if x.Moment == "left" {
			a.left = words.SettingValue(x)
		} else {
			a.found = words.SettingValue(x)
		}
	}
	var out []adjusted
	for _, a := range at {
		out = append(out, *a)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].name < out[j].name })
	return out
}

// buildSettings shows the settings by visit; what was changed stands in bold.
func (s *Screen) buildSettings() fyne.CanvasObject {
	columns := []rows.Column{{Title: lang.L("Setting"), Share: 1.6}, {Title: lang.L("As found"), Share: 1, Right: true}, {Title: lang.L("As left"), Share: 1, Right: true}}
	box := container.NewVBox(rows.Title(lang.L("Settings by visit"), false))
	any := false
	for _, v := range s.life.visits {
		all := adjustedAt(s.life.settings[v.Visit.ID])
		if len(all) == 0 {
			continue
		}
		if !any {
			box.Add(rows.Heading(columns))
		}
		any = true
		box.Add(rows.Quiet(words.Date(v.Visit.DroppedOff)))
		for _, a := range all {
			l := rows.NewLine(columns).Low()
			l.Set(rows.Cell{Text: a.name}, orNone(a.found), changed(a))
			box.Add(l)
		}
	}
	if !any {
		box.Add(rows.Quiet(lang.L("No settings are kept of this fork. Drop-off takes them as found, hand-back as left.")))
	}
	return box
}

func orNone(text string) rows.Cell {
	if text == "" {
		return rows.Cell{Text: lang.L("not kept"), Quiet: true}
	}
	return rows.Cell{Text: text}
}

func changed(a adjusted) rows.Cell {
	c := orNone(a.left)
	c.Bold = a.left != "" && a.found != "" && a.left != a.found
	return c
}

// onArrow walks the visits.
func (s *Screen) onArrow(from inspect.ID, k fyne.KeyName) {
	by := map[fyne.KeyName]int{fyne.KeyUp: -1, fyne.KeyDown: 1}[k]
	for i, l := range s.lines {
		if to := i + by; l.visit == from && to >= 0 && to < len(s.lines) && by != 0 {
			s.env.Window.Canvas().Focus(s.lines[to].press)
		}
	}
}
