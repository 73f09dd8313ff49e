-- +goose Up

-- Finished sheets lie on the shelf too, counted: a lot of them says what a
-- sheet weighed when it was put there, and its movements are whole sheets of
-- that weight. Sheets go out of the studio, which nothing else on the shelf does.
CREATE TABLE lot_2 (
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
INSERT INTO lot_2 (id, name, what, form, moisture_pct_wet_basis, price_hundredths_per_kg, currency, since, keep_by, from_making_id, note,
    revision, changed_by, created_at, changed_at)
  SELECT id, name, what, form, moisture_pct_wet_basis, price_hundredths_per_kg, currency, since, keep_by, from_making_id, note,
    revision, changed_by, created_at, changed_at FROM lot ORDER BY rowid;

CREATE TABLE lot_movement_2 (
  seq         INTEGER PRIMARY KEY AUTOINCREMENT,
  id          TEXT NOT NULL UNIQUE CHECK (id <> ''),
  lot_id      TEXT NOT NULL REFERENCES lot_2 (id) ON UPDATE RESTRICT ON DELETE RESTRICT,
  kind        TEXT NOT NULL CHECK (kind IN ('received', 'used', 'corrected', 'thrown away', 'gone out')),
  mass_g      REAL NOT NULL CHECK (CASE kind WHEN 'received' THEN mass_g > 0 WHEN 'thrown away' THEN mass_g < 0 WHEN 'gone out' THEN mass_g < 0 ELSE mass_g <> 0 END),
  making_id   TEXT REFERENCES making (id) ON UPDATE RESTRICT ON DELETE RESTRICT CHECK ((kind = 'used') = (making_id IS NOT NULL)),
  note        TEXT NOT NULL,
  made_at     TEXT NOT NULL CHECK (made_at GLOB '????-??-??T??:??:??.???Z'),
  received_at TEXT NOT NULL CHECK (received_at GLOB '????-??-??T??:??:??Z')
) STRICT;
INSERT INTO lot_movement_2 (seq, id, lot_id, kind, mass_g, making_id, note, made_at, received_at)
  SELECT seq, id, lot_id, kind, mass_g, making_id, note, made_at, received_at FROM lot_movement ORDER BY seq;
DROP TABLE lot_movement;
DROP TABLE lot;
ALTER TABLE lot_2 RENAME TO lot;
ALTER TABLE lot_movement_2 RENAME TO lot_movement;
CREATE INDEX lot_from_making ON lot (from_making_id);
CREATE INDEX lot_movement_lot ON lot_movement (lot_id, seq);
CREATE INDEX lot_movement_making ON lot_movement (making_id);

-- +goose StatementBegin
CREATE TRIGGER lot_movement_no_update BEFORE UPDATE ON lot_movement
BEGIN SELECT RAISE(ABORT, 'lot_movement is append-only'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER lot_movement_no_delete BEFORE DELETE ON lot_movement
WHEN NOT EXISTS (SELECT 1 FROM import_item i JOIN import u ON u.id = i.import_id WHERE i.record = 'lot_movement' AND i.id = OLD.id AND u.undoing = 1)
BEGIN SELECT RAISE(ABORT, 'lot_movement is append-only'); END;
-- +goose StatementEnd
