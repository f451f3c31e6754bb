package align

import (
	"image"
	"image/draw"
	"math"
	"runtime"
	"sync"

	"forkwear/media/scale"
)

// MaxWarp bounds the picture that Warp makes, in pixels.
const MaxWarp = 60_000_000

// Warp draws src as t puts it, into a picture of the given size: with t of
// Refine and src the newer photo, the newer photo as it would look from where
// the older one was taken. Brightness between pixels is bilinear; where src
// is shrunk, means are taken, so that nothing glitters. Places that src does
// not show are transparent. The picture is empty when the size is not
// positive or above MaxWarp, or when t cannot be undone.
func Warp(size image.Point, src image.Image, t Transform) *image.RGBA {
	empty := image.NewRGBA(image.Rectangle{})
	if size.X <= 0 || size.Y <= 0 || size.X > MaxWarp/size.Y || src == nil || src.Bounds().Empty() {
		return empty
	}
	for _, v := range t {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return empty
		}
	}
	back, err := t.Inverse()
	if err != nil {
		return empty
	}
	whole := asRGBA(src)
	w := warp{out: image.NewRGBA(image.Rectangle{Max: size}), back: back, forth: t}
	// Scale is not the same everywhere under perspective: blocks are averaged
	// as far as the least shrunk place allows, the rest by sampling more often.
	block := int(max(1, min(w.leastShrink(whole.Rect.Size()), 64)))
	w.src = blockMeans(whole, block)
	k := 1 / float64(block)
	w.back = settledOrSame(times(Transform{k, 0, 0, 0, k, 0, 0, 0, 1}, back))
	w.positive = w.back[6]*w.seen.X+w.back[7]*w.seen.Y+w.back[8] > 0

	var group sync.WaitGroup
	bands := min(size.Y, 4*runtime.GOMAXPROCS(0))
	for b := range bands {
		group.Go(func() {
			for y := b * size.Y / bands; y < (b+1)*size.Y/bands; y++ {
				w.row(y)
			}
		})
	}
	group.Wait()
	return w.out
}

type warp struct {
	out, src    *image.RGBA
	forth, back Transform
	seen        scale.Point // a place of the result that certainly shows the source
	positive    bool        // the sign of back's weight on this side of the horizon
}

func settledOrSame(h Transform) Transform {
	if math.Abs(h[8]) < 1e-12 {
		return h
	}
	return settled(h)
}

// leastShrink is how many pixels of the source, along one side, the least
// shrunk place of it gives to one pixel of the result.
func (w *warp) leastShrink(size image.Point) float64 {
	least := math.Inf(1)
	W, H := float64(size.X), float64(size.Y)
	centre := scale.Point{X: W / 2, Y: H / 2}
	w.seen, _ = w.forth.Apply(centre)
	for _, p := range []scale.Point{centre, {}, {X: W}, {Y: H}, {X: W, Y: H}} {
		// of the derivative det/w^3 gives the area's growth
		weight := w.forth[6]*p.X + w.forth[7]*p.Y + w.forth[8]
		least = min(least, math.Sqrt(math.Abs(weight*weight*weight/determinant(w.forth))))
	}
	if math.IsNaN(least) || math.IsInf(least, 0) {
		return 1
	}
	return least
}

func (w *warp) row(y int) {
	line := w.out.Pix[y*w.out.Stride:][:4*w.out.Rect.Dx()]
	for x := range w.out.Rect.Dx() {
		n := 1
		if s := w.shrink(float64(x)+0.5, float64(y)+0.5); s > 1.25 {
			n = min(int(math.Ceil(s)), 8)
		}
		var sum [4]float32
		hits := 0
		for j := range n {
			for i := range n {
				if w.at(float64(x)+(float64(i)+0.5)/float64(n), float64(y)+(float64(j)+0.5)/float64(n), &sum) {
					hits++
				}
			}
		}
		if 2*hits <= n*n {
			continue // more than half of the pixel shows nothing
		}
		for c := range 4 {
			line[4*x+c] = byte(sum[c]/float32(hits) + 0.5)
		}
	}
}

// shrink is the number of source pixels along one side of one result pixel.
func (w *warp) shrink(x, y float64) float64 {
	k := w.back[6]*x + w.back[7]*y + w.back[8]
	return math.Sqrt(math.Abs(determinant(w.back) / (k * k * k)))
}

// at adds the bilinear colour of a place of the result; false outside.
func (w *warp) at(x, y float64, sum *[4]float32) bool {
	h := &w.back
	k := h[6]*x + h[7]*y + h[8]
	if k == 0 || k > 0 != w.positive {
		return false // the other side of the horizon shows nothing
	}
	u, v := (h[0]*x+h[1]*y+h[2])/k, (h[3]*x+h[4]*y+h[5])/k
	W, H := w.src.Rect.Dx(), w.src.Rect.Dy()
	if !(u >= 0 && v >= 0 && u <= float64(W) && v <= float64(H)) {
		return false
	}
	u, v = max(0, min(u-0.5, float64(W-1))), max(0, min(v-0.5, float64(H-1)))
	ix, iy := int(u), int(v)
	fx, fy := float32(u-float64(ix)), float32(v-float64(iy))
	right, down := 4, w.src.Stride
	if ix == W-1 {
		right = 0
	}
	if iy == H-1 {
		down = 0
	}
	p := w.src.Pix[iy*w.src.Stride+4*ix:]
	for c := range 4 {
		top := float32(p[c])*(1-fx) + float32(p[right+c])*fx
		low := float32(p[down+c])*(1-fx) + float32(p[down+right+c])*fx
		sum[c] += top*(1-fy) + low*fy
	}
	return true
}

// asRGBA gives the picture from 0,0 on; an RGBA picture is not copied.
func asRGBA(src image.Image) *image.RGBA {
	b := src.Bounds()
	if m, ok := src.(*image.RGBA); ok {
		return &image.RGBA{Pix: m.Pix[m.PixOffset(b.Min.X, b.Min.Y):], Stride: m.Stride, Rect: image.Rectangle{Max: b.Size()}}
	}
	out := image.NewRGBA(image.Rectangle{Max: b.Size()})
	draw.Draw(out, out.Rect, src, b.Min, draw.Src)
	return out
}

// blockMeans takes the mean of blocks of k x k pixels; blocks at the right and
// bottom may be cut off, so that no border is lost.
func blockMeans(src *image.RGBA, k int) *image.RGBA {
	if k <= 1 {
		return src
	}
	W, H := src.Rect.Dx(), src.Rect.Dy()
	out := image.NewRGBA(image.Rect(0, 0, (W+k-1)/k, (H+k-1)/k))
	sums := make([]uint32, 4*out.Rect.Dx())
	for y := range out.Rect.Dy() {
		clear(sums)
		bottom := min(H, (y+1)*k)
		for sy := y * k; sy < bottom; sy++ {
			line := src.Pix[sy*src.Stride:][:4*W]
			for x := range out.Rect.Dx() {
				for px := line[4*x*k : 4*min(W, (x+1)*k)]; len(px) >= 4; px = px[4:] {
					sums[4*x] += uint32(px[0])
					sums[4*x+1] += uint32(px[1])
					sums[4*x+2] += uint32(px[2])
					sums[4*x+3] += uint32(px[3])
				}
			}
		}
		for x := range out.Rect.Dx() {
			n := uint32((min(W, (x+1)*k) - x*k) * (bottom - y*k))
			for c := range 4 {
				out.Pix[y*out.Stride+4*x+c] = byte((sums[4*x+c] + n/2) / n)
			}
		}
	}
	return out
}
