package photopair

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
func TestOver(t *testing.T) {
	then, now := scene(0, 0), scene(40, -24)
	got, err := Over(context.Background(), then, now, Quick)
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

func TestUnlikeOnesStay(t *testing.T) {
	flat := image.NewRGBA(image.Rect(0, 0, 400, 300))
	if got, err := Over(context.Background(), scene(0, 0), flat, Quick); got != nil || err != nil {
		t.Errorf("a bare picture was laid upon a scene: %v, %v", got != nil, err)
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if got, _ := Over(ctx, scene(0, 0), scene(5, 5), 0); got != nil {
		t.Error("laid although nobody waits")
	}
}

// Grey by the fast way is grey by image/color, to one level; the copy is as
// large as asked.
func TestGrey(t *testing.T) {
	img := scene(3, 4)
	for i := range img.Pix {
		if i%4 == 0 {
			img.Pix[i] /= 2
		}
	}
	g, k := Grey(img, 0)
	if k != 1 || g.Rect != img.Rect {
		t.Fatalf("%v %v", k, g.Rect)
	}
	for _, p := range []image.Point{{0, 0}, {400, 300}, {799, 599}} {
		want := color.GrayModel.Convert(img.At(p.X, p.Y)).(color.Gray).Y
		if d := int(g.GrayAt(p.X, p.Y).Y) - int(want); d < -1 || d > 1 {
			t.Errorf("%v: %v, %v is wanted", p, g.GrayAt(p.X, p.Y).Y, want)
		}
	}
	if g, k := Grey(img, 400); g.Rect.Dx() != 400 || g.Rect.Dy() != 300 || k != 0.5 {
		t.Errorf("%v %v", g.Rect, k)
	}
	if g, _ := Grey(image.NewGray(image.Rect(5, 5, 5, 5)), 400); !g.Rect.Empty() {
		t.Errorf("%v", g.Rect)
	}
}
