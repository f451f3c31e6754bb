package benchcard

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

// TestSceneToLookAt writes scenes with what was found drawn over them into the
// folder that FORKWEAR_SHEET names.
func TestSceneToLookAt(t *testing.T) {
	dir := os.Getenv("FORKWEAR_SHEET")
	if dir == "" {
		t.Skip("set FORKWEAR_SHEET to a folder for pictures to look at")
	}
	_, dark := someCard(t)
	r := rand.New(rand.NewPCG(12, 1))
	for i := range 4 {
		s := anyScene(r, 1600, 1200)
		find, kind := Find, "code"
		modules := dark
		if i%2 == 1 {
			s.plain, s.bench, s.tilt = 150, 60, s.tilt/2
			find, kind, modules = FindPlain, "plain", nil
		}
		g := s.photo(t, modules)
		found, err := find(context.Background(), g)
		if err != nil {
			t.Fatal(err)
		}
		over := image.NewRGBA(g.Rect)
		draw.Draw(over, g.Rect, g, image.Point{}, draw.Src)
		for n, f := range found {
			t.Logf("%s %d: %+v", kind, i, f)
			for side := range f.Corners {
				a, b := f.Corners[side], f.Corners[(side+1)%4]
				for k := range 3000 {
					p := moved(a, times(minus(b, a), float64(k)/3000))
					for w := range 1 + 3*map[bool]int{true: 1}[side == 0] { // the printed top is drawn thicker
						over.Set(int(p.X), int(p.Y)-w, color.RGBA{255, uint8(100 * n), 0, 255})
					}
				}
			}
			for k := range 400 { // a ring around the first corner
				sin, cos := math.Sincos(float64(k) / 400 * 2 * math.Pi)
				over.Set(int(f.Corners[0].X+12*cos), int(f.Corners[0].Y+12*sin), color.RGBA{0, 160, 255, 255})
			}
		}
		file, err := os.Create(filepath.Join(dir, fmt.Sprintf("%s%d.png", kind, i)))
		if err != nil {
			t.Fatal(err)
		}
		if err := png.Encode(file, over); err != nil {
			t.Fatal(err)
		}
		if err := file.Close(); err != nil {
			t.Fatal(err)
		}
	}
}
