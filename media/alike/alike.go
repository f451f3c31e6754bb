package alike

import (
	"errors"
	"fmt"
	"image"
	"math/bits"
	"strconv"

	"github.com/corona10/goimagehash"
)

// Same is the largest distance that is worth asking about: recompressed,
// brightened and resized copies stay within it. Common practice for this hash
// and measured on this project's photos (see TestCopiesAreAlike and
// TestOthersDiffer).
const Same = 6

// What Fingerprint takes.
const (
	minSide   = 8          // pixels
	maxPixels = 16_000_000 // hash a preview, not the photo
)

// Fingerprint hashes a picture; give it the upright preview of 512 pixels, as
// a turned copy has another fingerprint. It is 16 lower-case hexadecimal
// digits. A missing picture, one with a side under 8 pixels or with more than
// 16 million pixels is refused. A picture of one colour has a fingerprint like
// any other; it tells nothing.
func Fingerprint(img image.Image) (string, error) {
	if img == nil {
		return "", errors.New("there is no picture to compare: read the photo again")
	}
	b := img.Bounds()
	if b.Dx() < minSide || b.Dy() < minSide {
		return "", fmt.Errorf("the picture of %d x %d pixels is too small to be compared with others: take the original", b.Dx(), b.Dy())
	}
	if b.Dx() > maxPixels/b.Dy() {
		return "", fmt.Errorf("the picture of %d x %d pixels is too large to be compared: use its preview", b.Dx(), b.Dy())
	}
	hash, err := goimagehash.PerceptionHash(img)
	if err != nil {
		return "", fmt.Errorf("compare the picture: %w", err)
	}
	return fmt.Sprintf("%016x", hash.GetHash()), nil
}

// Distance counts the bits in which two fingerprints differ, 0-64. It fails
// for what is not 16 hexadecimal digits, so also for the empty fingerprint of
// a photo without pixels.
func Distance(a, b string) (int, error) {
	x, err := parse(a)
	if err != nil {
		return 0, err
	}
	y, err := parse(b)
	if err != nil {
		return 0, err
	}
	return bits.OnesCount64(x ^ y), nil
}

func parse(s string) (uint64, error) {
	if len(s) == 16 {
		if v, err := strconv.ParseUint(s, 16, 64); err == nil {
			return v, nil
		}
	}
	return 0, fmt.Errorf("the fingerprint %.20q is not 16 hexadecimal digits: make it anew from the photo", s)
}
