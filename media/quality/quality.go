package quality

import (
	"fmt"
	"image"
	"math"
	"sort"

	"forkwear/media/shrink"
)

// The limits that hold for every kind of subject: own choice, no source.
const (
	// MinShortSide is the least number of pixels along the shorter side.
	MinShortSide = 480
	// Dark and Bright bound the mean brightness.
	Dark, Bright = 30.0, 225.0
	// MaxBurnt is the largest share of pixels with brightness 250 and more.
	MaxBurnt = 0.35
	// MinPeers: with fewer photos of the same kind nothing is compared.
	MinPeers = 8
	// Odd is how many robust standard deviations a photo's sharpness lies below
	// its peers' before that is said.
	Odd = 3.0
)

// Report is what was found.
type Report struct {
	Width, Height int
	Sharpness     float64 // variance of the Laplacian in full size, grey levels squared
	// Spread and PartSpread tell how far the sharpest edges of the whole picture
	// and of the part are spread out, in pixels of a picture of FineSide; -1
	// where there are no edges.
	Spread, PartSpread float64
	Brightness         float64  // mean, 0-255
	Burnt              float64  // share of pixels of 250 and more, 0-1
	Usable             bool     // large enough, not blurred, neither dark nor burnt out
	Remarks            []string // what is wrong and what to do, as sentences
}

// Assess measures a picture of which nothing is known.
func Assess(img image.Image) Report { return AssessFor(img, Subject{}) }

// AssessFor measures a picture in full size and judges it by what it should
// show. An empty picture is not usable. Brightness and burnt-out parts are
// measured after shrinking to FineSide.
func AssessFor(img image.Image, sub Subject) Report {
	r := measure(Brightness(img), sub.Part)
	if r.Width == 0 || r.Height == 0 {
		r.bad("The picture is empty.")
		return r
	}
	r.judge(sub)
	return r
}

func measure(g *image.Gray, part image.Rectangle) Report {
	r := Report{Width: g.Rect.Dx(), Height: g.Rect.Dy(), Usable: true, Spread: -1, PartSpread: -1}
	if r.Width == 0 || r.Height == 0 {
		return r
	}
	r.Sharpness = Sharpness(g)
	fine := shrinkTo(g, FineSide)
	r.Brightness, r.Burnt = exposure(fine)
	part = part.Sub(g.Rect.Min)
	if part.Empty() {
		part = image.Rect(r.Width/4, r.Height/4, r.Width-r.Width/4, r.Height-r.Height/4)
	}
	k := max(1, r.Width/fine.Rect.Dx())
	part = image.Rect(part.Min.X/k, part.Min.Y/k, (part.Max.X+k-1)/k, (part.Max.Y+k-1)/k)
	ts := tiles(fine)
	if s, ok := sharpest(ts, fine.Rect); ok {
		r.Spread = s
	}
	if s, ok := sharpest(ts, part); ok {
		r.PartSpread = s
	}
	return r
}

func (r *Report) judge(sub Subject) {
	if short := min(r.Width, r.Height); short < MinShortSide {
		r.bad("The picture is small (%d x %d pixels): send the original, not a preview.", r.Width, r.Height)
	}
	switch {
	case r.Brightness < Dark:
		r.bad("The picture is too dark: more light on the part.")
	case r.Brightness > Bright:
		r.bad("The picture is too bright: less light, or a darker ground behind the part.")
	case r.Burnt > MaxBurnt:
		r.bad("%.0f %% of the picture is burnt out: turn the part or the lamp until the glare is gone.", 100*r.Burnt)
	}
	r.judgeSharpness(sub)
}

func (r *Report) bad(format string, args ...any) {
	r.Usable = false
	r.Remarks = append(r.Remarks, fmt.Sprintf(format, args...))
}

