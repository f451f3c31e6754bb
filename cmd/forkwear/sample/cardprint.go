package sample

import (
	"image"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"

	"forkwear/inspect"
	"forkwear/media/benchcard"
	"forkwear/media/scale"
)

// printScale is pixels a mm of the printed card that is laid into pictures.
const printScale = 10

// printCard is the card of a visit as a sheet of grey: the layout is that of
// package benchcard.
func printCard(visit inspect.ID, ticket, fork string) (*image.Gray, error) {
	code, err := benchcard.Encode(visit)
	if err != nil {
		return nil, err
	}
	dark, err := benchcard.Modules(code)
	if err != nil {
		return nil, err
	}
	w, h := int(math.Round(benchcard.Width*printScale)), int(math.Round(benchcard.Height*printScale))
	g := image.NewGray(image.Rect(0, 0, w, h))
	ink := func(x, y, bw, bh float64, v uint8) {
		for j := int(math.Round(y * printScale)); j < min(h, int(math.Round((y+bh)*printScale))); j++ {
			for i := int(math.Round(x * printScale)); i < min(w, int(math.Round((x+bw)*printScale))); i++ {
				g.Pix[j*g.Stride+i] = v
			}
		}
	}
	ink(0, 0, benchcard.Width, benchcard.Height, 24)
	ink(benchcard.Frame, benchcard.Frame, benchcard.Width-2*benchcard.Frame, benchcard.Height-2*benchcard.Frame, 228)
	for _, r := range benchcard.Runs(dark) {
		ink(r.X, r.Y, r.W, r.H, 24)
	}
	for _, s := range benchcard.ScaleStrokes() {
		ink(s.X-0.09, benchcard.ScaleFoot-s.Length, 0.18, s.Length, 24)
	}
	write := func(text string, y, size float64, bold bool) {
		f := face(size*printScale, bold)
		if f == nil {
			return
		}
		defer func() { _ = f.Close() }()
		d := font.Drawer{Dst: g, Src: image.NewUniform(rgba(grey(24))), Face: f, Dot: fixed.P(int(math.Round(benchcard.TextLeft*printScale)), int(math.Round(y*printScale)))}
		d.DrawString(text)
	}
	write(ticket, 17, 8.5, true)
	write(fork, 25, 3.6, false)
	write("bench card", 31, 3, false)
	return g, nil
}

// lying is a card on a block beside the part, in the plane z = 0 of its front.
type lying struct {
	middle   vec
	sin, cos float64 // of its turn
	printed  *image.Gray
}

func (l lying) local(x, y float64) (float64, float64) {
	dx, dy := x-l.middle[0], y-l.middle[1]
	return dx*l.cos + dy*l.sin + benchcard.Width/2, -dx*l.sin + dy*l.cos + benchcard.Height/2
}

// corners are where the card's corners come in the picture, top left first.
func (l lying) corners(cam camera) []scale.Point {
	sin, cos := l.sin, l.cos
	var out []scale.Point
	for _, p := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		x, y := p[0]*benchcard.Width/2, p[1]*benchcard.Height/2
		out = append(out, cam.project(l.middle.plus(vec{x*cos - y*sin, x*sin + y*cos, 0})))
	}
	return out
}

// shadow is how dark the block makes the bench around it.
func (l lying) shadow(x, y float64) float64 {
	u, v := l.local(x-7, y-9)
	u, v = math.Max(math.Abs(u-benchcard.Width/2)-benchcard.Width/2, 0), math.Max(math.Abs(v-benchcard.Height/2)-benchcard.Height/2, 0)
	return 1 - step(0, 15, math.Hypot(u, v))
}

const blockRim = 4.0 // mm of the block that shows around the card

// card lays the card into the picture, each pixel from two by two rays.
func (c *canvas) card(cam camera, l lying) {
	x0, y0, x1, y1 := pictureW, pictureH, 0, 0
	for _, p := range l.corners(cam) {
		x0, y0, x1, y1 = min(x0, int(p.X)), min(y0, int(p.Y)), max(x1, int(p.X)), max(y1, int(p.Y))
	}
	const rim = 50
	base, over, down := cam.ray(0, 0), cam.right.times(1/cam.focal), cam.down.times(1/cam.focal)
	for y := max(0, y0-rim); y < min(pictureH, y1+rim); y++ {
		for x := max(0, x0-rim); x < min(pictureW, x1+rim); x++ {
			var sum tint
			hits := 0.0
			for k := range 4 {
				px, py := float64(x)+0.25+0.5*float64(k%2), float64(y)+0.25+0.5*float64(k/2)
				far := -cam.at[2] / (base[2] + px*over[2] + py*down[2])
				u, v := l.local(cam.at[0]+far*(base[0]+px*over[0]+py*down[0]), cam.at[1]+far*(base[1]+px*over[1]+py*down[1]))
				if t, ok := l.shade(u, v); ok {
					sum, hits = sum.plus(t), hits+1
				}
			}
			if hits > 0 {
				c.mix(x, y, sum.times(c.light/hits), hits/4)
			}
		}
	}
}

// shade is the colour of a place on the card or on the block below it.
func (l lying) shade(u, v float64) (tint, bool) {
	if u < -blockRim || v < -blockRim || u > benchcard.Width+blockRim || v > benchcard.Height+blockRim {
		return tint{}, false
	}
	r := benchcard.Radius
	dx := math.Max(0, math.Abs(u-benchcard.Width/2)-(benchcard.Width/2-r))
	dy := math.Max(0, math.Abs(v-benchcard.Height/2)-(benchcard.Height/2-r))
	if dx*dx+dy*dy > r*r {
		return tint{112, 104, 92}.times(1 + 0.10*noise(u*2, v*2)), true
	}
	x := max(0, min(int(u*printScale), l.printed.Rect.Dx()-1))
	y := max(0, min(int(v*printScale), l.printed.Rect.Dy()-1))
	g := float64(l.printed.Pix[y*l.printed.Stride+x]) * (1.02 - 0.0012*u)
	return tint{g, g * 0.99, g * 0.955}, true
}
