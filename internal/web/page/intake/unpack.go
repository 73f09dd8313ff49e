package intake

import (
	"archive/zip"
	"errors"
	"io"
	"os"
	"path"
	"path/filepath"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/intake"
)

// Bounds of what is packed; ours.
const (
	mostTables  = 2 << 30 // bytes of tables and long texts, unpacked
	mostEntries = 1 << 20 // files
)

// unpackFrom unpacks a file that was handed out into a folder.
func unpackFrom(from io.Reader, dir string) error {
	file, err := os.CreateTemp(dir, "sent-*")
	if err != nil {
		return fault.Storage(err, "there is no room for the file")
	}
	defer os.Remove(file.Name()) //nolint:errcheck // its folder goes too
	defer file.Close()           //nolint:errcheck // it is only read again
	size, err := io.Copy(file, from)
	if err != nil {
		return err
	}
	z, err := zip.NewReader(file, size)
	if err != nil || len(z.File) > mostEntries {
		return notWhole()
	}
	tables, all := int64(mostTables), int64(MostWhole)
	for _, f := range z.File {
		// All lies in one folder, named by the day it was handed out on.
		_, name, ok := strings.Cut(f.Name, "/")
		most := &tables
		switch top, _, _ := strings.Cut(name, "/"); {
		case top == name, top == intake.LongFolder:
		case path.Dir(name) == intake.PhotoFolder:
			most = &all
		default:
			continue // small pictures, which are made again
		}
		if !ok || !f.Mode().IsRegular() || path.Clean(name) != name || !filepath.IsLocal(filepath.FromSlash(name)) {
			continue
		}
		n, err := unpackOne(f, filepath.Join(dir, filepath.FromSlash(name)), *most)
		if err != nil {
			return err
		}
		*most -= n
	}
	return nil
}

func notWhole() error {
	return fault.Invalid("whole", "this is not a whole studio that was saved here, or it is damaged; nothing was changed")
}

// unpackOne writes one file of at most so many bytes; one that is there is
// named twice, which nobody means.
func unpackOne(f *zip.File, to string, most int64) (int64, error) {
	in, err := f.Open()
	if err != nil {
		return 0, notWhole()
	}
	defer in.Close() //nolint:errcheck // it is only read
	if err := os.MkdirAll(filepath.Dir(to), 0o700); err != nil {
		return 0, notWhole()
	}
	out, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return 0, notWhole()
	}
	n, err := io.Copy(out, io.LimitReader(in, most+1))
	bad := errors.Is(err, zip.ErrChecksum) || errors.Is(err, zip.ErrFormat) || errors.Is(err, zip.ErrAlgorithm) || n > most
	switch err = errors.Join(err, out.Close()); {
	case bad:
		return n, notWhole()
	case err != nil:
		return n, fault.Storage(err, "the file could not be unpacked")
	}
	return n, nil
}
