package counter

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
)

// scaled sets the letters larger on a larger screen, as long as the counter is
// shown: the customer stands further away than who works on it. It changes the
// theme of the whole program, of which nothing else is to be seen then: what
// was drawn under a theme of its own is never forgotten by the toolkit, with the
// photos that it shows.
type scaled struct {
	by    float32
	base  fyne.Theme   // while another is in force
	later func(func()) // once the layout is done
	done  bool
}

func newScaled(o fyne.CanvasObject, later func(func())) (fyne.CanvasObject, *scaled) {
	s := &scaled{by: 1, later: later}
	return container.New(s, o), s
}

// MinSize implements fyne.Layout.
func (s *scaled) MinSize(os []fyne.CanvasObject) fyne.Size { return os[0].MinSize() }

// Layout implements fyne.Layout.
func (s *scaled) Layout(os []fyne.CanvasObject, size fyne.Size) {
	by := float32(math.Round(float64(max(1, min(size.Width/1280, size.Height/800, 1.6)))*10) / 10)
	if by != s.by {
		s.by = by
		s.later(s.apply)
	}
	os[0].Resize(size)
	os[0].Move(fyne.NewPos(0, 0))
}

// apply puts the letters of this size in force.
func (s *scaled) apply() {
	all := fyne.CurrentApp().Settings()
	switch {
	case s.done:
		return
	case s.base == nil && s.by == 1:
		return
	case s.base == nil:
		s.base = all.Theme()
	}
	all.SetTheme(&larger{s.base, s.by})
}

// close gives the program its own letters back.
func (s *scaled) close() {
	s.done = true
	if s.base != nil {
		fyne.CurrentApp().Settings().SetTheme(s.base)
		s.base = nil
	}
}

// open lets it enlarge again.
func (s *scaled) open() { s.done, s.by = false, 1 }

// larger is the theme of the program with all letters enlarged.
type larger struct {
	base fyne.Theme
	by   float32
}

func (l *larger) of() fyne.Theme { return l.base }

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
