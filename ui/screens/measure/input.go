package measure

import (
	"context"
	"image"

	"fyne.io/fyne/v2"

	"forkwear/inspect"
	"forkwear/ui/place"
	"forkwear/ui/widgets"
)

// onHandle follows a point that is moved; the value follows while it moves.
func (s *Screen) onHandle(i int, at inspect.Spot, done bool) {
	if i >= len(s.refs) {
		return
	}
	*s.refs[i] = at
	if i < len(s.card) {
		s.cardFrom.sigma = 0 // a person's eye has it now
	}
	s.rough = !done
	s.drawLayer()
	if done {
		s.showResult() // what is to be done next may be another thing now
	}
	s.measureSoon()
}

func (s *Screen) onPoint(at inspect.Spot) {
	if s.kind == Width && len(s.points) >= 2 {
		s.points = nil
	}
	if len(s.points) >= 200 {
		return
	}
	s.points = append(s.points, at)
	s.show()
	s.canvas.Choose(len(s.refs) - 1)
	s.measureSoon()
}

func (s *Screen) onDrawn(a, b inspect.Spot) {
	switch {
	case s.marking:
		s.keepMark(a, b)
	case s.kind.byMask():
		s.proposed(inspect.Spot{X: min(a.X, b.X), Y: min(a.Y, b.Y)}, inspect.Spot{X: max(a.X, b.X), Y: max(a.Y, b.Y)})
	}
}

// dropLast takes the last point, stroke or mark off.
func (s *Screen) dropLast() {
	switch {
	case s.marking:
		if n := len(s.data.layer.Marks); n > 0 {
			s.takeMarkOff(s.data.layer.Marks[n-1])
		}
		return
	case s.kind.byMask():
		if s.damage != nil && !s.damage.undo() {
			s.damage = nil
		}
	case len(s.points) > 0:
		s.points = s.points[:len(s.points)-1]
	}
	s.changed()
}

// usualBrush is 1/80 of the photo's width.
const usualBrush = 1.0 / 80

func (s *Screen) brushRadius() float64 {
	if s.radius <= 0 {
		s.radius = float64(s.data.photo.Width) * usualBrush
	}
	return s.radius
}

func (s *Screen) resizeBrush(by float64) {
	w := float64(s.data.photo.Width)
	s.radius = max(w/1600, min(s.brushRadius()*by, w/8))
	s.canvas.SetBrush(s.radius)
}

func (s *Screen) onBrushChip(i int) {
	switch i {
	case 0, 1:
		s.eraser, s.hold = i == 1, false
	case 2:
		s.hold = true
	case 3:
		s.damage, s.hold = nil, false
	case 4:
		s.dropLast()
		return
	}
	s.changed()
}

// onLook asks for the photo in its full size once it is looked at closer than
// the preview allows, where the window can give it.
func (s *Screen) onLook(l widgets.Look) {
	full, ok := s.env.Photos.(place.WholePhotos)
	if !ok || s.detail || s.canvas.Pixel() <= 1.05 {
		return
	}
	w := float64(s.canvas.Size().Width)
	if l.Zoom*w < float64(s.canvas.Photo().Image.Bounds().Dx()) {
		return
	}
	s.detail = true
	sum := s.data.photo.SHA256
	later(s, func(ctx context.Context) (*image.RGBA, error) { return full.Full(ctx, sum) }, func(img *image.RGBA, err error) {
		if err != nil {
			s.env.Say.Failed(err)
			return
		}
		s.canvas.SetDetail(img)
		s.measureSoon()
	})
}

// TypedRune implements place.Keyed.
func (s *Screen) TypedRune(r rune) {
	if s.canvas == nil {
		return
	}
	switch r {
	case 'm', 'M':
		s.setMarking(!s.marking)
		return
	case '+', '=', '-', '0':
		s.canvas.TypedRune(r)
		return
	}
	if s.marking {
		return
	}
	switch r {
	case 'c', 'C':
		s.toggleCard()
	case 't', 'T':
		s.toggleTube()
	case 'p', 'P':
		s.toggleKnown()
	case 'l', 'L':
		s.setKind(Length)
	case 'w', 'W':
		s.setKind(Width)
	case 'a', 'A':
		s.setKind(Area)
	case 'd', 'D':
		s.setKind(DamageArea)
	case 'g', 'G':
		s.setKind(DamageLength)
	case 'f', 'F':
		if s.card != nil {
			s.lookForCard()
		}
	case 'b', 'B':
		s.togglePrinted()
	case '[':
		s.resizeBrush(1 / 1.4)
	case ']':
		s.resizeBrush(1.4)
	}
}

// TypedKey implements place.Keyed.
func (s *Screen) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyEscape:
		s.Back()
	case fyne.KeyBackspace, fyne.KeyDelete:
		if s.canvas != nil {
			s.dropLast()
		}
	case fyne.KeyLeft, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown, fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		if s.canvas != nil && s.env.Window.Canvas().Focused() == nil {
			s.focusPhoto()
			s.canvas.TypedKey(e)
		}
	}
}
