-- +goose Up

-- A cook of raw fibre as it was begun: what went into the pot, the card it was
-- begun by, and who took heed of which cautions. Written once.
CREATE TABLE cook (
  id                       TEXT PRIMARY KEY CHECK (id <> ''),
  fibre                    TEXT NOT NULL CHECK (fibre <> ''),
  lot_id                   TEXT REFERENCES lot (id) ON UPDATE RESTRICT ON DELETE RESTRICT, -- null: of no lot
  from_lot_g               REAL NOT NULL CHECK (from_lot_g >= 0),
  fibre_bone_dry_g         REAL NOT NULL CHECK (fibre_bone_dry_g > 0),
  alkali                   TEXT NOT NULL CHECK (alkali <> ''),
  alkali_pct_of_dry_fibre  REAL NOT NULL CHECK (alkali_pct_of_dry_fibre > 0),
  simmer_c                 REAL NOT NULL,
  plant_json               TEXT NOT NULL CHECK (json_valid(plant_json)),
  request_json             TEXT NOT NULL CHECK (json_valid(request_json)),
  answer_json              TEXT NOT NULL CHECK (json_valid(answer_json)),
  present_json             TEXT NOT NULL CHECK (json_valid(present_json)),
  begun_at                 TEXT NOT NULL CHECK (begun_at GLOB '????-??-??T??:??:??Z')
) STRICT;

-- seq is the order of arrival; what an entry puts right it names.
CREATE TABLE cook_entry (
  seq         INTEGER PRIMARY KEY AUTOINCREMENT,
  id          TEXT NOT NULL UNIQUE CHECK (id <> ''),
  cook_id     TEXT NOT NULL REFERENCES cook (id) ON UPDATE RESTRICT ON DELETE RESTRICT,
  kind        TEXT NOT NULL CHECK (kind IN ('simmer', 'off', 'reading', 'test', 'second', 'rinse', 'waste', 'remark', 'ended', 'correction')),
  body_json   TEXT NOT NULL CHECK (json_valid(body_json)),
  made_at     TEXT NOT NULL CHECK (made_at GLOB '????-??-??T??:??:??.???Z'),
  received_at TEXT NOT NULL CHECK (received_at GLOB '????-??-??T??:??:??Z'),
  corrects_id TEXT CHECK ((kind = 'correction') = (corrects_id IS NOT NULL))
) STRICT;
CREATE INDEX cook_entry_cook ON cook_entry (cook_id, seq);

-- Whom to call, and what the drain takes: the studio's own.
CREATE TABLE cook_safety (
  id        INTEGER PRIMARY KEY CHECK (id = 1),
  emergency TEXT NOT NULL,
  poison    TEXT NOT NULL,
  doctor    TEXT NOT NULL,
  water     TEXT NOT NULL,
  authority TEXT NOT NULL,
  low_ph    REAL CHECK (low_ph BETWEEN 0 AND 14), -- null: not asked
  high_ph   REAL CHECK (high_ph BETWEEN 0 AND 14)
) STRICT;

-- Fibre that was cooked is a lot like any other, and need not be cooked again.
ALTER TABLE lot ADD COLUMN cooked INTEGER NOT NULL DEFAULT 0 CHECK (cooked IN (0, 1));
-- What a cook took from the shelf, or gave it.
ALTER TABLE lot_movement ADD COLUMN cook_id TEXT;

-- +goose StatementBegin
CREATE TRIGGER cook_no_update BEFORE UPDATE ON cook
BEGIN SELECT RAISE(ABORT, 'a cook is frozen'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER cook_no_delete BEFORE DELETE ON cook
BEGIN SELECT RAISE(ABORT, 'a cook is frozen'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER cook_entry_no_update BEFORE UPDATE ON cook_entry
BEGIN SELECT RAISE(ABORT, 'cook_entry is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER cook_entry_no_delete BEFORE DELETE ON cook_entry
BEGIN SELECT RAISE(ABORT, 'cook_entry is append-only'); END;
-- +goose StatementEnd
