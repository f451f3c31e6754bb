package settings

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"forkwear/ui/screens/rows"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/window"
)

// oneOf is a row of chips of which one is chosen.
type oneOf struct {
	row    *fyne.Container
	chips  []*widgets.Chip
	values []string
}

// newOneOf returns the row; pressing another chip than the chosen one calls
// choose with its value.
func newOneOf(values, shown []string, choose func(value string)) *oneOf {
	o := &oneOf{row: container.NewHBox(), values: values}
	for i := range values {
		c := widgets.NewChip(shown[i], func() { choose(values[i]) })
		o.chips = append(o.chips, c)
		o.row.Add(c)
	}
	return o
}

// set shows which one is chosen.
func (o *oneOf) set(value string) {
	for i, c := range o.chips {
		c.SetSelected(o.values[i] == value)
	}
}

// buildLanguage is the choice of this computer, not of the library: two people
// may read one library in two languages.
func (s *Screen) buildLanguage() fyne.CanvasObject {
	values, shown := []string{""}, []string{lang.L("as this computer")}
	for _, l := range tongue.Languages() {
		values, shown = append(values, l.Code), append(shown, l.Name)
	}
	s.languages = newOneOf(values, shown, s.onLanguage)
	s.languages.set(fyne.CurrentApp().Preferences().String(window.KeyLanguage))
	return container.NewVBox(rows.Gap(), rows.Title(lang.L("Language"), false), s.languages.row,
		rows.Quiet(lang.L("Of this computer only; another one counts from the next start of the program.")))
}

func (s *Screen) onLanguage(code string) {
	p := fyne.CurrentApp().Preferences()
	before := p.String(window.KeyLanguage)
	if before == code {
		return
	}
	p.SetString(window.KeyLanguage, code)
	s.languages.set(code)
	s.env.Say.Saved(lang.L("Language, from the next start"), func() { s.onLanguage(before) })
}
