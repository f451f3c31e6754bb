package quality

import (
	"image"
	"math"
	"sort"
)

// Local sharpness. A picture is cut into tiles, and in each the energy of the
// Laplacian is taken at a fine scale and at its halves. How that of one scale and
// the next relate tells how far the edges are spread out, whatever their contrast:
//
// A step edge of height A that is spread by a Gaussian of standard deviation s
// (pixels) has second differences whose squares sum to
//
//	A^2 / (4 sqrt(pi) (s^2 + 1/4)^(3/2))
//
// per pixel of its length: the integral of the squared second derivative, with
// 1/12 of variance for the pixel's own width and 1/6 for the second difference.
// At half the size s is s/2, and an edge crosses half as many pixels of a tile,
// so the mean energies relate as
//
//	r = E(fine)/E(half) = 1/2 ((s^2/4 + 1/4) / (s^2 + 1/4))^(3/2)
//
// from 1/2 (sharp) down to 1/16, and with q = (2r)^(2/3)
//
//	s^2 = (1 - q) / (4q - 1).
//
// Own derivation; the test holds it against rendered edges. Noise, which lies
// over the whole picture, is taken from the calmest tiles and subtracted. A
// tile with contrast whose energies do not rise above the noise has only edges
// too wide to tell.
const (
	// FineSide: the fine scale has at most this many pixels along the longer side.
	FineSide = 1600
	scales   = 4    // the fine one and its halves
	tileSide = 64   // at the fine scale
	maxFound = 12.0 // wider spreads cannot be told apart
	bestPart = 0.1  // share of the tiles with contrast that is looked at, the sharpest
	calmPart = 0.1  // share of all tiles that gives the noise
	contrast = 24   // grey levels between the dark and the bright of a tile with something to see
)

// tile is one place of the picture.
type tile struct {
	at   image.Rectangle // at the fine scale
	e    [scales]float64 // energy of the Laplacian at the fine scale, half, quarter and eighth
	seen bool            // it has contrast
	mean int             // brightness
	s    float64         // spread of its edges, pixels of the fine scale
}

// tiles measures a picture at the fine scale.
func tiles(fine *image.Gray) []tile {
	half := halve(fine)
	quarter := halve(half)
	levels := [scales]*image.Gray{fine, half, quarter, halve(quarter)}
	w, h := fine.Rect.Dx(), fine.Rect.Dy()
	var out []tile
	for y := 0; y+tileSide <= h; y += tileSide {
		for x := 0; x+tileSide <= w; x += tileSide {
			t := tile{at: image.Rect(x, y, x+tileSide, y+tileSide)}
			for i, l := range levels {
				t.e[i] = energy(l, x>>i, y>>i, tileSide>>i)
			}
			dark, bright := spanOf(levels[2], x/4, y/4, tileSide/4)
			t.seen, t.mean = bright-dark >= contrast, (dark+bright)/2
			out = append(out, t)
		}
	}
	var noise [scales]float64
	for i := range noise {
		noise[i] = calm(out, i)
	}
	for i := range out {
		out[i].s = out[i].spread(noise)
	}
	return out
}

// spanOf gives the brightness at the end of the darkest sixteenth of a square's
// pixels, and at the beginning of the brightest.
func spanOf(g *image.Gray, x0, y0, side int) (dark, bright int) {
	var counts [256]int
	n := 0
	for y := y0; y < min(y0+side, g.Rect.Dy()); y++ {
		for _, v := range g.Pix[y*g.Stride+x0 : y*g.Stride+min(x0+side, g.Rect.Dx())] {
			counts[v]++
			n++
		}
	}
	end := func(from, step int) int {
		for sum, v := 0, from; v >= 0 && v < 256; v += step {
			if sum += counts[v]; 16*sum >= n {
				return v
			}
		}
		return from
	}
	return end(0, 1), end(255, -1)
}

