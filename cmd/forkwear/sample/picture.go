package sample

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// subject is what a drawn picture shows.
type subject int

const (
	tube subject = iota
	seal
	bushing
	boot
)

const (
	pictureW = 960
	pictureH = 720
)

// canvas is a picture in the making, in linear grey with a tint.
type canvas struct {
	img *image.RGBA
	rng *rand.Rand
}

// drawSubject draws one close-up with damage of the given grade (0..5). place
// keeps the same scratches in the same places at every visit; visit varies light
// and noise.
func drawSubject(s subject, grade float64, place, visit uint64) image.Image {
	c := &canvas{img: image.NewRGBA(image.Rect(0, 0, pictureW, pictureH)), rng: rand.New(rand.NewPCG(place, 7))}
	light := 0.94 + 0.12*rand.New(rand.NewPCG(visit, place)).Float64()
	c.bench(visit, light)
	switch s {
	case tube:
		c.tube(300, 660, -20, pictureH+20, light)
		c.coatingWear(grade)
	case seal:
		c.tube(330, 630, -20, 430, light)
		c.wiper(grade, light)
	case bushing:
		c.bushingRing(grade, light)
	case boot:
		c.bladder(grade, light)
	}
	c.grain(visit)
	c.label("DRAWN, NOT A PHOTOGRAPH  ·  SAMPLE SHOP")
	return c.img
}

func (c *canvas) mix(x, y int, col color.RGBA, a float64) {
	if a <= 0 || !(image.Pt(x, y).In(c.img.Rect)) {
		return
	}
	a = math.Min(a, 1)
	i := c.img.PixOffset(x, y)
	p := c.img.Pix[i : i+4 : i+4]
	p[0] = uint8(float64(p[0])*(1-a) + float64(col.R)*a)
	p[1] = uint8(float64(p[1])*(1-a) + float64(col.G)*a)
	p[2] = uint8(float64(p[2])*(1-a) + float64(col.B)*a)
	p[3] = 255
}

// bench is the out-of-focus background.
func (c *canvas) bench(visit uint64, light float64) {
	across := make([]float64, pictureW)
	for x := range across {
		across[x] = math.Sin(float64(x)/310 + float64(visit%7))
	}
	for y := 0; y < pictureH; y++ {
		down := 34 * math.Cos(float64(y)/270)
		row := c.img.Pix[y*c.img.Stride:]
		for x, a := range across {
			v := (92 + a*down) * light
			row[4*x], row[4*x+1], row[4*x+2], row[4*x+3] = clamp(v), clamp(v*1.01), clamp(v*0.98), 255
		}
	}
}

// tube is a dark anodised cylinder with two highlights.
func (c *canvas) tube(x0, x1, y0, y1 int, light float64) {
	shade := make([]float64, pictureH)
	for y := range shade {
		shade[y] = 0.97 + 0.03*math.Sin(float64(y)/61)
	}
	for x := x0; x < x1; x++ {
		t := (float64(x-x0)/float64(x1-x0))*2 - 1
		round := math.Sqrt(math.Max(0, 1-t*t))
		v := 26 + 62*round + 150*math.Exp(-sq((t+0.42)/0.09)) + 60*math.Exp(-sq((t-0.55)/0.13))
		for y := max(y0, 0); y < min(y1, pictureH); y++ {
			k := v * light * shade[y]
			p := c.img.Pix[c.img.PixOffset(x, y):]
			p[0], p[1], p[2] = clamp(k*0.98), clamp(k*0.95), clamp(k*0.9)
		}
	}
}

// coatingWear is a polished band where the bushing runs, brass to bare metal,
// with fine scratches along the tube.
func (c *canvas) coatingWear(grade float64) {
	k := grade / 5
	band := color.RGBA{206, 188, 150, 255}
	if grade >= 3.5 {
		band = color.RGBA{222, 222, 220, 255}
	}
	for y := 0; y < pictureH; y++ {
		for x := 302; x < 658; x++ {
			d := sq((float64(x)-505)/(30+75*k)) + sq((float64(y)-360)/(70+130*k))
			c.mix(x, y, band, 0.75*k*math.Exp(-d))
		}
	}
	c.scratches(int(2+grade*5), 340, 620, 120, 610, k)
}

func (c *canvas) scratches(n, x0, x1, y0, y1 int, k float64) {
	for i := 0; i < n; i++ {
		x := float64(x0) + c.rng.Float64()*float64(x1-x0)
		y := float64(y0) + c.rng.Float64()*float64(y1-y0)
		length := 30 + c.rng.Float64()*(60+240*k)
		lean := (c.rng.Float64() - 0.5) * 0.16
		width := 0.7 + 1.6*c.rng.Float64()*k
		for s := 0.0; s < length; s += 0.5 {
			fade := math.Sin(math.Pi * s / length)
			c.dot(x+lean*s, y+s, width, color.RGBA{232, 228, 218, 255}, 0.55*fade)
			c.dot(x+lean*s+width+0.6, y+s, width*0.7, color.RGBA{12, 12, 12, 255}, 0.4*fade)
		}
	}
}

