package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"runtime"

	"forkwear/inspect"
)

// Backup writes a whole, checked copy of the history to file while the library
// stays in use. The copy appears under its name only when it is complete and on
// the disk; an older file of that name is replaced. Photos are files of the
// vault and are copied by the caller.
func (db *DB) Backup(ctx context.Context, file string) error {
	abs, err := filepath.Abs(file)
	if err != nil {
		return refuse(file, err)
	}
	if same(abs, db.file) {
		return inspect.Refuse(inspect.Invalid, "%s is the library itself: choose another name for the backup", abs)
	}
	part, err := os.CreateTemp(filepath.Dir(abs), ".backup-*.part") // made for its owner only
	if err != nil {
		return refuse(abs, err)
	}
	defer os.Remove(part.Name())
	if err := part.Close(); err != nil {
		return refuse(abs, err)
	}
	if err := db.vacuumInto(ctx, part.Name()); err != nil {
		return refuse(abs, err)
	}
	if err := CheckFile(ctx, part.Name()); err != nil {
		return err
	}
	return refuse(abs, settle(part.Name(), abs))
}

func same(a, b string) bool {
	x, errA := os.Stat(a)
	y, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(x, y)
}

// vacuumInto copies in one read transaction. It has a connection of its own:
// those of the reader may not vacuum, and the writer must stay free.
func (db *DB) vacuumInto(ctx context.Context, file string) error {
	h, err := sql.Open("sqlite", dsn(db.file, "mode=ro", "_pragma=busy_timeout(5000)"))
	if err != nil {
		return err
	}
	defer h.Close()
	_, err = h.ExecContext(ctx, "VACUUM INTO ?", file)
	return err
}

// CheckFile says whether a file is a whole history that this program can open.
func CheckFile(ctx context.Context, file string) error {
	if _, err := os.Stat(file); err != nil {
		return refuse(file, err)
	}
	v, err := peek(ctx, file)
	if err != nil {
		return refuse(file, err)
	}
	if v == 0 {
		return inspect.Refuse(inspect.Invalid, "%s holds no history: choose another file", file)
	}
	h, err := sql.Open("sqlite", readDSN(file))
	if err != nil {
		return refuse(file, err)
	}
	defer h.Close()
	return errors.Join(integrity(ctx, h, file)...)
}

// Restore copies a backup into a folder that holds no library yet.
func Restore(ctx context.Context, file, dir string) error {
	if err := CheckFile(ctx, file); err != nil {
		return err
	}
	abs, err := filepath.Abs(dir)
	if err != nil {
		return refuse(dir, err)
	}
	target := filepath.Join(abs, FileName)
	if _, err := os.Lstat(target); err == nil {
		return inspect.Refuse(inspect.Conflict, "%s holds a library already: choose an empty folder", abs)
	}
	if err := os.MkdirAll(abs, 0o700); err != nil {
		return refuse(abs, err)
	}
	from := &DB{file: file}
	return from.Backup(ctx, target)
}

// settle brings a finished file to the disk and gives it its name.
func settle(part, file string) error {
	f, err := os.OpenFile(part, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return err
	}
	if err := os.Rename(part, file); err != nil {
		return err
	}
	if runtime.GOOS == "windows" {
		return nil // folders can't be synced there
	}
	dir, err := os.Open(filepath.Dir(file))
	if err != nil {
		return err
	}
	return errors.Join(dir.Sync(), dir.Close())
}
