package counter

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// scaled sets its content in larger letters on a larger screen: the customer
// stands further away than who works on it.
type scaled struct {
	theme *larger
	over  *container.ThemeOverride
}

func newScaled(o fyne.CanvasObject) fyne.CanvasObject {
	l := &larger{by: 1}
	over := container.NewThemeOverride(o, l)
	return container.New(&scaled{l, over}, over)
}

// MinSize implements fyne.Layout.
func (s *scaled) MinSize(os []fyne.CanvasObject) fyne.Size { return os[0].MinSize() }

// Layout implements fyne.Layout.
func (s *scaled) Layout(os []fyne.CanvasObject, size fyne.Size) {
	by := float32(math.Round(float64(max(1, min(size.Width/1280, size.Height/800, 1.6)))*10) / 10)
	if by != s.theme.by {
		s.theme.by = by
		s.over.Refresh()
	}
	os[0].Resize(size)
	os[0].Move(fyne.NewPos(0, 0))
}

// larger is the theme of the program with all letters enlarged.
type larger struct{ by float32 }

func (l *larger) of() fyne.Theme { return fyne.CurrentApp().Settings().Theme() }

// Size implements fyne.Theme.
func (l *larger) Size(n fyne.ThemeSizeName) float32 {
	size := l.of().Size(n)
	switch n {
	case theme.SizeNameText, theme.SizeNameCaptionText, theme.SizeNameSubHeadingText, theme.SizeNameHeadingText:
		size *= l.by
	}
	return size
}

// Color implements fyne.Theme.
func (l *larger) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	return l.of().Color(n, v)
}

// Font implements fyne.Theme.
func (l *larger) Font(s fyne.TextStyle) fyne.Resource { return l.of().Font(s) }

// Icon implements fyne.Theme.
func (l *larger) Icon(n fyne.ThemeIconName) fyne.Resource { return l.of().Icon(n) }
