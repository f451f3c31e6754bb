package alike

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/disintegration/imaging"

	"pgregory.net/rapid"

	"forkwear/media/decode"
)

// previews decodes the sample photos (see testdata/photos/SOURCES.md) to
// upright previews of 512 pixels; files that hold no whole picture are left
// out, and so are copies of the same motive.
func previews(t *testing.T) map[string]image.Image {
	t.Helper()
	paths, err := filepath.Glob("../../testdata/photos/*")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]image.Image{}
	for _, path := range paths {
		name := filepath.Base(path)
		if sameMotive(name) {
			continue
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		pic, err := decode.Decode(context.Background(), data, 1)
		if err != nil {
			continue
		}
		p, err := pic.Previews(context.Background(), 512)
		if err != nil {
			t.Fatal(err)
		}
		if b := p[0].Image.Bounds(); min(b.Dx(), b.Dy()) >= 100 {
			out[name] = p[0].Image
		}
	}
	if len(out) < 12 {
		t.Fatalf("only %d sample photos could be read", len(out))
	}
	return out
}

// sameMotive names the files that SOURCES.md gives as another file's picture,
// stored otherwise, cut, or behind a hostile head.
func sameMotive(name string) bool {
	switch name {
	case "truncated.jpg", "corrupt.jpg", "canon-5d3-small.png", "ifd-cycle.jpg", "count-overflow-short.jpg",
		"count-overflow-rational.jpg", "thumbnail-outside.jpg", "xmp-before-exif.jpg", "zero-count-first.jpg":
		return true
	}
	return strings.HasPrefix(name, "Landscape_") && name != "Landscape_1.jpg"
}

func fingerprint(t *testing.T, img image.Image) string {
	t.Helper()
	f, err := Fingerprint(img)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func distance(t *testing.T, a, b string) int {
	t.Helper()
	d, err := Distance(a, b)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// TestCopiesAreAlike: by construction the same picture; that 6 bits are enough
// is what is tested.
func TestCopiesAreAlike(t *testing.T) {
	worst := map[string]int{}
	for name, img := range previews(t) {
		want := fingerprint(t, img)
		var buf bytes.Buffer
		if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: 60}); err != nil {
			t.Fatal(err)
		}
		again, err := jpeg.Decode(&buf)
		if err != nil {
			t.Fatal(err)
		}
		for how, copied := range map[string]image.Image{
			"recompressed at quality 60": again,
			"brighter by 15 %":           imaging.AdjustBrightness(img, 15),
			"more contrast by 10 %":      imaging.AdjustContrast(img, 10),
			"half as large":              imaging.Resize(img, img.Bounds().Dx()/2, 0, imaging.Box),
			"400 pixels, Lanczos":        imaging.Resize(img, 400, 0, imaging.Lanczos),
		} {
			d := distance(t, want, fingerprint(t, copied))
			worst[how] = max(worst[how], d)
			if d > Same {
				t.Errorf("%s, %s: distance %d, at most %d", name, how, d, Same)
			}
		}
	}
	t.Log("largest distances:", worst)
}

// TestOthersDiffer: photos of different motives. The hash is not perfect, so
// at most one pair in a hundred may look alike, and the middle of all
// distances is far off.
func TestOthersDiffer(t *testing.T) {
	var prints, names []string
	for name, img := range previews(t) {
		prints, names = append(prints, fingerprint(t, img)), append(names, name)
	}
	var all []int
	alike := 0
	for i := range prints {
		for j := range i {
			d := distance(t, prints[i], prints[j])
			all = append(all, d)
			if d <= Same {
				alike++
				t.Logf("%s and %s: distance %d", names[i], names[j], d)
			}
		}
	}
	slices.Sort(all)
	t.Logf("%d pairs: least %d, a tenth below %d, half below %d, most %d; %d within %d", len(all), all[0], all[len(all)/10], all[len(all)/2], all[len(all)-1], alike, Same)
	if 100*alike > len(all) || all[len(all)/2] < 24 {
		t.Errorf("%d of %d pairs of different photos look alike, half differ in at most %d bits", alike, len(all), all[len(all)/2])
	}
}

