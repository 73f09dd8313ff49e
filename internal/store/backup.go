package store

import (
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"vatside/internal/fault"
)

// Backup writes a whole, checked copy of the file to path while the studio
// goes on working. The copy appears under its name only once it is complete
// and on the disk. Faults: Conflict when something is at path already;
// Storage.
func (s *Store) Backup(ctx context.Context, path string) error {
	path, err := filepath.Abs(path)
	if err != nil {
		return fault.Storage(err, "the path %s cannot be used", path)
	}
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		return fault.Conflict("there is already a file at %s; a copy never overwrites one", path)
	}
	half := path + ".unfinished"
	if err := os.Remove(half); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fault.Storage(err, "an unfinished copy at %s cannot be removed", half)
	}
	if err := s.copyTo(ctx, half); err != nil {
		os.Remove(half) //nolint:errcheck // the first error tells more
		return err
	}
	if err := os.Rename(half, path); err != nil {
		return fault.Storage(err, "the copy could not be named %s", path)
	}
	return nil
}

// copyTo copies, checks and syncs.
func (s *Store) copyTo(ctx context.Context, half string) error {
	// VACUUM INTO runs outside a transaction; on the write handle it would stop
	// the vat, and query_only forbids nothing but writes to this file.
	db, err := sql.Open("sqlite", dsn(s.path))
	if err != nil {
		return storageFault(err, "the studio file cannot be opened")
	}
	defer db.Close() //nolint:errcheck // it only read
	if _, err := db.ExecContext(ctx, "VACUUM INTO $1", half); err != nil {
		return storageFault(err, "the copy could not be written")
	}
	if err := checkFile(ctx, half); err != nil {
		return err
	}
	f, err := os.OpenFile(half, os.O_RDWR, 0)
	if err != nil {
		return fault.Storage(err, "the copy could not be opened")
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return fault.Storage(err, "the copy could not be brought to the disk")
	}
	return nil
}

// checkFile reads a studio file through and reports what is damaged.
func checkFile(ctx context.Context, path string) error {
	db, err := sql.Open("sqlite", lookDSN(path))
	if err != nil {
		return storageFault(err, "the copy cannot be opened")
	}
	defer db.Close() //nolint:errcheck // it only read
	return check(ctx, db)
}

// check runs SQLite's own checks of the whole file and of all references.
func check(ctx context.Context, db *sql.DB) error {
	var verdict string
	if err := db.QueryRowContext(ctx, "PRAGMA integrity_check").Scan(&verdict); err != nil {
		return storageFault(err, "the studio file cannot be checked")
	}
	if verdict != "ok" {
		return fault.Storage(nil, "the studio file is damaged: %s", verdict)
	}
	rows, err := db.QueryContext(ctx, "PRAGMA foreign_key_check")
	if err != nil {
		return storageFault(err, "the studio file cannot be checked")
	}
	defer rows.Close() //nolint:errcheck // only whether there is a row matters
	if rows.Next() {
		return fault.Storage(nil, "the studio file is damaged: a record points at one that is not there")
	}
	return rows.Err()
}

// Check reads the whole file through. Faults: Storage with what is damaged.
func (s *Store) Check(ctx context.Context) error { return check(ctx, s.r) }
