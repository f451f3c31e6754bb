package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func forkColumns(f *inspect.Fork) columns {
	return columns{
		text("id", &f.ID), text("customer_id", &f.CustomerID), text("maker", &f.Maker), text("model", &f.Model),
		whole("year", &f.Year), text("serial", &f.Serial), text("tag", &f.Tag), text("sheet", &f.Sheet),
		text("note", &f.Note), moment("created", &f.Created),
	}
}

// SaveFork keeps a new or changed fork; its customer must be there.
func (db *DB) SaveFork(ctx context.Context, f inspect.Fork) error {
	return db.write(ctx, func(tx *sql.Tx) error { return db.saveFork(ctx, tx, f) })
}

func (db *DB) saveFork(ctx context.Context, tx *sql.Tx, f inspect.Fork) error {
	if err := known(ctx, tx, "customer", f.CustomerID); err != nil {
		return err
	}
	if err := db.upsert(ctx, tx, "fork", f.ID, []string{"id"}, forkColumns(&f)); err != nil {
		return err
	}
	return indexFork(ctx, tx, f.ID)
}

// known answers NotFound, by name, where a record is not there.
func known(ctx context.Context, q querier, table string, id inspect.ID) error {
	yes, err := exists(ctx, q, table, "id = ?", string(id))
	if err == nil && !yes {
		err = inspect.Refuse(inspect.NotFound, "there is no %s %q in the library: save it first", table, id)
	}
	return err
}

// Fork returns one fork.
func (db *DB) Fork(ctx context.Context, id inspect.ID) (inspect.Fork, error) {
	f, err := single(ctx, db.reader, forkColumns, "fork", id, "FROM fork WHERE id = ?")
	return f, refuse(db.file, err)
}

func forkRowColumns(r *inspect.ForkRow) columns {
	cs := forkColumns(&r.Fork).of("f")
	cs = append(cs, customerColumns(&r.Customer).of("c")...)
	return append(cs, whole("(SELECT count(*) FROM visit n WHERE n.fork_id = f.id)", &r.Visits),
		columns{moment("dropped_off", &r.LastVisit)}.of("l")[0])
}

// FindForks searches makers, models, years, serials, tags and the names, phones
// and mail addresses of the customers; the fork seen last comes first. No text
// finds all; a limit of 0 or less is none.
func (db *DB) FindForks(ctx context.Context, text string, limit int) ([]inspect.ForkRow, error) {
	condition, args := matching(text)
	found, err := gather(ctx, db.reader, forkRowColumns, forksFound(condition), append(args, limited(limit))...)
	return found, refuse(db.file, err)
}

// forksFound reads the index fork_search_recent in its order and stops at the
// limit; only what is found is looked up in the other tables.
func forksFound(condition string) string {
	return `FROM (SELECT fork_id, last_visit FROM fork_search WHERE ` + condition + `
			ORDER BY last_visit DESC, fork_id DESC LIMIT ?) s
		CROSS JOIN fork f ON f.id = s.fork_id
		CROSS JOIN customer c ON c.id = f.customer_id
		LEFT JOIN visit l ON l.id = (SELECT v.id FROM visit v WHERE v.fork_id = f.id ORDER BY v.dropped_off DESC, v.id DESC LIMIT 1)
		ORDER BY s.last_visit DESC, s.fork_id DESC`
}
