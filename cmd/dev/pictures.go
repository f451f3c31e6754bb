package main

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/png"
	"os"
)

// shot is a picture taken on the tour.
type shot struct {
	name string
	file string
	img  *image.RGBA
}

// writePNG writes a picture, only whole ones.
func writePNG(path string, img image.Image) error {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return err
	}
	return os.WriteFile(path, b.Bytes(), 0o644)
}

// blank says why a picture shows nothing, or "". A drawn screen with words on it
// has dozens of shades from the smoothing of letters alone; a window that stayed
// black or white has one, with a cursor or a frame a few.
func blank(img *image.RGBA) string {
	const fewest, most = 16, 0.999
	counts := map[[3]byte]int{}
	for i := 0; i+3 < len(img.Pix); i += 4 {
		counts[[3]byte(img.Pix[i:i+3])]++
	}
	largest := 0
	for _, n := range counts {
		largest = max(largest, n)
	}
	total := len(img.Pix) / 4
	switch {
	case total == 0:
		return "has no pixels"
	case len(counts) < fewest:
		return fmt.Sprintf("has only %d colours", len(counts))
	case float64(largest) > most*float64(total):
		return fmt.Sprintf("is %.2f %% one colour", 100*float64(largest)/float64(total))
	}
	return ""
}

// judge looks at the pictures of a tour.
func judge(shots []shot) error {
	if len(shots) == 0 {
		return errors.New("the tour took no pictures")
	}
	var bad []error
	same := len(shots) > 1
	for _, s := range shots {
		if why := blank(s.img); why != "" {
			bad = append(bad, fmt.Errorf("picture %s %s: %s", s.name, why, s.file))
		}
		if !bytes.Equal(s.img.Pix, shots[0].img.Pix) {
			same = false
		}
	}
	if same {
		bad = append(bad, fmt.Errorf("all %d pictures are the same: the tour does not move", len(shots)))
	}
	return errors.Join(bad...)
}
