package store

import (
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/pressly/goose/v3"

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
	syncFolder(filepath.Dir(path))
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
func (s *Store) Check(ctx context.Context) error {
	s.swap.RLock()
	defer s.swap.RUnlock()
	return check(ctx, s.r)
}

// Glance is what a look into a studio file shows.
type Glance struct {
	Papers, Makings int
	Last            time.Time // of the last entry; zero: none
}

// Look reads a studio file through and says what is in it; it leaves the file
// as it is. Faults: Storage, among them a damaged file, one newer than the
// program and one that is no studio file.
func Look(ctx context.Context, path string) (Glance, error) {
	var g Glance
	abs, err := filepath.Abs(path)
	if err != nil {
		return g, fault.Storage(err, "the path %s cannot be used", path)
	}
	found, err := inspect(ctx, abs)
	if err != nil {
		return g, err
	}
	if found == 0 {
		return g, fault.Storage(nil, "%s is not a studio file", filepath.Base(path))
	}
	if newest, err := newestVersion(); err != nil || found > newest {
		return g, errors.Join(err, newer(found, newest))
	}
	db, err := sql.Open("sqlite", lookDSN(abs))
	if err != nil {
		return g, storageFault(err, "the copy cannot be opened")
	}
	defer db.Close() //nolint:errcheck // it only read
	if err := check(ctx, db); err != nil {
		return g, err
	}
	var last string
	err = db.QueryRowContext(ctx, `SELECT (SELECT count(*) FROM paper), (SELECT count(*) FROM making),
		coalesce((SELECT max(received_at) FROM making_event), (SELECT max(created_at) FROM making), '')`).Scan(&g.Papers, &g.Makings, &last)
	if err != nil {
		return g, storageFault(err, "the copy cannot be read")
	}
	if last != "" {
		g.Last, err = time.Parse(time.RFC3339, last)
	}
	return g, storageFault(err, "the copy cannot be read")
}

// newestVersion is the version this program brings files to.
func newestVersion() (int64, error) {
	list, err := fs.Glob(embedded, "migrations/*.sql")
	if err != nil || len(list) == 0 {
		return 0, &fault.Error{Kind: fault.KindInternal, Text: "the migrations are not in the program", Err: err}
	}
	return goose.NumericComponent(list[len(list)-1])
}

// Replace puts another studio file in the place of this one and goes on with
// it. What runs is waited for, what comes meanwhile waits. The other file is
// brought to the present version and read through before, and takes the place
// in one renaming: whenever the program is killed, one of the two is there,
// whole. The devices stay those of this studio. The file as it was is gone after
// it: copy it first. Faults: Storage;
// Busy, another program has the file open; after both the studio is as it was.
func (s *Store) Replace(ctx context.Context, with string) error {
	if err := ready(ctx, with); err != nil {
		return err
	}
	s.swap.Lock()
	defer s.swap.Unlock()
	if err := errors.Join(s.carryDevices(ctx, with), syncFile(with)); err != nil {
		return err
	}
	if err := s.close(); err != nil {
		return errors.Join(err, s.reopen(ctx))
	}
	// The last to close a file empties its log and takes it away. A log left
	// behind would be read as one of the new file.
	if _, err := os.Lstat(s.path + "-wal"); !errors.Is(err, fs.ErrNotExist) {
		return errors.Join(fault.Busy("another program has the studio open; close it, then try again"), s.reopen(ctx))
	}
	if err := os.Rename(with, s.path); err != nil {
		return errors.Join(fault.Storage(err, "the copy could not be put in place"), s.reopen(ctx))
	}
	syncFolder(filepath.Dir(s.path))
	return s.reopen(ctx)
}

// reopen opens the handles again on what stands at the path.
func (s *Store) reopen(ctx context.Context) error {
	found, err := inspect(context.WithoutCancel(ctx), s.path)
	if err != nil {
		return err
	}
	return s.open(context.WithoutCancel(ctx), found)
}

// ready brings a studio file that is to take the place of another to the
// present version, reads it through and leaves it on the disk without a log.
func ready(ctx context.Context, path string) error {
	incoming, err := Open(ctx, path)
	if err != nil {
		return err
	}
	if err := errors.Join(incoming.Check(ctx), incoming.Close()); err != nil {
		return err
	}
	return syncFile(path)
}

// syncFile brings a file to the disk.
func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return fault.Storage(err, "the copy could not be opened")
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return fault.Storage(err, "the copy could not be brought to the disk")
	}
	return nil
}

// syncFolder brings a folder's names to the disk, where the system can.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		d.Sync()  //nolint:errcheck // some systems cannot
		d.Close() //nolint:errcheck // it was only read
	}
}
