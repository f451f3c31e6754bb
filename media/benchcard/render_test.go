package benchcard

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"

	"forkwear/media/scale"
)

// scene is a pinhole camera over a card on a bench: the pictures are made by
// tracing each pixel's ray to the card's plane, so that nothing of the
// package's own geometry goes into them but the layout in mm.
type scene struct {
	w, h     int
	focal    float64 // px
	distance float64 // mm from the lens to the card's middle
	tilt     float64 // radians, about an axis in the card's plane
	axis     float64 // direction of that axis
	roll     float64
	shiftX   float64 // px, where the card's middle lies from the picture's
	shiftY   float64

	blur, noise    float64 // px, gray levels
	bench          float64 // brightness of the bench
	lightX, lightY float64 // change of the light over the picture, a share
	quality        int     // of the JPEG, 0 none
	busy           bool
	barrel         float64 // radial distortion at half the diagonal, a share
	plain          float64 // 0: a bench card; else brightness of a plain card
	seed           uint64
}

type vec3 [3]float64

func (a vec3) dot(b vec3) float64   { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec3) times(k float64) vec3 { return vec3{a[0] * k, a[1] * k, a[2] * k} }
func (a vec3) plus(b vec3) vec3     { return vec3{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec3) crossed(b vec3) vec3 {
	return vec3{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// frameOf gives the card's directions and middle before the camera.
func (s scene) frameOf() (right, down, out, middle vec3) {
	turned := func(v vec3) vec3 { // Rodrigues, about the axis
		k := vec3{math.Cos(s.axis), math.Sin(s.axis), 0}
		return v.times(math.Cos(s.tilt)).plus(k.crossed(v).times(math.Sin(s.tilt))).plus(k.times(k.dot(v) * (1 - math.Cos(s.tilt))))
	}
	right = turned(vec3{math.Cos(s.roll), math.Sin(s.roll), 0})
	down = turned(vec3{-math.Sin(s.roll), math.Cos(s.roll), 0})
	out = right.crossed(down)
	middle = vec3{s.shiftX / s.focal * s.distance, s.shiftY / s.focal * s.distance, s.distance}
	return right, down, out, middle
}

// project gives the pixel of a place on the card.
func (s scene) project(mm scale.Point) scale.Point {
	right, down, _, middle := s.frameOf()
	p := middle.plus(right.times(mm.X - Width/2)).plus(down.times(mm.Y - Height/2))
	x, y := s.focal*p[0]/p[2], s.focal*p[1]/p[2]
	half := math.Hypot(float64(s.w), float64(s.h)) / 2
	k := 1 - s.barrel*(x*x+y*y)/(half*half)
	return scale.Point{X: x*k + float64(s.w)/2, Y: y*k + float64(s.h)/2}
}

func (s scene) corners() []scale.Point {
	var out []scale.Point
	for _, c := range cardCorners() {
		out = append(out, s.project(c))
	}
	return out
}

// fits tells whether the whole card is in the picture.
func (s scene) fits() bool {
	for _, c := range s.corners() {
		if c.X < 15 || c.Y < 15 || c.X > float64(s.w)-15 || c.Y > float64(s.h)-15 {
			return false
		}
	}
	return true
}

// shade is the printed card: brightness at a place in mm, false beside it.
func shade(dark [][]bool, x, y float64) (float64, bool) {
	const ink, paper = 28.0, 225.0
	if !rounded(x, y, 0, Radius) {
		return 0, false
	}
	if !rounded(x, y, Frame, Radius-Frame) {
		return ink, true
	}
	if cx, cy := int(math.Floor((x-QRLeft)/Module)), int(math.Floor((y-QRTop)/Module)); cx >= 0 && cy >= 0 && cx < qrSize && cy < qrSize {
		if dark[cy][cx] {
			return ink, true
		}
		return paper, true
	}
	if n := math.Round(x - ScaleLeft); n >= 0 && n <= ScaleLength && math.Abs(x-ScaleLeft-n) < 0.1 && y < ScaleFoot && y > ScaleFoot-1.1 {
		return ink, true
	}
	if x > TextLeft && x < TextRight { // bars in the place of words
		switch {
		case y > 12 && y < 24 && math.Mod(x-TextLeft, 8) < 5.5 && !(y > 15 && y < 21 && math.Mod(x-TextLeft, 8) > 1.5 && math.Mod(x-TextLeft, 8) < 4),
			y > 29 && y < 32 && math.Mod(x, 2.2) < 1.4, y > 37 && y < 39.4 && math.Mod(x, 1.8) < 1.1:
			return ink, true
		}
	}
	return paper, true
}

func rounded(x, y, inset, r float64) bool {
	dx := math.Max(0, math.Abs(x-Width/2)-(Width/2-inset-r))
	dy := math.Max(0, math.Abs(y-Height/2)-(Height/2-inset-r))
	return dx*dx+dy*dy <= r*r
}

// photo renders the scene.
func (s scene) photo(t testing.TB, dark [][]bool) *image.Gray {
	t.Helper()
	r := rand.New(rand.NewPCG(s.seed, 7))
	pix := s.background(r)
	s.layCard(pix, dark)
	for y := range s.h {
		for x := range s.w {
			pix[y*s.w+x] *= float32(1 + s.lightX*(float64(x)/float64(s.w)-0.5) + s.lightY*(float64(y)/float64(s.h)-0.5))
		}
	}
	blurred(pix, s.w, s.h, s.blur)
	g := image.NewGray(image.Rect(0, 0, s.w, s.h))
	for i, v := range pix {
		g.Pix[i] = uint8(math.Min(255, math.Max(0, float64(v)+s.noise*r.NormFloat64()+0.5)))
	}
	if s.quality == 0 {
		return g
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, g, &jpeg.Options{Quality: s.quality}); err != nil {
		t.Fatal(err)
	}
	img, err := jpeg.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return img.(*image.Gray)
}

// layCard draws the card, each pixel from four by four rays.
func (s scene) layCard(pix []float32, dark [][]bool) {
	right, down, out, middle := s.frameOf()
	x0, y0, x1, y1 := s.w, s.h, 0, 0
	for _, c := range s.corners() {
		x0, y0, x1, y1 = min(x0, int(c.X)-3), min(y0, int(c.Y)-3), max(x1, int(c.X)+3), max(y1, int(c.Y)+3)
	}
	half := math.Hypot(float64(s.w), float64(s.h)) / 2
	const rays = 4
	for y := max(0, y0); y < min(s.h, y1); y++ {
		for x := max(0, x0); x < min(s.w, x1); x++ {
			var sum, hits float64
			for k := range rays * rays {
				dx := float64(x) + (float64(k%rays)+0.5)/rays - float64(s.w)/2
				dy := float64(y) + (float64(k/rays)+0.5)/rays - float64(s.h)/2
				if s.barrel != 0 { // undo the distortion by going round a few times
					ux, uy := dx, dy
					for range 6 {
						q := 1 - s.barrel*(ux*ux+uy*uy)/(half*half)
						ux, uy = dx/q, dy/q
					}
					dx, dy = ux, uy
				}
				ray := vec3{dx / s.focal, dy / s.focal, 1}
				p := ray.times(middle.dot(out) / ray.dot(out)).plus(middle.times(-1))
				mx, my := p.dot(right)+Width/2, p.dot(down)+Height/2
				if s.plain != 0 {
					if rounded(mx, my, 0, Radius) {
						v := s.plain
						if my > 8 && my < 17 { // a stripe, as such cards have
							v *= 0.5
						}
						if mx > 9 && mx < 21 && my > 22 && my < 31 { // and a chip
							v = 0.6*v + 60
						}
						sum, hits = sum+v, hits+1
					}
				} else if v, ok := shade(dark, mx, my); ok {
					sum, hits = sum+v, hits+1
				}
			}
			i := y*s.w + x
			pix[i] = float32((sum + float64(pix[i])*(rays*rays-hits)) / (rays * rays))
		}
	}
}

// background is a bench: blotches, and when busy also tools, stripes, washers
// and squares that look like finders.
func (s scene) background(r *rand.Rand) []float32 {
	pix := make([]float32, s.w*s.h)
	const cells = 24
	var grid [cells + 1][cells + 1]float64
	for i := range grid {
		for j := range grid[i] {
			grid[i][j] = s.bench + 12*r.NormFloat64()
		}
	}
	for y := range s.h {
		for x := range s.w {
			u, v := float64(x)/float64(s.w)*cells, float64(y)/float64(s.h)*cells
			i, j := int(v), int(u)
			fu, fv := u-float64(j), v-float64(i)
			pix[y*s.w+x] = float32((grid[i][j]*(1-fu)+grid[i][j+1]*fu)*(1-fv) + (grid[i+1][j]*(1-fu)+grid[i+1][j+1]*fu)*fv)
		}
	}
	if !s.busy {
		return pix
	}
	unit := float64(s.w) / 40
	for range 60 {
		cx, cy, a, kind := r.Float64()*float64(s.w), r.Float64()*float64(s.h), r.Float64()*math.Pi, r.IntN(4)
		size, shadeOf := unit*(0.4+2*r.Float64()), 20+220*r.Float64()
		n := int(2.5 * size)
		for y := max(0, int(cy)-n); y < min(s.h, int(cy)+n); y++ {
			for x := max(0, int(cx)-n); x < min(s.w, int(cx)+n); x++ {
				u := (float64(x)-cx)*math.Cos(a) + (float64(y)-cy)*math.Sin(a)
				v := -(float64(x)-cx)*math.Sin(a) + (float64(y)-cy)*math.Cos(a)
				in := false
				switch ring := math.Max(math.Abs(u), math.Abs(v)) / size; kind {
				case 0: // a tool
					in = math.Abs(u) < 2*size && math.Abs(v) < 0.4*size
				case 1: // stripes
					in = math.Abs(u) < size && math.Abs(v) < size && math.Mod(u+99*size, size/2) < size/4
				case 2: // a washer
					d := math.Hypot(u, v) / size
					in = d > 0.4 && d < 1
				case 3: // nearly a finder
					in = ring < 3.0/7 || ring > 5.0/7 && ring < 1
				}
				if in {
					pix[y*s.w+x] = float32(shadeOf)
				}
			}
		}
	}
	return pix
}

// blurred is a Gaussian on rows, then columns.
func blurred(pix []float32, w, h int, sigma float64) {
	if sigma <= 0 {
		return
	}
	n := int(math.Ceil(3 * sigma))
	kernel := make([]float32, 2*n+1)
	var sum float32
	for i := range kernel {
		kernel[i] = float32(math.Exp(-float64((i-n)*(i-n)) / (2 * sigma * sigma)))
		sum += kernel[i]
	}
	for i := range kernel {
		kernel[i] /= sum
	}
	line := make([]float32, max(w, h)+2*n)
	pass := func(start, stride, count int) {
		for i := range count + 2*n {
			line[i] = pix[start+min(max(i-n, 0), count-1)*stride]
		}
		for i := range count {
			var v float32
			for k, q := range kernel {
				v += q * line[i+k]
			}
			pix[start+i*stride] = v
		}
	}
	for y := range h {
		pass(y*w, 1, w)
	}
	for x := range w {
		pass(x, w, h)
	}
}

// anyScene draws a scene of the kind that the card is made for. The focal
// length is that of a phone, 26 mm on 35 mm film.
func anyScene(r *rand.Rand, w, h int) scene {
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	for {
		s := scene{w: w, h: h, focal: 26 * math.Hypot(float64(w), float64(h)) / math.Hypot(36, 24),
			distance: in(200, 500), tilt: in(0, 40) * math.Pi / 180, axis: in(0, 2*math.Pi), roll: in(0, 2*math.Pi),
			shiftX: in(-0.4, 0.4) * float64(w), shiftY: in(-0.4, 0.4) * float64(h),
			blur: in(0.5, 1.0) * (0.4 + float64(w)/4032), noise: in(1, 6), bench: []float64{25, 60, 120, 190, 225}[r.IntN(5)],
			lightX: in(-0.5, 0.5), lightY: in(-0.5, 0.5), quality: 85, busy: true, seed: r.Uint64()}
		if s.fits() {
			return s
		}
	}
}
