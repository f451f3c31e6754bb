package store

import (
	"context"
	"fmt"
)

// LimitPages makes the disk full for the tests: SQLite answers SQLITE_FULL when
// the file would grow over n pages, as it does on a full disk.
func (db *DB) LimitPages(ctx context.Context, n int) error {
	_, err := db.writer.ExecContext(ctx, fmt.Sprintf("PRAGMA max_page_count = %d", n))
	return err
}

// WriterPragma tells what is in force on the connection that writes.
func (db *DB) WriterPragma(ctx context.Context, name string) (value string, err error) {
	err = db.writer.QueryRowContext(ctx, "PRAGMA "+name).Scan(&value)
	return value, err
}
