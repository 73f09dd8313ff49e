-- +goose Up

-- A file that was taken in. undoing is 1 only inside the transaction that
-- takes it back.
CREATE TABLE import (
  id      TEXT PRIMARY KEY,
  file    TEXT NOT NULL,
  kind    TEXT NOT NULL,
  added   INTEGER NOT NULL CHECK (added >= 0),
  changed INTEGER NOT NULL CHECK (changed >= 0),
  undoing INTEGER NOT NULL DEFAULT 0 CHECK (undoing IN (0, 1)),
  made_at TEXT NOT NULL CHECK (made_at GLOB '????-??-??T??:??:??Z')
) STRICT;

-- What an import wrote, with the row as it was before; null: there was none.
-- What was said of a person goes when the person is erased.
CREATE TABLE import_item (
  import_id   TEXT NOT NULL REFERENCES import (id) ON UPDATE RESTRICT ON DELETE CASCADE,
  record      TEXT NOT NULL,
  id          TEXT NOT NULL,
  before_json TEXT CHECK (json_valid(before_json)),
  person_id   TEXT REFERENCES person (id) ON UPDATE RESTRICT ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
  PRIMARY KEY (record, id, import_id)
) STRICT;
CREATE INDEX import_item_import ON import_item (import_id, record);
CREATE INDEX import_item_person ON import_item (person_id);

-- How a sheet with those headings was read last.
CREATE TABLE import_matching (
  headings      TEXT PRIMARY KEY,
  matching_json TEXT NOT NULL CHECK (json_valid(matching_json)),
  used_at       TEXT NOT NULL CHECK (used_at GLOB '????-??-??T??:??:??Z')
) STRICT;

-- What is appended only may go with the import that brought it, and in no
-- other way.
DROP TRIGGER making_event_no_delete;
-- +goose StatementBegin
CREATE TRIGGER making_event_no_delete BEFORE DELETE ON making_event
WHEN NOT EXISTS (SELECT 1 FROM import_item i JOIN import u ON u.id = i.import_id WHERE i.record = 'making' AND i.id = OLD.making_id AND u.undoing = 1)
  AND NOT EXISTS (SELECT 1 FROM import_item i JOIN import u ON u.id = i.import_id WHERE i.record = 'making_event' AND i.id = OLD.id AND u.undoing = 1)
BEGIN SELECT RAISE(ABORT, 'making_event is append-only'); END;
-- +goose StatementEnd
DROP TRIGGER paper_revision_no_delete;
-- +goose StatementBegin
CREATE TRIGGER paper_revision_no_delete BEFORE DELETE ON paper_revision
WHEN NOT EXISTS (SELECT 1 FROM import_item i JOIN import u ON u.id = i.import_id WHERE i.record = 'paper_revision' AND i.id = OLD.paper_id || '/' || OLD.revision AND u.undoing = 1)
BEGIN SELECT RAISE(ABORT, 'paper_revision is append-only'); END;
-- +goose StatementEnd
DROP TRIGGER lot_movement_no_delete;
-- +goose StatementBegin
CREATE TRIGGER lot_movement_no_delete BEFORE DELETE ON lot_movement
WHEN NOT EXISTS (SELECT 1 FROM import_item i JOIN import u ON u.id = i.import_id WHERE i.record = 'lot_movement' AND i.id = OLD.id AND u.undoing = 1)
BEGIN SELECT RAISE(ABORT, 'lot_movement is append-only'); END;
-- +goose StatementEnd
