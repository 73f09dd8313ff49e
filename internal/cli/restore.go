package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"vatside/internal/fault"
	"vatside/internal/store"
)

// restoreCmd puts a copy in the studio's place.
type restoreCmd struct {
	File string `arg:"" type:"path" help:"The copy, as vatside backup made it."`
	Data string `placeholder:"DIR" type:"path" default:"${data}" env:"VATSIDE_DATA" help:"Folder that holds the studio. Usual: ${default}."`
}

// Run checks the copy, moves the studio aside and puts the copy in its place.
// Until the copy is found sound, nothing is moved.
func (c restoreCmd) Run(ctx context.Context, p *Program) error {
	present := filepath.Join(c.Data, studioFile)
	if same(c.File, present) {
		return fault.Invalid("FILE", "That is the studio itself: name the copy to go back to.")
	}
	if err := isStudio(c.File); err != nil {
		return err
	}
	release, err := hold(c.Data)
	if err != nil {
		return err
	}
	defer release()
	incoming := filepath.Join(c.Data, "incoming-"+studioFile)
	defer removeStudio(incoming)
	if err := bringIn(ctx, c.File, incoming); err != nil {
		return err
	}
	aside, err := moveAside(present, p.Now().UTC().Format("20060102T150405Z"))
	if err != nil {
		return err
	}
	if err := os.Rename(incoming, present); err != nil {
		return fault.Storage(err, "The copy could not be put in place: %v. The studio as it was is at %s.", reason(err), aside)
	}
	said := fmt.Appendf(nil, "The studio is now the one of %s\n", c.File)
	if aside != "" {
		said = fmt.Appendf(said, "The studio as it was is kept at %s\n", aside)
	}
	return print(p.Out, said)
}

// Marks at the head of a studio's file: the first sixteen bytes of every
// SQLite file, and the application id at byte 68 (SQLite, "Database File
// Format", 1.3).
const (
	head    = "SQLite format 3\x00"
	markAt  = 68
	oursIs  = "Vats"
	markEnd = markAt + len(oursIs)
)

// isStudio refuses what is no studio's file before anything is copied.
func isStudio(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return fault.Storage(err, "%s cannot be read: %v.", path, reason(err))
	}
	defer f.Close() //nolint:errcheck // it is only read
	b := make([]byte, markEnd)
	if _, err := io.ReadFull(f, b); err != nil || !bytes.HasPrefix(b, []byte(head)) || string(b[markAt:]) != oursIs {
		return fault.Storage(err, "%s is not a Vatside studio, so nothing was changed.", path)
	}
	return nil
}

// bringIn copies the file, opens the copy (which brings an older one to the
// present version and refuses a newer one) and reads it through.
func bringIn(ctx context.Context, from, to string) error {
	removeStudio(to)
	for _, part := range []string{"", "-wal"} { // a log beside it is a part of it
		err := copyFile(from+part, to+part)
		if err != nil && !(part != "" && errors.Is(err, fs.ErrNotExist)) {
			return fault.Storage(err, "%s cannot be copied: %v.", from, reason(err))
		}
	}
	file, err := store.Open(ctx, to)
	if err != nil {
		return err
	}
	if err := errors.Join(file.Check(ctx), file.Close()); err != nil {
		return err
	}
	return nil
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close() //nolint:errcheck // it is only read
	out, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Sync(), out.Close())
}

// beside are the endings of what belongs to a studio's file.
var beside = []string{"", "-wal", "-shm"}

// moveAside renames the studio's file and what belongs to it, and returns its
// new path: "" where there was none.
func moveAside(path, stamp string) (string, error) {
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	ext := filepath.Ext(path)
	aside := path[:len(path)-len(ext)] + ".before-restore-" + stamp + ext
	if _, err := os.Lstat(aside); err == nil {
		return "", fault.Conflict("There is already a file at %s: try again in a second.", aside)
	}
	for _, end := range beside {
		if err := os.Rename(path+end, aside+end); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return "", fault.Storage(err, "The studio could not be moved aside: %v.", reason(err))
		}
	}
	return aside, nil
}

func removeStudio(path string) {
	for _, end := range beside {
		os.Remove(path + end) //nolint:errcheck // what is left over is replaced next time
	}
}
