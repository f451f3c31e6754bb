package store

import (
	"context"
	"database/sql"
	"strings"

	"forkwear/inspect"
)

func markColumns(m *inspect.Mark) columns {
	return columns{
		text("id", &m.ID), text("photo_id", &m.PhotoID), text("kind", &m.Kind), document("points", &m.Points), text("words", &m.Text),
		text("by_whom", &m.By), moment("at", &m.At), flag("gone", &m.Gone),
	}
}

// AddMark keeps a mark over a photo.
func (db *DB) AddMark(ctx context.Context, m inspect.Mark) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		if err := m.Validate(); err != nil {
			return err
		}
		if _, err := openPhoto(ctx, tx, m.PhotoID); err != nil {
			return err
		}
		return db.insert(ctx, tx, "mark", m.ID, markColumns(&m))
	})
}

// TakeMarkOff hides a mark; it stays in the library.
func (db *DB) TakeMarkOff(ctx context.Context, mark inspect.ID) error {
	return db.setGone(ctx, "mark", mark, true)
}

// PutMarkBack shows a mark again that was taken off.
func (db *DB) PutMarkBack(ctx context.Context, mark inspect.ID) error {
	return db.setGone(ctx, "mark", mark, false)
}

// setGone takes a mark or a size off its photo, or puts it back; what is so
// already stays so and is not noted.
func (db *DB) setGone(ctx context.Context, table string, id inspect.ID, gone bool) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		was, err := single(ctx, tx, goneColumns, strings.ReplaceAll(table, "_", " "), id, "FROM "+table+" WHERE id = ?")
		if err != nil {
			return err
		}
		if _, err := openPhoto(ctx, tx, was.photo); err != nil || was.gone == gone {
			return err
		}
		return db.update(ctx, tx, table, id, columns{flag("gone", &gone)})
	})
}

// overlay is what marks and sizes have in common: a photo, and being taken off.
type overlay struct {
	photo inspect.ID
	gone  bool
}

func goneColumns(o *overlay) columns {
	return columns{text("photo_id", &o.photo), flag("gone", &o.gone)}
}

// openPhoto returns a photo that may still be marked: one without a visit or
// of an open one; NotFound or Locked.
func openPhoto(ctx context.Context, tx *sql.Tx, id inspect.ID) (inspect.Photo, error) {
	p, err := single(ctx, tx, photoColumns, "photo", id, "FROM photo WHERE id = ?")
	if err == nil && p.VisitID != "" {
		_, err = openVisit(ctx, tx, p.VisitID)
	}
	return p, err
}

// Marks returns the marks of photos that were not taken off, oldest first.
func (db *DB) Marks(ctx context.Context, photos ...inspect.ID) ([]inspect.Mark, error) {
	found, err := onPhotos(ctx, db, markColumns, "mark", photos)
	return found, refuse(db.file, err)
}

// onPhotos gathers what lies on any of the photos in one query, however many
// they are: SQLite takes the ids as one JSON text.
func onPhotos[T any](ctx context.Context, db *DB, bind func(*T) columns, table string, photos []inspect.ID) ([]T, error) {
	if len(photos) == 0 {
		return nil, nil
	}
	list := document("photos", &photos)
	vs, err := list.value()
	if err != nil {
		return nil, err
	}
	return gather(ctx, db.reader, bind, "FROM "+table+" WHERE gone = 0 AND photo_id IN (SELECT value FROM json_each(?)) ORDER BY at, id", vs...)
}
