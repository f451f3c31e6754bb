package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func settingColumns(s *inspect.Setting) columns {
	return columns{
		text("visit_id", &s.VisitID), text("moment", &s.Moment), text("key", &s.Key),
		number("value", &s.Value), text("unit", &s.Unit), text("typed", &s.Text),
	}
}

// PutSetting keeps one adjustment; there is one of each key and moment. One
// without value and text takes it away.
func (db *DB) PutSetting(ctx context.Context, s inspect.Setting) error {
	return db.write(ctx, func(tx *sql.Tx) error { return db.putSetting(ctx, tx, s) })
}

func (db *DB) putSetting(ctx context.Context, tx *sql.Tx, s inspect.Setting) error {
	if _, err := openVisit(ctx, tx, s.VisitID); err != nil {
		return err
	}
	if s.Key == "" || (s.Moment != "found" && s.Moment != "left") {
		return inspect.Refuse(inspect.Invalid, "setting %q at %q can't be kept: it needs a name, and is found or left", s.Key, s.Moment)
	}
	id := s.VisitID + "/" + inspect.ID(s.Moment+"/"+s.Key)
	return db.upsert(ctx, tx, "setting", id, []string{"visit_id", "moment", "key"}, settingColumns(&s))
}

// SettingsOf returns the settings of a visit by moment and key, without those
// that were taken away.
func (db *DB) SettingsOf(ctx context.Context, visit inspect.ID) ([]inspect.Setting, error) {
	found, err := gather(ctx, db.reader, settingColumns, "FROM setting WHERE visit_id = ? AND (value <> 0 OR typed <> '') ORDER BY moment, key", string(visit))
	return found, refuse(db.file, err)
}
