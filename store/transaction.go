package store

import (
	"context"
	"database/sql"
	"strings"

	"forkwear/inspect"
)

// querier is what reading needs: a handle or a transaction.
type querier interface {
	QueryContext(ctx context.Context, q string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, q string, args ...any) *sql.Row
}

// write runs f in one immediate transaction: all of it is kept or nothing.
func (db *DB) write(ctx context.Context, f func(tx *sql.Tx) error) error {
	if db.writer == nil {
		return inspect.Refuse(inspect.ReadOnly, "the library %s is open for reading only: open it for writing to change it", db.file)
	}
	tx, err := db.writer.BeginTx(ctx, nil)
	if err != nil {
		return refuse(db.file, err)
	}
	defer tx.Rollback() //nolint:errcheck // nothing to do after a commit
	if err = f(tx); err == nil {
		err = tx.Commit()
	}
	if err != nil && ctx.Err() != nil {
		return ctx.Err() // the caller gave up: what SQLite says to that is of no use
	}
	return refuse(db.file, err)
}

// gather reads all records of one query. rest follows the list of columns.
func gather[T any](ctx context.Context, q querier, bind func(*T) columns, rest string, args ...any) ([]T, error) {
	var one T
	cs := bind(&one)
	targets := cs.targets()
	rows, err := q.QueryContext(ctx, "SELECT "+cs.list()+" "+rest, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		if err := rows.Scan(targets...); err != nil {
			return nil, err
		}
		if err := cs.finish(); err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, rows.Err()
}

// single reads one record and answers NotFound with the given name of it.
func single[T any](ctx context.Context, q querier, bind func(*T) columns, what string, key any, rest string) (T, error) {
	found, err := gather(ctx, q, bind, rest, key)
	if err != nil {
		var none T
		return none, err
	}
	if len(found) == 0 {
		var none T
		return none, inspect.Refuse(inspect.NotFound, "there is no %s %v in the library: search for it by another word", what, key)
	}
	return found[0], nil
}

// insert writes one new row and notes it in the change log.
func (db *DB) insert(ctx context.Context, tx *sql.Tx, table string, id inspect.ID, cs columns) error {
	if id == "" {
		return inspect.Refuse(inspect.Invalid, "a new %s needs an id of its own", table)
	}
	vs, err := cs.values()
	if err != nil {
		return err
	}
	q := "INSERT INTO " + table + " (" + cs.list() + ") VALUES (?" + strings.Repeat(", ?", len(vs)-1) + ")"
	if _, err := tx.ExecContext(ctx, q, vs...); err != nil {
		return err
	}
	return db.note(ctx, tx, table, id, "add")
}

// upsert writes one row, new or changed; keys are its key columns, which come
// first in cs; id names the row in the change log.
func (db *DB) upsert(ctx context.Context, tx *sql.Tx, table string, id inspect.ID, keys []string, cs columns) error {
	if id == "" {
		return inspect.Refuse(inspect.Invalid, "a %s needs an id of its own", table)
	}
	vs, err := cs.values()
	if err != nil {
		return err
	}
	known, err := exists(ctx, tx, table, strings.Join(keys, " = ? AND ")+" = ?", vs[:len(keys)]...)
	if err != nil {
		return err
	}
	var set []string
	for _, n := range cs.names()[len(keys):] {
		set = append(set, n+" = excluded."+n)
	}
	q := "INSERT INTO " + table + " (" + cs.list() + ") VALUES (?" + strings.Repeat(", ?", len(vs)-1) +
		") ON CONFLICT (" + strings.Join(keys, ", ") + ") DO UPDATE SET " + strings.Join(set, ", ")
	if _, err := tx.ExecContext(ctx, q, vs...); err != nil {
		return err
	}
	return db.note(ctx, tx, table, id, whatDone(known))
}

// update changes the row with this id; it must be there.
func (db *DB) update(ctx context.Context, tx *sql.Tx, table string, id inspect.ID, cs columns) error {
	vs, err := cs.values()
	if err != nil {
		return err
	}
	q := "UPDATE " + table + " SET " + strings.Join(cs.names(), " = ?, ") + " = ? WHERE id = ?"
	if _, err := tx.ExecContext(ctx, q, append(vs, string(id))...); err != nil {
		return err
	}
	return db.note(ctx, tx, table, id, "change")
}

// drop deletes a row that nothing names any more, and tells the change log.
func (db *DB) drop(ctx context.Context, tx *sql.Tx, table string, id inspect.ID) error {
	if _, err := tx.ExecContext(ctx, "DELETE FROM "+table+" WHERE id = ?", string(id)); err != nil {
		return err
	}
	return db.note(ctx, tx, table, id, "drop")
}

func whatDone(known bool) string {
	if known {
		return "change"
	}
	return "add"
}

func exists(ctx context.Context, q querier, table, where string, args ...any) (bool, error) {
	var yes bool
	err := q.QueryRowContext(ctx, "SELECT EXISTS (SELECT 1 FROM "+table+" WHERE "+where+")", args...).Scan(&yes)
	return yes, err
}

// note writes one line of the change log: this machine's next number.
func (db *DB) note(ctx context.Context, tx *sql.Tx, table string, id inspect.ID, what string) error {
	at, err := momentValues("the time of the change", db.clock())
	if err != nil {
		return err
	}
	const q = `INSERT INTO change_log (machine, seq, at, at_offset, table_name, row_id, what)
		SELECT ?1, coalesce(max(seq), 0) + 1, ?2, ?3, ?4, ?5, ?6 FROM change_log WHERE machine = ?1`
	_, err = tx.ExecContext(ctx, q, db.machine, at[0], at[1], table, string(id), what)
	return err
}

// limited turns "0 or less means all" into SQLite's "-1 means all".
func limited(n int) int {
	if n <= 0 {
		return -1
	}
	return n
}

// where collects the conditions of a filter.
type where struct {
	conditions []string
	args       []any
}

func (w *where) add(condition string, args ...any) {
	w.conditions = append(w.conditions, condition)
	w.args = append(w.args, args...)
}

func (w *where) String() string {
	if len(w.conditions) == 0 {
		return ""
	}
	return " WHERE " + strings.Join(w.conditions, " AND ")
}
