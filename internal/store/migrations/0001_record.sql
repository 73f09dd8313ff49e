-- +goose Up

-- "Vats" in ASCII: tells a studio's file from any other SQLite file.
PRAGMA application_id = 0x56617473;

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

CREATE TABLE paper (
  id         TEXT PRIMARY KEY,
  created_at TEXT NOT NULL CHECK (created_at GLOB '????-??-??T??:??:??Z')
) STRICT;

-- The present revision of a paper is its highest.
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

-- Personal data stands here and nowhere else.
CREATE TABLE person (
  id         TEXT PRIMARY KEY,
  name       TEXT NOT NULL CHECK (name <> ''),
  contact    TEXT NOT NULL,
  created_at TEXT NOT NULL CHECK (created_at GLOB '????-??-??T??:??:??Z')
) STRICT;

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
CREATE INDEX brief_paper ON brief (paper_id, paper_revision);
CREATE INDEX brief_person ON brief (person_id);

-- What a making was planned with is frozen.
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
CREATE INDEX making_brief ON making (brief_id);
CREATE INDEX making_paper ON making (paper_id, paper_revision);

-- seq is the order of arrival. corrects_id may name an event that has not
-- arrived yet, so it is no foreign key.
CREATE TABLE making_event (
  seq         INTEGER PRIMARY KEY AUTOINCREMENT,
  id          TEXT NOT NULL UNIQUE CHECK (id <> ''),
  making_id   TEXT NOT NULL REFERENCES making (id) ON UPDATE RESTRICT ON DELETE RESTRICT,
  kind        TEXT NOT NULL CHECK (kind IN ('post', 'recharge', 'test weighed', 'weighed at parting', 'weighed dry', 'dry size',
                'graded', 'step time', 'stock left', 'fibre weighed', 'remark', 'correction', 'closed')),
  body_json   TEXT NOT NULL CHECK (json_valid(body_json)),
  made_at     TEXT NOT NULL CHECK (made_at GLOB '????-??-??T??:??:??.???Z'),
  received_at TEXT NOT NULL CHECK (received_at GLOB '????-??-??T??:??:??Z'),
  corrects_id TEXT CHECK ((kind = 'correction') = (corrects_id IS NOT NULL))
) STRICT;
CREATE INDEX making_event_making ON making_event (making_id, seq);

-- Derived from the events of a making, in the same transaction.
CREATE TABLE making_progress (
  making_id TEXT PRIMARY KEY REFERENCES making (id) ON UPDATE RESTRICT ON DELETE CASCADE,
  stage     TEXT NOT NULL CHECK (stage IN ('preparing', 'at the vat', 'drying', 'sorting', 'closed')),
  couched   INTEGER NOT NULL,
  good      INTEGER NOT NULL CHECK (good >= 0),
  since     TEXT CHECK (since GLOB '????-??-??T??:??:??.???Z') -- null: nothing happened yet
) STRICT;

-- Derived like making_progress. value is in the unit of its belief, sd on the
-- belief's link scale.
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
) STRICT;
CREATE INDEX observation_making ON observation (making_id);
CREATE INDEX observation_belief ON observation (belief);

-- What the maker left out. It outlasts the rebuilding of observation, so it
-- points at the making only.
CREATE TABLE observation_exclusion (
  observation_id TEXT PRIMARY KEY CHECK (observation_id <> ''),
  making_id      TEXT NOT NULL REFERENCES making (id) ON UPDATE RESTRICT ON DELETE CASCADE,
  reason         TEXT NOT NULL CHECK (reason <> ''),
  decided_at     TEXT NOT NULL CHECK (decided_at GLOB '????-??-??T??:??:??Z')
) STRICT;
CREATE INDEX observation_exclusion_making ON observation_exclusion (making_id);

-- value is in the unit of its belief.
CREATE TABLE belief_pin (
  belief    TEXT PRIMARY KEY CHECK (belief <> ''),
  value     REAL NOT NULL,
  grade     TEXT NOT NULL CHECK (grade IN ('standard', 'measured', 'paper', 'handbook', 'secondary', 'practice', 'memory')),
  why       TEXT NOT NULL,
  pinned_at TEXT NOT NULL CHECK (pinned_at GLOB '????-??-??T??:??:??Z')
) STRICT;

-- Records of what happened are appended, never edited.
-- +goose StatementBegin
CREATE TRIGGER making_event_no_update BEFORE UPDATE ON making_event
BEGIN SELECT RAISE(ABORT, 'making_event is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER making_event_no_delete BEFORE DELETE ON making_event
BEGIN SELECT RAISE(ABORT, 'making_event is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_revision_no_update BEFORE UPDATE ON paper_revision
BEGIN SELECT RAISE(ABORT, 'paper_revision is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER paper_revision_no_delete BEFORE DELETE ON paper_revision
BEGIN SELECT RAISE(ABORT, 'paper_revision is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER making_no_update BEFORE UPDATE ON making
BEGIN SELECT RAISE(ABORT, 'a making is frozen'); END;
-- +goose StatementEnd
