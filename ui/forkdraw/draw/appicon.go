package draw

import (
	"image"
	"image/color"

	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme/tokens"
)

// AppIcon draws the icon of the program: crown and upper legs of a fork on
// the accent colour, one leg with its wear line.
func AppIcon(size int) *image.RGBA {
	p := pen.New(size, size)
	pal := tokens.Light()
	p.SetView(float64(size)/512, 0, 0)
	w := func(units float64) float64 { return units * float64(size) / 512 }
	white := color.NRGBA{R: 255, G: 255, B: 255, A: 255}
	p.Fill(pen.RoundRect(16, 16, 480, 480, 104), pal.Accent)

	part := func(path *pen.Path) {
		p.Fill(path, white)
		p.Stroke(path, w(10), pal.Accent)
	}
	arch := new(pen.Path).M(218, 340).C(220, 292, 234, 280, 256, 280).C(278, 280, 292, 292, 294, 340)
	p.Stroke(arch, w(30), white)
	part(pen.RoundRect(232, 44, 48, 80, 8)) // steerer
	for _, x := range []float64{172, 340} {
		part(pen.RoundRect(x-26, 130, 52, 170, 0))
		part(pen.RoundRect(x-16, 420, 32, 56, 8))
		leg := new(pen.Path).M(x-40, 300).L(x+40, 300).L(x+28, 448).C(x+28, 456, x+24, 460, x+16, 460)
		leg.L(x-16, 460).C(x-24, 460, x-28, 456, x-28, 448).Z()
		part(leg)
		part(pen.RoundRect(x-36, 274, 72, 30, 6))
	}
	crown := new(pen.Path).M(128, 136).C(128, 118, 136, 110, 152, 110).L(196, 110)
	crown.C(214, 110, 218, 96, 234, 96).L(278, 96).C(294, 96, 298, 110, 316, 110).L(360, 110)
	crown.C(376, 110, 384, 118, 384, 136).L(384, 168).C(384, 176, 379, 180, 371, 180).L(310, 180)
	crown.C(298, 158, 278, 152, 256, 152).C(234, 152, 214, 158, 202, 180).L(141, 180).C(133, 180, 128, 176, 128, 168).Z()
	part(crown)
	p.Fill(pen.Rect(306, 216, 68, 16), pal.DoNotRide) // the wear line
	return p.Image()
}
