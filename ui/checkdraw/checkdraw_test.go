package checkdraw

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"
	"fyne.io/fyne/v2/test"

	"forkwear/inspect/catalog"
	"forkwear/ui/checkdraw/figure"
	"forkwear/ui/theme"
)

// Every drawing that the catalog names is there, and every drawing is named; a
// check that grades a state has a pair, new and at the limit.
func TestCatalogAndDrawingsMatch(t *testing.T) {
	cat, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]bool{}
	for _, k := range cat.Checks {
		has, pair := figure.Has(k.Drawing)
		named[k.Drawing] = true
		if !has {
			t.Errorf("%s names the drawing %q, which nobody made", k.ID, k.Drawing)
		}
		if k.Kind == catalog.Grade && !pair && k.Drawing != "lamp_inside" { // where to look
			t.Errorf("%s is graded, and %q does not show new and at the limit", k.ID, k.Drawing)
		}
	}
	for _, n := range figure.Names() {
		if !named[n] {
			t.Errorf("the drawing %q is named by no check", n)
		}
	}
}

func TestSizes(t *testing.T) {
	app := test.NewTempApp(t)
	app.Settings().SetTheme(theme.New())
	pair, setup, none := New("scratch"), New("runout"), New("no such drawing")
	if !none.Empty() || none.MinSize() != (fyne.Size{}) || pair.Empty() {
		t.Errorf("an unknown drawing takes %v", none.MinSize())
	}
	if p, s := pair.MinSize(), setup.MinSize(); p.Width <= 2*s.Width || p.Height <= s.Height || s.Height != usual {
		t.Errorf("a pair takes %v, a set-up %v", p, s)
	}
	pair.SetHeight(-5)
	if pair.MinSize().Height < 40 {
		t.Error("too low to see")
	}
	pair.SetName("runout")
	pair.SetHeight(usual)
	if pair.Name() != "runout" || pair.MinSize() != setup.MinSize() {
		t.Errorf("after another name it takes %v", pair.MinSize())
	}
}

// A drawing follows the theme and is sharp in the pixels that it is shown in:
// at twice the scale it has more than twice the pixels of ink.
func TestDrawnInThePixelsOfTheWindow(t *testing.T) {
	app := test.NewTempApp(t)
	dark := func(scale float32, variant fyne.ThemeVariant) int {
		app.Settings().SetTheme(theme.New(theme.WithVariant(variant)))
		c := software.NewTransparentCanvas()
		c.SetPadded(false)
		c.SetScale(scale)
		d := New("scratch")
		c.SetContent(d)
		c.Resize(d.MinSize())
		img, n := c.Capture(), 0
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				if r, _, _, a := img.At(x, y).RGBA(); a > 0x8000 && r < 0x5000 {
					n++
				}
			}
		}
		return n
	}
	one, two := dark(1, 1), dark(2, 1)
	if one == 0 || two < 2*one {
		t.Errorf("%d dark pixels at one scale, %d at twice", one, two)
	}
	if night := dark(1, 0); night == one {
		t.Error("light and dark look the same")
	}
}
