// Package photopair lays one photo upon another for the places that show a
// pair: the bench's comparison and the customer's slider.
//
// Glossary
//
//   - then, now: the earlier photo and the later one; now is moved.
//   - laid: now, drawn as it would look from where then was taken.
package photopair

import (
	"context"
	"image"
	"image/draw"

	xdraw "golang.org/x/image/draw"

	"forkwear/media/align"
)

// Quick is the longer side of the copies on which a pair is laid where nobody
// is to wait for it, such as at the counter.
const Quick = 400

// Find looks how now lies upon then by the pictures alone, on copies of at most
// px on their longer side (0: as they are). The transform takes pixels of now to
// those of then; it holds only where the report says Accepted. It runs in a
// worker.
func Find(ctx context.Context, then, now image.Image, px int) (align.Transform, align.Report, error) {
	a, ka := Grey(then, px)
	b, kb := Grey(now, px)
	t, report, err := align.Find(ctx, a, b)
	if err != nil || !report.Accepted {
		return t, report, err
	}
	return align.Rescaled(t, 1/ka, 1/kb), report, nil
}

// Laid is now as it would look from where then was taken, of then's size.
func Laid(then, now image.Image, t align.Transform) *image.RGBA {
	return align.Warp(then.Bounds().Size(), now, t)
}

// Over is now laid upon then, nil where the pictures alone do not tell how.
func Over(ctx context.Context, then, now image.Image, px int) (image.Image, error) {
	t, report, err := Find(ctx, then, now, px)
	if err != nil || !report.Accepted {
		return nil, err
	}
	return Laid(then, now, t), nil
}

// Grey is a copy in grey of at most px on its longer side (0: of the same size),
// and its size as a share of the picture's.
func Grey(img image.Image, px int) (*image.Gray, float64) {
	b := img.Bounds()
	if px <= 0 || max(b.Dx(), b.Dy()) <= px {
		return whole(img), 1
	}
	k := float64(px) / float64(max(b.Dx(), b.Dy()))
	g := image.NewGray(image.Rect(0, 0, max(1, int(k*float64(b.Dx()))), max(1, int(k*float64(b.Dy())))))
	xdraw.ApproxBiLinear.Scale(g, g.Rect, img, b, xdraw.Src, nil)
	return g, k
}

// whole has the luma of ITU-R BT.601, as image/color has it, fast for RGBA.
func whole(img image.Image) *image.Gray {
	b := img.Bounds()
	out := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	rgba, ok := img.(*image.RGBA)
	if !ok {
		draw.Draw(out, out.Rect, img, b.Min, draw.Src)
		return out
	}
	for y := range b.Dy() {
		row := rgba.Pix[y*rgba.Stride:]
		for x := range b.Dx() {
			r, g, bl := int(row[4*x]), int(row[4*x+1]), int(row[4*x+2])
			out.Pix[y*out.Stride+x] = uint8((19595*r + 38470*g + 7471*bl + 1<<15) >> 16)
		}
	}
	return out
}
