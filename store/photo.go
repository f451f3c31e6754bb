package store

import (
	"context"
	"database/sql"

	"forkwear/inspect"
)

func photoColumns(p *inspect.Photo) columns {
	return append(columns{
		text("id", &p.ID), text("sha256", &p.SHA256), text("format", &p.Format), whole("bytes", &p.Bytes),
		whole("width", &p.Width), whole("height", &p.Height), whole("orientation", &p.Orientation),
		text("wall_time", &p.WallTime), text("wall_offset", &p.Offset), text("offset_source", &p.OffsetSource),
		text("date_source", &p.DateSource), text("sub_sec", &p.SubSec), text("make", &p.Make), text("model", &p.Model),
		text("body_serial", &p.BodySerial), flag("has_position", &p.HasPosition), number("sharpness", &p.Sharpness),
		flag("usable", &p.Usable), document("remarks", &p.Remarks), whole("focal_length_35", &p.FocalLength35), text("gps_time", &p.GPSTime),
		text("fingerprint", &p.Fingerprint), text("card_code", &p.CardCode), document("card", &p.Card),
		flag("drawn", &p.Drawn), text("file_name", &p.FileName), ref("visit_id", &p.VisitID), text("added_by", &p.AddedBy), moment("added_at", &p.AddedAt),
	}, placeColumns(p)...)
}

// placeColumns are where a photo belongs: what sorting the tray changes.
func placeColumns(p *inspect.Photo) columns {
	return columns{
		text("check_id", &p.Check), text("leg", &p.Leg), text("stage", &p.Stage), ref("fitting_id", &p.FittingID), text("role", &p.Role),
	}
}

// AddPhoto keeps what is known of a photo, with its visit or, where nobody knows
// that yet, without one. The same bytes in the same visit, or twice among those
// without one, change nothing and answer existed.
func (db *DB) AddPhoto(ctx context.Context, p inspect.Photo) (existed bool, err error) {
	err = db.write(ctx, func(tx *sql.Tx) error {
		fork, err := forkOfPhoto(ctx, tx, p)
		if err != nil {
			return err
		}
		if p.SHA256 == "" || p.AddedAt.IsZero() {
			return inspect.Refuse(inspect.Invalid, "the photo %s needs the sum of its bytes and the time it was added", p.FileName)
		}
		existed, err = exists(ctx, tx, "photo", "visit_id IS ? AND sha256 = ?", nullable(p.VisitID), p.SHA256)
		if err != nil || existed {
			return err
		}
		if err := validPlace(ctx, tx, p, fork); err != nil {
			return err
		}
		return db.insert(ctx, tx, "photo", p.ID, photoColumns(&p))
	})
	return existed && err == nil, err
}

func nullable(id inspect.ID) sql.NullString {
	return sql.NullString{String: string(id), Valid: id != ""}
}

// forkOfPhoto is the fork of the photo's visit, which must be open; "" for a
// photo without a visit, which can't be of a check or part yet.
func forkOfPhoto(ctx context.Context, tx *sql.Tx, p inspect.Photo) (inspect.ID, error) {
	if p.VisitID != "" {
		v, err := openVisit(ctx, tx, p.VisitID)
		return v.ForkID, err
	}
	if p.Check != "" || p.FittingID != "" {
		return "", inspect.Refuse(inspect.Invalid, "the photo %s has no visit yet: file it with one before it goes to a check", p.FileName)
	}
	return "", nil
}

// FilePhoto gives a photo without a visit to an open one. Where the same bytes
// lie there already the photo goes, what lies on it goes over to the one that
// stays, and existed is told.
func (db *DB) FilePhoto(ctx context.Context, photo, visit inspect.ID) (existed bool, err error) {
	err = db.write(ctx, func(tx *sql.Tx) error {
		p, err := single(ctx, tx, photoColumns, "photo", photo, "FROM photo WHERE id = ?")
		if err != nil {
			return err
		}
		if _, err := openVisit(ctx, tx, visit); err != nil {
			return err
		}
		if p.VisitID != "" {
			return inspect.Refuse(inspect.Conflict, "the photo %s is filed with a visit already: it stays there", p.FileName)
		}
		same, err := gather(ctx, tx, photoColumns, "FROM photo WHERE visit_id = ? AND sha256 = ?", string(visit), p.SHA256)
		if err != nil {
			return err
		}
		if existed = len(same) > 0; existed {
			return db.mergePhoto(ctx, tx, p.ID, same[0].ID)
		}
		return db.update(ctx, tx, "photo", p.ID, columns{ref("visit_id", &visit)})
	})
	return existed && err == nil, err
}

