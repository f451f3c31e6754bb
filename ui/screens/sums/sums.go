package sums

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect/measure"
	"forkwear/ui/place"
	"forkwear/ui/screens/rows"
	"forkwear/ui/theme"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// Screen is the place.
type Screen struct {
	env   *place.Env
	root  fyne.CanvasObject
	sums  []sum
	names []*rows.Press
	at    int
	typed []map[string]string // of every sum: going to another loses nothing

	form    *fyne.Container
	right   *container.Scroll
	refused map[string]rows.Refusal
	wrong   rows.Refusal
	head    *widget.RichText
	lines   *widget.Label
	why     *fyne.Container
	formula *widget.RichText
	from    *widget.RichText
	mind    *widget.RichText
}

// New returns the screen of the place.
func New(env *place.Env, _ place.Where) place.Screen {
	s := &Screen{env: env, sums: every()}
	for _, k := range s.sums {
		t := map[string]string{}
		for _, f := range k.fields {
			t[f.key] = f.usual
		}
		s.typed = append(s.typed, t)
	}
	s.buildUI()
	s.choose(0)
	return s
}

func (s *Screen) buildUI() {
	list := container.NewVBox()
	for i, k := range s.sums {
		p := rows.NewPress([]rows.Column{{Share: 1}}, func() { s.choose(i) }, rows.Cell{Text: k.name})
		s.names = append(s.names, p)
		list.Add(p)
	}
	s.form = container.NewVBox()
	result := s.buildResult()
	s.right = container.NewVScroll(rows.Inset(rows.Beside(s.form, result, .56, 640)))
	body := container.New(&sideBySide{least: 270}, container.NewVScroll(rows.Inset(list)), s.right)
	s.root = container.NewBorder(rows.Title(lang.L("Bench sums"), true), nil, nil, nil, body)
}

func (s *Screen) buildResult() fyne.CanvasObject {
	s.wrong = rows.NewRefusal()
	s.head = widget.NewRichText()
	s.head.Wrapping = fyne.TextWrapWord
	s.lines = widget.NewLabel("")
	s.lines.Wrapping = fyne.TextWrapWord
	s.formula, s.from, s.mind = rows.Quiet(""), rows.Quiet(""), rows.Quiet("")
	s.why = container.NewVBox(rows.Title(lang.L("Why"), false), s.formula, s.from, s.mind)
	return container.NewVBox(widgets.NewCard(container.NewVBox(s.head, s.lines, s.wrong.RichText, s.why)), layout.NewSpacer())
}

// choose shows another sum with what was typed into it before.
func (s *Screen) choose(i int) {
	s.at = i
	for j, p := range s.names {
		p.SetSelected(j == i)
	}
	k := s.sums[i]
	s.refused = map[string]rows.Refusal{}
	s.form.Objects = []fyne.CanvasObject{rows.Title(k.name, false), rows.Quiet(k.about)}
	for _, f := range k.fields {
		s.form.Add(s.fieldOf(f))
	}
	s.form.Refresh()
	s.right.ScrollToTop()
	s.work()
}

func (s *Screen) fieldOf(f field) fyne.CanvasObject {
	set := func(text string) { s.onTyped(f.key, text) }
	no := rows.NewRefusal()
	s.refused[f.key] = no
	if f.choices != nil {
		c := widget.NewSelect(f.choices, nil)
		c.SetSelected(s.typed[s.at][f.key])
		c.OnChanged = set
		return container.NewVBox(rows.Beside(widget.NewLabel(f.label), rows.Target(c), .46, 300), no.RichText)
	}
	e := widget.NewEntry()
	if f.many {
		e = widget.NewMultiLineEntry()
		e.SetMinRowsVisible(6)
	}
	e.SetPlaceHolder(f.hint)
	if f.may {
		e.SetPlaceHolder(lang.L("may stay empty"))
	}
	e.SetText(s.typed[s.at][f.key])
	e.OnChanged = set
	if f.many {
		return container.NewVBox(widget.NewLabel(f.label), e, no.RichText)
	}
	label := widget.NewLabel(f.label)
	label.Wrapping = fyne.TextWrapWord
	unit := ""
	if f.unit != "" && f.unit != measure.Pure {
		unit = string(f.unit)
	}
	row := rows.Beside(label, rows.WithUnit(unit, e), .46, 300)
	return container.NewVBox(row, no.RichText)
}

