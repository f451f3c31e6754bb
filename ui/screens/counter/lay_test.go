package counter

import (
	"context"
	"image"
	"image/color"
	"math"
	"testing"
)

// scene is a picture with enough in it to be recognised, seen from dx, dy.
func scene(dx, dy float64) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, 800, 600))
	for y := range 600 {
		for x := range 800 {
			u, v := float64(x)+dx, float64(y)+dy
			g := 120 + 50*math.Sin(u/37)*math.Cos(v/53) + 40*math.Sin((u+2*v)/91) + 30*math.Cos(math.Hypot(u-300, v-200)/24)
			c := uint8(max(0, min(255, g)))
			img.SetRGBA(x, y, color.RGBA{c, c, c, 255})
		}
	}
	return img
}

// A photo taken 40 px to the side and 24 px lower is laid back: in the middle
// both are alike to a few grey levels, as the scene is one function of place.
func TestLaid(t *testing.T) {
	then, now := scene(0, 0), scene(40, -24)
	got, err := laid(context.Background(), then, now)
	if err != nil || got == nil {
		t.Fatalf("not laid: %v", err)
	}
	if got.Bounds() != then.Bounds() {
		t.Fatalf("of size %v", got.Bounds())
	}
	diff := func(img image.Image) (sum float64) {
		n := 0
		for y := 150; y < 450; y += 7 {
			for x := 150; x < 650; x += 7 {
				a, _, _, _ := then.At(x, y).RGBA()
				b, _, _, _ := img.At(x, y).RGBA()
				sum += math.Abs(float64(a>>8) - float64(b>>8))
				n++
			}
		}
		return sum / float64(n)
	}
	if before, after := diff(now), diff(got); after > 3 || before < 15 {
		t.Errorf("grey levels apart: %g before, %g after", before, after)
	}
}

func TestLaid_UnlikeOnesStay(t *testing.T) {
	flat := image.NewRGBA(image.Rect(0, 0, 400, 300))
	if got, err := laid(context.Background(), scene(0, 0), flat); got != nil || err != nil {
		t.Errorf("a bare picture was laid upon a scene: %v, %v", got != nil, err)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if got, _ := laid(ctx, scene(0, 0), scene(5, 5)); got != nil {
		t.Error("laid although nobody waits")
	}
}
