package benchcard

import (
	"context"
	"image"
	"math/rand/v2"
	"testing"
	"time"
)

// TestHostilePatterns: pictures made of nothing but what the searches look for
// end them in time too. Usual photos take a tenth of the limit; it is wide for
// slow computers.
func TestHostilePatterns(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for name, pattern := range map[string]func(x, y int) uint8{
		"grid": func(x, y int) uint8 {
			if x%23 < 3 || y%19 < 3 {
				return 0
			}
			return 255
		},
		"skewed grid": func(x, y int) uint8 {
			if (x+y/7)%41 < 20 != ((y+x/9)%33 < 16) {
				return 30
			}
			return 220
		},
		"noise": func(int, int) uint8 { return uint8(r.IntN(256)) },
		"finders": func(x, y int) uint8 {
			d := max(x%42-21, 20-x%42, y%42-21, 20-y%42)
			if d < 9 || d >= 15 {
				return 0
			}
			return 255
		},
	} {
		img := image.NewGray(image.Rect(0, 0, 500, 400))
		for i := range img.Pix {
			img.Pix[i] = pattern(i%500, i/500)
		}
		for _, find := range []func(context.Context, image.Image) ([]Found, error){Find, FindPlain} {
			began := time.Now()
			found, err := find(context.Background(), img)
			took := time.Since(began)
			t.Logf("%s: %v, %d found", name, took, len(found))
			if err != nil || took > 15*time.Second {
				t.Errorf("%s: %v, %v", name, took, err)
			}
			for _, f := range found {
				if f.Code != "" {
					t.Errorf("%s: code %q", name, f.Code)
				}
			}
		}
	}
}
