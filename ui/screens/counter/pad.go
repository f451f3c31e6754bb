package counter

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/screens/visitbar"
	"forkwear/ui/widgets"
)

// pad takes the PIN, by its keys on the screen or by those of the keyboard.
type pad struct {
	content fyne.CanvasObject
	typed   string
	busy    bool
	shown   *widget.Label
	says    *widget.Label
	keys    []*widgets.TextButton
	done    func(pin string)
	stay    func()
}

// most is the longest PIN.
const most = 8

// newPad returns an empty pad; unfocus takes the keyboard back from a key of
// the screen that was pressed.
func newPad(done func(pin string), stay, unfocus func()) *pad {
	p := &pad{done: done, stay: stay, shown: widget.NewLabel(""), says: visitbar.Text(lang.L("Type the shop's PIN to leave this page."))}
	p.shown.Alignment, p.says.Alignment = fyne.TextAlignCenter, fyne.TextAlignCenter
	p.shown.SizeName, p.shown.TextStyle.Bold = theme.SizeNameHeadingText, true
	grid := container.NewGridWithColumns(3)
	key := func(word string, main bool, do func()) {
		b := widgets.NewTextButton(word, main, func() { unfocus(); do() })
		p.keys = append(p.keys, b)
		grid.Add(visitbar.Tall(68, b))
	}
	for _, r := range "123456789" {
		key(string(r), false, func() { p.rune(r) })
	}
	key("⌫", false, func() { p.key(fyne.KeyBackspace) })
	key("0", false, func() { p.rune('0') })
	key(lang.L("OK"), true, func() { p.key(fyne.KeyReturn) })
	back := widgets.NewTextButton(lang.L("Back to the fork"), false, func() { p.key(fyne.KeyEscape) })
	title := visitbar.Heading(lang.L("For the shop"))
	title.Alignment = fyne.TextAlignCenter
	box := visitbar.List(8, title, p.says, p.shown, grid, back)
	p.content = container.NewVScroll(container.NewCenter(container.New(wide{360}, box)))
	p.follow()
	return p
}

// wide gives a column its width.
type wide struct{ width float32 }

// MinSize implements fyne.Layout.
func (l wide) MinSize(os []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(l.width, os[0].MinSize().Height)
}

// Layout implements fyne.Layout. Words wrap by the width, so it takes two turns.
func (l wide) Layout(os []fyne.CanvasObject, s fyne.Size) {
	for range 2 {
		os[0].Resize(fyne.NewSize(s.Width, max(s.Height, os[0].MinSize().Height)))
	}
}

func (p *pad) rune(r rune) {
	if r < '0' || r > '9' || p.busy || len(p.typed) >= most {
		return
	}
	p.typed += string(r)
	p.follow()
}

func (p *pad) key(k fyne.KeyName) {
	switch {
	case p.busy:
	case k == fyne.KeyEscape:
		p.stay()
	case (k == fyne.KeyBackspace || k == fyne.KeyDelete) && p.typed != "":
		p.typed = p.typed[:len(p.typed)-1]
		p.follow()
	case (k == fyne.KeyReturn || k == fyne.KeyEnter) && p.typed != "":
		p.done(p.typed)
	}
}

// follow shows how many figures were typed, never which.
func (p *pad) follow() {
	p.shown.SetText(strings.Repeat("●", len(p.typed)) + strings.Repeat("○", max(0, 4-len(p.typed))))
}

// wait takes no keys and says why.
func (p *pad) wait(says string) {
	p.busy = true
	p.enable(false)
	p.says.SetText(says)
}

// ready takes the next PIN.
func (p *pad) ready(says string) {
	p.busy, p.typed = false, ""
	p.enable(true)
	p.says.SetText(says)
	p.follow()
}

func (p *pad) enable(on bool) {
	for _, k := range p.keys {
		k.SetEnabled(on)
	}
}
