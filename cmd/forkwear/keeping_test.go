package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"forkwear/inspect"
)

// cancelAt cancels when what is written to it holds a text.
type cancelAt struct {
	bytes.Buffer
	text   string
	cancel func()
}

func (c *cancelAt) Write(p []byte) (int, error) {
	if strings.Contains(string(p), c.text) {
		c.cancel()
	}
	return c.Buffer.Write(p)
}

// TestAddStoppedAndAgain: what was read before the stop is filed, and the same
// command does the rest without doing anything twice.
func TestAddStoppedAndAgain(t *testing.T) {
	lib := filepath.Join(t.TempDir(), "library")
	v := visitIn(t, lib)
	var paths []string
	for _, n := range []string{"Landscape_1.jpg", "Landscape_2.jpg", "Landscape_3.jpg", "Landscape_4.jpg", "Landscape_5.jpg", "Landscape_6.jpg", "a1.jpg", "gps.jpg"} {
		paths = append(paths, filepath.Join(realPhotos, n))
	}
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	out := &cancelAt{text: "Landscape_1.jpg", cancel: cancel}
	root := rootCommand()
	root.SetOut(out)
	root.SetErr(out)
	root.SetArgs(append([]string{"--library", lib, "add", "1"}, paths...))
	err := root.ExecuteContext(ctx)
	if exitCode(err) != 1 || !strings.Contains(err.Error(), "the same command goes on from there") || strings.Contains(out.String(), "context canceled") {
		t.Errorf("stopped: %v\n%s", err, out)
	}
	before := len(photosOf(t, lib, v.ID))
	if before == 0 || before == len(paths) {
		t.Errorf("%d of %d photos filed before the stop", before, len(paths))
	}
	code, said := forkwear(t, append([]string{"--library", lib, "add", "1"}, paths...)...)
	if n := len(photosOf(t, lib, v.ID)); code != 0 || n != len(paths) || strings.Count(said, "known already") != before {
		t.Errorf("again: exit %d, %d photos, %d before\n%s", code, n, before, said)
	}
	if code, said := forkwear(t, "--library", lib, "verify"); code != 0 {
		t.Error(said)
	}
}

// TestBackupOfADamagedLibrary: one photo changed on the disk and one gone are
// named; all others, and the shop's own catalog, are in the backup.
func TestBackupOfADamagedLibrary(t *testing.T) {
	dir := t.TempDir()
	lib, copied := filepath.Join(dir, "library"), filepath.Join(dir, "backup")
	v := visitIn(t, lib)
	if code, out := forkwear(t, "--library", lib, "add", "1", filepath.Join(realPhotos, "a1.jpg"), filepath.Join(realPhotos, "gps.jpg"), filepath.Join(realPhotos, "test.webp")); code != 0 {
		t.Fatal(out)
	}
	own := filepath.Join(lib, "catalog", "own.toml")
	if err := os.MkdirAll(filepath.Dir(own), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(own, []byte("# the shop's own\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, p := range photosOf(t, lib, v.ID) {
		path := filepath.Join(lib, "photos", "originals", p.SHA256[:2], p.SHA256[2:]+".jpg")
		var err error
		switch p.FileName {
		case "a1.jpg":
			err = os.WriteFile(path, []byte("\xff\xd8\xff changed"), 0o600)
		case "gps.jpg":
			err = os.Remove(path)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	code, out := forkwear(t, "--library", lib, "backup", copied)
	if code != 1 || !strings.Contains(out, "a1.jpg is not copied") || !strings.Contains(out, "gps.jpg is not copied") || !strings.Contains(out, "the history and 1 photos") {
		t.Errorf("exit %d: %s", code, out)
	}
	if text, err := os.ReadFile(filepath.Join(copied, "catalog", "own.toml")); err != nil || !strings.Contains(string(text), "own") {
		t.Errorf("the shop's own catalog: %v", err)
	}
	if n := len(photosOf(t, copied, v.ID)); n != 3 {
		t.Errorf("%d photos in the history of the backup, want 3", n)
	}
}

// TestShown: names of files can be anything.
func TestShown(t *testing.T) {
	for name, want := range map[string]string{"a b.jpg": "a b.jpg", "Gäbel 照片.jpg": "Gäbel 照片.jpg", "new\nline.jpg": `"new\nline.jpg"`,
		"\x1b[31m.jpg": `"\x1b[31m.jpg"`, "bad\xff.jpg": `"bad\xff.jpg"`, "": ""} {
		if got := shown(name); got != want {
			t.Errorf("%q: %s, want %s", name, got, want)
		}
	}
	var out bytes.Buffer
	tellPhoto(&out, "a\x1b]0;x\a.jpg", inspect.Photo{}, true, nil)
	if strings.ContainsAny(out.String(), "\x1b\a") {
		t.Errorf("%q", out.String())
	}
}
