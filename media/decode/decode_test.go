package decode

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"golang.org/x/image/tiff"
	"pgregory.net/rapid"

	"forkwear/media/format"
	"forkwear/media/shrink"
)

const photos = "../../testdata/photos/"

func load(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(photos + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestEightOrientations: the eight files show one scene, stored in eight ways
// (bimg v1.1.9, testdata/exif); upright they must look like the first.
func TestEightOrientations(t *testing.T) {
	var first *image.RGBA
	for o := 1; o <= 8; o++ {
		pic, err := Decode(t.Context(), load(t, "Landscape_"+strconv.Itoa(o)+".jpg"), o)
		if err != nil {
			t.Fatal(err)
		}
		pv, err := pic.Previews(t.Context(), 160)
		if err != nil {
			t.Fatal(err)
		}
		img := pv[0].RGBA()
		if img.Rect != image.Rect(0, 0, 160, 120) {
			t.Fatalf("%d: preview %v", o, img.Rect)
		}
		if first == nil {
			first = img
			continue
		}
		// each file carries its own large number, so a few pixels differ
		if d := meanDifference(first, img); d > 6 {
			t.Errorf("orientation %d: mean difference %.1f grey levels", o, d)
		}
		for wrong := 2; wrong <= 4; wrong++ { // the measure must see a wrong turn
			if d, w := meanDifference(first, img), meanDifference(first, Upright(img, wrong)); w < 3*d {
				t.Errorf("orientation %d: %.1f upright, %.1f when turned wrongly", o, d, w)
			}
		}
	}
}

func meanDifference(a, b *image.RGBA) float64 {
	sum := 0.0
	for i := range a.Pix {
		sum += math.Abs(float64(a.Pix[i]) - float64(b.Pix[i]))
	}
	return sum / float64(len(a.Pix)) * 4 / 3 // alpha never differs
}

// TestUprightCorners: where the stored top left pixel goes, from the table of
// Exif 2.32, 4.6.4 (orientation: row 0 is at the visual ..., column 0 at the ...).
func TestUprightCorners(t *testing.T) {
	const w, h = 3, 2
	for o, want := range map[int]image.Point{
		1: {0, 0}, 2: {w - 1, 0}, 3: {w - 1, h - 1}, 4: {0, h - 1},
		5: {0, 0}, 6: {h - 1, 0}, 7: {h - 1, w - 1}, 8: {0, w - 1},
	} {
		src := image.NewRGBA(image.Rect(5, 5, 5+w, 5+h))
		src.Set(5, 5, color.White)
		dst := Upright(src, o)
		if dst.Rect.Min != (image.Point{}) {
			t.Errorf("%d begins at %v", o, dst.Rect.Min)
		}
		if r, _, _, _ := dst.At(want.X, want.Y).RGBA(); r != 0xffff {
			t.Errorf("orientation %d: the stored top left pixel is not at %v", o, want)
		}
	}
}

func TestUprightLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h, o := rapid.IntRange(1, 6).Draw(t, "w"), rapid.IntRange(1, 6).Draw(t, "h"), rapid.IntRange(0, 9).Draw(t, "o")
		src := image.NewRGBA(image.Rect(0, 0, w, h))
		for i := range src.Pix {
			src.Pix[i] = byte(i)
		}
		back := []int{0, 1, 2, 3, 4, 5, 8, 7, 6, 9}[o] // 6 and 8 undo each other
		if got := Upright(Upright(src, o), back); !bytes.Equal(got.Pix, src.Pix) || got.Rect != src.Rect {
			t.Fatalf("%v turned and back is %v", src.Pix, got.Pix)
		}
	})
}

func TestRefused(t *testing.T) {
	for name, want := range map[string]error{
		"png-bomb-header.png": ErrTooLarge, "truncated.jpg": ErrDamaged, "corrupt.jpg": ErrDamaged,
		"text.jpg": ErrNotPhoto, "empty.jpg": ErrNotPhoto, "test8.heic": ErrNoDecoder, "AVIF.avif": ErrNoDecoder,
	} {
		start := time.Now()
		pic, err := Decode(t.Context(), load(t, name), 1)
		if !errors.Is(err, want) || pic != nil {
			t.Errorf("%s: %v, want %v", name, err, want)
		}
		if d := time.Since(start); d > 2*time.Second {
			t.Errorf("%s: refused after %v", name, d)
		}
	}
}

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Decode(ctx, load(t, "gps.jpg"), 1); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestTooSlow(t *testing.T) {
	if _, err := decodeWithin(t.Context(), load(t, "Landscape_1.jpg"), 1, time.Nanosecond); !errors.Is(err, ErrTooSlow) {
		t.Errorf("got %v", err)
	}
}