// UnfilePhoto takes a photo out of its open visit. Where the same bytes wait
// without a visit already it goes, and what lies on it goes over to that one.
func (db *DB) UnfilePhoto(ctx context.Context, photo inspect.ID) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		p, err := single(ctx, tx, photoColumns, "photo", photo, "FROM photo WHERE id = ?")
		if err != nil {
			return err
		}
		if p.VisitID == "" {
			return inspect.Refuse(inspect.Conflict, "the photo %s is with no visit: there is nothing to take it out of", p.FileName)
		}
		if _, err := openVisit(ctx, tx, p.VisitID); err != nil {
			return err
		}
		read, err := exists(ctx, tx, "photo_measure", "photo_id = ? AND reading_id IS NOT NULL AND NOT gone", string(photo))
		if err != nil {
			return err
		}
		if read {
			return inspect.Refuse(inspect.Conflict, "a size measured on the photo %s is a value of its visit: take the size off first", p.FileName)
		}
		same, err := gather(ctx, tx, photoColumns, "FROM photo WHERE visit_id IS NULL AND sha256 = ?", p.SHA256)
		if err != nil {
			return err
		}
		if len(same) > 0 {
			return db.mergePhoto(ctx, tx, p.ID, same[0].ID)
		}
		loose := inspect.Photo{}
		return db.update(ctx, tx, "photo", p.ID, append(placeColumns(&loose), ref("visit_id", &loose.VisitID)))
	})
}

// mergePhoto drops a photo of the same bytes as another one and gives its
// marks, sizes and clocks to that one.
func (db *DB) mergePhoto(ctx context.Context, tx *sql.Tx, from, to inspect.ID) error {
	for _, table := range []string{"mark", "photo_measure", "camera_clock"} {
		ids, err := lines(ctx, tx, "SELECT id FROM "+table+" WHERE photo_id = ?", string(from))
		if err != nil {
			return err
		}
		for _, id := range ids {
			if err := db.update(ctx, tx, table, inspect.ID(id), columns{text("photo_id", &to)}); err != nil {
				return err
			}
		}
	}
	return db.drop(ctx, tx, "photo", from)
}

// PlacePhoto says where a photo belongs: its check, leg, stage, fitting and
// role. Nothing else of it is changed.
func (db *DB) PlacePhoto(ctx context.Context, p inspect.Photo) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		old, err := single(ctx, tx, photoColumns, "photo", p.ID, "FROM photo WHERE id = ?")
		if err != nil {
			return err
		}
		p.VisitID = old.VisitID
		fork, err := forkOfPhoto(ctx, tx, p)
		if err != nil {
			return err
		}
		if err := validPlace(ctx, tx, p, fork); err != nil {
			return err
		}
		return db.update(ctx, tx, "photo", p.ID, placeColumns(&p))
	})
}

func validPlace(ctx context.Context, tx *sql.Tx, p inspect.Photo, fork inspect.ID) error {
	switch {
	case !p.Leg.Valid():
		return inspect.Refuse(inspect.Invalid, "leg %q of the photo %s is neither left nor right", p.Leg, p.FileName)
	case p.Stage != "" && !p.Stage.Valid():
		return inspect.Refuse(inspect.Invalid, "stage %q of the photo %s is not received, stripped or after work", p.Stage, p.FileName)
	}
	return fittingOf(ctx, tx, p.FittingID, fork)
}

// Photos returns photos, oldest first.
func (db *DB) Photos(ctx context.Context, f inspect.PhotoFilter) ([]inspect.Photo, error) {
	var w where
	if f.VisitID != "" {
		w.add("visit_id = ?", string(f.VisitID))
	}
	if f.ForkID != "" {
		w.add("visit_id IN (SELECT id FROM visit WHERE fork_id = ?)", string(f.ForkID))
	}
	if f.Check != "" {
		w.add("check_id = ?", f.Check)
	}
	if f.Tray {
		w.add("check_id = '' AND role = ''")
	}
	if f.Unsorted {
		w.add("visit_id IS NULL")
	}
	if f.Fingerprint {
		w.add("fingerprint <> ''")
	}
	if f.SHA256 != "" {
		w.add("sha256 = ?", f.SHA256)
	}
	found, err := gather(ctx, db.reader, photoColumns, "FROM photo"+w.String()+" ORDER BY added_at, id", w.args...)
	return found, refuse(db.file, err)
}
