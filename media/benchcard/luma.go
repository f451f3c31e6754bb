package benchcard

import (
	"context"
	"fmt"
	"image"

	"forkwear/media/scale"
)

// luma is the brightness of a part of a photo, reduced by a whole factor. All
// its methods speak of pixels of the full photo, counted from the photo's top
// left corner, so that the middle of the first pixel is at 0.5, 0.5.
type luma struct {
	pix    []uint8
	w, h   int
	x0, y0 int // where it begins in the photo
	by     int // reduced by
}

// Limits of a photo that is searched.
const (
	mostPixels = 120_000_000
	leastSide  = 60
)

func checkSize(img image.Image) (ok bool, err error) {
	if img == nil {
		return false, fmt.Errorf("there is no photo to search for a bench card: choose one")
	}
	b := img.Bounds()
	w, h := int64(b.Dx()), int64(b.Dy())
	if w*h > mostPixels {
		return false, fmt.Errorf("the photo of %d x %d pixels is too large to be searched for a bench card (at most %d million): mark the card by hand", w, h, mostPixels/1_000_000)
	}
	return w >= leastSide && h >= leastSide, nil
}

// lumaOf averages squares of by x by pixels of the area (in pixels from the
// photo's top left corner). What is left over at the right and below is cut.
func lumaOf(ctx context.Context, img image.Image, area image.Rectangle, by int) (*luma, error) {
	b := img.Bounds()
	area = area.Intersect(image.Rect(0, 0, b.Dx(), b.Dy()))
	l := &luma{w: area.Dx() / by, h: area.Dy() / by, x0: area.Min.X, y0: area.Min.Y, by: by}
	l.pix = make([]uint8, l.w*l.h)
	sum, row := make([]uint32, l.w), make([]uint8, l.w*by)
	n := uint32(by * by)
	for y := range l.h {
		if y%64 == 0 {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
		}
		clear(sum)
		for k := range by {
			brightness(img, b.Min.X+l.x0, b.Min.Y+l.y0+y*by+k, row)
			i := 0
			for x := range sum {
				for range by {
					sum[x] += uint32(row[i])
					i++
				}
			}
		}
		for x, s := range sum {
			l.pix[y*l.w+x] = uint8((s + n/2) / n)
		}
	}
	return l, nil
}

// brightness fills row with the brightness of pixels from x, y on: Y' of
// BT.601 as in JPEG.
func brightness(img image.Image, x, y int, row []uint8) {
	rgb := func(pix []uint8) {
		for i := range row {
			p := pix[4*i : 4*i+3 : 4*i+3]
			row[i] = uint8((19595*uint32(p[0]) + 38470*uint32(p[1]) + 7471*uint32(p[2]) + 1<<15) >> 16)
		}
	}
	switch m := img.(type) {
	case *image.YCbCr:
		copy(row, m.Y[m.YOffset(x, y):])
	case *image.Gray:
		copy(row, m.Pix[m.PixOffset(x, y):])
	case *image.RGBA:
		rgb(m.Pix[m.PixOffset(x, y):])
	case *image.NRGBA:
		rgb(m.Pix[m.PixOffset(x, y):])
	default:
		for i := range row {
			r, g, b, _ := img.At(x+i, y).RGBA()
			row[i] = uint8((19595*r + 38470*g + 7471*b + 1<<15) >> 24)
		}
	}
}

func (l *luma) local(p scale.Point) (x, y float64) {
	return (p.X-float64(l.x0))/float64(l.by) - 0.5, (p.Y-float64(l.y0))/float64(l.by) - 0.5
}

// at is the brightness at a place, between the four nearest pixels; false
// outside.
func (l *luma) at(p scale.Point) (float64, bool) {
	x, y := l.local(p)
	if !(x >= 0 && y >= 0 && x < float64(l.w-1) && y < float64(l.h-1)) {
		return 0, false
	}
	ix, iy := int(x), int(y)
	fx, fy := x-float64(ix), y-float64(iy)
	a := l.pix[iy*l.w+ix : iy*l.w+ix+2 : iy*l.w+ix+2]
	b := l.pix[(iy+1)*l.w+ix : (iy+1)*l.w+ix+2 : (iy+1)*l.w+ix+2]
	top := float64(a[0]) + fx*(float64(a[1])-float64(a[0]))
	low := float64(b[0]) + fx*(float64(b[1])-float64(b[0]))
	return top + fy*(low-top), true
}
