package store_test

import (
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"

	"forkwear/inspect"
	"forkwear/store"
	"forkwear/store/librarytest"
)

const nobody = 65534

// asNobody runs f with the file permissions of nobody where the test is run by
// root, whom permissions do not stop.
func asNobody(t *testing.T, f func()) {
	t.Helper()
	if os.Geteuid() == 0 {
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		must(t, syscall.Setfsuid(nobody))
		defer func() { must(t, syscall.Setfsuid(0)) }()
	}
	f()
}

// A library on a disk that can't be written is refused for writing and opens
// for reading, with and without the right to make files beside it.
func TestReadOnlyFolder(t *testing.T) {
	dir, file := seeded(t)
	if os.Geteuid() == 0 {
		must(t, os.Chown(dir, nobody, nobody))
		must(t, os.Chown(file, nobody, nobody))
		for up := filepath.Dir(dir); up != os.TempDir() && len(up) > 1; up = filepath.Dir(up) {
			must(t, os.Chmod(up, 0o755))
		}
	}
	must(t, os.Chmod(file, 0o400))
	must(t, os.Chmod(dir, 0o500))
	t.Cleanup(func() { _ = os.Chmod(dir, 0o700) })
	asNobody(t, func() {
		if f, err := os.Create(filepath.Join(dir, "probe")); err == nil {
			f.Close()
			t.Skip("permissions do not hold here")
		}
		db, err := store.Open(ctx, dir, store.Options{ReadOnly: true})
		must(t, err)
		defer db.Close()
		if _, err := db.Visit(ctx, "visit-1"); err != nil {
			t.Error(err)
		}
		refused(t, db.AddReadings(ctx, librarytest.Reading(1, "r2")), inspect.ReadOnly, file)
		_, err = store.Open(ctx, dir, store.Options{})
		refused(t, err, inspect.ReadOnly, file)
		_, err = store.Open(ctx, filepath.Join(dir, "new"), store.Options{})
		refused(t, err, inspect.ReadOnly, "new")
		if info, err := os.Stat(dir); err != nil || info.Mode().Perm() != 0o500 {
			t.Errorf("opening changed the folder to %v, %v", info.Mode(), err)
		}
	})
}
