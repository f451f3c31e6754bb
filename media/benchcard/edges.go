package benchcard

import (
	"math"

	"forkwear/media/scale"
)

// edgeMap is where a reduced photo has edges, and which way they run.
type edgeMap struct {
	w, h, by int
	points   []edgePoint
	effort   int      // left for judging figures
	near     []uint16 // for each pixel a bit for every direction of the edges within two pixels
}

// edgePoint is one pixel of an edge; angle is that of its normal, 0 to pi.
type edgePoint struct {
	x, y  int
	angle float64
}

const directions = 16 // of edges, in half a turn

// edges finds edges as Canny did (1986; from memory): smooth, take the
// gradient, keep where it is largest across the edge, and then what is strong
// or touches what is strong. Strong is what one pixel in ten of all exceeds,
// but at least 3 levels a pixel.
func (l *luma) edges() *edgeMap {
	e := &edgeMap{w: l.w, h: l.h, by: l.by, effort: mostEffort, near: make([]uint16, l.w*l.h)}
	gx, gy, size, strong := l.gradient()
	const weak, kept = 1, 2
	state := make([]uint8, l.w*l.h)
	var open []int
	for y := 1; y < l.h-1; y++ {
		for x := 1; x < l.w-1; x++ {
			i := y*l.w + x
			if size[i] < 0.35*strong || !ridge(size, gx[i], gy[i], i, l.w) {
				continue
			}
			state[i] = weak
			if size[i] >= strong {
				state[i] = kept
				open = append(open, i)
			}
		}
	}
	for len(open) > 0 {
		i := open[len(open)-1]
		open = open[:len(open)-1]
		e.add(i, math.Atan2(float64(gy[i]), float64(gx[i])))
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				if j := i + dy*l.w + dx; j >= 0 && j < len(state) && state[j] == weak {
					state[j] = kept
					open = append(open, j)
				}
			}
		}
	}
	return e
}

// gradient gives the change of the smoothed picture a pixel, its size, and
// from which size on it is strong.
func (l *luma) gradient() (gx, gy, size []float32, strong float32) {
	s := smooth(l.pix, l.w, l.h)
	gx, gy, size = make([]float32, l.w*l.h), make([]float32, l.w*l.h), make([]float32, l.w*l.h)
	var histogram [512]int
	for y := 1; y < l.h-1; y++ {
		for x := 1; x < l.w-1; x++ {
			i := y*l.w + x
			gx[i], gy[i] = (s[i+1]-s[i-1])/2, (s[i+l.w]-s[i-l.w])/2
			size[i] = float32(math.Hypot(float64(gx[i]), float64(gy[i])))
			histogram[min(511, int(size[i]*4))]++
		}
	}
	strong = 3
	for n, k := 0, 511; k > 0; k-- {
		if n += histogram[k]; n > l.w*l.h/10 {
			strong = max(strong, float32(k)/4)
			break
		}
	}
	return gx, gy, size, strong
}

// ridge: the gradient is no smaller than at the two neighbours across the edge.
func ridge(size []float32, gx, gy float32, i, w int) bool {
	dx, dy := 0, 0
	ax, ay := math.Abs(float64(gx)), math.Abs(float64(gy))
	if ax > 0.41*ay {
		dx = 1
	}
	if ay > 0.41*ax {
		dy = 1
		if gx*gy < 0 {
			dy = -1
		}
	}
	a, b := i+dy*w+dx, i-dy*w-dx
	return a >= 0 && b >= 0 && a < len(size) && b < len(size) && size[i] >= size[a] && size[i] > size[b]
}

func (e *edgeMap) add(i int, angle float64) {
	angle = math.Mod(angle+2*math.Pi, math.Pi)
	p := edgePoint{i % e.w, i / e.w, angle}
	e.points = append(e.points, p)
	bit := directionBit(angle)
	for y := max(0, p.y-2); y <= min(e.h-1, p.y+2); y++ {
		for x := max(0, p.x-2); x <= min(e.w-1, p.x+2); x++ {
			e.near[y*e.w+x] |= bit
		}
	}
}

func directionBit(angle float64) uint16 {
	k := int(math.Round(angle/math.Pi*directions)) % directions
	return 1 << ((k + directions) % directions)
}

// smooth is a Gaussian of about 1.1 px: 1 4 6 4 1 on rows, then columns.
func smooth(pix []uint8, w, h int) []float32 {
	weights := [5]float32{1.0 / 16, 4.0 / 16, 6.0 / 16, 4.0 / 16, 1.0 / 16}
	mid, out := make([]float32, w*h), make([]float32, w*h)
	for y := range h {
		for x := range w {
			for k, q := range weights {
				mid[y*w+x] += q * float32(pix[y*w+min(max(x+k-2, 0), w-1)])
			}
		}
	}
	for y := range h {
		for k, q := range weights {
			from := mid[min(max(y+k-2, 0), h-1)*w:][:w]
			for x, v := range from {
				out[y*w+x] += q * v
			}
		}
	}
	return out
}

// sides gives the share of each side that lies on an edge of its direction:
// that of the worst side and the mean. Round corners are left out.
func (e *edgeMap) sides(c []scale.Point) (least, mean float64) {
	least = 1
	for i := range c {
		a, b := c[i], c[(i+1)%4]
		d := minus(b, a)
		normal := math.Mod(math.Atan2(d.X, -d.Y)+2*math.Pi, math.Pi)
		wanted := directionBit(normal) | directionBit(normal+math.Pi/directions) | directionBit(normal-math.Pi/directions)
		const n = 32
		on := 0.0
		for k := range n {
			p := moved(a, times(d, 0.08+0.84*(float64(k)+0.5)/n))
			x, y := int(p.X), int(p.Y)
			if x >= 0 && y >= 0 && x < e.w && y < e.h && e.near[y*e.w+x]&wanted != 0 {
				on++
			}
		}
		least, mean = min(least, on/n), mean+on/n/4
	}
	return least, mean
}
