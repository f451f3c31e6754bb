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
		flag("usable", &p.Usable), document("remarks", &p.Remarks), flag("drawn", &p.Drawn), text("file_name", &p.FileName),
		text("visit_id", &p.VisitID), text("added_by", &p.AddedBy), moment("added_at", &p.AddedAt),
	}, placeColumns(p)...)
}

// placeColumns are where a photo belongs: what sorting the tray changes.
func placeColumns(p *inspect.Photo) columns {
	return columns{
		text("check_id", &p.Check), text("leg", &p.Leg), text("stage", &p.Stage), ref("fitting_id", &p.FittingID), text("role", &p.Role),
	}
}

// AddPhoto keeps what is known of a photo. The same bytes in the same visit
// change nothing and answer existed.
func (db *DB) AddPhoto(ctx context.Context, p inspect.Photo) (existed bool, err error) {
	err = db.write(ctx, func(tx *sql.Tx) error {
		v, err := openVisit(ctx, tx, p.VisitID)
		if err != nil {
			return err
		}
		if p.SHA256 == "" || p.AddedAt.IsZero() {
			return inspect.Refuse(inspect.Invalid, "the photo %s needs the sum of its bytes and the time it was added", p.FileName)
		}
		existed, err = exists(ctx, tx, "photo", "visit_id = ? AND sha256 = ?", string(p.VisitID), p.SHA256)
		if err != nil || existed {
			return err
		}
		if err := validPlace(ctx, tx, p, v.ForkID); err != nil {
			return err
		}
		return db.insert(ctx, tx, "photo", p.ID, photoColumns(&p))
	})
	return existed && err == nil, err
}

// PlacePhoto says where a photo belongs: its check, leg, stage, fitting and
// role. Nothing else of it is changed.
func (db *DB) PlacePhoto(ctx context.Context, p inspect.Photo) error {
	return db.write(ctx, func(tx *sql.Tx) error {
		old, err := single(ctx, tx, photoColumns, "photo", p.ID, "FROM photo WHERE id = ?")
		if err != nil {
			return err
		}
		v, err := openVisit(ctx, tx, old.VisitID)
		if err != nil {
			return err
		}
		if err := validPlace(ctx, tx, p, v.ForkID); err != nil {
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
	found, err := gather(ctx, db.reader, photoColumns, "FROM photo"+w.String()+" ORDER BY added_at, id", w.args...)
	return found, refuse(db.file, err)
}
