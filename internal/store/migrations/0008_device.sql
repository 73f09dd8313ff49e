-- +goose Up

-- Phones and tablets that were let in. The key is with the device alone; here
-- stands its SHA-256, from which it cannot be worked out.
CREATE TABLE device (
  id        TEXT PRIMARY KEY CHECK (id <> ''),
  name      TEXT NOT NULL CHECK (name <> ''),
  key_hash  TEXT NOT NULL UNIQUE CHECK (length(key_hash) = 64),
  paired_at TEXT NOT NULL CHECK (paired_at GLOB '????-??-??T??:??:??Z'),
  seen_at   TEXT NOT NULL CHECK (seen_at GLOB '????-??-??T??:??:??Z')
) STRICT;

-- How the maker left the way in for other devices.
CREATE TABLE device_switch (
  id          INTEGER PRIMARY KEY CHECK (id = 1),
  at_start    INTEGER NOT NULL CHECK (at_start IN (0, 1)),
  secure_port INTEGER NOT NULL CHECK (secure_port BETWEEN 0 AND 65535) -- 0: none used yet
) STRICT;
