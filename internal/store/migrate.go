package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/pressly/goose/v3"

	"vatside/internal/fault"
)

//go:embed migrations/*.sql
var embedded embed.FS

// applicationID marks a studio's file; migration 1 writes it.
const applicationID = 0x56617473 // "Vats"

// migrateTries is how often a migration that met another process is looked at
// again.
const migrateTries = 5

// inspect looks at what is at path before anything may change it, and returns
// the version of the file: 0 where there is none.
func inspect(ctx context.Context, abs string) (version int64, err error) {
	info, err := os.Stat(abs)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return 0, nil
	case err != nil:
		return 0, fault.Storage(err, "the studio file %s cannot be read", abs)
	case info.IsDir():
		return 0, fault.Storage(nil, "%s is a folder, not a studio file", abs)
	case info.Size() == 0:
		return 0, nil
	}
	db, err := sql.Open("sqlite", lookDSN(abs))
	if err != nil {
		return 0, storageFault(err, "the studio file cannot be opened")
	}
	defer db.Close() //nolint:errcheck // it only read
	var mark, tables int64
	if err := db.QueryRowContext(ctx, "PRAGMA application_id").Scan(&mark); err != nil {
		return 0, storageFault(err, "the studio file cannot be read")
	}
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema").Scan(&tables); err != nil {
		return 0, storageFault(err, "the studio file cannot be read")
	}
	if mark != applicationID {
		// Another process may have begun to make the file this very moment: then
		// only the table of versions stands in it.
		var others int64
		err := db.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema WHERE tbl_name NOT IN ('goose_db_version', 'sqlite_sequence')").Scan(&others)
		if err != nil {
			return 0, storageFault(err, "the studio file cannot be read")
		}
		if others > 0 {
			return 0, fault.Storage(nil, "%s is not a studio file", abs)
		}
		return 0, nil
	}
	err = db.QueryRowContext(ctx, "SELECT max(version_id) FROM goose_db_version WHERE is_applied = 1").Scan(&version)
	if err != nil {
		return 0, storageFault(err, "the version of the studio file cannot be read")
	}
	return version, nil
}

// migrate brings the file to the present version, a copy of it made first.
func (s *Store) migrate(ctx context.Context, found int64) error {
	folder, err := fs.Sub(embedded, "migrations")
	if err != nil {
		return &fault.Error{Kind: fault.KindInternal, Text: "the migrations are not in the program", Err: err}
	}
	return s.migrateWith(ctx, found, folder)
}

func (s *Store) migrateWith(ctx context.Context, found int64, folder fs.FS) error {
	if err := s.w.PingContext(ctx); err != nil {
		return storageFault(err, "the studio file cannot be opened")
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, s.w, folder, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return &fault.Error{Kind: fault.KindInternal, Text: "the migrations cannot be read", Err: err}
	}
	sources := p.ListSources()
	target := sources[len(sources)-1].Version
	switch {
	case found > target:
		return newer(found, target)
	case found == target:
		return nil
	case found > 0:
		if err := s.Backup(ctx, s.beforePath(target)); err != nil {
			return err
		}
	}
	// Two processes may open a file of the old version at the same moment: the
	// one that comes second finds the work done.
	for try := 1; ; try++ {
		_, err = p.Up(ctx)
		if err == nil {
			return nil
		}
		if now, vErr := p.GetDBVersion(ctx); vErr == nil && now == target {
			return nil
		}
		if try == migrateTries || ctx.Err() != nil {
			return storageFault(err, "the studio file could not be brought to the present version and stays as it was")
		}
		time.Sleep(time.Duration(try) * 50 * time.Millisecond)
	}
}

// newer refuses a file that a later program wrote.
func newer(found, newest int64) error {
	return fault.Storage(nil, "this studio file was written by a newer Vatside (file version %d, this program knows up to %d); start the newer program", found, newest)
}

// beforePath names the copy made before a migration: beside the file, with the
// version it was made for and the time.
func (s *Store) beforePath(target int64) string {
	ext := filepath.Ext(s.path)
	stamp := time.Now().UTC().Format("20060102T150405.000Z")
	return fmt.Sprintf("%s.before-%04d-%s%s", strings.TrimSuffix(s.path, ext), target, stamp, ext)
}
