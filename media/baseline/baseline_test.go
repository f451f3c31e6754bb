package baseline

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

const photos = "../../testdata/photos/"

// differ gives the largest and the mean difference of two pictures' planes.
func differ(t *testing.T, a, b image.Image) (most int, mean float64) {
	t.Helper()
	if a.Bounds() != b.Bounds() {
		t.Fatalf("%v and %v", a.Bounds(), b.Bounds())
	}
	r, n, sum := a.Bounds(), 0, 0
	add := func(x, y byte) {
		d := max(int(x)-int(y), int(y)-int(x))
		most = max(most, d)
		sum += d
		n++
	}
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			switch p := a.(type) {
			case *image.Gray:
				add(p.GrayAt(x, y).Y, b.(*image.Gray).GrayAt(x, y).Y)
			case *image.YCbCr:
				v, w := p.YCbCrAt(x, y), b.(*image.YCbCr).YCbCrAt(x, y)
				add(v.Y, w.Y)
				add(v.Cb, w.Cb)
				add(v.Cr, w.Cr)
			default:
				t.Fatalf("%T", a)
			}
		}
	}
	return most, float64(sum) / float64(max(1, n))
}

// TestLikeTheStandardLibrary: every sample that is decoded here is decoded by
// Go's image/jpeg to the same planes, but for the rounding of the transform.
func TestLikeTheStandardLibrary(t *testing.T) {
	files, _ := filepath.Glob(photos + "*.jp*g")
	here := 0
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Decode(t.Context(), data)
		want, wantErr := jpeg.Decode(bytes.NewReader(data))
		if err != nil {
			if !errors.Is(err, ErrOther) || got != nil {
				t.Errorf("%s: %v", f, err)
			}
			continue
		}
		here++
		if wantErr != nil {
			t.Errorf("%s: decoded, but image/jpeg says %v", f, wantErr)
			continue
		}
		if y, ok := got.(*image.YCbCr); ok && y.SubsampleRatio != want.(*image.YCbCr).SubsampleRatio {
			t.Errorf("%s: %v, image/jpeg %v", f, y.SubsampleRatio, want.(*image.YCbCr).SubsampleRatio)
		}
		if most, mean := differ(t, got, want); most > 2 || mean > 0.1 {
			t.Errorf("%s: differs by up to %d, %.3f in the mean", f, most, mean)
		}
	}
	if here < 15 {
		t.Errorf("only %d of %d files were decoded here", here, len(files))
	}
}

// coarse is a picture of noise and edges: many coefficients, long codes.
func coarse(w, h int, seed uint64) *image.RGBA {
	r := rand.New(rand.NewPCG(seed, 1))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			v := uint8(r.IntN(256))
			if seed%2 == 0 {
				v = uint8(255 * ((x/5 + y/7) % 2))
			}
			img.SetRGBA(x, y, color.RGBA{v, uint8(x), uint8(r.IntN(256)), 255})
		}
	}
	return img
}

// TestHardPictures: noise and hard edges in all qualities and odd sizes.
func TestHardPictures(t *testing.T) {
	for i, size := range [][2]int{{1, 1}, {7, 9}, {16, 16}, {33, 17}, {200, 131}} {
		for _, q := range []int{1, 25, 50, 75, 90, 100} {
			for seed := range uint64(2) {
				var gray, colour bytes.Buffer
				img := coarse(size[0], size[1], seed+uint64(2*i))
				g := image.NewGray(img.Rect)
				for p := range g.Pix {
					g.Pix[p] = img.Pix[4*p]
				}
				if err := errors.Join(jpeg.Encode(&colour, img, &jpeg.Options{Quality: q}), jpeg.Encode(&gray, g, &jpeg.Options{Quality: q})); err != nil {
					t.Fatal(err)
				}
				for _, data := range [][]byte{colour.Bytes(), gray.Bytes()} {
					got, err := Decode(t.Context(), data)
					want, _ := jpeg.Decode(bytes.NewReader(data))
					if err != nil {
						t.Errorf("%v quality %d: %v", size, q, err)
					} else if most, mean := differ(t, got, want); most > 2 || mean > 0.3 {
						t.Errorf("%v quality %d: differs by up to %d, %.3f in the mean", size, q, most, mean)
					}
				}
			}
		}
	}
}

