package main

import (
	"bytes"
	"encoding/base64"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"forkwear/inspect"
)

// TestReportShowsMarksAndTellsNoPlace: a phone's HEIC photo whose small copies
// were cleared away and a camera's JPEG with a position and a serial number go
// into a report: both are shown, marks and all, and no picture says where or
// with which body it was taken (what the files hold: exiftool 12.57,
// testdata/photos/exiftool_expected.csv).
func TestReportShowsMarksAndTellsNoPlace(t *testing.T) {
	ctx := t.Context()
	dir := filepath.Join(t.TempDir(), "library")
	v := visitIn(t, dir)
	l, err := openLibrary(ctx, dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = l.Close() }()
	c, err := l.desk.Open(ctx, v.ID)
	if err != nil {
		t.Fatal(err)
	}
	var sums []string // the first is of a phone
	files := []string{"test8.heic", "gps.jpg", "canon-5d3-small.jpg"}
	for _, name := range files {
		got := l.photos.Import(ctx, []string{filepath.Join(realPhotos, name)}, nil)
		if len(got) != 1 || got[0].Err != nil {
			t.Fatalf("%s: %+v", name, got)
		}
		p := got[0].Photo
		p.Role = "side"
		sums = append(sums, p.SHA256)
		p, _, err := l.desk.KeepPhoto(ctx, c, p)
		if err != nil {
			t.Fatal(err)
		}
		m := inspect.Mark{PhotoID: p.ID, Kind: inspect.MarkLine, Points: []inspect.Spot{{X: 10, Y: 10}, {X: 100, Y: 90}}}
		if _, err := l.desk.Mark(ctx, m); err != nil {
			t.Fatal(err)
		}
	}
	if err := l.vault.DropPreviews(); err != nil {
		t.Fatal(err)
	}
	if c, err = l.desk.Open(ctx, v.ID); err != nil {
		t.Fatal(err)
	}
	if _, ok := l.vault.WorkingCopy(sums[0]); ok {
		t.Fatal("the working copy is still there")
	}
	file := filepath.Join(t.TempDir(), "report.html")
	if err := l.writeReport(ctx, c, file); err != nil {
		t.Fatal(err)
	}
	page, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(page), "with the shop&#39;s marks"); n < len(files) {
		t.Errorf("%d photos are told to be marked, %d are wanted", n, len(files))
	}
	pictures := regexp.MustCompile(`data:image/jpeg;base64,([A-Za-z0-9+/=]+)`).FindAllSubmatch(page, -1)
	if len(pictures) < len(files) {
		t.Fatalf("%d photos in the report, %d are wanted", len(pictures), len(files))
	}
	for i, p := range pictures {
		b, err := base64.StdEncoding.DecodeString(string(p[1]))
		if err != nil {
			t.Fatal(err)
		}
		for _, tell := range []string{"Exif", "GPS", "Canon", "http://ns.adobe.com"} {
			if bytes.Contains(b, []byte(tell)) {
				t.Errorf("picture %d says %q", i+1, tell)
			}
		}
	}
}
