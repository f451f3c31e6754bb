package decode

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"

	"github.com/disintegration/imaging"
)

// PreviewQuality is the JPEG quality of previews.
const PreviewQuality = 85

// Preview is an upright smaller picture that begins at 0,0.
type Preview struct {
	Size  int // pixels asked for along the longer side; small photos stay as they are
	Image *image.RGBA
}

// JPEG encodes the preview with PreviewQuality.
func (p Preview) JPEG() ([]byte, error) {
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, p.Image, &jpeg.Options{Quality: PreviewQuality}); err != nil {
		return nil, fmt.Errorf("encode a preview: %w", err)
	}
	return buf.Bytes(), nil
}

// Previews makes one preview for each size, in that order. No preview is
// larger than the photo. Through transparent places white is seen.
func (p *Picture) Previews(ctx context.Context, sizes ...int) ([]Preview, error) {
	var out []Preview
	for _, size := range sizes {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if size < 1 {
			return nil, fmt.Errorf("make a preview of %d pixels: it needs 1 or more", size)
		}
		out = append(out, Preview{size, Upright(p.shrink(size), p.Orientation)})
	}
	return out, nil
}

// Upright gives the whole picture upright, in full size.
func (p *Picture) Upright() *image.RGBA { return Upright(onWhite(p.Image), p.Orientation) }

// fit gives the size of a w x h picture whose longer side is at most size.
func fit(w, h, size int) (int, int) {
	longer := max(w, h)
	if longer <= size {
		return w, h
	}
	return max(1, (w*size+longer/2)/longer), max(1, (h*size+longer/2)/longer)
}

func (p *Picture) shrink(size int) *image.RGBA {
	b := p.Image.Bounds()
	w, h := fit(b.Dx(), b.Dy(), size)
	switch img := p.Image.(type) {
	case *image.YCbCr:
		return shrinkYCbCr(img, w, h)
	case *image.Gray:
		return grayToRGBA(&image.Gray{Pix: boxMean(img.Pix[img.PixOffset(b.Min.X, b.Min.Y):], img.Stride, b.Dx(), b.Dy(), w, h), Stride: w, Rect: image.Rect(0, 0, w, h)})
	}
	if w == b.Dx() && h == b.Dy() {
		return onWhite(p.Image)
	}
	return onWhite(imaging.Resize(p.Image, w, h, imaging.Box))
}

// shrinkYCbCr takes the box mean of each plane by itself and only then makes
// colours: the colour planes of most photos hold a quarter of the pixels.
func shrinkYCbCr(img *image.YCbCr, w, h int) *image.RGBA {
	b := img.Bounds()
	cw, ch := chromaSize(img)
	c0 := img.COffset(b.Min.X, b.Min.Y)
	small := &image.YCbCr{
		Y:       boxMean(img.Y[img.YOffset(b.Min.X, b.Min.Y):], img.YStride, b.Dx(), b.Dy(), w, h),
		Cb:      boxMean(img.Cb[c0:], img.CStride, cw, ch, w, h),
		Cr:      boxMean(img.Cr[c0:], img.CStride, cw, ch, w, h),
		YStride: w, CStride: w,
		SubsampleRatio: image.YCbCrSubsampleRatio444,
		Rect:           image.Rect(0, 0, w, h),
	}
	out := image.NewRGBA(small.Rect)
	for i := range w * h {
		r, g, bl := color.YCbCrToRGB(small.Y[i], small.Cb[i], small.Cr[i])
		px := out.Pix[4*i:][:4]
		px[0], px[1], px[2], px[3] = r, g, bl, 255
	}
	return out
}

func chromaSize(img *image.YCbCr) (w, h int) {
	b := img.Bounds()
	w, h = b.Dx(), b.Dy()
	switch img.SubsampleRatio {
	case image.YCbCrSubsampleRatio422:
		return (w + 1) / 2, h
	case image.YCbCrSubsampleRatio420:
		return (w + 1) / 2, (h + 1) / 2
	case image.YCbCrSubsampleRatio440:
		return w, (h + 1) / 2
	case image.YCbCrSubsampleRatio411:
		return (w + 3) / 4, h
	case image.YCbCrSubsampleRatio410:
		return (w + 3) / 4, (h + 1) / 2
	}
	return w, h
}

// boxMean shrinks (or, for colour planes of a hardly smaller preview, repeats)
// a plane of w x h values to dw x dh. Each result is the rounded mean of the
// stored values from floor(x*w/dw) up to, not including, floor((x+1)*w/dw),
// at least one; the same down the rows. Sums stay below 2^32: a box holds at
// most 120 million values of at most 255.
func boxMean(src []byte, stride, w, h, dw, dh int) []byte {
	out := make([]byte, dw*dh)
	sums := make([]uint64, dw)
	left := make([]int, dw+1)
	for x := range left {
		left[x] = x * w / dw
	}
	for y := range dh {
		top := y * h / dh
		bottom := max(top+1, (y+1)*h/dh)
		clear(sums)
		for sy := top; sy < bottom; sy++ {
			row := src[sy*stride:][:w]
			for x := range sums {
				a := left[x]
				var s uint32
				for _, v := range row[a:max(a+1, left[x+1])] {
					s += uint32(v)
				}
				sums[x] += uint64(s)
			}
		}
		for x, s := range sums {
			n := uint64(max(1, left[x+1]-left[x]) * (bottom - top))
			out[y*dw+x] = byte((s + n/2) / n)
		}
	}
	return out
}

func grayToRGBA(g *image.Gray) *image.RGBA {
	out := image.NewRGBA(g.Rect)
	for i, v := range g.Pix {
		px := out.Pix[4*i:][:4]
		px[0], px[1], px[2], px[3] = v, v, v, 255
	}
	return out
}

// onWhite draws a picture on white, from 0,0 on.
func onWhite(img image.Image) *image.RGBA {
	b := img.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(out, out.Rect, img, b.Min, draw.Over)
	return out
}
