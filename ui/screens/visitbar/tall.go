package visitbar

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

type tall struct{ height float32 }

// Tall gives an object a least height.
func Tall(height float32, o fyne.CanvasObject) *fyne.Container {
	return container.New(tall{height}, o)
}

// Layout implements fyne.Layout.
func (tall) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		o.Resize(size)
		o.Move(fyne.NewPos(0, 0))
	}
}

// MinSize implements fyne.Layout.
func (t tall) MinSize(objects []fyne.CanvasObject) fyne.Size {
	m := fyne.NewSize(0, t.height)
	for _, o := range objects {
		m = m.Max(o.MinSize())
	}
	return m
}
