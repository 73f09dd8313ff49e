-- +goose Up

-- What an observation was made under, so that it bears on other beliefs of its
-- kind: the centre, the scatter of makings and the effects of its belief, on
-- the belief's own scale. Empty effects: those of older programs, which bear on
-- their belief alone.
ALTER TABLE observation ADD COLUMN centre REAL NOT NULL DEFAULT 0;
ALTER TABLE observation ADD COLUMN scatter REAL NOT NULL DEFAULT 0 CHECK (scatter >= 0);
ALTER TABLE observation ADD COLUMN effects_json TEXT NOT NULL DEFAULT '' CHECK (effects_json = '' OR json_valid(effects_json));

-- By which learner the observations were made. They are derived: a program that
-- learns otherwise makes them anew, once. A file without makings has none to make.
-- revision rises with every change of what is known, so that who has read it
-- need not read it again.
CREATE TABLE learned (
  one      INTEGER PRIMARY KEY CHECK (one = 1),
  learner  INTEGER NOT NULL,
  revision INTEGER NOT NULL DEFAULT 0
) STRICT;
INSERT INTO learned (one, learner) SELECT 1, NOT EXISTS (SELECT 1 FROM making);

-- +goose StatementBegin
CREATE TRIGGER observation_insert_is_news AFTER INSERT ON observation
BEGIN UPDATE learned SET revision = revision + 1; END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER observation_update_is_news AFTER UPDATE ON observation
BEGIN UPDATE learned SET revision = revision + 1; END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER observation_delete_is_news AFTER DELETE ON observation
BEGIN UPDATE learned SET revision = revision + 1; END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER observation_exclusion_insert_is_news AFTER INSERT ON observation_exclusion
BEGIN UPDATE learned SET revision = revision + 1; END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER observation_exclusion_update_is_news AFTER UPDATE ON observation_exclusion
BEGIN UPDATE learned SET revision = revision + 1; END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER observation_exclusion_delete_is_news AFTER DELETE ON observation_exclusion
BEGIN UPDATE learned SET revision = revision + 1; END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER belief_pin_insert_is_news AFTER INSERT ON belief_pin
BEGIN UPDATE learned SET revision = revision + 1; END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER belief_pin_update_is_news AFTER UPDATE ON belief_pin
BEGIN UPDATE learned SET revision = revision + 1; END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER belief_pin_delete_is_news AFTER DELETE ON belief_pin
BEGIN UPDATE learned SET revision = revision + 1; END;
-- +goose StatementEnd
