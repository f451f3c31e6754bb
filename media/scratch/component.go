package scratch

import "image"

// component is a set of pixels of a plane that touch each other.
type component struct {
	pixels []int // indices y*w + x
	strong int   // of them above the higher threshold
	mass   float64
	box    image.Rectangle
}

// components are the sets of pixels that touch each other, corners included,
// where r is above low and, somewhere, above high.
func components(r plane, low, high float32) []component {
	seen := make([]bool, len(r.v))
	var out []component
	var stack []int
	for start, v := range r.v {
		if seen[start] || !(v > high) {
			continue
		}
		c := component{box: image.Rectangle{Min: image.Pt(r.w, r.h)}}
		seen[start] = true
		stack = append(stack[:0], start)
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			c.take(r, i, low, high)
			x, y := i%r.w, i/r.w
			for ny := max(y-1, 0); ny <= min(y+1, r.h-1); ny++ {
				for nx := max(x-1, 0); nx <= min(x+1, r.w-1); nx++ {
					if j := ny*r.w + nx; !seen[j] && r.v[j] > low {
						seen[j] = true
						stack = append(stack, j)
					}
				}
			}
		}
		out = append(out, c)
	}
	return out
}

func (c *component) take(r plane, i int, low, high float32) {
	c.pixels = append(c.pixels, i)
	c.mass += float64(r.v[i] - low)
	if r.v[i] > high {
		c.strong++
	}
	x, y := i%r.w, i/r.w
	c.box.Min.X, c.box.Min.Y = min(c.box.Min.X, x), min(c.box.Min.Y, y)
	c.box.Max.X, c.box.Max.Y = max(c.box.Max.X, x+1), max(c.box.Max.Y, y+1)
}

// distances is how far each pixel with set > 0 is from the nearest pixel
// without, in pixels by steps of 1 and sqrt 2 (at most 8 % too long); beyond
// the border nothing is set.
func distances(set plane) plane {
	const diagonal = 1.4142135
	d := newPlane(set.w, set.h)
	at := func(x, y int) float32 {
		if x < 0 || y < 0 || x >= d.w || y >= d.h {
			return 0
		}
		return d.v[y*d.w+x]
	}
	for y := range d.h {
		for x := range d.w {
			if i := y*d.w + x; set.v[i] > 0 {
				d.v[i] = min(at(x-1, y)+1, at(x, y-1)+1, at(x-1, y-1)+diagonal, at(x+1, y-1)+diagonal)
			}
		}
	}
	for y := d.h - 1; y >= 0; y-- {
		for x := d.w - 1; x >= 0; x-- {
			if i := y*d.w + x; set.v[i] > 0 {
				d.v[i] = min(d.v[i], at(x+1, y)+1, at(x, y+1)+1, at(x+1, y+1)+diagonal, at(x-1, y+1)+diagonal)
			}
		}
	}
	return d
}

// greatest is the greatest value, 0 for none above.
func (p plane) greatest() float32 {
	var g float32
	for _, v := range p.v {
		g = max(g, v)
	}
	return g
}

// grown is 1 where set > 0 within k pixels in either direction.
func grown(set plane, k int) plane {
	out := leastAround(set.scaled(-1), k)
	for i, v := range out.v {
		out.v[i] = 0
		if v < 0 {
			out.v[i] = 1
		}
	}
	return out
}
