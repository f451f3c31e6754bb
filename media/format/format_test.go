package format

import (
	"os"
	"path/filepath"
	"testing"
)

// TestSniffSamples: the kinds as `file` and exiftool name them, see
// testdata/photos/SOURCES.md; the names' endings agree with them there.
func TestSniffSamples(t *testing.T) {
	byEnding := map[string]Format{".jpg": JPEG, ".jpeg": JPEG, ".png": PNG, ".webp": WebP, ".tif": TIFF, ".heic": HEIC, ".avif": AVIF}
	files, err := filepath.Glob("../../testdata/photos/*")
	if err != nil || len(files) < 30 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		want := byEnding[filepath.Ext(f)]
		if name := filepath.Base(f); name == "text.jpg" || name == "empty.jpg" {
			want = Unknown
		}
		if got := Sniff(data[:min(len(data), SniffLen)]); got != want {
			t.Errorf("%s: %q, want %q", f, got, want)
		}
	}
}

func TestBrands(t *testing.T) { // ISO/IEC 23008-12, table of brands, from memory
	box := func(brands string) []byte {
		return append([]byte{0, 0, 0, byte(8 + len(brands))}, "ftyp"+brands+"after"...)
	}
	for brands, want := range map[string]Format{
		"heic\x00\x00\x00\x00mif1heic": HEIC,
		"mif1\x00\x00\x00\x00mif1heix": HEIC,
		"mif1\x00\x00\x00\x00mif1avif": AVIF,
		"mif1\x00\x00\x00\x00mif1":     HEIC,
		"isom\x00\x00\x00\x00mp42":     Unknown, // a film
		"qt  \x00\x00\x00\x00qt  ":     Unknown,
	} {
		if got := Sniff(box(brands)); got != want {
			t.Errorf("%q: %q, want %q", brands, got, want)
		}
	}
}

func TestSniffAnything(t *testing.T) {
	for _, head := range []string{"", "\xff", "RIFF", "RIFF1234WAVE", "GIF89a", "BM", "%PDF-1.7", "\x00\x00\x00\x00ftyp", "\xff\xff\xff\xffftyp"} {
		if got := Sniff([]byte(head)); got != Unknown {
			t.Errorf("%q: %q", head, got)
		}
	}
	for _, f := range All() {
		if f.Ext() == ".bin" || f.Name() == "unknown" {
			t.Errorf("%q has no ending or name", f)
		}
	}
}