func (r *Report) judgeSharpness(sub Subject) {
	lim := sub.Kind.limits()
	switch {
	case r.Spread < 0 && lim.smooth:
		r.Remarks = append(r.Remarks, "The picture shows one smooth surface: whether it is sharp cannot be told.")
	case r.Spread < 0:
		r.bad("The picture is blurred, or shows nothing but one smooth surface: take it again, and tap on the part to focus.")
	case r.Spread > lim.spread:
		r.bad("Blurred, take it again: %s", lim.again)
	case r.PartSpread > lim.spread && r.PartSpread > 1.6*r.Spread:
		where := "the middle is"
		if !sub.Part.Empty() {
			where = "the part is"
		}
		r.bad("Blurred, take it again: the focus lies on something else and %s not sharp; tap on the part.", where)
	case sub.Kind == Serial && r.PartSpread < 0:
		r.bad("No number can be made out in the middle of the picture: go closer and tap on it.")
	case r.Spread > 0.75*lim.spread:
		r.Remarks = append(r.Remarks, "The picture may not be sharp: look at it closely before judging by it.")
	case oddOneOut(r.Sharpness, sub.Peers):
		r.Remarks = append(r.Remarks, "Less sharp than the other photos of this kind: look at it closely before judging by it.")
	}
}

// oddOneOut tells whether ln(sharpness) lies more than Odd robust standard
// deviations (1.4826 times the median absolute deviation, at least 0.25) below
// the median of its peers: a robust z-score, from memory.
func oddOneOut(sharpness float64, peers []float64) bool {
	var logs []float64
	for _, p := range peers {
		if p > 0 && !math.IsInf(p, 0) {
			logs = append(logs, math.Log(p))
		}
	}
	if len(logs) < MinPeers {
		return false
	}
	centre := median(logs)
	away := make([]float64, len(logs))
	for i, l := range logs {
		away[i] = math.Abs(l - centre)
	}
	return sharpness <= 0 || math.Log(sharpness) < centre-Odd*max(0.25, 1.4826*median(away))
}

// median sorts its values.
func median(v []float64) float64 {
	sort.Float64s(v)
	n := len(v)
	return (v[(n-1)/2] + v[n/2]) / 2
}

// Sharpness is the population variance of the Laplacian
//
//	L(x,y) = p(x-1,y) + p(x+1,y) + p(x,y-1) + p(x,y+1) - 4 p(x,y)
//
// over all pixels, in grey levels squared, 0 and up. Beyond the border the
// picture is mirrored without repeating its edge (reflect-101: p(-1) = p(1)),
// which makes it equal to OpenCV's Laplacian(gray, CV_64F).var(). A side of
// one pixel is taken to repeat itself; an empty picture gives 0. The sums are
// of integers and exact: |L| <= 1020, so 120 million squares stay below 2^63.
// Source: Pech-Pacheco et al. 2000, "Diatom autofocusing in brightfield
// microscopy" (from memory).
func Sharpness(g *image.Gray) float64 {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	if w == 0 || h == 0 {
		return 0
	}
	var sum, squares int64
	row := func(y int) []byte {
		return g.Pix[g.PixOffset(g.Rect.Min.X, g.Rect.Min.Y+y):][:w]
	}
	for y := range h {
		up, here, down := row(mirror(y-1, h)), row(y), row(mirror(y+1, h))
		at := func(x, left, right int) {
			l := int64(here[left]) + int64(here[right]) + int64(up[x]) + int64(down[x]) - 4*int64(here[x])
			sum += l
			squares += l * l
		}
		at(0, mirror(-1, w), mirror(1, w))
		if n := w - 2; n > 0 {
			a, b := rowSums(here[:n+2], up[1:][:n], down[1:][:n])
			sum += a
			squares += b
		}
		if w > 1 {
			at(w-1, w-2, mirror(w, w))
		}
	}
	n := float64(w) * float64(h)
	mean := float64(sum) / n
	return max(0, float64(squares)/n-mean*mean)
}

