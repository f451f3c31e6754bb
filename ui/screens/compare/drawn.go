package compare

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"forkwear/ui/checkdraw"
	"forkwear/ui/checkdraw/figure"
)

// drawing stands for then on a first visit: how it looks new and at its limit;
// nil where the check has none.
func (s *Screen) drawing() fyne.CanvasObject {
	if d := checkdraw.New(s.data.check.Drawing); !d.Empty() {
		return d
	}
	return nil
}

// noThen tells what stands in then's place, and when there will be one.
func (s *Screen) noThen() string {
	has, pair := figure.Has(s.data.check.Drawing)
	switch {
	case pair:
		return lang.L("The drawing shows how it looks new and at the limit. The next visit makes a pair of photos.")
	case has:
		return lang.L("The drawing shows how it is checked. The next visit makes a pair of photos.")
	}
	return lang.L("The next visit makes a pair of photos.")
}

// filling draws a check's drawing as large as its place, in its middle.
type filling struct{}

// MinSize implements fyne.Layout.
func (filling) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(160, 100) }

// Layout implements fyne.Layout.
func (filling) Layout(os []fyne.CanvasObject, s fyne.Size) {
	d, ok := os[0].(*checkdraw.Drawing)
	if !ok {
		return
	}
	const words, edge = 30, 16 // room for the words under it, and beside it
	width := s.Width - 2*edge
	high := min((width-12)/2*figure.Height/figure.Width, s.Height-words-2*edge)
	if _, pair := figure.Has(d.Name()); !pair {
		high = min(width*figure.Height/figure.Width, s.Height-2*edge)
	}
	d.SetHeight(high)
	size := d.MinSize()
	size.Width = min(size.Width, width)
	d.Resize(size)
	d.Move(fyne.NewPos((s.Width-size.Width)/2, (s.Height-size.Height)/2))
}
