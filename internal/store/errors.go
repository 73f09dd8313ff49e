package store

import (
	"context"
	"errors"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"vatside/internal/fault"
)

// storageFault turns an error of SQLite into a fault whose sentence says what
// the maker can do; what was being done stands in the others.
func storageFault(err error, doing string) error {
	var f *fault.Error
	if err == nil || errors.As(err, &f) {
		return err
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return &fault.Error{Kind: fault.KindBusy, Text: doing + ": it was stopped before it was done", Err: err}
	}
	var lite *sqlite.Error
	if !errors.As(err, &lite) {
		return fault.Storage(err, "%s", doing)
	}
	switch lite.Code() & 0xff { // the low byte is the primary code
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return &fault.Error{Kind: fault.KindBusy, Text: "another program is writing to the studio file; try again in a moment", Err: err}
	case sqlite3.SQLITE_FULL:
		return fault.Storage(err, "%s: the disk is full", doing)
	case sqlite3.SQLITE_NOTADB:
		return fault.Storage(err, "%s: it is not a studio file, or it is damaged", doing)
	case sqlite3.SQLITE_CORRUPT:
		return fault.Storage(err, "%s: the file is damaged; go back to a copy", doing)
	case sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_READONLY:
		return fault.Storage(err, "%s: the folder or the file cannot be written", doing)
	case sqlite3.SQLITE_CONSTRAINT:
		// The use cases check first: what the file refuses is a defect of ours.
		return &fault.Error{Kind: fault.KindInternal, Text: doing + ": the file refused it", Err: err}
	}
	return fault.Storage(err, "%s", doing)
}
