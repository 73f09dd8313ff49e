-- A studio file of version 10 with one of each record, all invented.
PRAGMA application_id = 0x56617473;
PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE goose_db_version (
		id INTEGER PRIMARY KEY AUTOINCREMENT,
		version_id INTEGER NOT NULL,
		is_applied INTEGER NOT NULL,
		tstamp TIMESTAMP DEFAULT (datetime('now'))
	);
INSERT INTO goose_db_version VALUES(1,0,1,'2026-11-25 02:04:45');
INSERT INTO goose_db_version VALUES(2,1,1,'2026-11-25 02:04:45');
INSERT INTO goose_db_version VALUES(3,2,1,'2026-11-25 14:22:52');
INSERT INTO goose_db_version VALUES(4,3,1,'2026-11-25 14:24:05');
INSERT INTO goose_db_version VALUES(5,4,1,'2026-11-25 14:24:05');
INSERT INTO goose_db_version VALUES(6,5,1,'2026-11-25 14:24:05');
INSERT INTO goose_db_version VALUES(7,6,1,'2026-11-25 14:24:05');
INSERT INTO goose_db_version VALUES(8,7,1,'2026-11-25 14:24:05');
INSERT INTO goose_db_version VALUES(9,8,1,'2026-11-25 14:24:05');
INSERT INTO goose_db_version VALUES(10,9,1,'2026-11-25 14:24:05');
INSERT INTO goose_db_version VALUES(11,10,1,'2026-11-25 14:24:05');
CREATE TABLE studio_profile (
  id                 INTEGER PRIMARY KEY CHECK (id = 1),
  name               TEXT NOT NULL,
  measure_system     TEXT NOT NULL CHECK (measure_system IN ('metric', 'us')),
  currency           TEXT NOT NULL CHECK (length(currency) = 3),
  kit_json           TEXT NOT NULL CHECK (json_valid(kit_json)),
  default_sheet_json TEXT NOT NULL CHECK (json_valid(default_sheet_json)),
  confidence_pct     REAL NOT NULL CHECK (confidence_pct > 0 AND confidence_pct < 100),
  answered           INTEGER NOT NULL CHECK (answered IN (0, 1)),
  revision           INTEGER NOT NULL CHECK (revision >= 1),
  changed_by         TEXT NOT NULL,
  changed_at         TEXT NOT NULL CHECK (changed_at GLOB '????-??-??T??:??:??Z')
) STRICT;
INSERT INTO studio_profile VALUES(1,'','metric','EUR','{"currency":"EUR"}','{"long_mm":297,"short_mm":210,"edges":"deckle"}',90.0,0,1,'','2026-11-20T08:00:00Z');
CREATE TABLE paper (
  id         TEXT PRIMARY KEY,
  created_at TEXT NOT NULL CHECK (created_at GLOB '????-??-??T??:??:??Z')
) STRICT;
INSERT INTO paper VALUES('e4f43umddmsak23a','2026-11-20T08:00:00Z');
CREATE TABLE paper_revision (
  paper_id                  TEXT NOT NULL REFERENCES paper (id) ON UPDATE RESTRICT ON DELETE RESTRICT,
  revision                  INTEGER NOT NULL CHECK (revision >= 1),
  name                      TEXT NOT NULL CHECK (name <> ''),
  grammage_conditioned_g_m2 REAL NOT NULL CHECK (grammage_conditioned_g_m2 > 0),
  design_json               TEXT NOT NULL CHECK (json_valid(design_json)),
  sheet_json                TEXT NOT NULL CHECK (json_extract(sheet_json, '$.long_mm') > 0 AND json_extract(sheet_json, '$.short_mm') > 0),
  note                      TEXT NOT NULL,
  change                    TEXT NOT NULL,
  changed_by                TEXT NOT NULL,
  changed_at                TEXT NOT NULL CHECK (changed_at GLOB '????-??-??T??:??:??Z'),
  PRIMARY KEY (paper_id, revision)
) STRICT;
INSERT INTO paper_revision VALUES('e4f43umddmsak23a',1,'box cover',100.0,'{"name":"box cover","furnish":[{"fibre":"abaca","share_pct":100}],"grammage_conditioned_g_m2":100}','{"long_mm":420,"short_mm":297}','','','','2026-11-20T08:00:00Z');
CREATE TABLE person (
  id         TEXT PRIMARY KEY,
  name       TEXT NOT NULL CHECK (name <> ''),
  contact    TEXT NOT NULL,
  created_at TEXT NOT NULL CHECK (created_at GLOB '????-??-??T??:??:??Z')
) STRICT;
INSERT INTO person VALUES('25rc876f6wjfiuau','Quillon Marrowby','quillon@marrowby.invalid','2026-11-20T08:00:00Z');
CREATE TABLE brief (
  id             TEXT PRIMARY KEY,
  revision       INTEGER NOT NULL CHECK (revision >= 1),
  paper_id       TEXT NOT NULL,
  paper_revision INTEGER NOT NULL,
  good_sheets    INTEGER NOT NULL CHECK (good_sheets >= 1),
  sheet_json     TEXT NOT NULL CHECK (json_extract(sheet_json, '$.long_mm') > 0 AND json_extract(sheet_json, '$.short_mm') > 0),
  confidence_pct REAL NOT NULL CHECK (confidence_pct > 0 AND confidence_pct < 100),
  wanted_by      TEXT CHECK (wanted_by GLOB '????-??-??'), -- null: no date
  remarks        TEXT NOT NULL,
  person_id      TEXT REFERENCES person (id) ON UPDATE RESTRICT ON DELETE SET NULL, -- null: nobody, or erased
  settled        INTEGER NOT NULL CHECK (settled IN (0, 1)),
  changed_by     TEXT NOT NULL,
  created_at     TEXT NOT NULL CHECK (created_at GLOB '????-??-??T??:??:??Z'),
  changed_at     TEXT NOT NULL CHECK (changed_at GLOB '????-??-??T??:??:??Z'),
  FOREIGN KEY (paper_id, paper_revision) REFERENCES paper_revision (paper_id, revision) ON UPDATE RESTRICT ON DELETE RESTRICT
) STRICT;
INSERT INTO brief VALUES('zhu8rqzy4jjxc729',1,'e4f43umddmsak23a',1,50,'{"long_mm":420,"short_mm":297}',90.0,NULL,'','25rc876f6wjfiuau',0,'','2026-11-20T08:00:00Z','2026-11-20T08:00:00Z');
CREATE TABLE making (
  id             TEXT PRIMARY KEY,
  tag            TEXT NOT NULL UNIQUE,
  brief_id       TEXT NOT NULL REFERENCES brief (id) ON UPDATE RESTRICT ON DELETE RESTRICT,
  paper_id       TEXT NOT NULL,
  paper_revision INTEGER NOT NULL,
  request_json   TEXT NOT NULL CHECK (json_valid(request_json)),
  plan_json      TEXT NOT NULL CHECK (json_valid(plan_json)),
  created_at     TEXT NOT NULL CHECK (created_at GLOB '????-??-??T??:??:??Z'),
  FOREIGN KEY (paper_id, paper_revision) REFERENCES paper_revision (paper_id, revision) ON UPDATE RESTRICT ON DELETE RESTRICT
) STRICT;
INSERT INTO making VALUES('ufz8bwsdfsb5iap6','K7-3F','zhu8rqzy4jjxc729','e4f43umddmsak23a',1,'{"paper":{"furnish":null,"grammage_conditioned_g_m2":0},"sheet":{"long_mm":0,"short_mm":0},"studio":{}}','{"figures":null,"vat":{"recharges":null,"tests":null},"steps":null,"warnings":null,"help_most":null,"rests_on":null,"seed":0}','2026-11-20T08:00:00Z');
CREATE TABLE observation (
  id          TEXT PRIMARY KEY CHECK (id <> ''),
  making_id   TEXT NOT NULL REFERENCES making (id) ON UPDATE RESTRICT ON DELETE CASCADE,
  belief      TEXT NOT NULL CHECK (belief <> ''),
  value       REAL NOT NULL,
  sd          REAL NOT NULL CHECK (sd >= 0),
  hits        REAL NOT NULL CHECK (hits >= 0),
  trials      REAL NOT NULL CHECK (trials >= hits),
  observed_at TEXT NOT NULL CHECK (observed_at GLOB '????-??-??T??:??:??.???Z'),
  excluded    TEXT NOT NULL -- why the learner itself left it out; empty: it did not
, centre REAL NOT NULL DEFAULT 0, scatter REAL NOT NULL DEFAULT 0 CHECK (scatter >= 0), effects_json TEXT NOT NULL DEFAULT '' CHECK (effects_json = '' OR json_valid(effects_json))) STRICT;
CREATE TABLE observation_exclusion (
  observation_id TEXT PRIMARY KEY CHECK (observation_id <> ''),
  making_id      TEXT NOT NULL REFERENCES making (id) ON UPDATE RESTRICT ON DELETE CASCADE,
  reason         TEXT NOT NULL CHECK (reason <> ''),
  decided_at     TEXT NOT NULL CHECK (decided_at GLOB '????-??-??T??:??:??Z')
) STRICT;
INSERT INTO observation_exclusion VALUES('ufz8bwsdfsb5iap6/pulled','ufz8bwsdfsb5iap6','a trial','2026-11-20T08:00:00Z');
CREATE TABLE belief_pin (
  belief    TEXT PRIMARY KEY CHECK (belief <> ''),
  value     REAL NOT NULL,
  grade     TEXT NOT NULL CHECK (grade IN ('standard', 'measured', 'paper', 'handbook', 'secondary', 'practice', 'memory')),
  why       TEXT NOT NULL,
  pinned_at TEXT NOT NULL CHECK (pinned_at GLOB '????-??-??T??:??:??Z')
) STRICT;
INSERT INTO belief_pin VALUES('shrinkage/abaca',0.040000000000000000832,'standard','','2026-11-20T08:00:00Z');
CREATE TABLE event_kind (kind TEXT PRIMARY KEY CHECK (kind <> '')) STRICT;
INSERT INTO event_kind VALUES('post');
INSERT INTO event_kind VALUES('recharge');
INSERT INTO event_kind VALUES('test weighed');
INSERT INTO event_kind VALUES('weighed at parting');
INSERT INTO event_kind VALUES('weighed dry');
INSERT INTO event_kind VALUES('dry size');
INSERT INTO event_kind VALUES('graded');
INSERT INTO event_kind VALUES('step time');
INSERT INTO event_kind VALUES('stock left');
INSERT INTO event_kind VALUES('fibre weighed');
INSERT INTO event_kind VALUES('remark');
INSERT INTO event_kind VALUES('correction');
INSERT INTO event_kind VALUES('closed');
INSERT INTO event_kind VALUES('beat reading');
INSERT INTO event_kind VALUES('caliper');
INSERT INTO event_kind VALUES('diagonals');
INSERT INTO event_kind VALUES('sized');
INSERT INTO event_kind VALUES('cobb');
INSERT INTO event_kind VALUES('ink strip');
INSERT INTO event_kind VALUES('soaked');
INSERT INTO event_kind VALUES('hand says');
INSERT INTO event_kind VALUES('photo');
INSERT INTO event_kind VALUES('fibre soaked');
INSERT INTO event_kind VALUES('moisture check');
INSERT INTO event_kind VALUES('added');
INSERT INTO event_kind VALUES('pressed');
INSERT INTO event_kind VALUES('dried');
INSERT INTO event_kind VALUES('spoilt');
INSERT INTO event_kind VALUES('water used');
INSERT INTO event_kind VALUES('vat changed');
INSERT INTO event_kind VALUES('vat strained');
CREATE TABLE IF NOT EXISTS "making_event" (
  seq         INTEGER PRIMARY KEY AUTOINCREMENT,
  id          TEXT NOT NULL UNIQUE CHECK (id <> ''),
  making_id   TEXT NOT NULL REFERENCES making (id) ON UPDATE RESTRICT ON DELETE RESTRICT,
  kind        TEXT NOT NULL REFERENCES event_kind (kind) ON UPDATE RESTRICT ON DELETE RESTRICT,
  body_json   TEXT NOT NULL CHECK (json_valid(body_json)),
  made_at     TEXT NOT NULL CHECK (made_at GLOB '????-??-??T??:??:??.???Z'),
  received_at TEXT NOT NULL CHECK (received_at GLOB '????-??-??T??:??:??Z'),
  corrects_id TEXT CHECK ((kind = 'correction') = (corrects_id IS NOT NULL))
) STRICT;
INSERT INTO making_event VALUES(1,'one','ufz8bwsdfsb5iap6','post','{"post":1,"pulled":20,"kissed_off":0}','2026-11-20T08:00:00.000Z','2026-11-20T08:00:00Z',NULL);
INSERT INTO making_event VALUES(2,'two','ufz8bwsdfsb5iap6','post','{"post":1,"pulled":20,"kissed_off":2}','2026-11-20T08:00:00.000Z','2026-11-20T08:00:00Z',NULL);
INSERT INTO making_event VALUES(3,'three','ufz8bwsdfsb5iap6','correction','{"void":true}','2026-11-20T08:00:00.000Z','2026-11-20T08:00:00Z','one');
INSERT INTO making_event VALUES(4,'four','ufz8bwsdfsb5iap6','graded','{"good":17,"retree":0,"broken":0,"broke":1}','2026-11-20T08:00:00.000Z','2026-11-20T08:00:00Z',NULL);
CREATE TABLE learned (
  one      INTEGER PRIMARY KEY CHECK (one = 1),
  learner  INTEGER NOT NULL,
  revision INTEGER NOT NULL DEFAULT 0
) STRICT;
INSERT INTO learned VALUES(1,2,1);
CREATE TABLE import (
  id      TEXT PRIMARY KEY,
  file    TEXT NOT NULL,
  kind    TEXT NOT NULL,
  added   INTEGER NOT NULL CHECK (added >= 0),
  changed INTEGER NOT NULL CHECK (changed >= 0),
  undoing INTEGER NOT NULL DEFAULT 0 CHECK (undoing IN (0, 1)),
  made_at TEXT NOT NULL CHECK (made_at GLOB '????-??-??T??:??:??Z')
) STRICT;
INSERT INTO import VALUES('an-import','customers.csv','customers',0,1,0,'2026-11-20T08:00:00Z');
CREATE TABLE import_item (
  import_id   TEXT NOT NULL REFERENCES import (id) ON UPDATE RESTRICT ON DELETE CASCADE,
  record      TEXT NOT NULL,
  id          TEXT NOT NULL,
  before_json TEXT CHECK (json_valid(before_json)),
  person_id   TEXT REFERENCES person (id) ON UPDATE RESTRICT ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
  PRIMARY KEY (record, id, import_id)
) STRICT;
INSERT INTO import_item VALUES('an-import','person','25rc876f6wjfiuau','{"id":"25rc876f6wjfiuau","name":"Quillon Marrowby","contact":"quillon@marrowby.invalid","created_at":"2026-11-20T08:00:00Z"}','25rc876f6wjfiuau');
CREATE TABLE import_matching (
  headings      TEXT PRIMARY KEY,
  matching_json TEXT NOT NULL CHECK (json_valid(matching_json)),
  used_at       TEXT NOT NULL CHECK (used_at GLOB '????-??-??T??:??:??Z')
) STRICT;
INSERT INTO import_matching VALUES('name|contact','{}','2026-11-20T08:00:00Z');
CREATE TABLE IF NOT EXISTS "making_progress" (
  nth        INTEGER PRIMARY KEY,
  making_id  TEXT NOT NULL UNIQUE REFERENCES making (id) ON UPDATE RESTRICT ON DELETE CASCADE,
  begun_at   TEXT NOT NULL CHECK (begun_at GLOB '????-??-??T??:??:??Z'),
  stage      TEXT NOT NULL CHECK (stage IN ('preparing', 'at the vat', 'drying', 'sorting', 'closed')),
  couched    INTEGER NOT NULL,
  good       INTEGER NOT NULL CHECK (good >= 0),
  since      TEXT CHECK (since GLOB '????-??-??T??:??:??.???Z'), -- null: nothing happened yet
  furnish    TEXT NOT NULL DEFAULT '',
  use        TEXT NOT NULL DEFAULT '',
  grammage_conditioned_g_m2 REAL,
  long_mm    REAL,
  short_mm   REAL,
  shrink_pct REAL,
  caliper_mm REAL,
  good_pct   REAL,
  hands_on_min REAL
) STRICT;
INSERT INTO making_progress VALUES(1,'ufz8bwsdfsb5iap6','2026-11-20T08:00:00Z','sorting',18,17,'2026-11-20T08:00:00.000Z','','',NULL,NULL,NULL,NULL,NULL,94.444444444444442861,NULL);
CREATE TABLE IF NOT EXISTS 'making_words_data'(id INTEGER PRIMARY KEY, block BLOB);
INSERT INTO making_words_data VALUES(1,X'0104');
INSERT INTO making_words_data VALUES(10,X'00000000ff00000101010100010101010101000001');
INSERT INTO making_words_data VALUES(137438953473,X'00000024033033660102030103626f780102040105636f76657201020501026b370102020407080a');
CREATE TABLE IF NOT EXISTS 'making_words_idx'(segid, term, pgno, PRIMARY KEY(segid, term)) WITHOUT ROWID;
INSERT INTO making_words_idx VALUES(1,X'',2);
CREATE TABLE IF NOT EXISTS 'making_words_docsize'(id INTEGER PRIMARY KEY, sz BLOB, origin INTEGER);
INSERT INTO making_words_docsize VALUES(1,X'04',1);
CREATE TABLE IF NOT EXISTS 'making_words_config'(k PRIMARY KEY, v) WITHOUT ROWID;
INSERT INTO making_words_config VALUES('version',4);
CREATE TABLE device (
  id        TEXT PRIMARY KEY CHECK (id <> ''),
  name      TEXT NOT NULL CHECK (name <> ''),
  key_hash  TEXT NOT NULL UNIQUE CHECK (length(key_hash) = 64),
  paired_at TEXT NOT NULL CHECK (paired_at GLOB '????-??-??T??:??:??Z'),
  seen_at   TEXT NOT NULL CHECK (seen_at GLOB '????-??-??T??:??:??Z')
) STRICT;
INSERT INTO device VALUES('a-device','phone at the vat','00000000000000000000000000000000000000000000000000000000000000aa','2026-11-20T08:00:00Z','2026-11-20T08:00:00Z');
CREATE TABLE device_switch (
  id          INTEGER PRIMARY KEY CHECK (id = 1),
  at_start    INTEGER NOT NULL CHECK (at_start IN (0, 1)),
  secure_port INTEGER NOT NULL CHECK (secure_port BETWEEN 0 AND 65535) -- 0: none used yet
) STRICT;
INSERT INTO device_switch VALUES(1,0,0);
CREATE TABLE IF NOT EXISTS "lot" (
  id                       TEXT PRIMARY KEY,
  name                     TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (name <> ''),
  what                     TEXT NOT NULL CHECK (what <> ''),
  form                     TEXT NOT NULL CHECK (form IN ('as bought', 'stock', 'scraps', 'sheets', 'retree')),
  moisture_pct_wet_basis   REAL CHECK (moisture_pct_wet_basis BETWEEN 0 AND 99), -- null: not known
  price_hundredths_per_kg  INTEGER CHECK (price_hundredths_per_kg >= 0), -- null: not known
  currency                 TEXT NOT NULL CHECK (length(currency) = 3),
  since                    TEXT NOT NULL CHECK (since GLOB '????-??-??'),
  keep_by                  TEXT CHECK (keep_by GLOB '????-??-??'), -- null: it keeps
  from_making_id           TEXT REFERENCES making (id) ON UPDATE RESTRICT ON DELETE RESTRICT, -- null: bought
  note                     TEXT NOT NULL,
  revision                 INTEGER NOT NULL CHECK (revision >= 1),
  changed_by               TEXT NOT NULL,
  created_at               TEXT NOT NULL CHECK (created_at GLOB '????-??-??T??:??:??Z'),
  changed_at               TEXT NOT NULL CHECK (changed_at GLOB '????-??-??T??:??:??Z'),
  sheet_g                  REAL CHECK (sheet_g > 0 AND (form IN ('sheets', 'retree')) = (sheet_g IS NOT NULL)),
  grammage_g_m2            REAL CHECK (grammage_g_m2 > 0) -- of finished sheets; null: none
) STRICT;
INSERT INTO lot VALUES('fbukv4nt29u9di69','abaca, first bale','abaca','as bought',NULL,NULL,'EUR','2026-11-20',NULL,NULL,'from the shelf',1,'','2026-11-20T08:00:00Z','2026-11-20T08:00:00Z',NULL,NULL);
CREATE TABLE IF NOT EXISTS "lot_movement" (
  seq         INTEGER PRIMARY KEY AUTOINCREMENT,
  id          TEXT NOT NULL UNIQUE CHECK (id <> ''),
  lot_id      TEXT NOT NULL REFERENCES "lot" (id) ON UPDATE RESTRICT ON DELETE RESTRICT,
  kind        TEXT NOT NULL CHECK (kind IN ('received', 'used', 'corrected', 'thrown away', 'gone out')),
  mass_g      REAL NOT NULL CHECK (CASE kind WHEN 'received' THEN mass_g > 0 WHEN 'thrown away' THEN mass_g < 0 WHEN 'gone out' THEN mass_g < 0 ELSE mass_g <> 0 END),
  making_id   TEXT REFERENCES making (id) ON UPDATE RESTRICT ON DELETE RESTRICT CHECK ((kind = 'used') = (making_id IS NOT NULL)),
  note        TEXT NOT NULL,
  made_at     TEXT NOT NULL CHECK (made_at GLOB '????-??-??T??:??:??.???Z'),
  received_at TEXT NOT NULL CHECK (received_at GLOB '????-??-??T??:??:??Z')
) STRICT;
INSERT INTO lot_movement VALUES(1,'bought','fbukv4nt29u9di69','received',900.0,NULL,'','2026-11-20T08:00:00.000Z','2026-11-20T08:00:00Z');
PRAGMA writable_schema=ON;
INSERT INTO sqlite_schema(type,name,tbl_name,rootpage,sql)VALUES('table','making_words','making_words',0,'CREATE VIRTUAL TABLE making_words USING fts5 (words, content = '''', contentless_delete = 1, tokenize = "unicode61 remove_diacritics 2")');
DELETE FROM sqlite_sequence;
INSERT INTO sqlite_sequence VALUES('goose_db_version',11);
INSERT INTO sqlite_sequence VALUES('making_event',4);
INSERT INTO sqlite_sequence VALUES('lot_movement',1);
CREATE INDEX brief_paper ON brief (paper_id, paper_revision);
CREATE INDEX brief_person ON brief (person_id);
CREATE INDEX making_paper ON making (paper_id, paper_revision);
CREATE INDEX observation_making ON observation (making_id);
CREATE INDEX observation_belief ON observation (belief);
CREATE INDEX observation_exclusion_making ON observation_exclusion (making_id);
CREATE INDEX making_event_making ON making_event (making_id, seq);
CREATE INDEX making_event_kind ON making_event (kind, making_id);
CREATE INDEX import_item_import ON import_item (import_id, record);
CREATE INDEX import_item_person ON import_item (person_id);
CREATE INDEX making_progress_begun ON making_progress (begun_at);
CREATE INDEX making_brief ON making (brief_id, id);
CREATE INDEX lot_from_making ON lot (from_making_id);
CREATE INDEX lot_movement_lot ON lot_movement (lot_id, seq);
CREATE INDEX lot_movement_making ON lot_movement (making_id);
CREATE TRIGGER paper_revision_no_update BEFORE UPDATE ON paper_revision
BEGIN SELECT RAISE(ABORT, 'paper_revision is append-only'); END;
CREATE TRIGGER making_no_update BEFORE UPDATE ON making
BEGIN SELECT RAISE(ABORT, 'a making is frozen'); END;
CREATE TRIGGER making_event_no_update BEFORE UPDATE ON making_event
BEGIN SELECT RAISE(ABORT, 'making_event is append-only'); END;
CREATE TRIGGER observation_insert_is_news AFTER INSERT ON observation
BEGIN UPDATE learned SET revision = revision + 1; END;
CREATE TRIGGER observation_update_is_news AFTER UPDATE ON observation
BEGIN UPDATE learned SET revision = revision + 1; END;
CREATE TRIGGER observation_delete_is_news AFTER DELETE ON observation
BEGIN UPDATE learned SET revision = revision + 1; END;
CREATE TRIGGER observation_exclusion_insert_is_news AFTER INSERT ON observation_exclusion
BEGIN UPDATE learned SET revision = revision + 1; END;
CREATE TRIGGER observation_exclusion_update_is_news AFTER UPDATE ON observation_exclusion
BEGIN UPDATE learned SET revision = revision + 1; END;
CREATE TRIGGER observation_exclusion_delete_is_news AFTER DELETE ON observation_exclusion
BEGIN UPDATE learned SET revision = revision + 1; END;
CREATE TRIGGER belief_pin_insert_is_news AFTER INSERT ON belief_pin
BEGIN UPDATE learned SET revision = revision + 1; END;
CREATE TRIGGER belief_pin_update_is_news AFTER UPDATE ON belief_pin
BEGIN UPDATE learned SET revision = revision + 1; END;
CREATE TRIGGER belief_pin_delete_is_news AFTER DELETE ON belief_pin
BEGIN UPDATE learned SET revision = revision + 1; END;
CREATE TRIGGER making_event_no_delete BEFORE DELETE ON making_event
WHEN NOT EXISTS (SELECT 1 FROM import_item i JOIN import u ON u.id = i.import_id WHERE i.record = 'making' AND i.id = OLD.making_id AND u.undoing = 1)
  AND NOT EXISTS (SELECT 1 FROM import_item i JOIN import u ON u.id = i.import_id WHERE i.record = 'making_event' AND i.id = OLD.id AND u.undoing = 1)
BEGIN SELECT RAISE(ABORT, 'making_event is append-only'); END;
CREATE TRIGGER paper_revision_no_delete BEFORE DELETE ON paper_revision
WHEN NOT EXISTS (SELECT 1 FROM import_item i JOIN import u ON u.id = i.import_id WHERE i.record = 'paper_revision' AND i.id = OLD.paper_id || '/' || OLD.revision AND u.undoing = 1)
BEGIN SELECT RAISE(ABORT, 'paper_revision is append-only'); END;
CREATE TRIGGER lot_movement_no_update BEFORE UPDATE ON lot_movement
BEGIN SELECT RAISE(ABORT, 'lot_movement is append-only'); END;
CREATE TRIGGER lot_movement_no_delete BEFORE DELETE ON lot_movement
WHEN NOT EXISTS (SELECT 1 FROM import_item i JOIN import u ON u.id = i.import_id WHERE i.record = 'lot_movement' AND i.id = OLD.id AND u.undoing = 1)
BEGIN SELECT RAISE(ABORT, 'lot_movement is append-only'); END;
PRAGMA writable_schema=OFF;
COMMIT;
