package store

import (
	"context"
	"errors"
	"io/fs"
	"syscall"

	"forkwear/inspect"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"
)

// refuse is the one place where what SQLite or the file system says becomes a
// refusal: a code, and a sentence that names the file and the way out. What is
// a refusal already, and a cancelled context, pass as they are.
func refuse(file string, err error) error {
	var known *inspect.Error
	if err == nil || errors.As(err, &known) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	var se *sqlite.Error
	if errors.As(err, &se) {
		return refuseSQLite(file, se)
	}
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return full(file, err)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return readOnly(file, err)
	case errors.Is(err, fs.ErrNotExist):
		return inspect.Refuse(inspect.NotFound, "there is no file or folder %s: check the folder of the library: %w", file, err)
	}
	return inspect.Refuse(inspect.Internal, "the library %s can't do this, please report it: %w", file, err)
}

func full(file string, err error) error {
	return inspect.Refuse(inspect.Full, "the disk that holds %s is full: free some space and enter the last thing again, all before it is kept (%w)", file, err)
}

func readOnly(file string, err error) error {
	return inspect.Refuse(inspect.ReadOnly, "%s can't be written: make the file and its folder writable for you, or open the library for reading only (%w)", file, err)
}

// refuseSQLite tells the result codes of SQLite apart, the extended code first
// where it says more (https://sqlite.org/rescode.html).
func refuseSQLite(file string, err *sqlite.Error) error {
	switch err.Code() {
	case lib.SQLITE_CONSTRAINT_PRIMARYKEY, lib.SQLITE_CONSTRAINT_UNIQUE, lib.SQLITE_CONSTRAINT_ROWID:
		return inspect.Refuse(inspect.Conflict, "this record is in the library %s already: load it anew and enter the change again (%w)", file, err)
	case lib.SQLITE_CONSTRAINT_FOREIGNKEY:
		return inspect.Refuse(inspect.Invalid, "this record names another one that is not in the library %s: save that one first (%w)", file, err)
	case lib.SQLITE_CONSTRAINT_TRIGGER:
		return inspect.Refuse(inspect.Locked, "this record in %s is kept as it was written: add a correction or an amendment (%w)", file, err)
	case lib.SQLITE_IOERR_SHMSIZE:
		return full(file, err)
	}
	switch err.Code() & 0xff {
	case lib.SQLITE_FULL:
		return full(file, err)
	case lib.SQLITE_READONLY, lib.SQLITE_PERM, lib.SQLITE_CANTOPEN, lib.SQLITE_AUTH:
		return readOnly(file, err)
	case lib.SQLITE_CORRUPT, lib.SQLITE_NOTADB:
		return inspect.Refuse(inspect.Damaged, "%s is damaged: keep the file as it is, and restore the newest backup into a new folder (%w)", file, err)
	case lib.SQLITE_BUSY, lib.SQLITE_LOCKED:
		return inspect.Refuse(inspect.Conflict, "another program is busy writing %s: wait a moment and try again (%w)", file, err)
	case lib.SQLITE_CONSTRAINT, lib.SQLITE_MISMATCH, lib.SQLITE_TOOBIG:
		return inspect.Refuse(inspect.Invalid, "this record can't be kept in %s, a field is missing or out of range: correct it and save again (%w)", file, err)
	case lib.SQLITE_IOERR:
		return inspect.Refuse(inspect.Internal, "the disk that holds %s answered with an error: check the disk, then make a backup (%w)", file, err)
	case lib.SQLITE_INTERRUPT:
		return context.Canceled
	}
	return inspect.Refuse(inspect.Internal, "the library %s can't do this, please report it (%w)", file, err)
}
