package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func clockColumns(c *inspect.CameraClock) columns {
	return columns{
		text("id", &c.ID), text("camera", &c.Camera), whole("add_ns", &c.Add), text("source", &c.Source), ref("photo_id", &c.PhotoID),
		text("by_whom", &c.By), moment("at", &c.At),
	}
}

// AddClock keeps how far a camera's clock is off, beside what was known before.
func (db *DB) AddClock(ctx context.Context, c inspect.CameraClock) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		if err := c.Validate(); err != nil {
			return err
		}
		return db.insert(ctx, tx, "camera_clock", c.ID, clockColumns(&c))
	})
}

// Clocks returns the newest clock of each camera, by the name of the camera.
func (db *DB) Clocks(ctx context.Context) ([]inspect.CameraClock, error) {
	found, err := gather(ctx, db.reader, clockColumns, `FROM camera_clock c WHERE NOT EXISTS
		(SELECT 1 FROM camera_clock n WHERE n.camera = c.camera AND (n.at, n.id) > (c.at, c.id)) ORDER BY camera`)
	return found, refuse(db.file, err)
}