func TestFingerprintBounds(t *testing.T) {
	for _, c := range []struct {
		name string
		img  image.Image
		ok   bool
	}{
		{"none", nil, false},
		{"empty", image.NewRGBA(image.Rectangle{}), false},
		{"one pixel", image.NewRGBA(image.Rect(0, 0, 1, 1)), false},
		{"a line", image.NewGray(image.Rect(0, 0, 5000, 7)), false},
		{"huge", image.NewUniform(color.Black), false}, // 2e9 x 2e9 pixels
		{"small", image.NewGray(image.Rect(0, 0, 8, 8)), true},
		{"one colour", image.NewGray(image.Rect(-5, -5, 300, 200)), true},
		{"long", image.NewNRGBA(image.Rect(0, 0, 4000, 8)), true},
	} {
		f, err := Fingerprint(c.img)
		if (err == nil) != c.ok || c.ok && len(f) != 16 {
			t.Errorf("%s: %q, %v", c.name, f, err)
		}
	}
}

// TestDistanceValues by hand.
func TestDistanceValues(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"0000000000000000", "0000000000000000", 0},
		{"0000000000000000", "ffffffffffffffff", 64},
		{"8000000000000001", "0000000000000000", 2},
		{"00000000000000ff", "000000000000000F", 4},
		{"", "0000000000000000", -1},
		{"0000000000000000", "000000000000000g", -1},
		{"+000000000000000", "0000000000000000", -1},
		{"0x00000000000000", "0000000000000000", -1},
		{"0_00000000000000", "0000000000000000", -1},
		{"00000000000000000", "0000000000000000", -1},
	} {
		d, err := Distance(c.a, c.b)
		if c.want < 0 && err == nil || c.want >= 0 && (err != nil || d != c.want) {
			t.Errorf("%q, %q: %d, %v; want %d", c.a, c.b, d, err, c.want)
		}
	}
}

// TestDistanceIsAMetric: symmetric, 0 only for itself, triangle inequality.
func TestDistanceIsAMetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Uint64(), 3, 3).Draw(t, "v")
		s := func(i int) string { return fmt.Sprintf("%016x", v[i]) }
		d := func(i, j int) int {
			n, err := Distance(s(i), s(j))
			if err != nil {
				t.Fatal(err)
			}
			return n
		}
		if d(0, 1) != d(1, 0) || d(0, 0) != 0 || (d(0, 1) == 0) != (v[0] == v[1]) || d(0, 2) > d(0, 1)+d(1, 2) {
			t.Fatalf("not a metric for %x", v)
		}
	})
}

func FuzzDistance(f *testing.F) {
	f.Add("0123456789abcdef", "FEDCBA9876543210")
	f.Add("", "-000000000000001")
	f.Add("\x00\xff", "p:0123456789abcdef")
	f.Fuzz(func(t *testing.T, a, b string) {
		d, err := Distance(a, b)
		back, err2 := Distance(b, a)
		if d != back || (err == nil) != (err2 == nil) || d < 0 || d > 64 || err != nil && d != 0 {
			t.Fatalf("%q, %q: %d, %v; turned round %d, %v", a, b, d, err, back, err2)
		}
		if err == nil && (len(a) != 16 || len(b) != 16) {
			t.Fatalf("taken: %q, %q", a, b)
		}
	})
}

func BenchmarkFingerprint(b *testing.B) {
	img := image.NewRGBA(image.Rect(0, 0, 512, 384))
	for i := range img.Pix {
		img.Pix[i] = byte(i * i >> 7)
	}
	for b.Loop() {
		if _, err := Fingerprint(img); err != nil {
			b.Fatal(err)
		}
	}
}
