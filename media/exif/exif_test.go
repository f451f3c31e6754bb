package exif

import (
	"bytes"
	"encoding/csv"
	"errors"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/bep/imagemeta"
)

const photos = "../../testdata/photos"

func table(t *testing.T, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, name := range rows[0] {
			m[name] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func readFile(t *testing.T, path string) Info {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	info, err := Read(bytes.NewReader(data), int64(len(data)))
	if err != nil && !errors.Is(err, ErrNone) {
		t.Fatal(err)
	}
	return info
}

func number(t *testing.T, s string) int {
	t.Helper()
	if s == "" {
		return 0
	}
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// asWall writes exiftool's 2006:01:02 15:04:05 the way Info does.
func asWall(s string) string {
	if s == "" {
		return ""
	}
	return strings.Replace(s[:10], ":", "-", 2) + "T" + s[11:19]
}

// TestAgainstExiftool: expected values by exiftool 12.57, the command is in
// testdata/photos/SOURCES.md.
func TestAgainstExiftool(t *testing.T) {
	n := 0
	for _, want := range table(t, photos+"/exiftool_expected.csv") {
		t.Run(want["file"], func(t *testing.T) {
			got := readFile(t, filepath.Join(photos, want["file"]))
			for _, c := range []struct{ what, got, want string }{
				{"wall time", got.WallTime, asWall(want["date_time_original"])},
				{"offset", got.Offset, want["offset"]},
				{"subsec", got.SubSec, want["subsec"]},
				{"make", got.Make, want["make"]},
				{"model", got.Model, want["model"]},
				{"serial", got.BodySerial, want["serial"]},
			} {
				if c.got != c.want {
					t.Errorf("%s: got %q, exiftool %q", c.what, c.got, c.want)
				}
			}
			if o := number(t, want["orientation"]); got.Orientation != o {
				t.Errorf("orientation: got %d, exiftool %d", got.Orientation, o)
			}
			if got.HasPosition != (want["has_gps"] == "y") {
				t.Errorf("position: got %v, exiftool %q", got.HasPosition, want["has_gps"])
			}
			if got.Width != 0 && (got.Width != number(t, want["width"]) || got.Height != number(t, want["height"])) {
				t.Errorf("size of HEIC/AVIF: got %d x %d, exiftool %s x %s", got.Width, got.Height, want["width"], want["height"])
			}
			if (got.Offset != "") != (got.OffsetSource != "") {
				t.Errorf("offset %q with source %q", got.Offset, got.OffsetSource)
			}
		})
		n++
	}
	if n < 30 {
		t.Fatalf("only %d files compared", n)
	}
}

// TestGoexifSamples: testdata/goexif_expected.csv is goexif's own table of
// expected fields (regress_expected_test.go, BSD-2-Clause) for the camera
// files in the folder exif/samples of that module.
func TestGoexifSamples(t *testing.T) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/rwcarlsen/goexif").Output()
	if err != nil {
		t.Skip("needs the go command to find the module's sample files: ", err)
	}
	samples := filepath.Join(strings.TrimSpace(string(dir)), "exif", "samples")
	dated := 0
	for _, want := range table(t, "testdata/goexif_expected.csv") {
		if _, err := os.Stat(filepath.Join(samples, want["file"])); err != nil {
			t.Errorf("%s: %v", want["file"], err)
			continue
		}
		got := readFile(t, filepath.Join(samples, want["file"]))
		if w := asWall(want["DateTimeOriginal"]); got.WallTime != w {
			t.Errorf("%s: wall time %q, want %q", want["file"], got.WallTime, w)
		} else if w != "" {
			dated++
		}
		if w := asWall(want["DateTime"]); got.ChangeTime != w {
			t.Errorf("%s: change time %q, want %q", want["file"], got.ChangeTime, w)
		}
		// goexif's table keeps the blanks that some cameras pad with
		if got.Make != strings.TrimSpace(want["Make"]) || got.Model != strings.TrimSpace(want["Model"]) {
			t.Errorf("%s: camera %q %q, want %q %q", want["file"], got.Make, got.Model, want["Make"], want["Model"])
		}
		if got.Orientation != number(t, want["Orientation"]) {
			t.Errorf("%s: orientation %d, want %s", want["file"], got.Orientation, want["Orientation"])
		}
	}
	if dated < 48 { // of 57 rows, counted in the table: 48 with DateTimeOriginal
		t.Errorf("dates of %d files agree, want 48", dated)
	}
}

// TestAgainstImagemeta compares with another EXIF reader (bep/imagemeta v1.0.1).
func TestAgainstImagemeta(t *testing.T) {
	formats := map[string]imagemeta.ImageFormat{"JPEG": imagemeta.JPEG, "TIFF": imagemeta.TIFF, "PNG": imagemeta.PNG, "HEIC": imagemeta.HEIF}
	compared := 0
	for _, row := range table(t, photos+"/exiftool_expected.csv") {
		f, ok := formats[row["type"]]
		if !ok {
			continue
		}
		data, err := os.ReadFile(filepath.Join(photos, row["file"]))
		if err != nil {
			t.Fatal(err)
		}
		var date, offset, model string
		_, err = imagemeta.Decode(imagemeta.Options{R: bytes.NewReader(data), ImageFormat: f, Sources: imagemeta.EXIF,
			HandleTag: func(ti imagemeta.TagInfo) error {
				s, _ := ti.Value.(string)
				switch ti.Tag {
				case "DateTimeOriginal":
					date = s
				case "OffsetTimeOriginal":
					offset = s
				case "Model":
					model = s
				}
				return nil
			}})
		if err != nil || date == "" {
			continue // the hostile ones
		}
		got := readFile(t, filepath.Join(photos, row["file"]))
		if got.WallTime != asWall(date) || got.Offset != offset || got.Model != model {
			t.Errorf("%s: got %q %q %q, imagemeta %q %q %q", row["file"], got.WallTime, got.Offset, got.Model, date, offset, model)
		}
		compared++
	}
	if compared < 12 {
		t.Errorf("only %d files compared", compared)
	}
}

// TestHostile: each file kills, hangs or fails goexif when given to it as it
// is; here orientation 6 is found where it stands (by construction), in no time.
func TestHostile(t *testing.T) {
	for name, orientation := range map[string]int{
		"ifd-cycle.jpg": 6, "count-overflow-short.jpg": 6, "count-overflow-rational.jpg": 0,
		"thumbnail-outside.jpg": 6, "zero-count-first.jpg": 6, "xmp-before-exif.jpg": 6,
	} {
		start := time.Now()
		got := readFile(t, filepath.Join(photos, name))
		if got.Orientation != orientation || got.Thumbnail != nil {
			t.Errorf("%s: orientation %d, want %d; thumbnail of %d bytes", name, got.Orientation, orientation, len(got.Thumbnail))
		}
		if d := time.Since(start); d > time.Second {
			t.Errorf("%s: took %v", name, d)
		}
	}
}

func TestThumbnail(t *testing.T) {
	got := readFile(t, photos+"/iphone-xs-small.jpg")
	c, err := jpeg.DecodeConfig(bytes.NewReader(got.Thumbnail))
	// exiftool -b -ThumbnailImage iphone-xs-small.jpg | identify -: 160x120
	if err != nil || c.Width != 160 || c.Height != 120 {
		t.Errorf("thumbnail %d x %d, %v", c.Width, c.Height, err)
	}
}

// TestFocalLength: exiftool -n -s3 -FocalLengthIn35mmFormat FILE (12.57).
func TestFocalLength(t *testing.T) {
	for name, want := range map[string]int{"iphone-xs-small.jpg": 26, "iphone-11-cut.heic": 52, "gps.jpg": 28, "Landscape_1.jpg": 0} {
		if got := readFile(t, filepath.Join(photos, name)).FocalLength35; got != want {
			t.Errorf("%s: %d mm, want %d", name, got, want)
		}
	}
}

func TestWallTime(t *testing.T) { // by hand from Exif 2.32, 4.6.5
	for in, want := range map[string]string{
		"2024:02:29 23:59:59":  "2024-02-29T23:59:59",
		"2023:02:29 10:00:00":  "", // no such day
		"0000:00:00 00:00:00":  "",
		"    :  :     :  :  ":  "",
		"2024-02-29T23:59:59Z": "2024-02-29T23:59:59",
		"2024:01:01 24:00:00":  "",
		"":                     "",
		"2024:01:01":           "",
	} {
		if got := wallTime(in); got != want {
			t.Errorf("wallTime(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestOffset(t *testing.T) { // by hand
	for in, want := range map[string]string{
		"+02:00": "+02:00", "-08:00": "-08:00", "+05:45": "+05:45", "Z": "+00:00", "+0200": "+02:00",
		"": "", "   :  ": "", "+99:00": "", "+15:00": "", "02:00": "",
	} {
		if got := offset(in); got != want {
			t.Errorf("offset(%q) = %q, want %q", in, got, want)
		}
	}
}