func (s *Screen) onTyped(key, text string) {
	s.typed[s.at][key] = text
	s.work()
}

// work reads the fields and shows the result, or what is still wanted.
func (s *Screen) work() {
	k := s.sums[s.at]
	in, bad, missing := k.read(s.typed[s.at])
	for key, r := range s.refused {
		r.Set(bad[key])
	}
	switch {
	case len(bad) > 0:
		s.show(result{head: lang.L("One field can't be read yet")}, nil)
	case missing:
		s.show(result{head: lang.L("Fill in the fields")}, nil)
	default:
		r, err := k.work(in)
		s.show(r, err)
	}
}

func (s *Screen) show(r result, err error) {
	s.wrong.Set(err)
	if err != nil {
		r.head = lang.L("No result")
	}
	style := widget.RichTextStyle{SizeName: theme.SizeNameFigure, TextStyle: fyne.TextStyle{Bold: true}}
	if r.formula == "" {
		style = widget.RichTextStyle{SizeName: fynetheme.SizeNameSubHeadingText, ColorName: theme.ColorNameQuietInk}
	}
	s.head.Segments = []widget.RichTextSegment{&widget.TextSegment{Text: r.head, Style: style}}
	s.head.Refresh()
	s.lines.SetText(strings.Join(r.lines, "\n"))
	s.lines.Hidden = len(r.lines) == 0
	s.why.Hidden = r.formula == ""
	rows.SetQuiet(s.formula, r.formula)
	rows.SetQuiet(s.from, lang.L("From")+": "+inputLine(r.inputs))
	rows.SetQuiet(s.mind, lang.L("Mind")+": "+sentences(r.remarks))
	s.from.Hidden, s.mind.Hidden = len(r.inputs) == 0, len(r.remarks) == 0
	s.why.Refresh()
	rows.Settle(s.right)
}

// sentences joins remarks, each with its capital.
func sentences(remarks []string) string {
	var out []string
	for _, r := range remarks {
		out = append(out, words.Sentence(r))
	}
	return strings.Join(out, " ")
}

func inputLine(inputs []measure.Input) string {
	var out []string
	for _, in := range inputs {
		t := in.Name + " " + words.Number(in.Value, 0)
		if in.Unit != "" && in.Unit != "1" {
			t += words.Thin + in.Unit
		}
		if in.U != nil && *in.U > 0 {
			t += fmt.Sprintf(" (u %.2g)", *in.U)
		}
		out = append(out, t)
	}
	return strings.Join(out, ", ")
}

// Content implements place.Screen.
func (s *Screen) Content() fyne.CanvasObject { return s.root }

// Opened implements place.Screen.
func (s *Screen) Opened() {}

// Closed implements place.Screen.
func (s *Screen) Closed() {}

// sideBySide gives the list its width and the rest to the sum.
type sideBySide struct{ least float32 }

// MinSize implements fyne.Layout.
func (l *sideBySide) MinSize(os []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(2*os[1].MinSize().Width, max(os[0].MinSize().Height, os[1].MinSize().Height))
}

// Layout implements fyne.Layout.
func (l *sideBySide) Layout(os []fyne.CanvasObject, s fyne.Size) {
	w := min(l.least, s.Width*.36)
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(fyne.NewSize(w, s.Height))
	os[1].Move(fyne.NewPos(w+16, 0))
	os[1].Resize(fyne.NewSize(s.Width-w-16, s.Height))
}
