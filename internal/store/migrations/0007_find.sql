-- +goose Up

-- The short of a making: what it is found by and charted by. Derived like the
-- rest of making_progress; null: not known. nth counts the makings in the order
-- of their arrival, and stays: what is an INTEGER PRIMARY KEY is not numbered
-- anew when the file is copied.
--
-- When a making was begun stands behind its plan in the table of makings, and a
-- list would have to read past every plan to get at it.
CREATE TABLE making_progress_2 (
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
INSERT INTO making_progress_2 (making_id, begun_at, stage, couched, good, since)
  SELECT g.making_id, m.created_at, g.stage, g.couched, g.good, g.since FROM making_progress g JOIN making m ON m.id = g.making_id ORDER BY g.rowid;
DROP TABLE making_progress;
ALTER TABLE making_progress_2 RENAME TO making_progress;
CREATE INDEX making_progress_begun ON making_progress (begun_at);

-- What was written of a making, by its nth: names, remarks, what the hand said.
-- No word about people.
CREATE VIRTUAL TABLE making_words USING fts5 (words, content = '', contentless_delete = 1, tokenize = "unicode61 remove_diacritics 2");

-- The short of old makings is made with their observations, anew, once.
UPDATE learned SET learner = 0 WHERE EXISTS (SELECT 1 FROM making);

-- With the id in it, so that the makings of a customer are found without
-- reading them.
DROP INDEX making_brief;
CREATE INDEX making_brief ON making (brief_id, id);
