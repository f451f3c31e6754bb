package quality

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"strings"
	"testing"
)

// asJPEG is what a camera makes of a picture.
func asJPEG(t *testing.T, g *image.Gray, quality int) *image.Gray {
	t.Helper()
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, g, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	img, err := jpeg.Decode(&buf)
	if err != nil {
		t.Fatal(err)
	}
	out := image.NewGray(g.Rect)
	draw.Draw(out, out.Rect, img, image.Point{}, draw.Src)
	return out
}

// TestBlurFoundInJPEG: pictures that were blurred before a JPEG was made of
// them, as those of a camera out of focus are. JPEG's rounding lies where there
// is contrast, not in the calm places from which the noise is taken. The truth is
// known: the test itself blurs. What the shares must be is this project's own demand.
func TestBlurFoundInJPEG(t *testing.T) {
	if testing.Short() {
		t.Skip("no goroutines of its own to race; long under the detector")
	}
	var sharp []*image.Gray
	for _, name := range []string{"gps.jpg", "iphone-xs-small.jpg", "samsung-small.jpg", "canon-5d3-small.jpg"} {
		sharp = append(sharp, sample(t, name))
	}
	for i := range 1 {
		sharp = append(sharp, tube(900, 680, uint64(i)))
	}
	found := map[int]map[float64]int{95: {}, 80: {}}
	for _, s := range []float64{0, 1, 3, 4} {
		for i, g := range sharp {
			blurred := noisy(gauss(g, s, g.Rect), 1, uint64(i))
			for q := range found {
				rep := measure(asJPEG(t, blurred, q), image.Rectangle{})
				rep.judge(Subject{})
				if strings.Contains(strings.Join(rep.Remarks, " "), "lurred") {
					found[q][s]++
				}
			}
		}
	}
	t.Logf("called blurred, by quality and sigma: %v of %d", found, len(sharp))
	for q, n := range found {
		if n[0] > 0 || n[1] > 0 || n[3] < len(sharp)-1 || n[4] < len(sharp) {
			t.Errorf("quality %d: sharp ones blamed, or blurred ones passed: %v of %d", q, n, len(sharp))
		}
	}
}
