package exif

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// check holds what must be true of any bytes: an end, and clean fields.
func check(t interface{ Errorf(string, ...any) }, data []byte) {
	start := time.Now()
	info, _ := Read(bytes.NewReader(data), int64(len(data)))
	if d := time.Since(start); d > 2*time.Second {
		t.Errorf("took %v for %d bytes", d, len(data))
	}
	if info.Orientation < 0 || info.Orientation > 8 {
		t.Errorf("orientation %d", info.Orientation)
	}
	if info.WallTime != "" {
		if _, err := time.Parse("2006-01-02T15:04:05", info.WallTime); err != nil {
			t.Errorf("wall time %q", info.WallTime)
		}
	}
	for _, s := range []string{info.Make, info.Model, info.BodySerial} {
		if !utf8.ValidString(s) {
			t.Errorf("text %q", s)
		}
	}
}

func seeds(t testing.TB) [][]byte {
	files, err := filepath.Glob(photos + "/*")
	if err != nil || len(files) < 30 {
		t.Fatalf("%d seed files, %v", len(files), err)
	}
	var out [][]byte
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, data[:min(len(data), 30000)])
	}
	return out
}

func FuzzRead(f *testing.F) {
	for _, s := range seeds(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) { check(t, data) })
}

// TestMutated flips bytes near the start of real files, where the structure
// is, and cuts them.
func TestMutated(t *testing.T) {
	all := seeds(t)
	rapid.Check(t, func(rt *rapid.T) {
		data := bytes.Clone(rapid.SampledFrom(all).Draw(rt, "file"))
		if len(data) == 0 {
			return
		}
		for range rapid.IntRange(1, 6).Draw(rt, "flips") {
			at := rapid.IntRange(0, min(len(data), 1500)-1).Draw(rt, "at")
			data[at] = rapid.Byte().Draw(rt, "byte")
		}
		check(rt, data[:rapid.IntRange(1, len(data)).Draw(rt, "length")])
	})
}