// TestSamePictureInAllFormats: an 8-bit picture through PNG and TIFF comes
// back equal, through JPEG nearly.
func TestSamePictureInAllFormats(t *testing.T) {
	src := image.NewNRGBA(image.Rect(0, 0, 40, 30))
	for y := range 30 {
		for x := range 40 {
			src.Set(x, y, color.NRGBA{byte(4 * x), byte(6 * y), 90, 255})
		}
	}
	var p, ti, j bytes.Buffer
	if err := errors.Join(png.Encode(&p, src), tiff.Encode(&ti, src, nil), jpeg.Encode(&j, src, &jpeg.Options{Quality: 100})); err != nil {
		t.Fatal(err)
	}
	want := onWhite(src)
	for _, c := range []struct {
		f         format.Format
		data      []byte
		tolerance float64
	}{{format.PNG, p.Bytes(), 0}, {format.TIFF, ti.Bytes(), 0}, {format.JPEG, j.Bytes(), 3}} {
		pic, err := Decode(t.Context(), c.data, 0)
		if err != nil || pic.Format != c.f || pic.Orientation != 1 {
			t.Fatalf("%s: %v", c.f, err)
		}
		if d := meanDifference(pic.Upright(), want); d > c.tolerance {
			t.Errorf("%s: differs by %.2f", c.f, d)
		}
	}
}

func TestPalette(t *testing.T) {
	p := image.NewPaletted(image.Rect(0, 0, 2, 1), color.Palette{color.Black, color.White})
	p.Pix[1] = 1
	if img, err := withoutPalette(p); err != nil || img.At(1, 0).(color.NRGBA).R != 255 {
		t.Errorf("a sound palette: %v", err)
	}
	p.Pix[1] = 2
	if _, err := withoutPalette(p); err == nil {
		t.Error("an index outside the palette was taken")
	}
}

// TestBoxMean: by hand, and the mean of the whole is kept within rounding.
func TestBoxMean(t *testing.T) {
	got := shrink.Mean([]byte{1, 3, 10, 20, 5, 7, 30, 41}, 4, 4, 2, 2, 1)
	if want := []byte{4, 25}; !bytes.Equal(got, want) { // (1+3+5+7)/4 = 4, (10+20+30+41)/4 = 25.25
		t.Errorf("got %v, want %v", got, want)
	}
	rapid.Check(t, func(t *rapid.T) {
		k, dw, dh := rapid.IntRange(1, 4).Draw(t, "k"), rapid.IntRange(1, 5).Draw(t, "dw"), rapid.IntRange(1, 5).Draw(t, "dh")
		src := rapid.SliceOfN(rapid.Byte(), k*k*dw*dh, k*k*dw*dh).Draw(t, "src")
		mean := func(b []byte) (m float64) {
			for _, v := range b {
				m += float64(v) / float64(len(b))
			}
			return m
		}
		if d := math.Abs(mean(shrink.Mean(src, k*dw, k*dw, k*dh, dw, dh)) - mean(src)); d > 0.5+1e-9 {
			t.Fatalf("the mean moved by %v", d)
		}
	})
}

