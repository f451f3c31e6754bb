package quality

import (
	"fmt"
	"image"
)

// The limits. They are chosen for photos of parts taken close up in a
// workshop: own choice, no source. They are lenient, because a smooth tube
// that fills the picture has few edges even when it is sharp.
const (
	// MinShortSide is the least number of pixels along the shorter side.
	MinShortSide = 480
	// Blurred: a photo whose sharpness, after shrinking to ScaleSide, is below
	// it shows no edge at all.
	Blurred = 4.0
	// Soft: below it a remark is made, no more.
	Soft = 30.0
	// ScaleSide: photos are compared at this number of pixels along the longer
	// side, because sharpness depends on the scale.
	ScaleSide = 1024
	// Dark and Bright bound the mean brightness.
	Dark, Bright = 30.0, 225.0
	// MaxBurnt is the largest share of pixels with brightness 250 and more.
	MaxBurnt = 0.35
)

// Report is what was found.
type Report struct {
	Width, Height int
	Sharpness     float64  // variance of the Laplacian in full size, grey levels squared
	ScaledSharp   float64  // the same after shrinking to ScaleSide
	Brightness    float64  // mean, 0-255
	Burnt         float64  // share of pixels of 250 and more, 0-1
	Usable        bool     // large enough, not blurred, neither dark nor burnt out
	Remarks       []string // what is wrong and what to do, as sentences
}

// Assess measures a picture in full size. An empty picture is not usable.
func Assess(img image.Image) Report {
	g := Brightness(img)
	r := Report{Width: g.Rect.Dx(), Height: g.Rect.Dy(), Usable: true}
	if r.Width == 0 || r.Height == 0 {
		return Report{Remarks: []string{"The picture is empty."}}
	}
	r.Sharpness = Sharpness(g)
	r.ScaledSharp = Sharpness(shrinkTo(g, ScaleSide))
	r.Brightness, r.Burnt = exposure(g)
	r.judge()
	return r
}

func (r *Report) judge() {
	bad := func(format string, args ...any) {
		r.Usable = false
		r.Remarks = append(r.Remarks, fmt.Sprintf(format, args...))
	}
	if short := min(r.Width, r.Height); short < MinShortSide {
		bad("The picture is small (%d x %d pixels): send the original, not a preview.", r.Width, r.Height)
	}
	switch {
	case r.Brightness < Dark:
		bad("The picture is too dark: more light on the part.")
	case r.Brightness > Bright:
		bad("The picture is too bright: less light, or a darker ground behind the part.")
	case r.Burnt > MaxBurnt:
		bad("%.0f %% of the picture is burnt out: turn the part or the lamp until the glare is gone.", 100*r.Burnt)
	}
	switch {
	case r.ScaledSharp < Blurred:
		bad("The picture is blurred, or shows nothing but one smooth surface: take it again, and tap on the part to focus.")
	case r.ScaledSharp < Soft:
		r.Remarks = append(r.Remarks, "The picture may not be sharp: look at it closely before judging by it.")
	}
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
		for x := 1; x < w-1; x++ {
			l := int64(here[x-1]) + int64(here[x+1]) + int64(up[x]) + int64(down[x]) - 4*int64(here[x])
			sum += l
			squares += l * l
		}
		if w > 1 {
			at(w-1, w-2, mirror(w, w))
		}
	}
	n := float64(w) * float64(h)
	mean := float64(sum) / n
	return max(0, float64(squares)/n-mean*mean)
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
	out := image.NewGray(image.Rect(0, 0, w/k, h/k))
	sums := make([]int, w/k)
	for y := range h / k {
		clear(sums)
		for dy := range k {
			row := g.Pix[g.PixOffset(g.Rect.Min.X, g.Rect.Min.Y+y*k+dy):][:w]
			for x := range sums {
				for _, v := range row[x*k:][:k] {
					sums[x] += int(v)
				}
			}
		}
		for x, s := range sums {
			out.Pix[y*out.Stride+x] = byte((s + k*k/2) / (k * k))
		}
	}
	return out
}
