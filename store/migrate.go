package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"time"

	"forkwear/inspect"
)

//go:embed migrations/*.sql
var migrations embed.FS

// applicationID marks a file as ours in SQLite's header: "FkWr".
const applicationID = 0x466b5772

// migrationNames returns the migrations in order; the n-th leads to version n.
func migrationNames() []string {
	names, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		panic(err) // the pattern is ours
	}
	return names // sorted by fs.Glob
}

func newest() int { return len(migrationNames()) }

// peek reads the version of a file without changing it, and refuses what is
// not ours or is newer than this program.
func peek(ctx context.Context, file string) (int, error) {
	h, err := sql.Open("sqlite", readDSN(file))
	if err != nil {
		return 0, err
	}
	defer h.Close()
	return version(ctx, h, file)
}

func version(ctx context.Context, q querier, file string) (int, error) {
	var app, version, tables int
	const query = `SELECT (SELECT application_id FROM pragma_application_id),
		(SELECT user_version FROM pragma_user_version), (SELECT count(*) FROM sqlite_schema)`
	if err := q.QueryRowContext(ctx, query).Scan(&app, &version, &tables); err != nil {
		return 0, err
	}
	switch {
	case app != applicationID && (tables > 0 || version != 0):
		return 0, inspect.Refuse(inspect.Invalid, "%s is a database of another program: choose another folder for the library", file)
	case version > newest():
		return 0, inspect.Refuse(inspect.TooNew, "the library %s was written by a newer version of this program (its version is %d, this program knows up to %d): install the newer program", file, version, newest())
	}
	return version, nil
}

// patience is how long a program waits for another one that makes or brings up
// to date the same library.
const patience = 5 * time.Second

// migrate brings the library to the newest version. While another program turns
// on the write-ahead log SQLite answers 'busy' without waiting (it can't tell a
// deadlock then), so that it is tried again here.
func (db *DB) migrate(ctx context.Context) error {
	start := time.Now()
	for {
		err := refuse(db.file, db.bringUpToDate(ctx))
		if inspect.CodeOf(err) != inspect.Conflict || time.Since(start) > patience {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// bringUpToDate runs the missing migrations in one transaction: a second program
// that opens at the same time waits and then finds it done.
func (db *DB) bringUpToDate(ctx context.Context) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		from, err := version(ctx, tx, db.file)
		if err != nil || from == newest() {
			return err
		}
		for _, name := range migrationNames()[from:] {
			script, err := migrations.ReadFile(name)
			if err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, string(script)); err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
		}
		if from == 0 {
			if err := db.found(ctx, tx); err != nil {
				return err
			}
		}
		if err := reindex(ctx, tx); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", applicationID, newest()))
		return err
	})
}

// found writes the birth of the library.
func (db *DB) found(ctx context.Context, tx *sql.Tx) error {
	at, err := momentValues("the time of the library", db.clock())
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, "INSERT INTO library (only_row, id, created, created_offset) VALUES (1, ?, ?, ?)", string(db.newID()), at[0], at[1])
	return err
}
