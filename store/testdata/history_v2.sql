-- A library of version 2 (migrations 0001 and 0002) with two visits and three photos
-- of an invented shop: history_v1.sql and migration 0002, the search words that the
-- program of that version writes, three photos and one answer of the customer, dumped
-- as SQL text. Do not change it: it stands for what an old program left.
CREATE TABLE amendment (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  visit_id TEXT NOT NULL REFERENCES visit (id),
  what TEXT NOT NULL, why TEXT NOT NULL, by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL
) STRICT;
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
CREATE TABLE change_log (
  machine TEXT NOT NULL,
  seq INTEGER NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL,
  table_name TEXT NOT NULL,
  row_id TEXT NOT NULL,
  what TEXT NOT NULL CHECK (what IN ('add', 'change')),
  PRIMARY KEY (machine, seq)
) STRICT, WITHOUT ROWID;
INSERT INTO "change_log" VALUES('bench',1,'2026-11-25T12:48:20.737430272Z',0,'customer','customer-1','add');
INSERT INTO "change_log" VALUES('bench',2,'2026-11-25T12:48:20.737829434Z',0,'fork','fork-1','add');
INSERT INTO "change_log" VALUES('bench',3,'2026-11-25T12:48:20.738224490Z',0,'visit','visit-1','add');
INSERT INTO "change_log" VALUES('bench',4,'2026-11-25T12:48:20.738547930Z',0,'claim','claim-1','add');
INSERT INTO "change_log" VALUES('bench',5,'2026-11-25T12:48:20.738733526Z',0,'complaint','complaint-1','add');
INSERT INTO "change_log" VALUES('bench',6,'2026-11-25T12:48:20.738969296Z',0,'setting','visit-1/found/air_pressure','add');
INSERT INTO "change_log" VALUES('bench',7,'2026-11-25T12:48:20.739269731Z',0,'fitting','fitting-1','add');
INSERT INTO "change_log" VALUES('bench',8,'2026-11-25T12:48:20.744620612Z',0,'customer','customer-2','add');
INSERT INTO "change_log" VALUES('bench',9,'2026-11-25T12:48:20.744828710Z',0,'fork','fork-2','add');
INSERT INTO "change_log" VALUES('bench',10,'2026-11-25T12:48:20.745089447Z',0,'visit','visit-2','add');
INSERT INTO "change_log" VALUES('bench',11,'2026-11-25T12:48:20.745236385Z',0,'claim','claim-2','add');
INSERT INTO "change_log" VALUES('bench',12,'2026-11-25T12:48:20.745333770Z',0,'complaint','complaint-2','add');
INSERT INTO "change_log" VALUES('bench',13,'2026-11-25T12:48:20.745453387Z',0,'setting','visit-2/found/air_pressure','add');
INSERT INTO "change_log" VALUES('bench',14,'2026-11-25T12:48:20.745600906Z',0,'fitting','fitting-2','add');
INSERT INTO "change_log" VALUES('bench',15,'2026-11-25T12:48:20.748655860Z',0,'reading','r1','add');
INSERT INTO "change_log" VALUES('bench',16,'2026-11-25T12:48:20.748895746Z',0,'reading','r2','add');
INSERT INTO "change_log" VALUES('bench',17,'2026-11-25T12:48:20.752499583Z',0,'visit','visit-1','change');
INSERT INTO "change_log" VALUES('bench',18,'2026-11-25T12:50:18.000000001Z',0,'photo','p1','add');
INSERT INTO "change_log" VALUES('bench',19,'2026-11-25T12:50:19.000000001Z',0,'photo','p2','add');
INSERT INTO "change_log" VALUES('bench',20,'2026-11-25T12:50:20.000000001Z',0,'photo','p3','add');
INSERT INTO "change_log" VALUES('bench',21,'2026-11-25T12:50:21.000000001Z',0,'consent','k1','add');
CREATE TABLE claim (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  fork_id TEXT NOT NULL REFERENCES fork (id),
  visit_id TEXT REFERENCES visit (id),
  hours REAL NOT NULL, u REAL NOT NULL CHECK (u >= 0),
  at_least INTEGER NOT NULL, source TEXT NOT NULL, detail TEXT NOT NULL,
  by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL
) STRICT;
INSERT INTO "claim" VALUES('claim-1','fork-1','visit-1',120.5,12.0,1,'weekly use','4 h a week','Ada','2026-05-05T10:00:00.123456789Z',7200);
INSERT INTO "claim" VALUES('claim-2','fork-2','visit-2',120.5,12.0,1,'weekly use','4 h a week','Ada','2026-05-06T10:00:00.123456789Z',7200);
CREATE TABLE complaint (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  visit_id TEXT NOT NULL REFERENCES visit (id),
  symptom TEXT NOT NULL, leg TEXT NOT NULL, since TEXT NOT NULL, note TEXT NOT NULL
) STRICT;
INSERT INTO "complaint" VALUES('complaint-1','visit-1','knock','left','two weeks','on stairs');
INSERT INTO "complaint" VALUES('complaint-2','visit-2','knock','left','two weeks','on stairs');
CREATE TABLE consent (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  visit_id TEXT NOT NULL REFERENCES visit (id),
  assessment_id TEXT REFERENCES assessment (id),
  accepted INTEGER NOT NULL, by_whom TEXT NOT NULL, how TEXT NOT NULL, shown TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL
) STRICT;
INSERT INTO "consent" VALUES('k1','visit-2',NULL,1,'Jördis','phone','bushings','2026-05-06T12:00:00.000000000Z',7200);
CREATE TABLE customer (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  name TEXT NOT NULL, phone TEXT NOT NULL, email TEXT NOT NULL,
  reach_by TEXT NOT NULL, note TEXT NOT NULL,
  created TEXT, created_offset INTEGER
) STRICT;
INSERT INTO "customer" VALUES('customer-1','Jördis Beispiel 1','+49 (0)170 5500001','jo@example.org','message','rings twice','2026-05-05T10:00:00.123456789Z',7200);
INSERT INTO "customer" VALUES('customer-2','Jördis Beispiel 2','+49 (0)170 5500002','jo@example.org','message','rings twice','2026-05-06T10:00:00.123456789Z',7200);
CREATE TABLE customer_search (
  customer_id TEXT PRIMARY KEY REFERENCES customer (id),
  name TEXT NOT NULL,
  words TEXT NOT NULL
) STRICT;
INSERT INTO "customer_search" VALUES('customer-1','jordis beispiel 1',' jordis beispiel 1 jo example org joexampleorg 491705500001 ');
INSERT INTO "customer_search" VALUES('customer-2','jordis beispiel 2',' jordis beispiel 2 jo example org joexampleorg 491705500002 ');
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
INSERT INTO "fitting" VALUES('fitting-1','fork-1','bushing_upper','left','visit-1',100.5,5.0,1,'B7',NULL,0.0,0.0,'','2026-05-05T10:00:00.123456789Z',7200,NULL,NULL);
INSERT INTO "fitting" VALUES('fitting-2','fork-2','bushing_upper','left','visit-2',100.5,5.0,1,'B7',NULL,0.0,0.0,'','2026-05-06T10:00:00.123456789Z',7200,NULL,NULL);
CREATE TABLE fork (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  customer_id TEXT NOT NULL REFERENCES customer (id),
  maker TEXT NOT NULL, model TEXT NOT NULL, year INTEGER NOT NULL,
  serial TEXT NOT NULL, tag TEXT NOT NULL, sheet TEXT NOT NULL, note TEXT NOT NULL,
  created TEXT, created_offset INTEGER
) STRICT;
INSERT INTO "fork" VALUES('fork-1','customer-1','Nordwind','Trail 140',2019,'NW-777001','T1','generic_air_35','black','2026-05-05T10:00:00.123456789Z',7200);
INSERT INTO "fork" VALUES('fork-2','customer-2','Nordwind','Trail 140',2019,'NW-777002','T2','generic_air_35','black','2026-05-06T10:00:00.123456789Z',7200);
CREATE TABLE fork_search (
  fork_id TEXT PRIMARY KEY REFERENCES fork (id),
  last_visit TEXT NOT NULL,
  words TEXT NOT NULL
) STRICT;
INSERT INTO "fork_search" VALUES('fork-1','2026-05-05T10:00:00.123456789Z',' nordwind trail 140 nw 777001 nw777001 t1 jordis beispiel 1 jo example org joexampleorg 491705500001 2019 ');
INSERT INTO "fork_search" VALUES('fork-2','2026-05-06T10:00:00.123456789Z',' nordwind trail 140 nw 777002 nw777002 t2 jordis beispiel 2 jo example org joexampleorg 491705500002 2019 ');
CREATE TABLE library (
  only_row INTEGER PRIMARY KEY CHECK (only_row = 1),
  id TEXT NOT NULL,
  created TEXT NOT NULL, created_offset INTEGER NOT NULL
) STRICT;
INSERT INTO "library" VALUES(1,'01a212bf-f8f4-7717-b611-fd75f0d0b214','2026-11-25T12:48:20.724369601Z',0);
CREATE TABLE override (
  id TEXT PRIMARY KEY CHECK (id <> ''),
  assessment_id TEXT NOT NULL REFERENCES assessment (id),
  verdict TEXT NOT NULL, reason TEXT NOT NULL, by_whom TEXT NOT NULL,
  at TEXT NOT NULL, at_offset INTEGER NOT NULL
) STRICT;
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
INSERT INTO "photo" VALUES('p1','s1','jpeg',123456,4000,3000,6,'2026-05-05T12:01:02','+02:00','exif','exif','57','M','C','9',1,0.75,1,'["a little dark"]',0,'a b.jpg','visit-1','stanchions.coating','left','stripped','fitting-1','evidence','Ada','2026-05-05T10:30:00.000000000Z',7200);
INSERT INTO "photo" VALUES('p2','s2','jpeg',123456,4000,3000,6,'2026-05-05T12:01:02','+02:00','exif','exif','57','M','C','9',1,0.75,1,NULL,0,'a b.jpg','visit-1','','','',NULL,'','Ada','2026-05-05T10:31:00.000000000Z',7200);
INSERT INTO "photo" VALUES('p3','s1','jpeg',123456,4000,3000,6,'2026-05-05T12:01:02','+02:00','exif','exif','57','M','C','9',1,0.75,1,NULL,0,'a b.jpg','visit-2','','','',NULL,'','Ada','2026-05-06T10:30:00.000000000Z',7200);
CREATE TABLE preference (
  key TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT;
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
INSERT INTO "reading" VALUES('r1','visit-1','fitting-1','bushing_play','left','upper/front','stripped','number',0.12,0.01,'mm','0.12 mm','[0.11,0.12,0.13]','gauge 3',0.05,0.25,'burr','dry','Ada','2026-05-05T11:00:00.123456789Z',7200,NULL,0);
INSERT INTO "reading" VALUES('r2','visit-2','fitting-2','bushing_play','left','upper/front','stripped','number',0.12,0.01,'mm','0.12 mm','[0.11,0.12,0.13]','gauge 3',0.05,0.25,'burr','dry','Ada','2026-05-06T11:00:00.123456789Z',7200,NULL,0);
CREATE TABLE setting (
  visit_id TEXT NOT NULL REFERENCES visit (id),
  moment TEXT NOT NULL, key TEXT NOT NULL,
  value REAL NOT NULL, unit TEXT NOT NULL, typed TEXT NOT NULL,
  PRIMARY KEY (visit_id, moment, key)
) STRICT;
INSERT INTO "setting" VALUES('visit-1','found','air_pressure',72.5,'psi','72.5 psi');
INSERT INTO "setting" VALUES('visit-2','found','air_pressure',72.5,'psi','72.5 psi');
CREATE TABLE task (
  visit_id TEXT NOT NULL REFERENCES visit (id),
  key TEXT NOT NULL, done INTEGER NOT NULL,
  value REAL NOT NULL, unit TEXT NOT NULL, tool TEXT NOT NULL, note TEXT NOT NULL,
  by_whom TEXT NOT NULL,
  at TEXT, at_offset INTEGER,
  PRIMARY KEY (visit_id, key)
) STRICT;
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
INSERT INTO "visit" VALUES('visit-1','fork-1','customer-1',1,'full','paid',NULL,'','collected','part','2026-05-05T11:00:00.123456789Z',7200,'2026-05-05T10:00:00.123456789Z',7200,'2026-05-08T10:00:00.123456789Z',7200,NULL,NULL,'2026-05-06T10:00:00.123456789Z',7200,'Ada','["mud","wet"]','["axle"]',12990,'EUR',20000,'EUR',50.0,'2027-05-05T10:00:00.123456789Z',7200,'Ada','creaks');
INSERT INTO "visit" VALUES('visit-2','fork-2','customer-2',2,'full','paid',NULL,'','drop_off','part','2026-05-06T11:00:00.123456789Z',7200,'2026-05-06T10:00:00.123456789Z',7200,'2026-05-09T10:00:00.123456789Z',7200,NULL,NULL,NULL,NULL,'','["mud","wet"]','["axle"]',12990,'EUR',20000,'EUR',50.0,'2027-05-06T10:00:00.123456789Z',7200,'Ada','creaks');
CREATE INDEX fork_customer ON fork (customer_id);
CREATE INDEX visit_fork ON visit (fork_id, dropped_off, id);
CREATE INDEX visit_recent ON visit (dropped_off, id);
CREATE INDEX visit_open ON visit (dropped_off, id) WHERE collected IS NULL;
CREATE INDEX amendment_visit ON amendment (visit_id);
CREATE INDEX claim_fork ON claim (fork_id, at, id);
CREATE INDEX claim_visit ON claim (visit_id, at, id);
CREATE INDEX complaint_visit ON complaint (visit_id);
CREATE INDEX fitting_fork ON fitting (fork_id, part, leg);
CREATE INDEX fitting_part ON fitting (part);
CREATE INDEX fitting_visit ON fitting (fitted_visit);
CREATE UNIQUE INDEX fitting_one_in ON fitting (fork_id, part, leg) WHERE end_reason = '';
CREATE INDEX reading_visit ON reading (visit_id, at);
CREATE INDEX reading_fitting ON reading (fitting_id, at) WHERE fitting_id IS NOT NULL;
CREATE INDEX reading_check ON reading (check_id, at);
CREATE INDEX reading_supersedes ON reading (supersedes) WHERE supersedes IS NOT NULL;
CREATE INDEX photo_check ON photo (check_id);
CREATE INDEX photo_sha256 ON photo (sha256);
CREATE INDEX assessment_visit ON assessment (visit_id, part, leg, at, id);
CREATE INDEX override_assessment ON override (assessment_id, at, id);
CREATE INDEX consent_visit ON consent (visit_id);
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
CREATE INDEX customer_search_name ON customer_search (name, customer_id, words);
CREATE INDEX fork_search_recent ON fork_search (last_visit, fork_id, words);
PRAGMA application_id = 1181439858;
PRAGMA user_version = 2;
