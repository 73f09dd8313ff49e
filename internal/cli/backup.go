package cli

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"vatside/internal/fault"
	"vatside/internal/keeping"
)

// backupCmd copies the studio.
type backupCmd struct {
	File  string `arg:"" type:"path" help:"Where the copy goes."`
	Data  string `placeholder:"DIR" type:"path" default:"${data}" env:"VATSIDE_DATA" help:"Folder that holds the studio. Usual: ${default}."`
	Force bool   `help:"Put the copy in the place of a file that is there already."`
}

// Run makes the copy; the studio may be in use.
func (c backupCmd) Run(ctx context.Context, p *Program) error {
	if same(c.File, filepath.Join(c.Data, studioFile)) {
		return fault.Invalid("FILE", "That is the studio itself: name another file for the copy.")
	}
	info, err := os.Lstat(c.File)
	switch {
	case err == nil && info.IsDir():
		return fault.Invalid("FILE", "%s is a folder: name a file in it, such as %s.", c.File, filepath.Join(c.File, studioFile))
	case err == nil && !c.Force:
		return fault.Conflict("There is already a file at %s: name another, or say --force to replace it.", c.File)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return fault.Storage(err, "%s cannot be written: %v.", c.File, reason(err))
	}
	file, err := present(ctx, c.Data)
	if err != nil {
		return err
	}
	defer file.Close() //nolint:errcheck // it is only read
	// The old copy is only lost once the new one is whole.
	whole := fmt.Sprintf("%s.new-%d", c.File, os.Getpid())
	if err := packInto(ctx, keeper(file, c.Data, p.Now), whole); err != nil {
		os.Remove(whole) //nolint:errcheck // the first error tells more
		return err
	}
	if err := os.Rename(whole, c.File); err != nil {
		os.Remove(whole) //nolint:errcheck // the first error tells more
		return fault.Storage(err, "The copy could not be named %s: %v.", c.File, reason(err))
	}
	return print(p.Out, fmt.Appendf(nil, "The studio is copied to %s\n", c.File))
}

// packInto writes the studio and its photos into a file and brings it to the
// disk.
func packInto(ctx context.Context, keep *keeping.Keeper, path string) error {
	out, err := os.OpenFile(path, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return fault.Storage(err, "%s cannot be written: %v.", path, reason(err))
	}
	if err := keep.Pack(ctx, out); err != nil {
		return errors.Join(err, out.Close())
	}
	if err := errors.Join(out.Sync(), out.Close()); err != nil {
		return fault.Storage(err, "%s could not be brought to the disk: %v.", path, reason(err))
	}
	return nil
}

// same reports whether two paths are one file, there or not.
func same(a, b string) bool {
	ia, errA := os.Stat(a)
	ib, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(ia, ib)
}
