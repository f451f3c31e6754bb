-- The whole history. Times are two columns: UTC text of fixed width and the
-- offset in seconds. Lists are JSON text, NULL for none. Empty references are
-- NULL. Money is minor units with a currency.

CREATE TABLE library (
  only_row INTEGER PRIMARY KEY CHECK (only_row = 1),
  id TEXT NOT NULL,
  created TEXT NOT NULL, created_offset INTEGER NOT NULL
) STRICT;

CREATE TABLE change_log (
  machine TEXT NOT NULL,
  seq INTEGER NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL,
  table_name TEXT NOT NULL,
  row_id TEXT NOT NULL,
  what TEXT NOT NULL CHECK (what IN ('add', 'change')),
  PRIMARY KEY (machine, seq)
) STRICT, WITHOUT ROWID;

CREATE TABLE preference (
  key TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT;

CREATE TABLE customer (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  name TEXT NOT NULL, phone TEXT NOT NULL, email TEXT NOT NULL,
  reach_by TEXT NOT NULL, note TEXT NOT NULL,
  created TEXT, created_offset INTEGER
) STRICT;

CREATE TABLE fork (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  customer_id TEXT NOT NULL REFERENCES customer (id),
  maker TEXT NOT NULL, model TEXT NOT NULL, year INTEGER NOT NULL,
  serial TEXT NOT NULL, tag TEXT NOT NULL, sheet TEXT NOT NULL, note TEXT NOT NULL,
  created TEXT, created_offset INTEGER
) STRICT;
CREATE INDEX fork_customer ON fork (customer_id);

CREATE TABLE visit (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  fork_id TEXT NOT NULL REFERENCES fork (id),
  customer_id TEXT NOT NULL REFERENCES customer (id),
  ticket INTEGER NOT NULL UNIQUE CHECK (ticket > 0),
  level TEXT NOT NULL, purpose TEXT NOT NULL,
  from_visit TEXT REFERENCES visit (id), from_cause TEXT NOT NULL,
  step TEXT NOT NULL, waits_for TEXT NOT NULL,
  waits_since TEXT, waits_since_offset INTEGER,
  dropped_off TEXT NOT NULL, dropped_off_offset INTEGER NOT NULL,
  promised TEXT, promised_offset INTEGER,
  ready TEXT, ready_offset INTEGER,
  collected TEXT, collected_offset INTEGER,
  collected_by TEXT NOT NULL DEFAULT '',
  conditions TEXT, came_with TEXT,
  package_minor INTEGER NOT NULL, package_currency TEXT NOT NULL,
  go_ahead_minor INTEGER NOT NULL, go_ahead_currency TEXT NOT NULL,
  next_hours REAL NOT NULL,
  next_date TEXT, next_date_offset INTEGER,
  taken_in_by TEXT NOT NULL, note TEXT NOT NULL
) STRICT;
CREATE INDEX visit_fork ON visit (fork_id, dropped_off, id);
CREATE INDEX visit_recent ON visit (dropped_off, id);
CREATE INDEX visit_open ON visit (dropped_off, id) WHERE collected IS NULL;

CREATE TABLE amendment (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  visit_id TEXT NOT NULL REFERENCES visit (id),
  what TEXT NOT NULL, why TEXT NOT NULL, by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL
) STRICT;
CREATE INDEX amendment_visit ON amendment (visit_id);

CREATE TABLE claim (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  fork_id TEXT NOT NULL REFERENCES fork (id),
  visit_id TEXT REFERENCES visit (id),
  hours REAL NOT NULL, u REAL NOT NULL CHECK (u >= 0),
  at_least INTEGER NOT NULL, source TEXT NOT NULL, detail TEXT NOT NULL,
  by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL
) STRICT;
CREATE INDEX claim_fork ON claim (fork_id, at, id);
CREATE INDEX claim_visit ON claim (visit_id, at, id);

CREATE TABLE complaint (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  visit_id TEXT NOT NULL REFERENCES visit (id),
  symptom TEXT NOT NULL, leg TEXT NOT NULL, since TEXT NOT NULL, note TEXT NOT NULL
) STRICT;
CREATE INDEX complaint_visit ON complaint (visit_id);

CREATE TABLE setting (
  visit_id TEXT NOT NULL REFERENCES visit (id),
  moment TEXT NOT NULL, key TEXT NOT NULL,
  value REAL NOT NULL, unit TEXT NOT NULL, typed TEXT NOT NULL,
  PRIMARY KEY (visit_id, moment, key)
) STRICT;

CREATE TABLE task (
  visit_id TEXT NOT NULL REFERENCES visit (id),
  key TEXT NOT NULL, done INTEGER NOT NULL,
  value REAL NOT NULL, unit TEXT NOT NULL, tool TEXT NOT NULL, note TEXT NOT NULL,
  by_whom TEXT NOT NULL,
  at TEXT, at_offset INTEGER,
  PRIMARY KEY (visit_id, key)
) STRICT;

CREATE TABLE fitting (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  fork_id TEXT NOT NULL REFERENCES fork (id),
  part TEXT NOT NULL CHECK (part <> ''), leg TEXT NOT NULL,
  fitted_visit TEXT NOT NULL REFERENCES visit (id),
  fitted_at REAL NOT NULL, fitted_u REAL NOT NULL CHECK (fitted_u >= 0),
  age_known INTEGER NOT NULL, batch TEXT NOT NULL,
  end_visit TEXT REFERENCES visit (id),
  end_hours REAL NOT NULL, end_u REAL NOT NULL CHECK (end_u >= 0),
  end_reason TEXT NOT NULL,
  fitted_on TEXT, fitted_on_offset INTEGER,
  ended_on TEXT, ended_on_offset INTEGER
) STRICT;
CREATE INDEX fitting_fork ON fitting (fork_id, part, leg);
CREATE INDEX fitting_part ON fitting (part);
CREATE INDEX fitting_visit ON fitting (fitted_visit);
CREATE UNIQUE INDEX fitting_one_in ON fitting (fork_id, part, leg) WHERE end_reason = '';

CREATE TABLE reading (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  visit_id TEXT NOT NULL REFERENCES visit (id),
  fitting_id TEXT REFERENCES fitting (id),
  check_id TEXT NOT NULL, leg TEXT NOT NULL, point TEXT NOT NULL,
  stage TEXT NOT NULL CHECK (stage IN ('received', 'stripped', 'after_work')),
  answer TEXT NOT NULL,
  value REAL NOT NULL, u REAL NOT NULL CHECK (u >= 0), unit TEXT NOT NULL,
  typed TEXT NOT NULL, raw TEXT, instrument TEXT NOT NULL,
  value_new REAL, value_limit REAL,
  fields TEXT NOT NULL, note TEXT NOT NULL, by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL,
  supersedes TEXT REFERENCES reading (id) CHECK (supersedes <> id),
  retracted INTEGER NOT NULL
) STRICT;
CREATE INDEX reading_visit ON reading (visit_id, at);
CREATE INDEX reading_fitting ON reading (fitting_id, at) WHERE fitting_id IS NOT NULL;
CREATE INDEX reading_check ON reading (check_id, at);
CREATE INDEX reading_supersedes ON reading (supersedes) WHERE supersedes IS NOT NULL;

CREATE TABLE photo (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  sha256 TEXT NOT NULL CHECK (sha256 <> ''), format TEXT NOT NULL, bytes INTEGER NOT NULL,
  width INTEGER NOT NULL, height INTEGER NOT NULL, orientation INTEGER NOT NULL,
  wall_time TEXT NOT NULL, wall_offset TEXT NOT NULL, offset_source TEXT NOT NULL,
  date_source TEXT NOT NULL, sub_sec TEXT NOT NULL,
  make TEXT NOT NULL, model TEXT NOT NULL, body_serial TEXT NOT NULL,
  has_position INTEGER NOT NULL, sharpness REAL NOT NULL, usable INTEGER NOT NULL,
  remarks TEXT, drawn INTEGER NOT NULL, file_name TEXT NOT NULL,
  visit_id TEXT NOT NULL REFERENCES visit (id),
  check_id TEXT NOT NULL, leg TEXT NOT NULL, stage TEXT NOT NULL,
  fitting_id TEXT REFERENCES fitting (id), role TEXT NOT NULL,
  added_by TEXT NOT NULL,
  added_at TEXT NOT NULL, added_at_offset INTEGER NOT NULL,
  UNIQUE (visit_id, sha256)
) STRICT;
CREATE INDEX photo_check ON photo (check_id);
CREATE INDEX photo_sha256 ON photo (sha256);

CREATE TABLE assessment (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  visit_id TEXT NOT NULL REFERENCES visit (id),
  fitting_id TEXT REFERENCES fitting (id),
  part TEXT NOT NULL, leg TEXT NOT NULL, verdict TEXT NOT NULL, remedy TEXT NOT NULL,
  do_not_ride INTEGER NOT NULL, evidence_missing INTEGER NOT NULL,
  not_opened INTEGER NOT NULL, baseline INTEGER NOT NULL, prior_only INTEGER NOT NULL,
  reasons TEXT, reading_ids TEXT, lead_check TEXT NOT NULL,
  wear_used REAL, wear_u REAL, hours_left TEXT, no_trend INTEGER NOT NULL,
  horizon REAL NOT NULL, horizon_u REAL NOT NULL, t_now REAL NOT NULL,
  mu TEXT NOT NULL, s TEXT NOT NULL,
  p_now REAL NOT NULL, p_then REAL NOT NULL, threshold REAL NOT NULL,
  next_level TEXT NOT NULL, sheet TEXT NOT NULL, sheet_hash TEXT NOT NULL,
  catalog_hash TEXT NOT NULL, engine TEXT NOT NULL, by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL
) STRICT;
CREATE INDEX assessment_visit ON assessment (visit_id, part, leg, at, id);

CREATE TABLE override (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  assessment_id TEXT NOT NULL REFERENCES assessment (id),
  verdict TEXT NOT NULL, reason TEXT NOT NULL, by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL
) STRICT;
CREATE INDEX override_assessment ON override (assessment_id, at, id);

CREATE TABLE consent (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  visit_id TEXT NOT NULL REFERENCES visit (id),
  assessment_id TEXT REFERENCES assessment (id),
  accepted INTEGER NOT NULL, by_whom TEXT NOT NULL, how TEXT NOT NULL, shown TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL
) STRICT;
CREATE INDEX consent_visit ON consent (visit_id);

-- What was once written down stays as it was written down.
CREATE TRIGGER visit_stays BEFORE UPDATE ON visit WHEN OLD.collected IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a collected visit takes amendments only'); END;
CREATE TRIGGER reading_stays BEFORE UPDATE ON reading
BEGIN SELECT RAISE(ABORT, 'a reading is never changed'); END;
CREATE TRIGGER reading_kept BEFORE DELETE ON reading
BEGIN SELECT RAISE(ABORT, 'a reading is never deleted'); END;
CREATE TRIGGER claim_stays BEFORE UPDATE ON claim
BEGIN SELECT RAISE(ABORT, 'a claim is never changed'); END;
CREATE TRIGGER claim_kept BEFORE DELETE ON claim
BEGIN SELECT RAISE(ABORT, 'a claim is never deleted'); END;
CREATE TRIGGER assessment_stays BEFORE UPDATE ON assessment
BEGIN SELECT RAISE(ABORT, 'an assessment is never changed'); END;
CREATE TRIGGER assessment_kept BEFORE DELETE ON assessment
BEGIN SELECT RAISE(ABORT, 'an assessment is never deleted'); END;
CREATE TRIGGER override_stays BEFORE UPDATE ON override
BEGIN SELECT RAISE(ABORT, 'an override is never changed'); END;
CREATE TRIGGER override_kept BEFORE DELETE ON override
BEGIN SELECT RAISE(ABORT, 'an override is never deleted'); END;
CREATE TRIGGER consent_stays BEFORE UPDATE ON consent
BEGIN SELECT RAISE(ABORT, 'a consent is never changed'); END;
CREATE TRIGGER consent_kept BEFORE DELETE ON consent
BEGIN SELECT RAISE(ABORT, 'a consent is never deleted'); END;
CREATE TRIGGER amendment_stays BEFORE UPDATE ON amendment
BEGIN SELECT RAISE(ABORT, 'an amendment is never changed'); END;
CREATE TRIGGER amendment_kept BEFORE DELETE ON amendment
BEGIN SELECT RAISE(ABORT, 'an amendment is never deleted'); END;
CREATE TRIGGER change_log_stays BEFORE UPDATE ON change_log
BEGIN SELECT RAISE(ABORT, 'the change log is never changed'); END;
CREATE TRIGGER change_log_kept BEFORE DELETE ON change_log
BEGIN SELECT RAISE(ABORT, 'the change log is never deleted'); END;
