package photo

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"image"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"vatside/internal/fault"
)

// MostBytes is the largest file taken; ours: a full-frame camera's largest JPEG
// three times over.
const MostBytes = 100 << 20

// smallFolder stands within the folder and holds the small pictures.
const smallFolder = "small"

// arriving begins the name of a file that is being written.
const arriving = "arriving-"

// slowestArrival is from when on a file that arrives is left over; ours: no
// page waits as long.
const slowestArrival = 24 * time.Hour

// Kept is a photo as it lies in the folder.
type Kept struct {
	Hash   string // SHA-256 of the file, in hex
	Format string // JPEG, PNG, WebP, TIFF
	Width  int    // upright, in pixels
	Height int
	Bytes  int64
}

// Folder is the photos of one studio.
type Folder struct {
	dir string
	// decoding lets one picture at a time into memory.
	decoding sync.Mutex
	swept    sync.Once
}

// In returns the photos kept in dir, which is made with the first of them.
func In(dir string) *Folder { return &Folder{dir: dir} }

// Dir is where the photos lie.
func (f *Folder) Dir() string { return f.dir }

// Add keeps a photo. It is on the disk, under its hash and with its small
// picture, when Add returns; a photo that is there already is only found. A
// fault leaves nothing behind. Faults: Invalid, no photo or a damaged one;
// OutOfRange, too large; Storage.
func (f *Folder) Add(ctx context.Context, from io.Reader) (Kept, error) {
	file, sum, n, err := f.arrive(from)
	if err != nil {
		return Kept{}, err
	}
	defer gone(file) // after the renaming it is not there
	k := Kept{Hash: sum, Bytes: n}
	fm, picture, err := f.look(ctx, file, &k)
	if err != nil {
		return Kept{}, err
	}
	if err := errors.Join(file.Sync(), file.Close()); err != nil {
		return Kept{}, fault.Storage(err, "the photo could not be brought to the disk")
	}
	// The small one first: where a photo is, its small picture is.
	if err := f.put(filepath.Join(smallFolder, k.Hash+".jpg"), picture); err != nil {
		return Kept{}, err
	}
	if err := os.Rename(file.Name(), filepath.Join(f.dir, k.Hash+fm.ends)); err != nil {
		return Kept{}, fault.Storage(err, "the photo could not be named")
	}
	return k, syncFolder(f.dir)
}

// arrive writes what comes to a file of its own, and says its hash and length.
func (f *Folder) arrive(from io.Reader) (file *os.File, hash string, n int64, err error) {
	if err := os.MkdirAll(filepath.Join(f.dir, smallFolder), 0o700); err != nil {
		return nil, "", 0, fault.Storage(err, "the folder of the photos cannot be made")
	}
	f.swept.Do(f.sweep)
	if file, err = os.CreateTemp(f.dir, arriving+"*"); err != nil {
		return nil, "", 0, fault.Storage(err, "the photo cannot be written")
	}
	sum := sha256.New()
	n, err = io.Copy(io.MultiWriter(file, sum), io.LimitReader(from, MostBytes+1))
	switch {
	case err != nil:
		err = fault.Storage(err, "the photo did not arrive whole; send it once more")
	case n > MostBytes:
		err = fault.OutOfRange("photo", "at most %d MB a photo; save it smaller", MostBytes>>20)
	case n == 0:
		err = fault.Invalid("photo", "the file is empty")
	}
	if err != nil {
		gone(file)
		return nil, "", 0, err
	}
	return file, hex.EncodeToString(sum.Sum(nil)), n, nil
}

// sweep takes away what a program that was killed left half written; what
// another program may be writing now stays.
func (f *Folder) sweep() {
	for _, dir := range []string{f.dir, filepath.Join(f.dir, smallFolder)} {
		list, err := filepath.Glob(filepath.Join(dir, arriving+"*"))
		if err != nil {
			continue
		}
		for _, path := range list {
			if info, err := os.Lstat(path); err == nil && time.Since(info.ModTime()) > slowestArrival {
				os.Remove(path) //nolint:errcheck // it does no harm
			}
		}
	}
}

// gone takes away a file that arrived.
func gone(file *os.File) {
	file.Close()           //nolint:errcheck // where it counts it was closed before
	os.Remove(file.Name()) //nolint:errcheck // what stays is swept away later
}

