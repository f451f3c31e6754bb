package figure

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"forkwear/ui/forkdraw/pen"
	"forkwear/ui/theme/tokens"
)

func TestNamesAreDistinct(t *testing.T) {
	names := Names()
	for i, n := range names {
		if n == "" || i > 0 && names[i-1] == n {
			t.Errorf("%q is empty or there twice", n)
		}
		if has, _ := Has(n); !has {
			t.Errorf("%q is listed and not there", n)
		}
	}
	if has, pair := Has("no such drawing"); has || pair {
		t.Error("a drawing that nobody made is there")
	}
	if Paint(pen.New(10, 10), "no such drawing", 0, 0, 0, 10, 10, 1, tokens.Light()) {
		t.Error("it was painted too")
	}
}

func painted(name string, wear float64, dark bool, w, h int) *image.RGBA {
	p := pen.New(w, h)
	Paint(p, name, wear, 0, 0, float64(w), float64(h), 1, tokens.For(dark))
	return p.Image()
}

// A pair differs at its limit from new, by enough to be seen: one pixel in 250
// at the least. A set-up is the same whatever the wear.
func TestPairsDifferAndSetupsDoNot(t *testing.T) {
	for _, n := range Names() {
		_, pair := Has(n)
		a, b := painted(n, 0, false, 240, 168), painted(n, 1, false, 240, 168)
		diff, ink := 0, 0
		for i := 0; i < len(a.Pix); i += 4 {
			if !bytes.Equal(a.Pix[i:i+4], b.Pix[i:i+4]) {
				diff++
			}
			if a.Pix[i+3] > 0 {
				ink++
			}
		}
		if ink < 240*168/50 {
			t.Errorf("%s: only %d pixels of it are drawn", n, ink)
		}
		if pair && diff < 240*168/250 || !pair && diff != 0 {
			t.Errorf("%s, pair %v: %d pixels differ", n, pair, diff)
		}
	}
}

// Nothing that a caller hands in may bring a drawing down.
func TestAnyWearAndRoomIsHarmless(t *testing.T) {
	names := Names()
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.OneOf(rapid.Float64Range(-3, 3), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300}))
		room := rapid.OneOf(rapid.Float64Range(-10, 80), rapid.SampledFrom([]float64{math.NaN(), 0}))
		p := pen.New(60, 40)
		Paint(p, rapid.SampledFrom(names).Draw(t, "name"), f.Draw(t, "wear"), 0, 0, room.Draw(t, "w"), room.Draw(t, "h"), f.Draw(t, "px"), tokens.Dark())
	})
}

// sheet draws all, as many as go in a row.
func sheet(dark bool) *image.RGBA {
	names := Names()
	const w, h, columns = 120, 84, 10
	pal := tokens.For(dark)
	p := pen.New(columns*(w+8), 14*(h+22))
	p.Clear(pal.Paper)
	col, row := 0, 0
	for _, n := range names {
		_, pair := Has(n)
		need := 1
		if pair {
			need = 2
		}
		if col+need > columns {
			col, row = 0, row+1
		}
		x, y := float64(col*(w+8)+4), float64(row*(h+22)+4)
		Paint(p, n, 0, x, y, w, h, 1, pal)
		if pair {
			Paint(p, n, 1, x+w+8, y, w, h, 1, pal)
		}
		p.Text(pen.DefaultFont(), n, x, y+h+13, 12, pen.Start, pal.QuietInk)
		col += need
	}
	return p.Image()
}

// TestSheet compares all drawings with those that were looked at last. To take
// over new ones: FORKWEAR_SHEET=testdata go test ./ui/checkdraw/figure
func TestSheet(t *testing.T) {
	for name, dark := range map[string]bool{"light": false, "dark": true} {
		file := filepath.Join("testdata", "sheet-"+name+".png")
		img := sheet(dark)
		if dir := os.Getenv("FORKWEAR_SHEET"); dir != "" {
			var b bytes.Buffer
			if err := png.Encode(&b, img); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, "sheet-"+name+".png"), b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		f, err := os.Open(file)
		if err != nil {
			t.Fatal(err)
		}
		want, err := png.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		if want.Bounds() != img.Bounds() {
			t.Errorf("%s: size %v, want %v", file, img.Bounds(), want.Bounds())
			continue
		}
		off := 0
		for y := range img.Rect.Dy() {
			for x := range img.Rect.Dx() {
				r, g, b, _ := want.At(x, y).RGBA()
				c := img.RGBAAt(x, y)
				if far(c.R, r) || far(c.G, g) || far(c.B, b) {
					off++
				}
			}
		}
		if off > 20 { // rounding on another processor
			t.Errorf("%s: %d pixels are not those that were looked at", file, off)
		}
	}
}

func far(a uint8, b uint32) bool {
	d := int(a) - int(b>>8)
	return d > 8 || d < -8
}
