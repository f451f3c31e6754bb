package main

import (
	"os"
	"path/filepath"
	"testing"
)

// TestMain lets the test program stand for the program itself when it is
// started as the HEIC converter; otherwise it would run all its tests again.
func TestMain(m *testing.M) {
	if len(os.Args) > 1 && os.Args[1] == heicCommandName {
		os.Exit(exitCode(rootCommand().Execute()))
	}
	os.Exit(m.Run())
}

// TestHEICThroughTheProgram: a photo of a phone goes the whole way, through the
// second process, into a record with pixels; sizes by exiftool 12.57.
func TestHEICThroughTheProgram(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "library")
	visitIn(t, dir)
	l, err := openLibrary(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = l.Close() }()
	got := l.photos.Import(t.Context(), []string{realPhotos + "/test8.heic"}, nil)
	if len(got) != 1 || got[0].Err != nil {
		t.Fatalf("%+v", got)
	}
	p := got[0].Photo
	if p.Format != "heic" || p.Width != 512 || p.Height != 512 || p.Sharpness <= 0 || len(p.Fingerprint) != 16 {
		t.Errorf("%+v", p)
	}
	img, err := l.photos.Preview(t.Context(), p.SHA256, 512)
	if err != nil || img.Bounds().Dx() != 512 {
		t.Errorf("preview %v, %v", img, err)
	}
	if full, err := l.photos.Full(t.Context(), p.SHA256); err != nil || full.Rect.Dx() != 512 {
		t.Errorf("in full size: %v", err)
	}
	cut := l.photos.Import(t.Context(), []string{realPhotos + "/iphone-xs-cut.heic"}, nil)
	if cut[0].Err == nil {
		t.Error("half a file was taken in without a word")
	}
	if _, err := l.vault.Find(p.SHA256); err != nil {
		t.Error(err)
	}
}
