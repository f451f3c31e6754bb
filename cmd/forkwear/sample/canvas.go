package sample

import (
	"image"
	"math"
	"math/rand/v2"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// tint is a colour, 0 to 255 each.
type tint [3]float64

func (a tint) times(k float64) tint { return tint{a[0] * k, a[1] * k, a[2] * k} }
func (a tint) plus(b tint) tint     { return tint{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a tint) mixed(b tint, k float64) tint {
	return tint{a[0] + (b[0]-a[0])*k, a[1] + (b[1]-a[1])*k, a[2] + (b[2]-a[2])*k}
}

func grey(v float64) tint { return tint{v, v, v} }

// canvas is a picture in the making.
type canvas struct {
	img   *image.RGBA
	light float64 // of the lamp at this visit, about 1
}

// spare keeps pictures that were filed, for the next ones.
var spare = sync.Pool{New: func() any { return image.NewRGBA(image.Rect(0, 0, pictureW, pictureH)) }}

func newCanvas(light float64) *canvas { return &canvas{img: spare.Get().(*image.RGBA), light: light} }

func (c *canvas) set(x, y int, t tint) {
	p := c.img.Pix[y*c.img.Stride+4*x:]
	p[0], p[1], p[2], p[3] = clamp(t[0]), clamp(t[1]), clamp(t[2]), 255
}

func (c *canvas) mix(x, y int, t tint, a float64) {
	if a <= 0 || x < 0 || y < 0 || x >= pictureW || y >= pictureH {
		return
	}
	a = math.Min(a, 1)
	p := c.img.Pix[y*c.img.Stride+4*x:]
	for k := range 3 {
		p[k] = clamp(float64(p[k])*(1-a) + t[k]*a)
	}
}

// dot is a soft round dot.
func (c *canvas) dot(x, y, r float64, t tint, a float64) {
	for j := int(y - r - 1); j <= int(y+r+1); j++ {
		for i := int(x - r - 1); i <= int(x+r+1); i++ {
			d := math.Hypot(float64(i)+0.5-x, float64(j)+0.5-y)
			c.mix(i, j, t, a*math.Max(0, math.Min(1, r+0.5-d)))
		}
	}
}

// coarse is the distance in pixels of the places at which the mat is reckoned:
// it is out of focus.
const coarse = 4

// bench is the mat that everything lies on, out of focus: a dark mat with a
// pale grid, lit from the upper left.
func (c *canvas) bench(cam camera, depth float64, place uint64, shadow func(x, y float64) float64) {
	const cols = pictureW/coarse + 1
	ox, oy := float64(place%97), float64(place%89)
	row := func(out *[cols]float64, y int) {
		for i := range out {
			ray := cam.ray(float64(i*coarse), float64(y))
			far := (depth - cam.at[2]) / ray[2]
			mx, my := cam.at[0]+far*ray[0], cam.at[1]+far*ray[1]
			v := 74 + 9*noise(mx/17+ox, my/17+oy) + 5*noise(mx/2.1, my/2.1+oy) + 17*(line(mx+ox)+line(my+oy))
			out[i] = v * c.light * (1.04 - 0.28*math.Tanh((mx+my)/170)) * (1 - 0.62*shadow(mx, my))
		}
	}
	var above, below [cols]float64
	row(&below, 0)
	for y := range pictureH {
		if y%coarse == 0 {
			above = below
			row(&below, y+coarse)
		}
		k := float64(y%coarse) / coarse
		pix := c.img.Pix[y*c.img.Stride:]
		for i := range cols - 1 {
			a, b := above[i]+(below[i]-above[i])*k, above[i+1]+(below[i+1]-above[i+1])*k
			for j := range coarse {
				v := max(0, min(a+(b-a)*float64(j)/coarse, 255))
				p := pix[4*(i*coarse+j):]
				p[0], p[1], p[2], p[3] = uint8(v*0.86), uint8(v*0.98), uint8(v), 255
			}
		}
	}
}

// line is a soft printed line every 40 mm.
func line(mm float64) float64 {
	d := mm - 40*math.Round(mm/40)
	if d*d > 4 {
		return 0
	}
	return math.Exp(-d * d / 0.5)
}

// finish darkens the corners, adds the sensor's grain and says on the picture
// itself that it is drawn.
func (c *canvas) finish(visit uint64) *image.RGBA {
	grain := grains()
	at := int(visit*2654435761) & (len(grain) - 1)
	var across [pictureW]int
	for x := range across {
		across[x] = int(256 * 0.20 * sq((float64(x)-pictureW/2)/(pictureW/2)))
	}
	for y := range pictureH {
		row := c.img.Pix[y*c.img.Stride : y*c.img.Stride+4*pictureW]
		down := 256 - int(256*0.20*sq((float64(y)-pictureH/2)/(pictureW/2)))
		for x, a := range across {
			k, n := down-a, int(grain[at])
			at = (at + 1) & (len(grain) - 1)
			p := row[4*x : 4*x+3 : 4*x+3]
			p[0] = uint8(max(0, min(int(p[0])*k>>8+n, 255)))
			p[1] = uint8(max(0, min(int(p[1])*k>>8+n, 255)))
			p[2] = uint8(max(0, min(int(p[2])*k>>8+n, 255)))
		}
	}
	c.words("DRAWN, NOT A PHOTOGRAPH  ·  SAMPLE SHOP", 22, pictureH-14, 22, tint{236, 236, 230}, false, pictureH-48)
	return c.img
}

// grains is a table of noise, a power of two long.
var grains = sync.OnceValue(func() []int8 {
	r := rand.New(rand.NewPCG(9, 9))
	out := make([]int8, 1<<17)
	for i := range out {
		out[i] = int8(math.Round(math.Max(-9, math.Min(9, 2.2*r.NormFloat64()))))
	}
	return out
})

const tile = 256

// lattice is the table behind noise, filled once and then only read.
var lattice = func() *[tile * tile]float32 {
	r := rand.New(rand.NewPCG(7, 1))
	var out [tile * tile]float32
	for i := range out {
		out[i] = float32(2*r.Float64() - 1)
	}
	return &out
}()

// noise is value noise, -1 to 1, with one knot a unit.
func noise(x, y float64) float64 {
	l := lattice
	fx, fy := math.Floor(x), math.Floor(y)
	u, v := x-fx, y-fy
	u, v = u*u*(3-2*u), v*v*(3-2*v)
	x0, y0 := int(fx)&(tile-1), int(fy)&(tile-1)
	x1, y1 := (x0+1)&(tile-1), (y0+1)&(tile-1)
	a := float64(l[y0*tile+x0])*(1-u) + float64(l[y0*tile+x1])*u
	b := float64(l[y1*tile+x0])*(1-u) + float64(l[y1*tile+x1])*u
	return a*(1-v) + b*v
}

var fonts = sync.OnceValue(func() (out [2]*opentype.Font) {
	for i, ttf := range [][]byte{goregular.TTF, gobold.TTF} {
		if f, err := opentype.Parse(ttf); err == nil {
			out[i] = f
		}
	}
	return out
})

// face gives letters of a size in pixels; nil where the font can't be had.
func face(px float64, bold bool) font.Face {
	f := fonts()[0]
	if bold {
		f = fonts()[1]
	}
	if f == nil {
		return nil
	}
	out, err := opentype.NewFace(f, &opentype.FaceOptions{Size: px, DPI: 72})
	if err != nil {
		return nil
	}
	return out
}

// words writes on the picture, on a dark strip from the row strip down (0: none).
func (c *canvas) words(text string, x, y int, px float64, t tint, bold bool, strip int) {
	if strip > 0 {
		for j := strip; j < pictureH; j++ {
			for i := range pictureW {
				c.mix(i, j, tint{20, 22, 21}, 0.7)
			}
		}
	}
	letters := face(px, bold)
	if letters == nil {
		return
	}
	defer func() { _ = letters.Close() }()
	ink := image.NewUniform(rgba(t))
	d := font.Drawer{Dst: c.img, Src: ink, Face: letters, Dot: fixed.P(x, y)}
	d.DrawString(text)
}

func sq(x float64) float64 { return x * x }

// step goes softly from 0 at a to 1 at b.
func step(a, b, x float64) float64 {
	t := math.Max(0, math.Min(1, (x-a)/(b-a)))
	return t * t * (3 - 2*t)
}

func clamp(v float64) uint8 {
	switch {
	case v <= 0:
		return 0
	case v >= 255:
		return 255
	}
	return uint8(v)
}
