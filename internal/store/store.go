// Package store keeps a studio's records in one SQLite file: it opens and
// migrates the file, and is the only place with SQL.
//
// Every pragma stands in the connection string, so that each connection of the
// pool has it. There is one connection that writes and a few that can only
// read. Each kind of record has its own file here. What the file looks like,
// and how it is copied, is in docs/store.md. Missing: a hosted server with
// several studios; the SQL keeps to what would allow it.
package store

import (
	"context"
	"database/sql"
	"errors"
	"net/url"
	"path/filepath"
	"strings"
	"sync"

	_ "modernc.org/sqlite" // the driver named sqlite

	"vatside/internal/fault"
	"vatside/internal/studio"
)

// readers is how many connections read at once. Ours: a laptop and the few
// phones of a studio.
const readers = 4

// pragmas stand first to last as they must run: the waiting time before what
// may have to wait.
var pragmas = []string{
	"busy_timeout(5000)", // ms to wait for another process that writes
	"journal_mode(WAL)",  // readers do not wait for the writer
	// FULL syncs at every commit: what was acknowledged at the vat outlasts a
	// pulled plug, not only a killed program. A record is worth a sync.
	"synchronous(FULL)",
	"foreign_keys(1)",
	"recursive_triggers(1)", // without it INSERT OR REPLACE deletes past the triggers
	"secure_delete(1)",      // what is erased is overwritten, not only unlinked
}

// Store is one open studio file.
type Store struct {
	path string
	// swap is held for reading while the handles are used, and for writing while
	// another file takes the place of this one.
	swap sync.RWMutex
	file int64   // counts the files that stood at the path, the present one among them
	w    *sql.DB // one connection
	r    *sql.DB // query_only
}

// Tx is one transaction. It is a studio.Tx.
type Tx struct {
	tx       *sql.Tx
	file     int64                // as the store counts them
	read     map[string]*sql.Stmt // statements by their text; nil: came once
	emptyLog bool                 // something was erased: empty the write-ahead log after the commit
}

var _ studio.Tx = (*Tx)(nil)

// Open opens the studio file at path, makes it if there is none, and brings it
// to the present version after copying it. Faults: Storage, among them a file
// newer than the program and one that is no studio file; Busy.
func Open(ctx context.Context, path string) (*Store, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, fault.Storage(err, "the path %s cannot be used", path)
	}
	found, err := inspect(ctx, abs)
	if err != nil {
		return nil, err
	}
	s := &Store{path: abs}
	if err := s.open(ctx, found); err != nil {
		return nil, err
	}
	return s, nil
}

// open opens the handles on a file of the version found.
func (s *Store) open(ctx context.Context, found int64) (err error) {
	s.file++
	if s.w, err = sql.Open("sqlite", dsn(s.path, "_txlock=immediate")); err != nil {
		return storageFault(err, "the studio file cannot be opened")
	}
	s.w.SetMaxOpenConns(1)
	if err := s.migrate(ctx, found); err != nil {
		return errors.Join(err, s.w.Close())
	}
	if s.r, err = sql.Open("sqlite", dsn(s.path, "_pragma=query_only(1)")); err != nil {
		return errors.Join(storageFault(err, "the studio file cannot be opened"), s.w.Close())
	}
	s.r.SetMaxOpenConns(readers)
	return nil
}

// dsn returns the connection string of the file at an absolute path.
func dsn(abs string, more ...string) string {
	var query []string
	for _, p := range pragmas {
		query = append(query, "_pragma="+p)
	}
	return fileURL(abs) + "?" + strings.Join(append(query, more...), "&")
}

// lookDSN returns one that leaves the file exactly as it is: no journal_mode.
func lookDSN(abs string) string {
	return fileURL(abs) + "?_pragma=busy_timeout(5000)&_pragma=query_only(1)"
}

func fileURL(abs string) string {
	slashed := filepath.ToSlash(abs)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed // C:/… becomes /C:/…
	}
	return (&url.URL{Scheme: "file", Path: slashed}).String()
}

// Path returns where the file is.
func (s *Store) Path() string { return s.path }

// Close closes the file.
func (s *Store) Close() error {
	s.swap.Lock()
	defer s.swap.Unlock()
	return s.close()
}

func (s *Store) close() error {
	if err := errors.Join(s.r.Close(), s.w.Close()); err != nil {
		return storageFault(err, "the studio file could not be closed")
	}
	return nil
}

// Write runs do in one write transaction: all it writes is kept, or, if it
// returns an error, none. It must not call Write again. Faults: those of do;
// Busy, Storage.
func (s *Store) Write(ctx context.Context, do func(*Tx) error) error {
	s.swap.RLock()
	defer s.swap.RUnlock()
	tx, err := s.w.BeginTx(ctx, nil)
	if err != nil {
		return storageFault(err, "the record could not be written")
	}
	defer tx.Rollback() //nolint:errcheck // after Commit it does nothing
	t := &Tx{tx: tx, file: s.file}
	if err := do(t); err != nil {
		return err
	}
	if err := tx.Commit(); err != nil {
		return storageFault(err, "the record could not be written")
	}
	if t.emptyLog {
		// A reader still at work keeps the log until the next erasing or closing.
		_, err = s.w.ExecContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)")
		return storageFault(err, "the log of the studio file could not be emptied")
	}
	return nil
}

// Read runs do on one view of the file that no writer changes. Faults: those
// of do; Storage.
func (s *Store) Read(ctx context.Context, do func(*Tx) error) error {
	s.swap.RLock()
	defer s.swap.RUnlock()
	tx, err := s.r.BeginTx(ctx, nil)
	if err != nil {
		return storageFault(err, "the record could not be read")
	}
	defer tx.Rollback() //nolint:errcheck // it only read
	return do(&Tx{tx: tx, file: s.file})
}

// Records returns the store as the use cases of studio take it.
func (s *Store) Records() studio.Store { return records{s} }

type records struct{ s *Store }

func (r records) Write(ctx context.Context, do func(studio.Tx) error) error {
	return r.s.Write(ctx, func(tx *Tx) error { return do(tx) })
}

func (r records) Read(ctx context.Context, do func(studio.Tx) error) error {
	return r.s.Read(ctx, func(tx *Tx) error { return do(tx) })
}
