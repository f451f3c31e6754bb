package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func measureColumns(m *inspect.PhotoMeasure) columns {
	return columns{
		text("id", &m.ID), text("photo_id", &m.PhotoID), text("kind", &m.Kind), document("card", &m.Card), document("known", &m.Known),
		document("tube", &m.Tube), document("line", &m.Line), document("outline", &m.Outline), blob("mask", &m.Mask), document("mask_window", &m.Window),
		number("value", &m.Value), number("low", &m.Low), number("high", &m.High), text("unit", &m.Unit),
		text("method", &m.Method), document("remarks", &m.Remarks), ref("reading_id", &m.ReadingID),
		text("by_whom", &m.By), moment("at", &m.At), flag("gone", &m.Gone),
	}
}

// AddPhotoMeasure keeps a size measured on a photo with all that was marked for it.
func (db *DB) AddPhotoMeasure(ctx context.Context, m inspect.PhotoMeasure) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		if err := m.Validate(); err != nil {
			return err
		}
		p, err := openPhoto(ctx, tx, m.PhotoID)
		if err != nil {
			return err
		}
		if m.ReadingID != "" {
			if err := known(ctx, tx, "reading", m.ReadingID); err != nil {
				return err
			}
			same, err := exists(ctx, tx, "reading", "id = ? AND visit_id = ?", string(m.ReadingID), string(p.VisitID))
			if err != nil {
				return err
			}
			if !same {
				return inspect.Refuse(inspect.Invalid, "the reading of this %s is not of the visit of the photo %s: measure on a photo of the same visit", m.Kind, p.FileName)
			}
		}
		return db.insert(ctx, tx, "photo_measure", m.ID, measureColumns(&m))
	})
}

// TakeMeasureOff hides a size; it stays in the library.
func (db *DB) TakeMeasureOff(ctx context.Context, measure inspect.ID) error {
	return db.setGone(ctx, "photo_measure", measure, true)
}

// PhotoMeasures returns the sizes on photos that were not taken off, oldest first.
func (db *DB) PhotoMeasures(ctx context.Context, photos ...inspect.ID) ([]inspect.PhotoMeasure, error) {
	found, err := onPhotos(ctx, db, measureColumns, "photo_measure", photos)
	return found, refuse(db.file, err)
}
