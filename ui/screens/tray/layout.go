package tray

import (
	"fyne.io/fyne/v2"

	"forkwear/ui/theme/tokens"
)

// headOver stands the head over the rest. Wrapped text knows its height only
// once it has its width, so the head gets that first.
type headOver struct{}

// MinSize implements fyne.Layout.
func (headOver) MinSize(os []fyne.CanvasObject) fyne.Size {
	a, b := os[0].MinSize(), os[1].MinSize()
	return fyne.NewSize(max(a.Width, b.Width)+tokens.Inner, a.Height+b.Height)
}

// Layout implements fyne.Layout.
func (headOver) Layout(os []fyne.CanvasObject, s fyne.Size) {
	w, h := s.Width-tokens.Inner, float32(0)
	for range 2 { // rows side by side settle in the second turn
		h = os[0].MinSize().Height
		os[0].Resize(fyne.NewSize(w, h))
		h = os[0].MinSize().Height
	}
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(fyne.NewSize(w, h))
	os[1].Move(fyne.NewPos(0, h))
	os[1].Resize(fyne.NewSize(w, max(s.Height-h, os[1].MinSize().Height)))
}

// sideBySide gives the detail its width beside the sheet, or stands it below
// where the window is narrow.
type sideBySide struct {
	narrow  bool
	changed func() // the least size is another one now
}

const (
	leastDetail   = 344
	mostDetail    = 480
	wideFrom      = 720
	stackedHeight = 400
)

// MinSize implements fyne.Layout.
func (l *sideBySide) MinSize([]fyne.CanvasObject) fyne.Size {
	if l.narrow {
		return fyne.NewSize(320, 2*stackedHeight)
	}
	return fyne.NewSize(320, 300)
}

// Layout implements fyne.Layout.
func (l *sideBySide) Layout(os []fyne.CanvasObject, s fyne.Size) {
	if narrow := s.Width < wideFrom; narrow != l.narrow {
		l.narrow = narrow
		l.changed()
	}
	if l.narrow {
		h := s.Height / 2
		os[0].Move(fyne.NewPos(0, 0))
		os[0].Resize(fyne.NewSize(s.Width, h-gap))
		os[1].Move(fyne.NewPos(0, h))
		os[1].Resize(fyne.NewSize(s.Width, s.Height-h))
		return
	}
	w := max(leastDetail, min(mostDetail, s.Width*0.4))
	os[0].Move(fyne.NewPos(0, 0))
	os[0].Resize(fyne.NewSize(s.Width-w-2*gap, s.Height))
	os[1].Move(fyne.NewPos(s.Width-w, 0))
	os[1].Resize(fyne.NewSize(w, s.Height))
}
