package dropoff

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
)

// text is an entry that is tied to one text of the form. Its name finds it in
// tests; then, where given, is called after something was typed.
func (s *Screen) text(name, hint string, get func() string, set func(string), then func()) *widgets.Field {
	e := widgets.NewField("", hint)
	s.texts[name] = e
	e.OnChanged = func(t string) {
		if s.filling {
			return
		}
		set(t)
		s.changed()
		if then != nil {
			then()
		}
	}
	s.syncs = append(s.syncs, func() { e.SetText(get()) })
	return e
}

// of is text for a text that lives at an address of the form.
func (s *Screen) of(name, hint string, at func(*form) *string, then func()) *widgets.Field {
	return s.text(name, hint, func() string { return *at(&s.form) }, func(t string) { *at(&s.form) = t }, then)
}

// option is one chip of a choice.
type option struct{ value, word string }

// said are options whose values are English words of the record, shown in the
// language in force.
func said(values ...string) []option {
	var os []option
	for _, v := range values {
		os = append(os, option{v, tongue.Say(v)})
	}
	return os
}

// one is a row of chips of which one is chosen; pressing it again lets it go
// where none is allowed too.
func (s *Screen) one(options []option, none bool, at func(*form) *string, then func()) *fyne.Container {
	bar := newFlow()
	var chips []*widgets.Chip
	show := func() {
		for i, o := range options {
			chips[i].SetSelected(*at(&s.form) == o.value)
		}
	}
	for _, o := range options {
		c := widgets.NewChip(o.word, func() {
			if p := at(&s.form); *p != o.value {
				*p = o.value
			} else if none {
				*p = ""
			}
			show()
			s.changed()
			if then != nil {
				then()
			}
		})
		chips = append(chips, c)
		bar.Add(c)
	}
	s.syncs = append(s.syncs, show)
	return bar
}

// many is a row of chips of which any may be chosen.
func (s *Screen) many(options []option, at func(*form) *[]string) *fyne.Container {
	bar := newFlow()
	var chips []*widgets.Chip
	show := func() {
		for i, o := range options {
			chips[i].SetSelected(slices.Contains(*at(&s.form), o.value))
		}
	}
	for _, o := range options {
		c := widgets.NewChip(o.word, func() {
			toggle(at(&s.form), o.value)
			show()
			s.changed()
		})
		chips = append(chips, c)
		bar.Add(c)
	}
	s.syncs = append(s.syncs, show)
	return bar
}

func toggle(list *[]string, v string) {
	if i := slices.Index(*list, v); i >= 0 {
		*list = slices.Delete(*list, i, i+1)
		return
	}
	*list = append(*list, v)
}

// section is a card with a title.
func section(title string, os ...fyne.CanvasObject) fyne.CanvasObject {
	t := widget.NewLabelWithStyle(title, fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	box := container.NewVBox(container.New(titled{}, t))
	for _, o := range os {
		box.Add(o)
	}
	return widgets.NewCard(box)
}

// titled takes a label's own margin away, so that it stands flush with fields.
type titled struct{}

func (titled) MinSize(os []fyne.CanvasObject) fyne.Size {
	m := os[0].MinSize()
	return fyne.NewSize(m.Width, m.Height-12)
}

func (titled) Layout(os []fyne.CanvasObject, s fyne.Size) {
	os[0].Move(fyne.NewPos(-8, -8))
	os[0].Resize(fyne.NewSize(s.Width+8, os[0].MinSize().Height))
}
