package store

import (
	"context"
	"database/sql"
	"errors"

	"forkwear/inspect"
)

// Preference returns one choice of the shop, "" when unset.
func (db *DB) Preference(ctx context.Context, key string) (value string, err error) {
	err = db.reader.QueryRowContext(ctx, "SELECT value FROM preference WHERE key = ?", key).Scan(&value)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return value, refuse(db.file, err)
}

// PutPreference keeps one choice of the shop.
func (db *DB) PutPreference(ctx context.Context, key, value string) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		return db.upsert(ctx, tx, "preference", inspect.ID(key), []string{"key"}, columns{text("key", &key), text("value", &value)})
	})
}
