package media

import (
	"context"
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"forkwear/media/decode"
	"forkwear/media/vault"
)

const photos = "../testdata/photos/"

func zone(t *testing.T, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Skip("no time zone data here: ", err)
	}
	return z
}

// TestReadAgainstExiftool: sizes, formats and dates by exiftool 12.57 (command
// in testdata/photos/SOURCES.md); which files cannot be read, by construction.
func TestReadAgainstExiftool(t *testing.T) {
	f, err := os.Open(photos + "exiftool_expected.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	broken := map[string]error{
		"corrupt.jpg": decode.ErrDamaged, "truncated.jpg": decode.ErrDamaged, "png-bomb-header.png": decode.ErrTooLarge,
	}
	formats := map[string]string{"JPEG": "jpeg", "PNG": "png", "WEBP": "webp", "Extended WEBP": "webp", "TIFF": "tiff", "HEIC": "heic", "HEIF": "avif"}
	for _, row := range rows[1:] {
		name, w, h := row[0], row[2], row[3]
		p, err := Read(t.Context(), photos+name, nil)
		if want := broken[name]; want != nil {
			if !errors.Is(err, want) || !strings.Contains(err.Error(), name) {
				t.Errorf("%s: %v, want %v", name, err, want)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if p.Format != formats[row[1]] || strconv.Itoa(p.Width) != w || strconv.Itoa(p.Height) != h {
			t.Errorf("%s: %s %d x %d, exiftool %v", name, p.Format, p.Width, p.Height, row)
		}
		date := ""
		if row[5] != "" {
			date = strings.Replace(row[5][:10], ":", "-", 2) + "T" + row[5][11:]
		}
		if p.WallTime != date || p.Offset != row[6] {
			t.Errorf("%s: %s %s, exiftool %s %s", name, p.WallTime, p.Offset, date, row[6])
		}
		if _, ok := p.Taken(); ok != (date != "" && row[6] != "") {
			t.Errorf("%s: an instant from %q %q: %v", name, date, row[6], ok)
		}
		if st, err := os.Stat(photos + name); err != nil || st.Size() != p.Bytes || len(p.SHA256) != 64 {
			t.Errorf("%s: %d bytes, sum %q", name, p.Bytes, p.SHA256)
		}
		if !p.PixelsRead && (p.Usable || len(p.Remarks) == 0) {
			t.Errorf("%s: pixels not read, yet usable or without a word: %+v", name, p)
		}
	}
}

func TestShopZone(t *testing.T) {
	berlin := zone(t, "Europe/Berlin")
	p, err := Read(t.Context(), photos+"gps.jpg", berlin) // 2018:04:28 21:23:12, no offset (exiftool)
	if err != nil || p.Offset != "+02:00" || p.OffsetSource != OffsetFromShop {
		t.Errorf("summer: %q %q %v", p.Offset, p.OffsetSource, err)
	}
	// date -u -d '2018-04-28 21:23:12 +02:00' (GNU coreutils): 19:23:12
	if got, ok := p.Taken(); !ok || !got.Equal(time.Date(2018, 4, 28, 19, 23, 12, 0, time.UTC)) {
		t.Errorf("taken %v", got)
	}
	p, err = Read(t.Context(), photos+"iphone-xs-small.jpg", berlin) // has +03:00 of its own (exiftool)
	if err != nil || p.Offset != "+03:00" || p.OffsetSource != OffsetFromCamera {
		t.Errorf("own offset: %q %q %v", p.Offset, p.OffsetSource, err)
	}
	p, err = Read(t.Context(), photos+"Landscape_1.jpg", berlin)
	if err != nil || p.Offset != "" || p.OffsetSource != "" {
		t.Errorf("no date, yet offset %q %q %v", p.Offset, p.OffsetSource, err)
	}
}

// TestClockChange: Europe/Berlin put clocks forward on 2024-03-31 at 02:00 and
// back on 2024-10-27 at 03:00 (IANA time zone database).
func TestClockChange(t *testing.T) {
	berlin := zone(t, "Europe/Berlin")
	for wall, remark := range map[string]string{
		"2024-03-31T02:30:00": "put forward", "2024-10-27T02:30:00": "put back",
		"2024-03-31T01:59:59": "", "2024-03-31T03:00:00": "", "2024-10-27T01:59:59": "", "2024-10-27T03:00:00": "",
	} {
		p := Photo{WallTime: wall}
		p.offsetFrom(berlin)
		got := strings.Join(p.Remarks, " ")
		if !strings.Contains(got, remark) || remark == "" && got != "" || p.Offset == "" {
			t.Errorf("%s: offset %q, remarks %q", wall, p.Offset, got)
		}
	}
}

// TestHalfHourChange: Australia/Lord_Howe goes back by half an hour, on
// 2026-04-05 at 02:00 (IANA time zone database).
func TestHalfHourChange(t *testing.T) {
	island := zone(t, "Australia/Lord_Howe")
	for wall, remark := range map[string]string{"2026-04-05T01:45:00": "30 minutes off", "2026-04-05T01:29:59": "", "2026-04-05T02:00:00": "", "2026-10-04T02:15:00": "put forward"} {
		p := Photo{WallTime: wall}
		p.offsetFrom(island)
		got := strings.Join(p.Remarks, " ")
		if !strings.Contains(got, remark) || remark == "" && got != "" {
			t.Errorf("%s: offset %q, remarks %q", wall, p.Offset, got)
		}
	}
}

func TestUprightSize(t *testing.T) { // Exif 2.32: from 5 on the sides change places
	for o := range 9 {
		w, h := Photo{Width: 4, Height: 3, Orientation: o}.UprightSize()
		if (o >= 5) != (w == 3 && h == 4) {
			t.Errorf("orientation %d: %d x %d", o, w, h)
		}
	}
}

func TestReadRefuses(t *testing.T) {
	for name, want := range map[string]error{
		"text.jpg": vault.ErrNotPhoto, "empty.jpg": vault.ErrNotPhoto, "": vault.ErrNotPhoto, "none.jpg": os.ErrNotExist,
	} {
		if _, err := Read(t.Context(), photos+name, nil); !errors.Is(err, want) {
			t.Errorf("%q: %v, want %v", name, err, want)
		}
	}
}

func newVault(t *testing.T) *vault.Vault {
	t.Helper()
	v, err := vault.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestImportFolder takes the whole sample folder in: one result for each file,
// an error just for those that are no sound photos, the originals byte for byte.
func TestImportFolder(t *testing.T) {
	v := newVault(t)
	entries, err := os.ReadDir(photos)
	if err != nil {
		t.Fatal(err)
	}
	bad := []string{"SOURCES.md", "corrupt.jpg", "empty.jpg", "exiftool_expected.csv", "png-bomb-header.png", "text.jpg", "truncated.jpg"}
	calls, last := 0, 0
	results := Import(t.Context(), v, []string{photos, photos + "gps.jpg"}, func(done, total int, name string) {
		calls++
		if done != last+1 || total != len(entries) || name == "" {
			t.Errorf("progress %d of %d after %d: %q", done, total, last, name)
		}
		last = done
	})
	if len(results) != len(entries) || calls != len(entries) {
		t.Fatalf("%d results, %d calls for %d files", len(results), calls, len(entries))
	}
	var failed []string
	for _, r := range results {
		name := filepath.Base(r.Path)
		if r.Err != nil {
			failed = append(failed, name)
			if !strings.Contains(r.Err.Error(), name) {
				t.Errorf("%s: the error does not name the file: %v", name, r.Err)
			}
			continue
		}
		want, _ := os.ReadFile(r.Path)
		got, err := v.Read(t.Context(), r.Photo.SHA256)
		if err != nil || string(got) != string(want) {
			t.Errorf("%s: kept differently, %v", name, err)
		}
		_, ok := v.Preview(r.Photo.SHA256, PreviewSmall)
		if ok != r.Photo.PixelsRead {
			t.Errorf("%s: preview %v, pixels read %v", name, ok, r.Photo.PixelsRead)
		}
	}
	slices.Sort(failed)
	if !slices.Equal(failed, bad) {
		t.Errorf("refused %v, want %v", failed, bad)
	}
	for _, name := range []string{"Landscape_3.jpg", "test8.heic", "canon-r5-small.tif", "png-8bit.png", "test.webp"} {
		if r := Import(t.Context(), v, []string{photos + name}, nil)[0]; r.Err != nil || !r.Existed {
			t.Errorf("%s: not recognised the second time: %v", name, r.Err)
		}
	}
}

func TestImportPassesOver(t *testing.T) {
	dir := t.TempDir()
	data, _ := os.ReadFile(photos + "test_exif_canon.jpg")
	for _, name := range []string{"a.jpg", "sub/b.JPG", ".hidden.jpg", "c.jpg.part", ".trash/d.jpg"} {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o700), os.WriteFile(path, data, 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	results := Import(t.Context(), newVault(t), []string{dir, filepath.Join(dir, "none")}, nil)
	var names []string
	fresh := 0
	for _, r := range results {
		names = append(names, filepath.Base(r.Path))
		if r.Err == nil && !r.Existed {
			fresh++
		}
	}
	if want := []string{"a.jpg", "b.JPG", "none"}; !slices.Equal(names, want) || fresh != 1 || results[2].Err == nil {
		t.Errorf("%v, %d new, %v", names, fresh, results)
	}
}

func TestImportCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	v := newVault(t)
	paths := []string{photos + "a1.jpg", photos + "gps.jpg", photos + "test.webp", photos + "copyright.jpeg"}
	results := Importer{Vault: v, Workers: 1}.Import(ctx, paths, func(done, _ int, _ string) {
		if done == 1 {
			cancel()
		}
	})
	if len(results) != 4 || results[0].Err != nil {
		t.Fatalf("%d results, first %v", len(results), results[0].Err)
	}
	for _, r := range results[1:] {
		if !errors.Is(r.Err, context.Canceled) {
			t.Errorf("%s: %v", r.Path, r.Err)
		}
	}
	if n, faults, err := v.Check(t.Context(), nil); n != 1 || len(faults) != 0 || err != nil {
		t.Errorf("%d kept, %v, %v", n, faults, err)
	}
}

// TestPreviewRebuilt: previews thrown away come back from the original.
func TestPreviewRebuilt(t *testing.T) {
	v := newVault(t)
	r := Import(t.Context(), v, []string{photos + "Landscape_6.jpg", photos + "test8.heic"}, nil)
	before, ok := v.Preview(r[0].Photo.SHA256, PreviewSmall)
	if !ok || v.DropPreviews() != nil {
		t.Fatal("no preview to begin with")
	}
	after, err := Preview(t.Context(), v, r[0].Photo.SHA256, PreviewSmall)
	if err != nil || string(after) != string(before) {
		t.Errorf("rebuilt differently: %v", err)
	}
	if _, ok := v.Preview(r[0].Photo.SHA256, PreviewSmall); !ok {
		t.Error("not put back into the cache")
	}
	if _, err := Preview(t.Context(), v, r[1].Photo.SHA256, PreviewSmall); !errors.Is(err, decode.ErrNoDecoder) {
		t.Errorf("HEIC: %v", err)
	}
}