// calm is the energy below which calmPart of the tiles lie, those near black and
// white left out, where noise is cut off; at most that of a
// noise of standard deviation 4 (20 times its square by the Laplacian's weights
// 1, 1, 1, 1, -4; a quarter at each halving), and at least that of rounding to
// whole grey levels (variance 1/12).
func calm(ts []tile, level int) float64 {
	const rounding = 20. / 12
	var es []float64
	for _, t := range ts {
		if t.mean > 20 && t.mean < 235 {
			es = append(es, t.e[level])
		}
	}
	if len(es) == 0 {
		return rounding
	}
	sort.Float64s(es)
	return max(rounding, min(es[int(calmPart*float64(len(es)))], 20*16/float64(int(1)<<(2*level))))
}

// spread gives the standard deviation, in pixels of the fine scale, by which
// the tile's edges are spread out; maxFound where that is too wide to tell.
// Energies count where they rise well above the noise; the tenth by which
// noise varies between tiles of this size is taken off too. The widest of what
// the scales say holds: what a JPEG's rounding adds to a tile with contrast is
// not in the calm ones, and looks at the fine scale like sharp edges, while at
// the coarser scales a sharp picture stays sharp.
func (t *tile) spread(noise [scales]float64) float64 {
	var e [scales]float64
	for l := range e {
		e[l] = max(0, t.e[l]-1.1*noise[l])
	}
	widest, told := 0.0, false
	for l := 1; l < scales; l++ {
		// only where even a sharp edge would rise above the noise of the finer scale
		if e[l] <= 2*noise[l] || e[l] <= noise[l-1] {
			continue
		}
		if l == scales-1 && !told { // so coarse alone, texture is taken for edges
			break
		}
		if s, ok := invert(e[l-1], e[l]); ok && (s < 2.5 || l > 1) {
			widest, told = max(widest, float64(int(1)<<(l-1))*s), true
		}
	}
	if !told {
		return maxFound
	}
	return min(maxFound, widest)
}

// energy is the mean square of the Laplacian over a square, whose outermost
// pixels are left out where they have no neighbours.
func energy(g *image.Gray, x0, y0, side int) float64 {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	x1, y1 := min(x0+side, w-1), min(y0+side, h-1)
	x0, y0 = max(x0, 1), max(y0, 1)
	if x1 <= x0 || y1 <= y0 {
		return 0
	}
	var squares int64
	for y := y0; y < y1; y++ {
		at := y * g.Stride
		n := x1 - x0
		here, up, down := g.Pix[at+x0-1:][:n+2], g.Pix[at+x0-g.Stride:][:n], g.Pix[at+x0+g.Stride:][:n]
		for i := range n {
			l := int32(here[i]) + int32(here[i+2]) + int32(up[i]) + int32(down[i]) - 4*int32(here[i+1])
			squares += int64(l * l)
		}
	}
	return float64(squares) / float64((x1-x0)*(y1-y0))
}

func invert(fine, half float64) (s float64, ok bool) {
	if half <= 0 {
		return 0, fine > 0
	}
	q := math.Pow(2*fine/half, 2./3)
	switch {
	case q >= 1:
		return 0, true
	case q <= 0.26: // near 1/4 every small error counts
		return 0, false
	}
	return math.Sqrt((1 - q) / (4*q - 1)), true
}

// sharpest gives the middle spread of the sharpest tiles (bestPart of those with
// contrast) that touch a rectangle of the fine scale; ok is false where fewer
// than three tiles there have contrast.
func sharpest(ts []tile, inside image.Rectangle) (s float64, ok bool) {
	var with []tile
	for _, t := range ts {
		if t.seen && t.at.Overlaps(inside) {
			with = append(with, t)
		}
	}
	if len(with) < 3 {
		return 0, false
	}
	sort.SliceStable(with, func(i, j int) bool { return with[i].s < with[j].s })
	best := max(3, int(bestPart*float64(len(with))))
	return with[best/2].s, true
}

// halve takes the means of 2 x 2 pixels.
func halve(g *image.Gray) *image.Gray {
	w, h := g.Rect.Dx()/2, g.Rect.Dy()/2
	out := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		a := g.Pix[2*y*g.Stride:][:2*w]
		b := g.Pix[(2*y+1)*g.Stride:][:2*w]
		row := out.Pix[y*out.Stride:][:w]
		for x := range row {
			row[x] = byte((uint32(a[2*x]) + uint32(a[2*x+1]) + uint32(b[2*x]) + uint32(b[2*x+1]) + 2) / 4)
		}
	}
	return out
}
