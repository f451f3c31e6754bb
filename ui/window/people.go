package window

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"

	"forkwear/ui/run"
	"forkwear/ui/widgets"
)

// hereKey is the preference of this computer that remembers who worked here last.
const hereKey = "people.here"

// people shows who works here now and lets somebody else take over with one
// press. A few names stand in the bar; many stand under it, behind one press.
type people struct {
	frame *Frame
	names []string
	chips []*widgets.Chip
	row   *fyne.Container
	strip *fyne.Container
	head  *widgets.Chip // opens the strip
}

// inBar is how many names stand in the bar.
const inBar = 3

func newPeople(f *Frame) *people {
	p := &people{frame: f, row: container.NewHBox(), strip: container.NewHBox()}
	p.strip.Hide()
	return p
}

// load reads the names beside the window.
func (p *people) load() {
	d := p.frame.env.Desk
	if d.Lib == nil {
		return
	}
	run.Go(p.frame.env.Run, d.People, func(names []string, err error) {
		if err != nil {
			p.frame.env.Say.Failed(err)
			return
		}
		p.take(names)
	})
}

// take shows the names. Who was here last on this computer is here again; who
// is no longer on the list is not.
func (p *people) take(names []string) {
	d := p.frame.env.Desk
	p.names = names
	last := fyne.CurrentApp().Preferences().String(hereKey)
	switch {
	case slices.Contains(names, last):
		d.SetWho(last)
	case len(names) == 1:
		d.SetWho(names[0])
	case !slices.Contains(names, d.Who()):
		d.SetWho(d.By)
	}
	p.build()
	if !p.frame.customer {
		p.frame.env.Window.SetMainMenu(p.frame.menu())
	}
}

func (p *people) build() {
	p.chips = nil
	var all []fyne.CanvasObject
	for _, n := range p.names {
		c := widgets.NewChip(p.short(n), func() { p.choose(n) })
		p.chips = append(p.chips, c)
		all = append(all, c)
	}
	p.head = widgets.NewChip("", p.onHead)
	p.row.Objects, p.strip.Objects = all, nil
	if len(p.names) > inBar {
		p.row.Objects, p.strip.Objects = []fyne.CanvasObject{p.head}, []fyne.CanvasObject{container.NewHScroll(container.NewHBox(all...))}
		p.strip.Layout = fill{}
	}
	p.strip.Hide()
	p.mark()
	p.row.Refresh()
	p.frame.top.Refresh()
}

// fill gives its only child all the width.
type fill struct{}

// MinSize implements fyne.Layout.
func (fill) MinSize(os []fyne.CanvasObject) fyne.Size {
	if len(os) == 0 {
		return fyne.Size{}
	}
	return os[0].MinSize()
}

// Layout implements fyne.Layout.
func (fill) Layout(os []fyne.CanvasObject, s fyne.Size) {
	for _, o := range os {
		o.Resize(s)
	}
}

// short is the first word of a name where nobody else has it.
func (p *people) short(name string) string {
	first, _, _ := strings.Cut(name, " ")
	for _, n := range p.names {
		if f, _, _ := strings.Cut(n, " "); f == first && n != name {
			return name
		}
	}
	return first
}

// mark shows who it is.
func (p *people) mark() {
	who := p.frame.env.Desk.Who()
	for i, c := range p.chips {
		c.SetSelected(p.names[i] == who)
	}
	word := lang.L("Who works here?")
	if slices.Contains(p.names, who) {
		word = p.short(who) + " ▾"
	}
	p.head.SetText(word)
}

func (p *people) onHead() {
	if p.strip.Visible() {
		p.strip.Hide()
	} else {
		p.strip.Show()
	}
	p.frame.root.Refresh()
}

// choose lets somebody take over.
func (p *people) choose(name string) {
	p.frame.env.Desk.SetWho(name)
	fyne.CurrentApp().Preferences().SetString(hereKey, name)
	p.mark()
	p.strip.Hide()
	p.frame.root.Refresh()
	p.frame.env.Window.Canvas().Unfocus() // the next key belongs to the place
	p.frame.status.SetText(name + " " + lang.L("works here now"))
	p.frame.status.SetAction("", nil)
}

// menu lists the names with a key each; nil without any.
func (p *people) menu() *fyne.Menu {
	var items []*fyne.MenuItem
	for i, n := range p.names {
		item := fyne.NewMenuItem(n, func() { p.choose(n) })
		if i < 9 {
			item.Shortcut = &desktop.CustomShortcut{KeyName: fyne.KeyName(rune('1' + i)), Modifier: fyne.KeyModifierAlt}
		}
		items = append(items, item)
	}
	if items == nil {
		return nil
	}
	return fyne.NewMenu(lang.L("Who works here"), items...)
}
