package format

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestComplete: every whole sample is complete, and no beginning of one is
// (by construction), save for TIFF, which does not tell.
func TestComplete(t *testing.T) {
	files, err := filepath.Glob("../../testdata/photos/*")
	if err != nil {
		t.Fatal(err)
	}
	cut := map[string]bool{"truncated.jpg": true, "corrupt.jpg": true, "iphone-11-cut.heic": true, "iphone-xs-cut.heic": true,
		"text.jpg": true, "empty.jpg": true, "SOURCES.md": true, "exiftool_expected.csv": true}
	whole := 0
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Base(f)
		if got := Complete(bytes.NewReader(data), int64(len(data))); got == cut[name] && name != "corrupt.jpg" {
			t.Errorf("%s: complete %v", name, got)
		}
		if cut[name] || Sniff(data) == TIFF {
			continue
		}
		whole++
		for _, n := range []int{0, 1, 11, 64, len(data) / 3, len(data) / 2, len(data) * 9 / 10, len(data) - 300} {
			if n > 0 && n < len(data) && Complete(bytes.NewReader(data[:n]), int64(n)) {
				t.Errorf("%s: its first %d of %d bytes count as complete", name, n, len(data))
			}
		}
	}
	if whole < 20 {
		t.Errorf("only %d files", whole)
	}
}

func TestCompleteWithTrailer(t *testing.T) {
	jpeg := []byte("\xff\xd8\xff\xe0 picture \xff\xd9")
	for name, data := range map[string][]byte{
		"zeros": append(bytes.Clone(jpeg), make([]byte, 500)...), "film": append(bytes.Clone(jpeg), "....ftypmp42....mdat......"...),
	} {
		if !Complete(bytes.NewReader(data), int64(len(data))) {
			t.Errorf("%s behind the picture: not complete", name)
		}
	}
}

func FuzzComplete(f *testing.F) {
	for _, s := range []string{"\xff\xd8\xff\xd9", "\x89PNG\r\n\x1a\nIEND\xaeB`\x82", "RIFF\x04\x00\x00\x00WEBP", "\x00\x00\x00\x10ftypheic\x00\x00\x00\x00"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if Complete(bytes.NewReader(data), int64(len(data))) && Sniff(data[:min(len(data), SniffLen)]) == Unknown {
			t.Error("bytes of no picture are complete")
		}
	})
}
