-- +goose Up

-- What is done and read at the vat besides sheets and recharges.
INSERT INTO event_kind (kind) VALUES ('vat changed'), ('vat strained');
