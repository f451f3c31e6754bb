package decode

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"

	"github.com/disintegration/imaging"

	"forkwear/media/shrink"
)

// PreviewQuality is the JPEG quality of previews.
const PreviewQuality = 85

// Preview is an upright smaller picture that begins at 0,0.
type Preview struct {
	Size  int         // pixels asked for along the longer side; small photos stay as they are
	Image image.Image // of a JPEG *image.YCbCr or *image.Gray, else *image.RGBA
}

// RGBA gives the preview in colours of a byte each; it may share its pixels.
func (p Preview) RGBA() *image.RGBA {
	if m, ok := p.Image.(*image.RGBA); ok {
		return m
	}
	return onWhite(p.Image)
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
		out = append(out, Preview{size, p.shrink(size)})
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

// shrink gives the picture upright, at most size pixels along its longer side.
func (p *Picture) shrink(size int) image.Image {
	b := p.Image.Bounds()
	w, h := fit(b.Dx(), b.Dy(), size)
	switch img := p.Image.(type) {
	case *image.YCbCr:
		return shrinkYCbCr(img, w, h, p.Orientation)
	case *image.Gray:
		plane := shrink.Mean(img.Pix[img.PixOffset(b.Min.X, b.Min.Y):], img.Stride, b.Dx(), b.Dy(), w, h)
		plane, w, h = uprightPlane(plane, w, h, p.Orientation)
		return &image.Gray{Pix: plane, Stride: w, Rect: image.Rect(0, 0, w, h)}
	}
	if w == b.Dx() && h == b.Dy() {
		return Upright(onWhite(p.Image), p.Orientation)
	}
	return Upright(onWhite(imaging.Resize(p.Image, w, h, imaging.Box)), p.Orientation)
}

// shrinkYCbCr takes the box mean of each plane by itself, the colour planes at
// half the size, as the encoder of the preview keeps them; it wants planes, so
// no colours are made.
func shrinkYCbCr(img *image.YCbCr, w, h, orientation int) *image.YCbCr {
	b := img.Bounds()
	cw, ch := chromaSize(img)
	c0 := img.COffset(b.Min.X, b.Min.Y)
	var out image.YCbCr
	var uw, uh int
	out.Y, uw, uh = uprightPlane(shrink.Mean(img.Y[img.YOffset(b.Min.X, b.Min.Y):], img.YStride, b.Dx(), b.Dy(), w, h), w, h, orientation)
	w, h = (w+1)/2, (h+1)/2
	out.Cb, out.CStride, _ = uprightPlane(shrink.Mean(img.Cb[c0:], img.CStride, cw, ch, w, h), w, h, orientation)
	out.Cr, _, _ = uprightPlane(shrink.Mean(img.Cr[c0:], img.CStride, cw, ch, w, h), w, h, orientation)
	out.YStride, out.Rect, out.SubsampleRatio = uw, image.Rect(0, 0, uw, uh), image.YCbCrSubsampleRatio420
	return &out
}

// uprightPlane turns and mirrors a plane as Upright does a picture.
func uprightPlane(src []byte, w, h, orientation int) (dst []byte, dw, dh int) {
	if orientation < 2 || orientation > 8 {
		return src, w, h
	}
	dw, dh = w, h
	if orientation >= 5 {
		dw, dh = h, w
	}
	dst = make([]byte, w*h)
	for y := range dh {
		// the way through the stored plane along a row is a straight line
		sx, sy := Stored(0, y, w, h, orientation)
		at, step := sy*w+sx, 0
		if dw > 1 {
			nx, ny := Stored(1, y, w, h, orientation)
			step = ny*w + nx - at
		}
		for x := range dw {
			dst[y*dw+x] = src[at]
			at += step
		}
	}
	return dst, dw, dh
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

// onWhite draws a picture on white, from 0,0 on.
func onWhite(img image.Image) *image.RGBA {
	b := img.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(out, out.Rect, img, b.Min, draw.Over)
	return out
}
