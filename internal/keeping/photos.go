package keeping

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"

	"vatside/internal/fault"
)

// aPhoto is the name of a photo's file: the hash of its content, and what kind
// of file it is.
var aPhoto = regexp.MustCompile(`^([0-9a-f]{64})\.[a-z]{2,5}$`)

// photosIn lists the names of the photos in a folder; none where there is no
// folder.
func photosIn(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fault.Storage(err, "the folder of the photos cannot be read")
	}
	var names []string
	for _, e := range entries {
		if aPhoto.MatchString(e.Name()) && e.Type().IsRegular() {
			names = append(names, e.Name())
		}
	}
	return names, nil
}

// AddPhotos copies the photos of one folder that the other lacks. What a name
// promises is checked on the way: a photo that has rotted is not spread, and
// does not keep the others back; rotten counts them. Faults: Storage.
func AddPhotos(from, to string) (rotten int, err error) {
	names, err := photosIn(from)
	if err != nil || len(names) == 0 {
		return 0, err
	}
	if err := os.MkdirAll(to, 0o700); err != nil {
		return 0, fault.Storage(err, "the folder of the photos cannot be made")
	}
	dir, err := room(filepath.Join(to, onItsWay))
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(dir) //nolint:errcheck // what is left over goes in a day
	for _, name := range names {
		if _, err := os.Lstat(filepath.Join(to, name)); err == nil {
			continue
		}
		in, err := os.Open(filepath.Join(from, name))
		if err != nil {
			return rotten, fault.Storage(err, "a photo cannot be read")
		}
		err = writePhoto(in, dir, name)
		in.Close() //nolint:errcheck // it was only read
		if errors.Is(err, errRotten) {
			rotten++
			continue
		}
		if err == nil {
			err = movePhoto(dir, to, name)
		}
		if err != nil {
			return rotten, err
		}
	}
	return rotten, nil
}

var errRotten = errors.New("keeping: the photo is not what its name says")

// onItsWay begins the names of what is on its way, among photos and copies.
const onItsWay = "arriving-"

// writePhoto writes a photo into a room and finds out whether it is what its
// name says.
func writePhoto(in io.Reader, dir, name string) error {
	sum := sha256.New()
	if err := writeAll(io.TeeReader(in, sum), filepath.Join(dir, name)); err != nil {
		return fault.Storage(err, "a photo could not be copied")
	}
	if hex.EncodeToString(sum.Sum(nil)) != aPhoto.FindStringSubmatch(name)[1] {
		return errRotten
	}
	return nil
}

// movePhoto takes a photo that was found whole out of a room on the same disk.
func movePhoto(dir, to, name string) error {
	if err := os.Rename(filepath.Join(dir, name), filepath.Join(to, name)); err != nil {
		return fault.Storage(err, "a photo could not be named")
	}
	return nil
}

func movePhotos(dir, to string) error {
	names, err := photosIn(dir)
	for _, name := range names {
		err = errors.Join(err, movePhoto(dir, to, name))
	}
	return err
}

// CopyFile copies a file to a name that is free, and brings it to the disk.
func CopyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close() //nolint:errcheck // it is only read
	return writeAll(in, to)
}

// writeAll writes a file under a name that is free, and brings it to the disk.
func writeAll(from io.Reader, to string) error {
	out, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, from)
	return errors.Join(err, out.Sync(), out.Close())
}
