-- +goose Up

-- A photo of a making; its file lies beside this one, under its hash.
INSERT INTO event_kind (kind) VALUES ('photo');
