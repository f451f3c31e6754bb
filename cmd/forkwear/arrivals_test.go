package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"

	"forkwear/media/vault"
	"forkwear/ui/arrivals"
	"forkwear/ui/place"
	"forkwear/ui/run"
	"forkwear/ui/screens/screentest"
)

func TestPhotoFiles(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"b.jpg", "a.jpg", "deep/c.jpg", ".hidden/d.jpg", "e.jpg.part"} {
		path := filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o700), os.WriteFile(path, []byte("x"), 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	got := photoFiles(t.Context(), []string{dir, "/nowhere/x.jpg"})
	want := []string{filepath.Join(dir, "a.jpg"), filepath.Join(dir, "b.jpg"), filepath.Join(dir, "deep", "c.jpg"), "/nowhere/x.jpg"}
	if !slices.Equal(got, want) {
		t.Errorf("found %v", got)
	}
}

func TestMayComeLater(t *testing.T) {
	for err, want := range map[error]bool{
		fmt.Errorf("take in x: %w", vault.ErrFull):                                               true,
		fmt.Errorf("take in x: %w", &fs.PathError{Op: "open", Path: "x", Err: fs.ErrPermission}): true,
		vault.ErrNotPhoto:       false,
		errors.New("it is cut"): false,
	} {
		if mayComeLater(err) != want {
			t.Errorf("%v: %v", err, !want)
		}
	}
}

// TestWatchedFolderFillsTheTray goes all the way: a photo is copied into the
// folder, comes into the library, and is noted, so that it does not come again
// after a restart; the folder stays as it is.
func TestWatchedFolderFillsTheTray(t *testing.T) {
	test.NewTempApp(t)
	ctx, dir, folder := context.Background(), t.TempDir(), t.TempDir()
	copyIn := func(name string) {
		data, err := os.ReadFile("../../testdata/photos/" + name)
		if err == nil {
			err = os.WriteFile(filepath.Join(folder, name), data, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	lib, err := openLibrary(ctx, dir)
	if err != nil {
		t.Fatal(err)
	}
	if err := lib.db.PutPreference(ctx, "photos.folder", folder); err != nil {
		t.Fatal(err)
	}
	copyIn("a1.jpg")
	copyIn("copyright.jpeg")
	env := &place.Env{Desk: lib.desk, Photos: lib.photos, Run: run.New(ctx), Say: &screentest.Recorder{}}
	inbox := arrivals.New(env, lib.arrivals())
	inbox.Start()
	for range 800 {
		if inbox.Waiting() == 2 {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	env.Run.Close()
	if inbox.Waiting() != 2 {
		t.Fatalf("%d photos wait, want 2", inbox.Waiting())
	}
	for _, name := range []string{"a1.jpg", "copyright.jpeg"} {
		if _, err := os.Stat(filepath.Join(folder, name)); err != nil {
			t.Errorf("the watched folder was changed: %v", err)
		}
	}
	book, err := os.ReadFile(filepath.Join(dir, "watched.jsonl"))
	if err != nil || strings.Count(string(book), "sha256") != 2 {
		t.Errorf("noted %q, %v", book, err)
	}
	if err := lib.Close(); err != nil {
		t.Error(err)
	}
}