// TestTransform: against the definition of the inverse transform, T.81 A.3.3,
// in floating point: within 1, as IEEE 1180 (from memory) asks for its peak.
func TestTransform(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for round := range 400 {
		var c [64]int32
		for range 1 + round%20 {
			c[r.IntN(64)] = int32(r.IntN(601) - 300)
		}
		columns, last := uint32(0), 0
		for i, v := range c {
			if v != 0 && i > 0 {
				last = i
				if i >= 8 {
					columns |= 1 << (i % 8)
				}
			}
		}
		var got [64]byte
		in := c
		transform(&in, columns, last, got[:], 8)
		if in != [64]int32{} {
			t.Fatal("the block was not cleared")
		}
		for y := range 8 {
			for x := range 8 {
				sum := 0.0
				for v := range 8 {
					for u := range 8 {
						k := 1.0
						if u == 0 {
							k /= math.Sqrt2
						}
						if v == 0 {
							k /= math.Sqrt2
						}
						sum += k * float64(c[8*v+u]) * math.Cos(float64(2*x+1)*float64(u)*math.Pi/16) * math.Cos(float64(2*y+1)*float64(v)*math.Pi/16) / 4
					}
				}
				want := max(0, min(255, sum+128))
				if math.Abs(float64(got[8*y+x])-want) > 1 {
					t.Fatalf("%v: at %d,%d %d, want %.3f", c, x, y, got[8*y+x], want)
				}
			}
		}
	}
}

// TestLeftToOthers: cut short anywhere, a file is not decoded here; a cancelled
// context ends it.
func TestLeftToOthers(t *testing.T) {
	data, err := os.ReadFile(photos + "samsung-small.jpg")
	if err != nil {
		t.Fatal(err)
	}
	for n := 0; n < len(data)-1; n += 97 {
		if img, err := Decode(t.Context(), data[:n]); !errors.Is(err, ErrOther) || img != nil {
			t.Fatalf("its first %d bytes: %v", n, err)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Decode(ctx, data); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// TestMutated: of damaged files none panics, and image/jpeg refuses none that is
// decoded here.
func TestMutated(t *testing.T) {
	whole, err := os.ReadFile(photos + "test_exif_canon.jpg")
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 2))
	here := 0
	for range 600 {
		data := bytes.Clone(whole)
		for range 1 + r.IntN(5) {
			data[r.IntN(len(data))] = byte(r.IntN(256))
		}
		if c, err := jpeg.DecodeConfig(bytes.NewReader(data)); err != nil || c.Width*c.Height > 1<<20 {
			continue
		}
		if _, err := Decode(t.Context(), data); err == nil {
			here++
			if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
				t.Errorf("image/jpeg refuses what was decoded here: %v", err)
			}
		}
	}
	if here < 50 {
		t.Errorf("only %d were decoded", here)
	}
}

// FuzzDecode: whatever the bytes, no panic; and what is decoded here is
// something that image/jpeg can decode too.
func FuzzDecode(f *testing.F) {
	for _, name := range []string{"with_exif_orientation_bottom_right.jpg", "xmp-before-exif.jpg", "truncated.jpg"} {
		data, err := os.ReadFile(photos + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	var small bytes.Buffer
	_ = jpeg.Encode(&small, coarse(20, 20, 1), nil)
	f.Add(small.Bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		if c, err := jpeg.DecodeConfig(bytes.NewReader(data)); err != nil || c.Width*c.Height > 1<<18 {
			return
		}
		img, err := Decode(t.Context(), data)
		if (err == nil) != (img != nil) {
			t.Fatalf("%v and %v", img, err)
		}
		if err != nil {
			return
		}
		if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
			t.Errorf("image/jpeg refuses it: %v", err)
		}
	})
}

func BenchmarkDecode(b *testing.B) {
	data, err := os.ReadFile(photos + "Landscape_1.jpg")
	if err != nil {
		b.Fatal(err)
	}
	b.Run("here", func(b *testing.B) {
		for b.Loop() {
			if _, err := Decode(b.Context(), data); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("image/jpeg", func(b *testing.B) {
		for b.Loop() {
			if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
				b.Fatal(err)
			}
		}
	})
}
