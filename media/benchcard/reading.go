package benchcard

import (
	"context"
	"math"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"

	"forkwear/media/scale"
)

// Places in a code of version 2, in modules from its top left corner.
const (
	finderMiddle = 3.5
	alignMiddle  = 18.5 // of the one alignment pattern
)

// seen is a code that was read.
type seen struct {
	code    string
	dark    [][]bool
	corners []scale.Point // of the code in the photo, top left first, clockwise
}

// read tries three finders as a code of ours. The fourth point that fixes the
// perspective is the alignment pattern, looked for around where it would be
// without any.
func (l *luma) read(ctx context.Context, t triple) (seen, bool) {
	for _, fourth := range l.alignments(t) {
		h, err := scale.FitHomography(
			[]scale.Point{module(finderMiddle, finderMiddle), module(qrSize-finderMiddle, finderMiddle), module(finderMiddle, qrSize-finderMiddle), module(alignMiddle, alignMiddle)},
			[]scale.Point{t.topLeft.at, t.topRight.at, t.bottomLeft.at, fourth})
		if err != nil {
			continue
		}
		if s, ok := l.decode(h); ok {
			return s, true
		}
		// Where that fails, the borders that every code has put it right.
		start := pose{anchors: qrCorners()}
		if start.pixels = mapped(h, qrCorners()); start.pixels == nil {
			continue
		}
		by := float64(l.by)
		better, err := l.fit(ctx, start, everyCode, max(1.5*by, 1.2*Module*start.perMM()), max(1.5*by, 0.6*Module*start.perMM()))
		if err != nil {
			continue
		}
		if h, err = better.toPixel(); err != nil {
			continue
		}
		if s, ok := l.decode(h); ok {
			return s, true
		}
	}
	return seen{}, false
}

// everyCode is the borders that all codes of version 2 share: those of the
// finders and of the alignment pattern.
var everyCode = func() (out []border) {
	dark := make([][]bool, qrSize)
	for y := range dark {
		dark[y] = make([]bool, qrSize)
	}
	square := func(left, top, size int) {
		for y := range size {
			for x := range size {
				d := max(2*x-size+1, size-1-2*x, 2*y-size+1, size-1-2*y) // twice the distance from the middle
				dark[top+y][left+x] = d != size-3
			}
		}
	}
	square(0, 0, 7)
	square(qrSize-7, 0, 7)
	square(0, qrSize-7, 7)
	square(qrSize-9, qrSize-9, 5)
	for _, b := range codeBorders(dark) {
		x, y := (b.at.X-QRLeft)/Module, (b.at.Y-QRTop)/Module
		// The outer side of a square touches other modules only for the
		// alignment pattern, and there they may be dark too.
		if x < 15.9 || y < 15.9 || x > 16.1 && y > 16.1 && x < 20.9 && y < 20.9 {
			out = append(out, b)
		}
	}
	return out
}()

// module gives a place of the code in mm on the card.
func module(x, y float64) scale.Point {
	return scale.Point{X: QRLeft + x*Module, Y: QRTop + y*Module}
}

// alignments lists where the alignment pattern may be: the best match, then
// where it lies without perspective.
func (l *luma) alignments(t triple) []scale.Point {
	right, down := minus(t.topRight.at, t.topLeft.at), minus(t.bottomLeft.at, t.topLeft.at)
	const share = (alignMiddle - finderMiddle) / (qrSize - 2*finderMiddle)
	plain := moved(t.topLeft.at, times(moved(right, down), share))
	a, b := times(right, 1.0/(qrSize-2*finderMiddle)), times(down, 1.0/(qrSize-2*finderMiddle)) // a module
	best, most := plain, 0.35
	const reach = 10 // steps of 0.4 modules
	for i := -reach; i <= reach; i++ {
		for j := -reach; j <= reach; j++ {
			p := moved(plain, moved(times(a, 0.4*float64(i)), times(b, 0.4*float64(j))))
			if m := l.likeAlignment(p, a, b); m > most {
				best, most = p, m
			}
		}
	}
	if best == plain {
		return []scale.Point{plain}
	}
	return []scale.Point{best, plain}
}

// likeAlignment is the correlation of 5 by 5 modules with an alignment
// pattern: a dark one within a light ring within a dark ring; -1 to 1.
func (l *luma) likeAlignment(p, a, b scale.Point) float64 {
	var sum, sum2, with float64
	const lightModules, n = 8.0, 25.0
	for y := -2; y <= 2; y++ {
		for x := -2; x <= 2; x++ {
			v, ok := l.at(moved(p, moved(times(a, float64(x)), times(b, float64(y)))))
			if !ok {
				return -1
			}
			sum += v
			sum2 += v * v
			if max(x, -x, y, -y) == 1 {
				with += v
			}
		}
	}
	vary := (sum2/n - sum/n*sum/n) * (lightModules / n) * (1 - lightModules/n)
	if !(vary > 1) {
		return -1
	}
	return (with/n - sum/n*lightModules/n) / math.Sqrt(vary)
}

// decode reads the modules through h (mm to photo). What it gives is a code of
// ours whose modules are nearly all as they are printed, and not mirrored.
func (l *luma) decode(h scale.Homography) (seen, bool) {
	bits, ok := l.modules(h)
	if !ok {
		return seen{}, false
	}
	got, err := decoder.NewDecoder().DecodeBoolMapWithoutHint(bits)
	if err != nil {
		return seen{}, false
	}
	s := seen{code: got.GetText()}
	if s.dark, err = Modules(s.code); err != nil {
		return seen{}, false
	}
	wrong := 0
	for y := range bits {
		for x := range bits[y] {
			if bits[y][x] != s.dark[y][x] {
				wrong++
			}
		}
	}
	if wrong > qrSize*qrSize/6 {
		return seen{}, false
	}
	s.corners = mapped(h, qrCorners())
	return s, s.corners != nil
}

// modules tells dark from light by the middle of each module against the
// darkest and lightest of its neighbourhood, so that a shadow does no harm.
func (l *luma) modules(h scale.Homography) ([][]bool, bool) {
	var v [qrSize][qrSize]float64
	for y := range qrSize {
		for x := range qrSize {
			for _, d := range [5][2]float64{{0.5, 0.5}, {0.3, 0.3}, {0.7, 0.3}, {0.3, 0.7}, {0.7, 0.7}} {
				p, err := h.Apply(module(float64(x)+d[0], float64(y)+d[1]))
				if err != nil {
					return nil, false
				}
				b, ok := l.at(p)
				if !ok {
					return nil, false
				}
				v[y][x] += b / 5
			}
		}
	}
	bits := make([][]bool, qrSize)
	const around = 4
	for y := range bits {
		bits[y] = make([]bool, qrSize)
		for x := range bits[y] {
			low, high := math.Inf(1), math.Inf(-1)
			for j := max(0, y-around); j <= min(qrSize-1, y+around); j++ {
				for i := max(0, x-around); i <= min(qrSize-1, x+around); i++ {
					low, high = min(low, v[j][i]), max(high, v[j][i])
				}
			}
			bits[y][x] = v[y][x] < (low+high)/2
		}
	}
	return bits, true
}
