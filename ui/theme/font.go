package theme

import (
	"sync"

	"fyne.io/fyne/v2"

	"forkwear/ui/forkdraw/pen"
)

// fonts keeps parsed fonts by resource name: reading one takes longer than
// drawing with it, and a font never changes.
var fonts sync.Map

// TextFont returns the text font of a theme for drawings, so that letters in
// a drawing match those beside it.
func TextFont(th fyne.Theme, bold bool) *pen.Font {
	if th == nil {
		return pen.DefaultFont()
	}
	res := th.Font(fyne.TextStyle{Bold: bold})
	if res == nil {
		return pen.DefaultFont()
	}
	if f, ok := fonts.Load(res.Name()); ok {
		return f.(*pen.Font)
	}
	f, err := pen.ParseFont(res.Content())
	if err != nil {
		f = pen.DefaultFont()
	}
	fonts.Store(res.Name(), f)
	return f
}
