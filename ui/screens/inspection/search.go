package inspection

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"forkwear/inspect/catalog"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

// searchPanel finds a check of this stage by a word, whether or not it is on
// the list of this visit.
type searchPanel struct {
	frame *widgets.Card
	entry *searchEntry
	list  *widget.List
	found []catalog.Position
	open  bool
}

// searchEntry is an entry that Escape leaves and Down goes from into the list.
type searchEntry struct {
	widget.Entry
	onEscape, onDown func()
}

// TypedKey implements fyne.Focusable.
func (e *searchEntry) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		e.onEscape()
	case fyne.KeyDown:
		e.onDown()
	default:
		e.Entry.TypedKey(k)
	}
}

func (s *Screen) buildSearch() {
	p := &s.search
	p.entry = &searchEntry{onEscape: s.closeSearch, onDown: s.intoFound}
	p.entry.ExtendBaseWidget(p.entry)
	p.entry.SetPlaceHolder(lang.L("Open another check: seal, crack, bushing …"))
	p.entry.OnChanged = s.searchFor
	p.entry.OnSubmitted = func(string) { s.openFound(0) }
	p.list = widget.NewList(func() int { return len(p.found) },
		func() fyne.CanvasObject {
			l := widget.NewLabel("")
			l.Truncation = fyne.TextTruncateEllipsis
			return l
		},
		func(i widget.ListItemID, o fyne.CanvasObject) {
			f := p.found[i]
			text := words.PartAt(f.Check.Name, f.Leg)
			if z, ok := s.env.Desk.Catalog.Zone(f.Check.Zone); ok {
				text += " · " + z.Name
			}
			o.(*widget.Label).SetText(text)
		})
	p.list.OnSelected = func(i widget.ListItemID) { s.openFound(i) }
	top := container.NewBorder(nil, nil, nil, widgets.NewTextButton(lang.L("Close  Esc"), false, s.closeSearch), p.entry)
	p.frame = widgets.NewCard(container.NewBorder(top, nil, nil, nil, p.list))
}

func (s *Screen) openSearch() {
	if s.kase == nil {
		return
	}
	s.keepNote()
	s.search.open = true
	s.search.entry.SetText("")
	s.searchFor("")
	s.put(s.search.frame)
	if c := s.canvas(); c != nil {
		c.Focus(s.search.entry)
	}
}

func (s *Screen) closeSearch() {
	if !s.search.open {
		return
	}
	s.search.open = false
	s.blur()
	s.show()
}

func (s *Screen) searchFor(text string) {
	p := &s.search
	p.found = nil
	for _, l := range catalog.AllPositions(s.env.Desk.Catalog, s.kase.Sheet, s.stage) {
		z, _ := s.env.Desk.Catalog.Zone(l.Check.Zone)
		part, _ := s.env.Desk.Catalog.Part(l.Check.Part)
		all := strings.ToLower(strings.Join([]string{l.Check.Name, z.Name, part.Name, string(l.Leg)}, " "))
		hit := true
		for _, w := range strings.Fields(strings.ToLower(text)) {
			hit = hit && strings.Contains(all, w)
		}
		if hit {
			p.found = append(p.found, l)
		}
	}
	p.list.UnselectAll()
	p.list.Refresh()
	p.list.ScrollToTop()
}

func (s *Screen) intoFound() {
	if c := s.canvas(); c != nil && len(s.search.found) > 0 {
		c.Focus(s.search.list)
	}
}

// openFound puts a found check on the list of this stage and goes to it.
func (s *Screen) openFound(i int) {
	if i < 0 || i >= len(s.search.found) {
		return
	}
	f := s.search.found[i]
	if s.byHand[s.stage] == nil {
		s.byHand[s.stage] = map[spot]bool{}
	}
	s.byHand[s.stage][spot{check: f.Check.ID, leg: f.Leg}] = true
	s.search.open = false
	s.blur()
	s.goTo(s.start(f))
}
