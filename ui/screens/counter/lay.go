package counter

import (
	"context"
	"image"

	xdraw "golang.org/x/image/draw"

	"forkwear/media/align"
)

// searched is the longer side of the copies on which two photos are laid upon
// one another.
const searched = 400

// laid moves today's photo so that the part lies where it lies in the photo of
// then; nil where the pictures alone do not tell how. It runs in a worker.
func laid(ctx context.Context, then, now image.Image) (image.Image, error) {
	a, ka := grey(then)
	b, kb := grey(now)
	t, report, err := align.Find(ctx, a, b)
	if err != nil || !report.Accepted {
		return nil, err
	}
	return align.Warp(then.Bounds().Size(), now, align.Rescaled(t, 1/ka, 1/kb)), nil
}

// grey is a small copy in grey, and its size as a share of the picture's.
func grey(img image.Image) (*image.Gray, float64) {
	b := img.Bounds()
	k := min(1, float64(searched)/float64(max(b.Dx(), b.Dy(), 1)))
	g := image.NewGray(image.Rect(0, 0, max(1, int(k*float64(b.Dx()))), max(1, int(k*float64(b.Dy())))))
	xdraw.ApproxBiLinear.Scale(g, g.Rect, img, b, xdraw.Src, nil)
	return g, k
}
