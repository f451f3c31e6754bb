package compare

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/theme/tokens"
)

// saying stands what is told between the words under the two photos where there
// is room for it, else under them: its row is better used by the photos. It
// remembers its width, on which its height depends.
type saying struct{ width float32 }

// leastTold is the width that what is told needs between the words.
const leastTold = 300

// side is the width of the longer words, and whether there is room between.
func (l *saying) side(objs []fyne.CanvasObject) (width float32, between bool) {
	for _, i := range []int{0, 2} {
		w := objs[i].(*widget.Label)
		size := w.Theme().Size(w.SizeName)
		width = max(width, fyne.MeasureText(w.Text, size, fyne.TextStyle{Bold: true}).Width+3*tokens.Step)
	}
	return width, l.width-2*width >= leastTold
}

// MinSize implements fyne.Layout.
func (l *saying) MinSize(objs []fyne.CanvasObject) fyne.Size {
	words, told := objs[0].MinSize().Max(objs[2].MinSize()), objs[1].MinSize()
	if _, between := l.side(objs); between {
		return fyne.NewSize(200, max(words.Height, told.Height))
	}
	return fyne.NewSize(200, words.Height+told.Height)
}

// Layout implements fyne.Layout.
func (l *saying) Layout(objs []fyne.CanvasObject, s fyne.Size) {
	l.width = s.Width
	w, between := l.side(objs)
	high := objs[0].MinSize().Height
	x, y, wide := w, float32(0), s.Width-2*w
	if !between {
		w, x, y, wide = s.Width/2, 0, high, s.Width
	}
	put := func(o fyne.CanvasObject, x, y, w, h float32) {
		o.Move(fyne.NewPos(x, y))
		o.Resize(fyne.NewSize(w, h))
	}
	put(objs[0], 0, 0, w, high)
	put(objs[2], s.Width-w, 0, w, high)
	put(objs[1], x, y, wide, max(objs[1].MinSize().Height, s.Height-y))
	objs[1].(*widget.Label).Alignment = fyne.TextAlignLeading
	if between {
		objs[1].(*widget.Label).Alignment = fyne.TextAlignCenter
	}
}
