package checkdraw

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/lang"
	fynetheme "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"forkwear/ui/checkdraw/figure"
	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme"
)

// Drawing is the drawing of a check. It follows the theme and is drawn in the
// pixels that it is shown in.
type Drawing struct {
	widget.BaseWidget

	name   string
	height float32
}

// usual is the height of a drawing without its words.
const usual = 96

// New returns the drawing of a name; an unknown or empty one takes no room.
func New(name string) *Drawing {
	d := &Drawing{name: name, height: usual}
	d.ExtendBaseWidget(d)
	return d
}

// SetName shows another drawing.
func (d *Drawing) SetName(name string) {
	if d.name != name {
		d.name = name
		d.Refresh()
	}
}

// Name is the name of what is shown.
func (d *Drawing) Name() string { return d.name }

// Empty reports that there is nothing to show.
func (d *Drawing) Empty() bool {
	has, _ := figure.Has(d.name)
	return !has
}

// SetHeight sets the height of the drawing, without its words; less than 40 is
// pulled in.
func (d *Drawing) SetHeight(h float32) { d.height = max(h, 40); d.Refresh() }

// CreateRenderer implements fyne.Widget.
func (d *Drawing) CreateRenderer() fyne.WidgetRenderer {
	d.ExtendBaseWidget(d)
	r := &renderer{d: d}
	r.ras = canvas.NewRaster(r.paint)
	return r
}

type renderer struct {
	d   *Drawing
	ras *canvas.Raster
}

// Destroy implements fyne.WidgetRenderer.
func (r *renderer) Destroy() {}

// Layout implements fyne.WidgetRenderer.
func (r *renderer) Layout(s fyne.Size) { r.ras.Resize(s) }

// Objects implements fyne.WidgetRenderer.
func (r *renderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.ras} }

// Refresh implements fyne.WidgetRenderer.
func (r *renderer) Refresh() { r.ras.Refresh() }

const (
	between  = 12.0 // room between the two drawings of a pair
	wordRoom = 1.4  // of the size of the words
)

// MinSize implements fyne.WidgetRenderer.
func (r *renderer) MinSize() fyne.Size {
	has, pair := figure.Has(r.d.name)
	if !has {
		return fyne.NewSize(0, 0)
	}
	w := r.d.height * figure.Width / figure.Height
	if !pair {
		return fyne.NewSize(w, r.d.height)
	}
	return fyne.NewSize(2*w+between, r.d.height+wordRoom*r.d.Theme().Size(fynetheme.SizeNameCaptionText))
}

func (r *renderer) paint(w, h int) image.Image {
	p := pen.New(w, h)
	has, pair := figure.Has(r.d.name)
	if !has || r.ras.Size().Width <= 0 {
		return p.Image()
	}
	th := r.d.Theme()
	pal := theme.PaletteOf(th, fyne.CurrentApp().Settings().ThemeVariant())
	k := float64(w) / float64(r.ras.Size().Width) // pixels of a device-independent one
	high := float64(r.d.height) * k
	each := high * figure.Width / figure.Height
	if !pair {
		figure.Paint(p, r.d.name, 0, 0, 0, min(each, float64(w)), float64(h), k, pal)
		return p.Image()
	}
	gap := between * k
	if room := (float64(w) - gap) / 2; each > room {
		each = max(room, 1)
	}
	size := float64(th.Size(fynetheme.SizeNameCaptionText)) * k
	high = float64(h) - wordRoom*size
	for i, word := range []string{lang.L("new"), lang.L("at the limit")} {
		x := float64(i) * (each + gap)
		figure.Paint(p, r.d.name, float64(i), x, 0, each, high, k, pal)
		p.Text(theme.TextFont(th, false), word, x+each/2, float64(h)-0.35*size, size, pen.Middle, pal.QuietInk)
	}
	return p.Image()
}
