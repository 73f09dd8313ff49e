-- +goose Up

-- What is done at the bench besides pulling sheets.
INSERT INTO event_kind (kind) VALUES
  ('fibre soaked'), ('moisture check'), ('added'), ('pressed'), ('dried'), ('spoilt'), ('water used');
