-- +goose Up

-- The short of a making: what it is found by and charted by. Derived like the
-- rest of making_progress; null: not known.
--
-- When a making was begun stands behind its plan in the table of makings, and a
-- list would have to read past every plan to get at it.
ALTER TABLE making_progress ADD COLUMN begun_at TEXT CHECK (begun_at GLOB '????-??-??T??:??:??Z');
UPDATE making_progress SET begun_at = (SELECT created_at FROM making WHERE id = making_id);
CREATE INDEX making_progress_begun ON making_progress (begun_at);
ALTER TABLE making_progress ADD COLUMN furnish TEXT NOT NULL DEFAULT '';
ALTER TABLE making_progress ADD COLUMN use TEXT NOT NULL DEFAULT '';
ALTER TABLE making_progress ADD COLUMN grammage_conditioned_g_m2 REAL;
ALTER TABLE making_progress ADD COLUMN long_mm REAL;
ALTER TABLE making_progress ADD COLUMN short_mm REAL;
ALTER TABLE making_progress ADD COLUMN shrink_pct REAL;
ALTER TABLE making_progress ADD COLUMN caliper_mm REAL;
ALTER TABLE making_progress ADD COLUMN good_pct REAL;
ALTER TABLE making_progress ADD COLUMN hands_on_min REAL;

-- What was written of a making, by the rowid of its progress: names, remarks, what the hand
-- said. No word about people.
CREATE VIRTUAL TABLE making_words USING fts5 (words, content = '', contentless_delete = 1, tokenize = "unicode61 remove_diacritics 2");

-- With the id in it, so that the makings of a customer are found without
-- reading them.
DROP INDEX making_brief;
CREATE INDEX making_brief ON making (brief_id, id);
