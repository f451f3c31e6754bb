package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// TestRestoreFromWriteProtected: a backup that nobody may write to, as on a
// write-protected stick, can be checked and restored.
func TestRestoreFromWriteProtected(t *testing.T) {
	dir := t.TempDir()
	lib, copied, back := filepath.Join(dir, "library"), filepath.Join(dir, "backup"), filepath.Join(dir, "new", "restored")
	v := visitIn(t, lib)
	if code, out := forkwear(t, "--library", lib, "add", "1", filepath.Join(realPhotos, "a1.jpg")); code != 0 {
		t.Fatal(out)
	}
	if code, out := forkwear(t, "--library", lib, "backup", copied); code != 0 {
		t.Fatal(out)
	}
	err := filepath.Walk(copied, func(path string, st os.FileInfo, err error) error {
		if err != nil {
			return err
		}
		if st.IsDir() {
			t.Cleanup(func() { _ = os.Chmod(path, 0o700) })
			return os.Chmod(path, 0o555)
		}
		return os.Chmod(path, 0o444)
	})
	if err != nil {
		t.Fatal(err)
	}
	const nobody = 65534
	if os.Geteuid() == 0 { // permissions do not stop root
		for up := dir; up != os.TempDir() && len(up) > 1; up = filepath.Dir(up) {
			if err := os.Chmod(up, 0o755); err != nil {
				t.Fatal(err)
			}
		}
		if err := os.Mkdir(filepath.Join(dir, "new"), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(filepath.Join(dir, "new"), 0o777); err != nil {
			t.Fatal(err)
		}
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		if err := syscall.Setfsuid(nobody); err != nil {
			t.Skip(err)
		}
		defer func() { _ = syscall.Setfsuid(0) }()
	}
	if f, err := os.Create(filepath.Join(copied, "probe")); err == nil {
		f.Close()
		t.Skip("permissions do not hold here")
	}
	if code, out := forkwear(t, "--library", copied, "verify"); code != 0 || !strings.Contains(out, "1 photos and the history checked, 0 faults") {
		t.Errorf("verify: exit %d: %s", code, out)
	}
	if code, out := forkwear(t, "restore", copied, back); code != 0 {
		t.Fatalf("restore: exit %d: %s", code, out)
	}
	if n := len(photosOf(t, back, v.ID)); n != 1 {
		t.Errorf("%d photos restored", n)
	}
}
