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

// SearchPlans tells how SQLite goes about the two searches for a text.
func (db *DB) SearchPlans(ctx context.Context, text string) (forks, customers []string, err error) {
	condition, args := matching(text)
	args = append(args, 50)
	if forks, err = db.plan(ctx, "SELECT 1 "+forksFound(condition), args); err != nil {
		return nil, nil, err
	}
	customers, err = db.plan(ctx, "SELECT 1 "+customersFound(condition), args)
	return forks, customers, err
}

func (db *DB) plan(ctx context.Context, query string, args []any) (steps []string, err error) {
	rows, err := db.reader.QueryContext(ctx, "EXPLAIN QUERY PLAN "+query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var id, parent, unused int
		var step string
		if err := rows.Scan(&id, &parent, &unused, &step); err != nil {
			return nil, err
		}
		steps = append(steps, step)
	}
	return steps, rows.Err()
}
