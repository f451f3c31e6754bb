package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const samplePhotos = "../../testdata/photos/"

func runPhoto(t *testing.T, args ...string) (string, error) {
	t.Helper()
	cmd := photoCommand()
	var out bytes.Buffer
	cmd.SetOut(&out)
	cmd.SetErr(&bytes.Buffer{})
	cmd.SetArgs(args)
	err := cmd.ExecuteContext(t.Context())
	return out.String(), err
}

func photoInfo(t *testing.T, args ...string) map[string]any {
	t.Helper()
	out, err := runPhoto(t, append([]string{"info", "--json"}, args...)...)
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	return got
}

// TestPhotoInfoJSON: expected values by exiftool 12.57 (testdata/photos/SOURCES.md).
func TestPhotoInfoJSON(t *testing.T) {
	got := photoInfo(t, samplePhotos+"iphone-xs-small.jpg")
	for key, want := range map[string]any{
		"format": "jpeg", "width": 640.0, "height": 480.0, "orientation": 6.0, "taken": "2020-07-28T19:18:49+03:00",
		"wall_time": "2020-07-28T19:18:49", "offset": "+03:00", "offset_source": "exif", "subsec": "777",
		"make": "Apple", "model": "iPhone XS", "body_serial": nil, "has_position": true,
	} {
		if v, ok := got[key]; !ok || v != want {
			t.Errorf("%s: %v, want %v", key, v, want)
		}
	}
	for _, key := range []string{"sha256", "sharpness", "usable", "remarks"} {
		if got[key] == nil {
			t.Errorf("%s is missing", key)
		}
	}
}

func TestPhotoInfoZone(t *testing.T) { // exiftool: 2018:04:28 21:23:12, no offset
	if got := photoInfo(t, samplePhotos+"gps.jpg"); got["taken"] != nil || got["wall_time"] != "2018-04-28T21:23:12" || got["offset"] != nil {
		t.Errorf("without a zone: %v", got)
	}
	if got := photoInfo(t, samplePhotos+"gps.jpg", "--zone", "Europe/Berlin"); got["taken"] != "2018-04-28T21:23:12+02:00" || got["offset_source"] != "shop zone" {
		t.Errorf("with a zone: %v", got)
	}
	if _, err := runPhoto(t, "info", samplePhotos+"gps.jpg", "--zone", "Nowhere/Land"); err == nil {
		t.Error("an unknown zone was taken")
	}
}

// TestPhotoInfoNulls: what does not exist is null, and no key is ever missing.
func TestPhotoInfoNulls(t *testing.T) {
	got := photoInfo(t, samplePhotos+"AVIF.avif")
	for _, key := range []string{"orientation", "taken", "wall_time", "offset", "offset_source", "subsec", "make", "model", "body_serial", "sharpness"} {
		if v, ok := got[key]; !ok || v != nil {
			t.Errorf("%s: %v, present %v", key, v, ok)
		}
	}
	if remarks, ok := got["remarks"].([]any); !ok || len(remarks) == 0 {
		t.Errorf("remarks %v", got["remarks"])
	}
	if got := photoInfo(t, samplePhotos+"iphone-xs-small.jpg")["remarks"]; got == nil {
		t.Error("no remarks must be an empty list, not null")
	}
}

func TestPhotoInfoRefuses(t *testing.T) {
	for _, name := range []string{"truncated.jpg", "corrupt.jpg", "text.jpg", "empty.jpg", "png-bomb-header.png", "none.jpg"} {
		if out, err := runPhoto(t, "info", "--json", samplePhotos+name); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v %s", name, err, out)
		}
	}
}

func TestPhotoInfoTable(t *testing.T) {
	out, err := runPhoto(t, "info", samplePhotos+"a1.jpg")
	if err != nil || !strings.Contains(out, "2013-06-05 09:18:38") || !strings.Contains(out, "camera       Canon EOS DIGITAL REBEL XS") {
		t.Errorf("%v\n%s", err, out)
	}
}

func TestPhotoClean(t *testing.T) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "in.jpg"), filepath.Join(dir, "out.jpg")
	data, err := os.ReadFile(samplePhotos + "iphone-xs-small.jpg")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(in, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if text, err := runPhoto(t, "clean", in, "--out", out); err != nil || !strings.Contains(text, "the same pixels") {
		t.Fatalf("%v %s", err, text)
	}
	got := photoInfo(t, out)
	if got["has_position"] != false || got["model"] != nil || got["wall_time"] != nil || got["orientation"] != 6.0 {
		t.Errorf("%v", got)
	}
	if before := photoInfo(t, in); before["sharpness"] != got["sharpness"] {
		t.Errorf("sharpness %v became %v", before["sharpness"], got["sharpness"])
	}
	if _, err := runPhoto(t, "clean", in, "--out", in); err == nil {
		t.Error("the original may be overwritten")
	}
	if _, err := runPhoto(t, "clean", in); err == nil {
		t.Error("no --out, no error")
	}
	if now, _ := os.ReadFile(in); !slices.Equal(now, data) {
		t.Error("the original changed")
	}
}

// TestHEICLikeOthers: a copy for the customer and a measurement are there for
// HEIC too, and half a file is refused by both.
func TestHEICLikeOthers(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "clean.jpg")
	if text, err := runPhoto(t, "clean", samplePhotos+"test8.heic", "--out", out); err != nil || !strings.Contains(text, "encoded anew as JPEG") {
		t.Fatalf("%v %s", err, text)
	}
	if got := photoInfo(t, out); got["format"] != "jpeg" || got["width"] != 512.0 || got["wall_time"] != nil { // exiftool 12.57: 512 x 512
		t.Errorf("%v", got)
	}
	marks := []string{"--scale", "10,10,110,10,20", "--mask", "--region", "0,0,50,50"}
	if text, err := runPhoto(t, append([]string{"measure", samplePhotos + "test8.heic"}, marks...)...); err != nil || !strings.Contains(text, "length") {
		t.Errorf("%v %s", err, text)
	}
	data, err := os.ReadFile(samplePhotos + "test8.heic")
	if err != nil {
		t.Fatal(err)
	}
	cut := filepath.Join(dir, "cut.heic")
	if err := os.WriteFile(cut, data[:len(data)/2], 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"measure", cut, "--scale", "10,10,110,10,20", "--line", "1,1,50,1"}, {"clean", cut, "--out", filepath.Join(dir, "no.jpg")}} {
		if text, err := runPhoto(t, args...); err == nil || !strings.Contains(err.Error(), cut) {
			t.Errorf("%s: %v %s", args[0], err, text)
		}
	}
}
