package settings

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"
)

// section is one heading of the page, to go to without searching for it.
type section struct {
	name string
	at   fyne.CanvasObject
}

// buildIndex is the list of the sections at the head of the page, which is
// long: choosing one scrolls to it.
func (s *Screen) buildIndex() fyne.CanvasObject {
	names := make([]string, len(s.sections))
	for i, c := range s.sections {
		names[i] = c.name
	}
	pick := widget.NewSelect(names, nil)
	pick.PlaceHolder = lang.L("Go to …")
	pick.OnChanged = func(string) {
		if i := pick.SelectedIndex(); i >= 0 {
			s.toSection(s.sections[i].at)
			pick.ClearSelected()
		}
	}
	return pick
}

// toSection scrolls until a section stands at the top of the page.
func (s *Screen) toSection(o fyne.CanvasObject) {
	d := fyne.CurrentApp().Driver()
	y := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(s.page.Content).Y
	s.page.ScrollToOffset(fyne.NewPos(0, max(0, y)))
}

// section names a part of the page for the index.
func (s *Screen) section(name string, o fyne.CanvasObject) fyne.CanvasObject {
	s.sections = append(s.sections, section{name, o})
	return o
}