func (c *canvas) dot(x, y, r float64, col color.RGBA, a float64) {
	for j := int(y - r - 1); j <= int(y+r+1); j++ {
		for i := int(x - r - 1); i <= int(x+r+1); i++ {
			d := math.Hypot(float64(i)-x, float64(j)-y)
			c.mix(i, j, col, a*math.Max(0, math.Min(1, r+0.5-d)))
		}
	}
}

// wiper is a rubber lip on the lowers, with an oil ring that grows with grade.
func (c *canvas) wiper(grade, light float64) {
	for y := 400; y < pictureH; y++ {
		for x := 230; x < 730; x++ {
			t := (float64(x) - 480) / 250.0
			edge := 420 + 26*math.Sqrt(math.Max(0, 1-t*t))
			if float64(y) < edge {
				continue
			}
			v := (34 + 40*math.Sqrt(math.Max(0, 1-t*t)) + 70*math.Exp(-sq((t+0.5)/0.1))) * light
			if y > 560 {
				v = (70 + 70*math.Sqrt(math.Max(0, 1-t*t)) + 60*math.Exp(-sq((t+0.45)/0.16))) * light
			}
			c.mix(x, y, color.RGBA{clamp(v), clamp(v), clamp(v * 1.03), 255}, 1)
		}
	}
	oil := color.RGBA{96, 62, 18, 255}
	for x := 330; x < 630; x++ {
		t := (float64(x) - 480) / 150.0
		base := 420 + 24*math.Sqrt(math.Max(0, 1-t*t))
		h := grade * (5 + 7*math.Abs(math.Sin(float64(x)/37)+0.4*math.Sin(float64(x)/11)))
		for y := base - h; y < base; y++ {
			c.mix(x, int(y), oil, 0.16*grade+0.05)
		}
		if grade >= 3 && int(x)%97 < 5 {
			for y := base; y < base+40*grade/3; y++ {
				c.mix(x, int(y), color.RGBA{150, 104, 44, 255}, 0.55)
			}
		}
	}
}

// bushingRing looks into the lower leg: a grey sliding face polished on one side.
func (c *canvas) bushingRing(grade, light float64) {
	for y := 0; y < pictureH; y++ {
		for x := 0; x < pictureW; x++ {
			dx, dy := float64(x)-480, float64(y)-360
			r, a := math.Hypot(dx, dy*1.12), math.Atan2(dy, dx)
			switch {
			case r > 330:
				v := (58 + 26*math.Cos(a+0.7)) * light
				c.mix(x, y, color.RGBA{clamp(v), clamp(v), clamp(v * 1.05), 255}, 1)
			case r > 190:
				v := (96 + 30*math.Cos(a-0.9) + 5*math.Sin(r/2.1)) * light
				c.mix(x, y, color.RGBA{clamp(v * 0.93), clamp(v), clamp(v * 0.9), 255}, 1)
				worn := grade / 5 * math.Exp(-sq((a-1.3)/(0.35+0.22*grade)))
				c.mix(x, y, color.RGBA{196, 154, 96, 255}, worn*(0.7+0.3*math.Sin(a*140)))
			default:
				v := 18 * light
				c.mix(x, y, color.RGBA{clamp(v), clamp(v), clamp(v), 255}, 1)
			}
		}
	}
}

// bladder is the damper's boot; dents grow with grade.
func (c *canvas) bladder(grade, light float64) {
	for y := 70; y < 650; y++ {
		fy := float64(y)
		dent := 11 * grade * math.Exp(-sq((fy-330)/78))
		half := 150 + 9*math.Sin((fy-70)/29)*math.Exp(-sq((fy-360)/330))
		left, right := 480-half+dent, 480+half-dent*0.35
		for x := int(left); x < int(right); x++ {
			t := (float64(x)-left)/(right-left)*2 - 1
			v := (22 + 60*math.Sqrt(math.Max(0, 1-t*t)) + 80*math.Exp(-sq((t+0.4+dent/150)/0.12))) * light
			c.mix(x, y, color.RGBA{clamp(v), clamp(v * 0.99), clamp(v * 0.97), 255}, 1)
		}
	}
	if grade >= 4 {
		c.scratches(3, 430, 540, 300, 380, 0.8)
	}
}

func (c *canvas) grain(visit uint64) {
	rng := rand.New(rand.NewPCG(visit, 99))
	for i := 0; i < len(c.img.Pix); i += 4 {
		n := int(rng.Uint32()&7) - 3
		for k := 0; k < 3; k++ {
			c.img.Pix[i+k] = clamp(float64(int(c.img.Pix[i+k]) + n))
		}
	}
}

// label says on the picture itself that it is drawn.
func (c *canvas) label(text string) {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		return
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: 20, DPI: 72})
	if err != nil {
		return
	}
	defer func() { _ = face.Close() }()
	for y := pictureH - 44; y < pictureH; y++ {
		for x := 0; x < pictureW; x++ {
			c.mix(x, y, color.RGBA{20, 22, 21, 255}, 0.7)
		}
	}
	d := font.Drawer{Dst: c.img, Src: image.NewUniform(color.RGBA{236, 236, 230, 255}), Face: face, Dot: fixed.P(20, pictureH-15)}
	d.DrawString(text)
}

func sq(x float64) float64 { return x * x }

func clamp(v float64) uint8 {
	switch {
	case v <= 0:
		return 0
	case v >= 255:
		return 255
	}
	return uint8(v)
}