// rowSums adds up the Laplacian and its square along a row; here has one pixel
// more at either end. |L| <= 1020, so 32 bits hold the squares of 2,048 pixels.
func rowSums(here, up, down []byte) (sum, squares int64) {
	for len(up) > 0 {
		n := min(len(up), 2048)
		h, u, d := here[:n+2], up[:n], down[:n]
		var s int32
		var q uint32
		for i := range u {
			l := int32(h[i]) + int32(h[i+2]) + int32(u[i]) + int32(d[i]) - 4*int32(h[i+1])
			s += l
			q += uint32(l * l)
		}
		sum += int64(s)
		squares += int64(q)
		here, up, down = here[n:], up[n:], down[n:]
	}
	return sum, squares
}

// mirror brings an index that is at most one outside 0..n-1 back inside.
func mirror(i, n int) int {
	switch {
	case n == 1:
		return 0
	case i < 0:
		return -i
	case i >= n:
		return 2*n - 2 - i
	}
	return i
}

// Brightness gives the grey values of a picture. The Y plane of a JPEG and a
// grey picture are used as they are, not copied. Through transparent places
// white is seen.
func Brightness(img image.Image) *image.Gray {
	switch m := img.(type) {
	case *image.Gray:
		return m
	case *image.YCbCr:
		return &image.Gray{Pix: m.Y, Stride: m.YStride, Rect: m.Rect}
	}
	b := img.Bounds()
	out := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	for y := range b.Dy() {
		row := out.Pix[y*out.Stride:][:b.Dx()]
		switch m := img.(type) {
		case *image.NRGBA:
			for x, px := 0, m.Pix[m.PixOffset(b.Min.X, b.Min.Y+y):]; x < len(row); x, px = x+1, px[4:] {
				a := uint32(px[3])
				row[x] = luma(uint32(px[0])*a*257/255+(255-a)*257, uint32(px[1])*a*257/255+(255-a)*257, uint32(px[2])*a*257/255+(255-a)*257)
			}
		case image.RGBA64Image: // as below, without a new value on the heap for each pixel
			for x := range row {
				c := m.RGBA64At(b.Min.X+x, b.Min.Y+y)
				white := 0xffff - uint32(c.A)
				row[x] = luma(uint32(c.R)+white, uint32(c.G)+white, uint32(c.B)+white)
			}
		default:
			for x := range row {
				r, g, bl, a := img.At(b.Min.X+x, b.Min.Y+y).RGBA()
				row[x] = luma(r+0xffff-a, g+0xffff-a, bl+0xffff-a)
			}
		}
	}
	return out
}

// luma is the BT.601 brightness of 16-bit colours, rounded to 8 bits, with the
// integer weights of Go's color.GrayModel.
func luma(r, g, b uint32) byte {
	return byte((19595*r + 38470*g + 7471*b + 1<<15) >> 24)
}

func exposure(g *image.Gray) (mean, burnt float64) {
	var counts [256]int64
	for y := g.Rect.Min.Y; y < g.Rect.Max.Y; y++ {
		for _, v := range g.Pix[g.PixOffset(g.Rect.Min.X, y):][:g.Rect.Dx()] {
			counts[v]++
		}
	}
	var sum, high, n int64
	for v, c := range counts {
		sum += int64(v) * c
		n += c
		if v >= 250 {
			high += c
		}
	}
	return float64(sum) / float64(n), float64(high) / float64(n)
}

// shrinkTo divides the picture by the smallest whole number that brings its
// longer side to at most side, taking block means.
func shrinkTo(g *image.Gray, side int) *image.Gray {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	k := (max(w, h) + side - 1) / side
	if k <= 1 || w < k || h < k {
		return g
	}
	w, h = w-w%k, h-h%k // whole boxes only
	pix := shrink.Mean(g.Pix[g.PixOffset(g.Rect.Min.X, g.Rect.Min.Y):], g.Stride, w, h, w/k, h/k)
	return &image.Gray{Pix: pix, Stride: w / k, Rect: image.Rect(0, 0, w/k, h/k)}
}
