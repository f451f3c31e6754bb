-- Photographs as evidence: photos that wait for their visit, what was in front
-- at the bench when, the clocks of the cameras, marks and sizes on photos, and
-- signatures. SQLite can't make a column nullable, so that the table of photos
-- is made anew; nothing named it before.

CREATE TABLE photo_of_3 (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  sha256 TEXT NOT NULL CHECK (sha256 <> ''), format TEXT NOT NULL, bytes INTEGER NOT NULL,
  width INTEGER NOT NULL, height INTEGER NOT NULL, orientation INTEGER NOT NULL,
  wall_time TEXT NOT NULL, wall_offset TEXT NOT NULL, offset_source TEXT NOT NULL,
  date_source TEXT NOT NULL, sub_sec TEXT NOT NULL,
  make TEXT NOT NULL, model TEXT NOT NULL, body_serial TEXT NOT NULL,
  has_position INTEGER NOT NULL, sharpness REAL NOT NULL, usable INTEGER NOT NULL,
  remarks TEXT, focal_length_35 INTEGER NOT NULL, gps_time TEXT NOT NULL,
  fingerprint TEXT NOT NULL, card_code TEXT NOT NULL, card TEXT,
  drawn INTEGER NOT NULL, file_name TEXT NOT NULL,
  visit_id TEXT REFERENCES visit (id),
  check_id TEXT NOT NULL, leg TEXT NOT NULL, stage TEXT NOT NULL,
  fitting_id TEXT REFERENCES fitting (id), role TEXT NOT NULL,
  added_by TEXT NOT NULL,
  added_at TEXT NOT NULL, added_at_offset INTEGER NOT NULL,
  UNIQUE (visit_id, sha256),
  CHECK (visit_id IS NOT NULL OR (check_id = '' AND fitting_id IS NULL))
) STRICT;
INSERT INTO photo_of_3 SELECT id, sha256, format, bytes, width, height, orientation,
  wall_time, wall_offset, offset_source, date_source, sub_sec, make, model, body_serial,
  has_position, sharpness, usable, remarks, 0, '', '', '', NULL, drawn, file_name,
  visit_id, check_id, leg, stage, fitting_id, role, added_by, added_at, added_at_offset FROM photo;
DROP TABLE photo;
ALTER TABLE photo_of_3 RENAME TO photo;
CREATE INDEX photo_check ON photo (check_id);
CREATE INDEX photo_sha256 ON photo (sha256);
CREATE UNIQUE INDEX photo_unsorted ON photo (sha256) WHERE visit_id IS NULL;
CREATE INDEX photo_fingerprint ON photo (added_at, id) WHERE fingerprint <> '';

ALTER TABLE visit ADD COLUMN signed_by TEXT NOT NULL DEFAULT '';
ALTER TABLE visit ADD COLUMN signature TEXT;
ALTER TABLE consent ADD COLUMN signature TEXT;

CREATE TABLE focus (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  visit_id TEXT NOT NULL REFERENCES visit (id),
  check_id TEXT NOT NULL, leg TEXT NOT NULL, stage TEXT NOT NULL,
  by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL
) STRICT;
CREATE INDEX focus_at ON focus (at, id);

CREATE TABLE camera_clock (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  camera TEXT NOT NULL CHECK (camera <> ''),
  add_ns INTEGER NOT NULL, source TEXT NOT NULL,
  photo_id TEXT REFERENCES photo (id),
  by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL
) STRICT;
CREATE INDEX camera_clock_newest ON camera_clock (camera, at, id);
CREATE INDEX camera_clock_photo ON camera_clock (photo_id) WHERE photo_id IS NOT NULL;

CREATE TABLE mark (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  photo_id TEXT NOT NULL REFERENCES photo (id),
  kind TEXT NOT NULL, points TEXT NOT NULL, words TEXT NOT NULL,
  by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL,
  gone INTEGER NOT NULL
) STRICT;
CREATE INDEX mark_photo ON mark (photo_id, at, id);

CREATE TABLE photo_measure (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  photo_id TEXT NOT NULL REFERENCES photo (id),
  kind TEXT NOT NULL, card TEXT, known TEXT, tube TEXT, line TEXT, outline TEXT,
  mask BLOB, mask_window TEXT NOT NULL,
  value REAL NOT NULL, low REAL NOT NULL, high REAL NOT NULL, unit TEXT NOT NULL,
  method TEXT NOT NULL, remarks TEXT,
  reading_id TEXT REFERENCES reading (id),
  by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL,
  gone INTEGER NOT NULL
) STRICT;
CREATE INDEX photo_measure_photo ON photo_measure (photo_id, at, id);
CREATE INDEX photo_measure_reading ON photo_measure (reading_id) WHERE reading_id IS NOT NULL;

-- A photo that lay unsorted beside the same bytes in its visit is dropped, and
-- the change log tells it.
CREATE TABLE change_log_of_3 (
  machine TEXT NOT NULL,
  seq INTEGER NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL,
  table_name TEXT NOT NULL,
  row_id TEXT NOT NULL,
  what TEXT NOT NULL CHECK (what IN ('add', 'change', 'drop')),
  PRIMARY KEY (machine, seq)
) STRICT, WITHOUT ROWID;
INSERT INTO change_log_of_3 SELECT machine, seq, at, at_offset, table_name, row_id, what FROM change_log;
DROP TABLE change_log;
ALTER TABLE change_log_of_3 RENAME TO change_log;

CREATE TRIGGER change_log_stays BEFORE UPDATE ON change_log
BEGIN SELECT RAISE(ABORT, 'the change log is never changed'); END;
CREATE TRIGGER change_log_kept BEFORE DELETE ON change_log
BEGIN SELECT RAISE(ABORT, 'the change log is never deleted'); END;
CREATE TRIGGER focus_stays BEFORE UPDATE ON focus
BEGIN SELECT RAISE(ABORT, 'what was in front is never changed'); END;
CREATE TRIGGER focus_kept BEFORE DELETE ON focus
BEGIN SELECT RAISE(ABORT, 'what was in front is never deleted'); END;
CREATE TRIGGER photo_kept BEFORE DELETE ON photo WHEN OLD.visit_id IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a photo of a visit is never deleted'); END;
-- Marks, sizes and clocks go over to the photo that stays when the same bytes
-- lay in two places, and marks and sizes are taken off; nothing else changes.
CREATE TRIGGER camera_clock_stays BEFORE UPDATE OF id, camera, add_ns, source, by_whom, at, at_offset ON camera_clock
BEGIN SELECT RAISE(ABORT, 'a camera clock is never changed'); END;
CREATE TRIGGER camera_clock_kept BEFORE DELETE ON camera_clock
BEGIN SELECT RAISE(ABORT, 'a camera clock is never deleted'); END;
CREATE TRIGGER mark_stays BEFORE UPDATE OF id, kind, points, words, by_whom, at, at_offset ON mark
BEGIN SELECT RAISE(ABORT, 'a mark is never changed'); END;
CREATE TRIGGER mark_kept BEFORE DELETE ON mark
BEGIN SELECT RAISE(ABORT, 'a mark is never deleted'); END;
CREATE TRIGGER photo_measure_stays BEFORE UPDATE OF id, kind, card, known, tube, line, outline, mask, mask_window,
  value, low, high, unit, method, remarks, reading_id, by_whom, at, at_offset ON photo_measure
BEGIN SELECT RAISE(ABORT, 'a size on a photo is never changed'); END;
CREATE TRIGGER photo_measure_kept BEFORE DELETE ON photo_measure
BEGIN SELECT RAISE(ABORT, 'a size on a photo is never deleted'); END;
