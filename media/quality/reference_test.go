package quality

import (
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// TestSharpnessAgainstOpenCV: the values of testdata/sharpness.csv, made with
// OpenCV 4.6.0 as testdata/SOURCES.md says. The grey pixels are compared by
// their SHA-256 first, so that nothing but the formula can differ.
func TestSharpnessAgainstOpenCV(t *testing.T) {
	f, err := os.Open("testdata/sharpness.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 6 {
		t.Fatalf("%d rows, not a head and five pictures", len(rows))
	}
	for _, row := range rows[1:] {
		g := readGray(t, row[0])
		sum := sha256.New()
		for y := range g.Rect.Dy() {
			sum.Write(g.Pix[y*g.Stride:][:g.Rect.Dx()])
		}
		if got := hex.EncodeToString(sum.Sum(nil)); got != row[3] {
			t.Errorf("%s: other pixels, SHA-256 %s", row[0], got)
			continue
		}
		want, err := strconv.ParseFloat(row[4], 64)
		if err != nil {
			t.Fatal(err)
		}
		// half of the last digit given
		if got := Sharpness(g); math.Abs(got-want) > 0.6e-6 {
			t.Errorf("%s: %.7f, OpenCV has %.6f", row[0], got, want)
		}
		// The border rule matters: without the outermost ring OpenCV's value is
		// another one, by 0.1 % and more, and is not what Sharpness gives.
		interior, err := strconv.ParseFloat(row[5], 64)
		if err != nil {
			t.Fatal(err)
		}
		if got := Sharpness(g); math.Abs(got-interior) < 1e-4*interior {
			t.Errorf("%s: %.7f is the value without border", row[0], got)
		}
	}
}

// TestBlurTells: the order of the same motive, sharp and blurred with sigma 1
// and 2 by OpenCV.
func TestBlurTells(t *testing.T) {
	sharp, soft, blurred := Sharpness(readGray(t, "text.png")), Sharpness(readGray(t, "text-blurred-1.png")), Sharpness(readGray(t, "text-blurred-2.png"))
	if !(sharp > 4*soft && soft > 4*blurred) {
		t.Errorf("sharp %.1f, blurred %.1f, more blurred %.1f", sharp, soft, blurred)
	}
}

func readGray(t *testing.T, name string) *image.Gray {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return Brightness(img)
}
