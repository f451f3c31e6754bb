package draw

import (
	"bytes"
	"image/color"
	"image/png"
	"os"
	"testing"
)

// The two stored icons are what AppIcon draws. FORKWEAR_WRITE_ICON=1 writes
// them anew after a change of the drawing.
func TestStoredIconsAreTheDrawing(t *testing.T) {
	paths := []string{"../../theme/icons/app.png", "../../../cmd/forkwear/icon.png"}
	want := AppIcon(512)
	if os.Getenv("FORKWEAR_WRITE_ICON") != "" {
		var b bytes.Buffer
		if err := png.Encode(&b, want); err != nil {
			t.Fatal(err)
		}
		for _, p := range paths {
			if err := os.WriteFile(p, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	for _, p := range paths {
		f, err := os.Open(p)
		if err != nil {
			t.Fatal(err)
		}
		got, err := png.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		if got.Bounds() != want.Bounds() {
			t.Fatalf("%s is %v, want %v", p, got.Bounds(), want.Bounds())
		}
		for y := 0; y < 512; y += 3 {
			for x := 0; x < 512; x += 3 {
				g := color.RGBAModel.Convert(got.At(x, y)).(color.RGBA)
				if w := want.RGBAAt(x, y); differ(g, w) > 6 {
					t.Fatalf("%s at %d,%d: %v, drawn %v", p, x, y, g, w)
				}
			}
		}
	}
}

func differ(a, b color.RGBA) int {
	d := func(x, y uint8) int { return max(int(x)-int(y), int(y)-int(x)) }
	return max(d(a.R, b.R), d(a.G, b.G), d(a.B, b.B), d(a.A, b.A))
}
