package compare

import (
	"context"
	"fmt"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"forkwear/inspect"
	"forkwear/ui/tongue"
	"forkwear/ui/widgets"
	"forkwear/ui/words"
)

func (s *Screen) buildStrip() fyne.CanvasObject {
	s.cells = nil
	strip := container.NewHBox()
	for i, o := range s.data.strip {
		cell := widgets.NewPhotoCell(func(string) { s.pressed(i) })
		cell.SetID(string(o.Photo.ID), s.cellWords(i))
		s.cells = append(s.cells, cell)
		strip.Add(container.NewGridWrap(fyne.NewSize(156, 112), cell))
	}
	return container.NewHScroll(strip)
}

func (s *Screen) cellWords(i int) string {
	o := s.data.strip[i]
	text := words.Date(o.Visit.Visit.DroppedOff)
	if o.Photo.Stage == inspect.AfterWork {
		text = fmt.Sprintf(lang.L("%s, after"), text)
	}
	switch i {
	case s.then:
		return fmt.Sprintf(lang.L("then · %s"), text)
	case s.now:
		return fmt.Sprintf(lang.L("now · %s"), text)
	}
	return text
}

func (s *Screen) markCells() {
	for i, c := range s.cells {
		c.SetID(string(s.data.strip[i].Photo.ID), s.cellWords(i))
		c.SetSelected(i == s.then || i == s.now)
	}
}

// loadCells fills the strip, oldest first, after the photos of the pair.
func (s *Screen) loadCells() {
	photos := s.env.Photos
	for i, cell := range s.cells {
		p := s.data.strip[i].Photo
		soon(s, s.open, false, func(ctx context.Context) (image.Image, error) { return photos.Preview(ctx, p.SHA256, 312) },
			func(img image.Image, err error) {
				switch {
				case s.closed:
				case err != nil:
					cell.SetFailed(string(p.ID), inspect.SaidIn(tongue.Say, err))
				default:
					cell.SetImage(string(p.ID), img)
				}
			})
	}
}