// look decodes a file, says what it is and returns its small picture as JPEG.
func (f *Folder) look(ctx context.Context, file *os.File, k *Kept) (format, []byte, error) {
	var b bytes.Buffer
	fm, err := f.decode(ctx, file, func(fm format, picture image.Image, held int) error {
		k.Format, k.Width, k.Height = fm.name, picture.Bounds().Dx(), picture.Bounds().Dy()
		if held >= 5 {
			k.Width, k.Height = k.Height, k.Width
		}
		if err := writeSmall(&b, small(picture, held)); err != nil {
			return fault.Storage(err, "the small picture could not be made")
		}
		return nil
	})
	return fm, b.Bytes(), err
}

// decode decodes a file for a use of it, one at a time; held is how the camera
// was held.
func (f *Folder) decode(ctx context.Context, file *os.File, use func(fm format, picture image.Image, held int) error) (format, error) {
	f.decoding.Lock()
	defer f.decoding.Unlock()
	if err := ctx.Err(); err != nil {
		return format{}, fault.Storage(err, "the photo was not waited for")
	}
	// Else what one photo took still stands in memory beside the next; the size of
	// the file does not tell how much that is.
	defer debug.FreeOSMemory()
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return format{}, fault.Storage(err, "the photo could not be read again")
	}
	fm, picture, err := decode(file)
	if err != nil {
		return format{}, err
	}
	return fm, use(fm, picture, orientation(fm, file))
}

// put writes a file whole or not at all.
func (f *Folder) put(name string, content []byte) error {
	path := filepath.Join(f.dir, name)
	file, err := os.CreateTemp(filepath.Dir(path), arriving+"*")
	if err != nil {
		return fault.Storage(err, "the small picture cannot be written")
	}
	defer os.Remove(file.Name()) //nolint:errcheck // after the renaming it is not there
	_, err = file.Write(content)
	if err := errors.Join(err, file.Sync(), file.Close()); err != nil {
		return fault.Storage(err, "the small picture could not be brought to the disk")
	}
	if err := os.Rename(file.Name(), path); err != nil {
		return fault.Storage(err, "the small picture could not be named")
	}
	return syncFolder(filepath.Dir(path))
}

// Open opens a photo as it came, and says its media type. Faults: NotFound.
func (f *Folder) Open(hash string) (file *os.File, mime string, err error) {
	if !isHash(hash) {
		return nil, "", fault.NotFound("there is no such photo")
	}
	for _, fm := range formats {
		file, err := os.Open(filepath.Join(f.dir, hash+fm.ends))
		if err == nil {
			return file, fm.mime, nil
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return nil, "", fault.Storage(err, "the photo cannot be read")
		}
	}
	return nil, "", fault.NotFound("this photo is not in the studio's folder any more")
}

// OpenSmall opens a photo's small picture, a JPEG, and makes it again where it
// is gone, as in a studio brought back from a copy. Faults: NotFound.
func (f *Folder) OpenSmall(ctx context.Context, hash string) (*os.File, error) {
	if !isHash(hash) {
		return nil, fault.NotFound("there is no such photo")
	}
	path := filepath.Join(f.dir, smallFolder, hash+".jpg")
	file, err := os.Open(path)
	if err == nil {
		return file, nil
	}
	whole, _, err := f.Open(hash)
	if err != nil {
		return nil, err
	}
	defer whole.Close() //nolint:errcheck // it is only read
	k := Kept{Hash: hash}
	_, picture, err := f.look(ctx, whole, &k)
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return nil, fault.Storage(err, "the folder of the photos cannot be made")
	}
	if err := f.put(filepath.Join(smallFolder, hash+".jpg"), picture); err != nil {
		return nil, err
	}
	if file, err = os.Open(path); err != nil {
		return nil, fault.Storage(err, "the small picture cannot be read")
	}
	return file, nil
}

func isHash(s string) bool {
	return len(s) == 2*sha256.Size && strings.Trim(s, "0123456789abcdef") == ""
}

// syncFolder brings a folder's names to the disk, where the system can.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return fault.Storage(err, "the folder of the photos cannot be read")
	}
	defer d.Close() //nolint:errcheck // it is only read
	d.Sync()        //nolint:errcheck // some systems cannot sync a folder; the file itself is on the disk
	return nil
}
