package figure

import (
	"math"
	"slices"

	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme/tokens"
)

// Width and Height are the units of one drawing.
const (
	Width  = 120.0
	Height = 84.0
)

// most is the greatest wear that is drawn apart.
const most = 1.6

// figure is one entry of the list of drawings.
type figure struct {
	name  string
	setup bool
	draw  func(s *sketch)
}

func list() []figure {
	var all []figure
	for _, fs := range [][]figure{tubeFigures, sealFigures, bushingFigures, damperFigures, springFigures, lowerFigures, crownFigures} {
		all = append(all, fs...)
	}
	return all
}

// Names returns the names of all drawings, sorted.
func Names() []string {
	var out []string
	for _, f := range list() {
		out = append(out, f.name)
	}
	slices.Sort(out)
	return out
}

// Has reports whether there is a drawing of a name, and whether it shows a
// state, new and at the limit, and not a way to measure.
func Has(name string) (has, pair bool) {
	f, ok := byName(name)
	return ok, ok && !f.setup
}

func byName(name string) (figure, bool) {
	for _, f := range list() {
		if f.name == name {
			return f, true
		}
	}
	return figure{}, false
}

// Paint draws a figure into a box of pixels: as large as fits, in the middle.
// wear is 0 new to 1 at the limit, past it up to 1.6; what is no number is
// drawn as new. px is the thickness of a hairline in pixels. An unknown name
// draws nothing and answers false.
func Paint(p *pen.Pen, name string, wear, x, y, w, h, px float64, pal tokens.Palette) bool {
	f, ok := byName(name)
	if !ok {
		return false
	}
	if !(w > 0) || !(h > 0) {
		return true
	}
	if math.IsNaN(wear) {
		wear = 0
	}
	k := math.Min(w/Width, h/Height)
	p.SetView(k, x+(w-k*Width)/2, y+(h-k*Height)/2)
	f.draw(&sketch{p: p, pal: pal, wear: math.Max(0, math.Min(wear, most)), px: math.Max(px, k*0.55)})
	p.SetView(1, 0, 0)
	return true
}