// TestPreviewSizes over every readable sample: never larger than asked or than
// the photo, sides in proportion within a pixel, and a JPEG comes out.
func TestPreviewSizes(t *testing.T) {
	files, _ := filepath.Glob(photos + "*")
	n := 0
	for _, f := range files {
		pic, err := Decode(t.Context(), load(t, filepath.Base(f)), 6)
		if err != nil {
			continue
		}
		n++
		h, w := pic.StoredSize() // turned by 90 degrees
		pvs, err := pic.Previews(t.Context(), 512, 64, 1)
		if err != nil || len(pvs) != 3 {
			t.Fatalf("%s: %v", f, err)
		}
		for _, pv := range pvs {
			b := pv.Image.Bounds()
			longer := min(pv.Size, max(w, h))
			if b.Min != (image.Point{}) || max(b.Dx(), b.Dy()) != longer || b.Dx() < 1 || b.Dy() < 1 {
				t.Errorf("%s: preview %d is %v", f, pv.Size, b)
			}
			if pv.Size > 1 && math.Abs(float64(b.Dx())/float64(b.Dy())*float64(h)/float64(w)-1) > 2/float64(min(b.Dx(), b.Dy())) {
				t.Errorf("%s: %v of %d x %d is out of proportion", f, b, w, h)
			}
			data, err := pv.JPEG()
			if c, err2 := jpeg.DecodeConfig(bytes.NewReader(data)); err != nil || err2 != nil || c.Width != b.Dx() {
				t.Errorf("%s: %v %v", f, err, err2)
			}
		}
		if _, err := pic.Previews(t.Context(), 0); err == nil {
			t.Errorf("%s: a preview of 0 pixels", f)
		}
	}
	if n < 20 {
		t.Errorf("only %d samples decoded", n)
	}
}

func FuzzDecode(f *testing.F) {
	for _, name := range []string{"test_exif_canon.jpg", "png-8bit.png", "test.webp", "with_exif_orientation_bottom_right.jpg", "canon-r5-small.tif", "test8.heic", "png-bomb-header.png"} {
		f.Add(load(f, name), 6)
	}
	f.Fuzz(func(t *testing.T, data []byte, orientation int) {
		if _, w, h, err := Config(data); err != nil || w*h > 1<<20 {
			return
		}
		pic, err := Decode(t.Context(), data, orientation)
		if err != nil {
			return
		}
		if _, err := pic.Previews(t.Context(), 32); err != nil {
			t.Error(err)
		}
	})
}

// megapixels12 is a JPEG of 4032 x 3024 pixels, 4:2:0, with texture and noise.
func megapixels12(tb testing.TB) []byte {
	img := image.NewYCbCr(image.Rect(0, 0, 4032, 3024), image.YCbCrSubsampleRatio420)
	r := rand.New(rand.NewPCG(1, 2))
	for i := range img.Y {
		x, y := i%img.YStride, i/img.YStride
		img.Y[i] = byte(110 + 60*math.Sin(float64(x)/90)*math.Cos(float64(y)/140) + float64(r.IntN(12)))
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = byte(120+i%9), byte(130+i%7)
	}
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: 90}); err != nil {
		tb.Fatal(err)
	}
	return buf.Bytes()
}

// BenchmarkPreviews12MP: one decoding, both previews, both as JPEG.
func BenchmarkPreviews12MP(b *testing.B) {
	data := megapixels12(b)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		pic, err := Decode(b.Context(), data, 6)
		if err != nil {
			b.Fatal(err)
		}
		pvs, err := pic.Previews(b.Context(), 512, 1600)
		if err != nil {
			b.Fatal(err)
		}
		for _, pv := range pvs {
			if _, err := pv.JPEG(); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// TestKindsNotRead: a sound file of a variety that is not read here is not
// called damaged: copying it again would not help.
func TestKindsNotRead(t *testing.T) {
	var tif bytes.Buffer
	if err := tiff.Encode(&tif, image.NewGray(image.Rect(0, 0, 8, 8)), nil); err != nil {
		t.Fatal(err)
	}
	// tag 259 (Compression), SHORT, one value: 1 is none, 7 JPEG (TIFF 6.0 and its supplement 2, from memory)
	jpegInside := bytes.Replace(tif.Bytes(), []byte{3, 1, 3, 0, 1, 0, 0, 0, 1, 0}, []byte{3, 1, 3, 0, 1, 0, 0, 0, 7, 0}, 1)
	// VP8X with the animation flag, 8 x 8 pixels, then ANIM (WebP container specification)
	animation := []byte("RIFF\x26\x00\x00\x00WEBPVP8X\x0a\x00\x00\x00\x02\x00\x00\x00\x07\x00\x00\x07\x00\x00ANIM\x06\x00\x00\x00\x00\x00\x00\x00\x00\x00")
	for name, data := range map[string][]byte{"TIFF": jpegInside, "WebP": animation} {
		_, err := Decode(t.Context(), data, 1)
		if !errors.Is(err, ErrKind) || errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), name) || !strings.Contains(err.Error(), "save it as JPEG") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Decode(t.Context(), animation[:25], 1); !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrKind) {
		t.Errorf("cut off: %v", err)
	}
}
