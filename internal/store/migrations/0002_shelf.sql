-- +goose Up

-- What lies on the shelf. Its amount is the sum of its movements.
CREATE TABLE lot (
  id                       TEXT PRIMARY KEY,
  name                     TEXT NOT NULL UNIQUE COLLATE NOCASE CHECK (name <> ''),
  what                     TEXT NOT NULL CHECK (what <> ''),
  form                     TEXT NOT NULL CHECK (form IN ('as bought', 'stock', 'scraps')),
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
  changed_at               TEXT NOT NULL CHECK (changed_at GLOB '????-??-??T??:??:??Z')
) STRICT;
CREATE INDEX lot_from_making ON lot (from_making_id);

-- seq is the order of arrival. What is used or thrown away is less than 0; a
-- use may be given back.
CREATE TABLE lot_movement (
  seq         INTEGER PRIMARY KEY AUTOINCREMENT,
  id          TEXT NOT NULL UNIQUE CHECK (id <> ''),
  lot_id      TEXT NOT NULL REFERENCES lot (id) ON UPDATE RESTRICT ON DELETE RESTRICT,
  kind        TEXT NOT NULL CHECK (kind IN ('received', 'used', 'corrected', 'thrown away')),
  mass_g      REAL NOT NULL CHECK (CASE kind WHEN 'received' THEN mass_g > 0 WHEN 'thrown away' THEN mass_g < 0 ELSE mass_g <> 0 END),
  making_id   TEXT REFERENCES making (id) ON UPDATE RESTRICT ON DELETE RESTRICT CHECK ((kind = 'used') = (making_id IS NOT NULL)),
  note        TEXT NOT NULL,
  made_at     TEXT NOT NULL CHECK (made_at GLOB '????-??-??T??:??:??.???Z'),
  received_at TEXT NOT NULL CHECK (received_at GLOB '????-??-??T??:??:??Z')
) STRICT;
CREATE INDEX lot_movement_lot ON lot_movement (lot_id, seq);
CREATE INDEX lot_movement_making ON lot_movement (making_id);

-- +goose StatementBegin
CREATE TRIGGER lot_movement_no_update BEFORE UPDATE ON lot_movement
BEGIN SELECT RAISE(ABORT, 'lot_movement is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER lot_movement_no_delete BEFORE DELETE ON lot_movement
BEGIN SELECT RAISE(ABORT, 'lot_movement is append-only'); END;
-- +goose StatementEnd

-- The kinds of event stand in a table, so that a new kind is one more row and
-- the events need not be written again.
CREATE TABLE event_kind (kind TEXT PRIMARY KEY CHECK (kind <> '')) STRICT;
INSERT INTO event_kind (kind) VALUES
  ('post'), ('recharge'), ('test weighed'), ('weighed at parting'), ('weighed dry'), ('dry size'), ('graded'),
  ('step time'), ('stock left'), ('fibre weighed'), ('remark'), ('correction'), ('closed'),
  ('beat reading'), ('caliper'), ('diagonals'), ('sized'), ('cobb'), ('ink strip'), ('soaked'), ('hand says');

CREATE TABLE making_event_2 (
  seq         INTEGER PRIMARY KEY AUTOINCREMENT,
  id          TEXT NOT NULL UNIQUE CHECK (id <> ''),
  making_id   TEXT NOT NULL REFERENCES making (id) ON UPDATE RESTRICT ON DELETE RESTRICT,
  kind        TEXT NOT NULL REFERENCES event_kind (kind) ON UPDATE RESTRICT ON DELETE RESTRICT,
  body_json   TEXT NOT NULL CHECK (json_valid(body_json)),
  made_at     TEXT NOT NULL CHECK (made_at GLOB '????-??-??T??:??:??.???Z'),
  received_at TEXT NOT NULL CHECK (received_at GLOB '????-??-??T??:??:??Z'),
  corrects_id TEXT CHECK ((kind = 'correction') = (corrects_id IS NOT NULL))
) STRICT;
INSERT INTO making_event_2 (seq, id, making_id, kind, body_json, made_at, received_at, corrects_id)
  SELECT seq, id, making_id, kind, body_json, made_at, received_at, corrects_id FROM making_event ORDER BY seq;
DROP TRIGGER making_event_no_update;
DROP TRIGGER making_event_no_delete;
DROP TABLE making_event;
ALTER TABLE making_event_2 RENAME TO making_event;
CREATE INDEX making_event_making ON making_event (making_id, seq);
CREATE INDEX making_event_kind ON making_event (kind, making_id);
-- +goose StatementBegin
CREATE TRIGGER making_event_no_update BEFORE UPDATE ON making_event
BEGIN SELECT RAISE(ABORT, 'making_event is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER making_event_no_delete BEFORE DELETE ON making_event
BEGIN SELECT RAISE(ABORT, 'making_event is append-only'); END;
-- +goose StatementEnd
