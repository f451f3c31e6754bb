package store

import (
	"context"
	"database/sql"
	"errors"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"forkwear/inspect"

	"github.com/google/uuid"
	_ "modernc.org/sqlite" // the driver "sqlite"
)

// FileName is the name of the history in the folder of a library.
const FileName = "history.sqlite"

// Options are what a library is opened with. Zero fields take the defaults.
type Options struct {
	Clock    func() time.Time  // time of the change log; time.Now
	NewID    func() inspect.ID // id of a new library; UUIDv7
	ReadOnly bool              // never write, not even to bring the library up to date
	Machine  string            // name of this machine in the change log; the host's name
}

// DB is one open library. It is safe for use by several goroutines.
type DB struct {
	file    string
	writer  *sql.DB // one connection: writes of one program wait for each other here, not in SQLite; nil when read-only
	reader  *sql.DB
	clock   func() time.Time
	newID   func() inspect.ID
	machine string
}

var _ inspect.Library = (*DB)(nil)

// Open opens the library in dir, makes it where there is none, and brings an
// older one up to date. A library of a newer program answers TooNew, a folder
// that can't be written ReadOnly, a file that is no history Damaged or Invalid.
func Open(ctx context.Context, dir string, opt Options) (*DB, error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, refuse(dir, err)
	}
	db := newDB(filepath.Join(abs, FileName), opt)
	if opt.ReadOnly {
		if _, err := os.Stat(db.file); err != nil {
			return nil, refuse(db.file, err)
		}
	} else if err := makeFiles(abs, db.file); err != nil {
		return nil, refuse(db.file, err)
	}
	if err := db.connect(ctx, opt.ReadOnly); err != nil {
		return nil, errors.Join(refuse(db.file, err), db.Close())
	}
	return db, nil
}

func newDB(file string, opt Options) *DB {
	db := &DB{file: file, clock: opt.Clock, newID: opt.NewID, machine: opt.Machine}
	if db.clock == nil {
		db.clock = time.Now
	}
	if db.newID == nil {
		db.newID = func() inspect.ID { return inspect.ID(uuid.Must(uuid.NewV7()).String()) }
	}
	if db.machine == "" {
		if host, err := os.Hostname(); err == nil {
			db.machine = host
		} else {
			db.machine = "unnamed"
		}
	}
	return db
}

// connect looks at the file before anything may change it, then opens the
// handles and migrates.
func (db *DB) connect(ctx context.Context, onlyRead bool) error {
	version, err := peek(ctx, db.file)
	if err != nil {
		return err
	}
	if onlyRead {
		if version < newest() {
			return inspect.Refuse(inspect.ReadOnly, "the library %s has version %d and must be brought to %d: open it once for writing", db.file, version, newest())
		}
	} else {
		if db.writer, err = sql.Open("sqlite", writeDSN(db.file)); err != nil {
			return err
		}
		db.writer.SetMaxOpenConns(1)
		if err := db.migrate(ctx); err != nil {
			return err
		}
	}
	if db.reader, err = sql.Open("sqlite", readDSN(db.file)); err != nil {
		return err
	}
	db.reader.SetMaxOpenConns(4)
	return db.reader.PingContext(ctx)
}

// Close closes the library. What was acknowledged before is on the disk.
func (db *DB) Close() error {
	var errs []error
	for _, h := range []*sql.DB{db.reader, db.writer} {
		if h != nil {
			errs = append(errs, h.Close())
		}
	}
	return refuse(db.file, errors.Join(errs...))
}

// File returns the path of the history.
func (db *DB) File() string { return db.file }

// makeFiles makes the folder and an empty file before SQLite does, because
// SQLite would let others read them. A folder that holds other things too, and
// no library yet, keeps its permissions: it may be somebody's home.
func makeFiles(dir, file string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, os.ErrNotExist):
		if err := os.MkdirAll(dir, 0o700); err != nil {
			return err
		}
	case err != nil:
		return err
	case len(entries) == 0 || isFile(file):
		closeToOthers(dir)
	}
	f, err := os.OpenFile(file, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	closeToOthers(file)
	return f.Close()
}

// closeToOthers takes away what others may do, and gives nobody anything: a
// folder made read-only on purpose stays so. Where it is not ours to change,
// the permissions of the folder above have to do.
func closeToOthers(path string) {
	if info, err := os.Stat(path); err == nil && info.Mode().Perm()&0o077 != 0 {
		_ = os.Chmod(path, info.Mode().Perm()&^0o077)
	}
}

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular()
}

// dsn is the address of the file for the driver, with every strange character
// of its path escaped.
func dsn(file string, params ...string) string {
	path := filepath.ToSlash(file)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path // a drive letter
	}
	u := url.URL{Scheme: "file", Path: path}
	return u.String() + "?" + strings.Join(params, "&")
}

func writeDSN(file string) string {
	return dsn(file, "mode=rw", "_txlock=immediate", "_pragma=busy_timeout(5000)", "_pragma=journal_mode(WAL)",
		"_pragma=synchronous(FULL)", "_pragma=foreign_keys(1)")
}

func readDSN(file string) string {
	params := []string{"mode=ro", "_pragma=busy_timeout(5000)", "_pragma=query_only(1)"}
	if frozen(file) {
		params = append(params, "immutable=1")
	}
	return dsn(file, params...)
}

// frozen reports that nobody can write beside the file and that no journal is
// left: only then SQLite must be told not to look for one, since it can't make
// the shared memory that a journal needs.
func frozen(file string) bool {
	if info, err := os.Stat(file + "-wal"); err == nil && info.Size() > 0 {
		return false
	}
	probe, err := os.CreateTemp(filepath.Dir(file), ".write-probe-*")
	if err != nil {
		return true
	}
	probe.Close()
	os.Remove(probe.Name())
	return false
}
