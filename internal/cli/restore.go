package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"vatside/internal/fault"
	"vatside/internal/keeping"
	"vatside/internal/store"
)

// restoreCmd puts a copy in the studio's place.
type restoreCmd struct {
	File string `arg:"" type:"path" help:"The copy, as vatside backup made it."`
	Data string `placeholder:"DIR" type:"path" default:"${data}" env:"VATSIDE_DATA" help:"Folder that holds the studio. Usual: ${default}."`
}

// Run checks the file, copies the studio as it is and puts the file's in its
// place. Until the file is found sound, the studio is not touched.
func (c restoreCmd) Run(ctx context.Context, p *Program) error {
	present := filepath.Join(c.Data, studioFile)
	if same(c.File, present) {
		return fault.Invalid("FILE", "That is the studio itself: name the copy to go back to.")
	}
	from, err := os.Open(c.File)
	if err != nil {
		return fault.Storage(err, "%s cannot be read: %v.", c.File, reason(err))
	}
	defer from.Close() //nolint:errcheck // it is only read
	release, err := hold(c.Data)
	if err != nil {
		return err
	}
	defer release()
	here := &openedLate{path: present}
	keep := keeper(here, c.Data, p.Now)
	name, _, err := keep.Arrive(ctx, from)
	if err != nil {
		return err
	}
	_, missing := os.Stat(present)
	aside, err := here.open(ctx, p.Now().UTC().Format("20060102T150405Z"))
	if err != nil {
		return keptAt(aside, err)
	}
	defer here.Close() //nolint:errcheck // what was put in place is on the disk
	before, err := keep.Restore(ctx, name)
	if err != nil {
		return keptAt(aside, err)
	}
	said := fmt.Appendf(nil, "The studio is now the one of %s\n", c.File)
	kept := filepath.Join(keep.Dir(), before.Name)
	switch {
	case aside != "":
		said = fmt.Appendf(said, "The studio as it was could not be read; it is kept as it is at %s\n", aside)
	case missing != nil:
		os.Remove(kept) //nolint:errcheck // a copy of nothing
	default:
		said = fmt.Appendf(said, "The studio as it was is kept at %s\n", kept)
	}
	return print(p.Out, said)
}

// openedLate is a studio that is opened only once there is something to put in
// its place.
type openedLate struct {
	*store.Store
	path string
}

// Path returns where the studio is.
func (o *openedLate) Path() string { return o.path }

// beside are the endings of what belongs to a studio's file.
var beside = []string{"", "-wal", "-shm"}

// open opens the studio. One that nobody can read here, because it is damaged,
// no studio, or of a newer program, is set aside, and its new path returned even
// where the rest fails: all of it is copied and on the disk before any of it is
// taken away. One that can be read but not opened stays where it is.
func (o *openedLate) open(ctx context.Context, stamp string) (aside string, err error) {
	if _, err := os.Stat(o.path); err == nil {
		if _, err := store.Look(ctx, o.path); fault.KindOf(err) == fault.KindBusy {
			return "", err
		} else if err != nil {
			aside = o.path + ".unreadable-" + stamp
		}
	}
	if aside != "" {
		if err := o.setAside(aside); err != nil {
			return "", err
		}
		if err := o.clear(); err != nil {
			return aside, err
		}
	}
	o.Store, err = store.Open(ctx, o.path)
	return aside, err
}

// setAside copies all that belongs to the studio, or leaves nothing.
func (o *openedLate) setAside(aside string) error {
	for _, end := range beside {
		if err := keeping.CopyFile(o.path+end, aside+end); err != nil && !errors.Is(err, fs.ErrNotExist) {
			for _, end := range beside {
				os.Remove(aside + end) //nolint:errcheck // what is left over is small harm
			}
			return fault.Storage(err, "The studio could not be set aside: %v.", reason(err))
		}
	}
	return nil
}

// clear takes the studio away: no log is left to a file that is not its own.
func (o *openedLate) clear() error {
	for _, end := range slices.Backward(beside) {
		if err := os.Remove(o.path + end); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fault.Storage(err, "The studio could not be taken away: %v.", reason(err))
		}
	}
	return nil
}

// keptAt adds to an error where the studio is that was set aside.
func keptAt(aside string, err error) error {
	if aside == "" {
		return err
	}
	var all fault.List
	all.Add(err)
	all.Add(fault.Storage(nil, "the studio as it was is kept as it is at %s", aside))
	return all
}
