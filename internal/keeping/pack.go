package keeping

import (
	"archive/zip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"vatside/internal/fault"
)

// Names within the one file that holds a studio.
const (
	manifestName = "manifest.json"
	studioName   = "studio.vatside"
	photoPrefix  = "photos/"
)

// Bounds of a file that is taken; ours.
const (
	mostManifest = 64 << 20 // bytes; some hundred thousand photos
	mostOpened   = 64 << 30 // bytes of all that is inside
)

// manifest says what the file holds. A reader ignores further keys.
type manifest struct {
	Vatside int       `json:"vatside"` // of this arrangement: 1
	Made    time.Time `json:"made"`
	Files   []item    `json:"files"`
}

// item is one file, by its size and hash.
type item struct {
	Name   string `json:"name"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// Pack writes the studio as it is now, with its photos, as one file.
func (k *Keeper) Pack(ctx context.Context, w io.Writer) error {
	dir, err := k.room()
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir) //nolint:errcheck // what is left over goes in a day
	now := filepath.Join(dir, studioName)
	if err := k.backup(ctx, now); err != nil {
		return err
	}
	return k.pack(w, now, k.photos)
}

// backup copies the studio file; whoever takes the copy may be slow, and holds
// nobody up.
func (k *Keeper) backup(ctx context.Context, to string) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.file.Backup(ctx, to)
}

// room is one among the copies.
func (k *Keeper) room() (string, error) {
	if err := os.MkdirAll(filepath.Join(k.dir, photoFolder), 0o700); err != nil {
		return "", fault.Storage(err, "the folder of the copies cannot be made")
	}
	return room(filepath.Join(k.dir, onItsWay))
}

// PackCopy writes a copy, with all photos kept beside it, as one file. Faults:
// NotFound, Storage.
func (k *Keeper) PackCopy(_ context.Context, name string, w io.Writer) error {
	path, err := k.path(name)
	if err != nil {
		return err
	}
	return k.pack(w, path, filepath.Join(k.dir, photoFolder))
}

func (k *Keeper) pack(w io.Writer, file, photos string) error {
	names, err := photosIn(photos)
	if err != nil {
		return err
	}
	z := zip.NewWriter(w)
	m := manifest{Vatside: 1, Made: k.now().UTC().Truncate(time.Second)}
	add := func(path, name string, method uint16) error {
		in, err := os.Open(path)
		if err != nil {
			return fault.Storage(err, "%s cannot be read", name)
		}
		defer in.Close() //nolint:errcheck // it is only read
		out, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: method, Modified: m.Made})
		if err != nil {
			return fault.Storage(err, "the file cannot be written")
		}
		sum := sha256.New()
		n, err := io.Copy(io.MultiWriter(out, sum), in)
		if err != nil {
			return fault.Storage(err, "the file cannot be written")
		}
		m.Files = append(m.Files, item{name, n, hex.EncodeToString(sum.Sum(nil))})
		return nil
	}
	if err := add(file, studioName, zip.Deflate); err != nil {
		return err
	}
	for _, name := range names {
		if err := add(filepath.Join(photos, name), photoPrefix+name, zip.Store); err != nil {
			return err
		}
	}
	out, err := z.Create(manifestName)
	if err == nil {
		err = json.NewEncoder(out).Encode(m)
	}
	if err := errors.Join(err, z.Close()); err != nil {
		return fault.Storage(err, "the file cannot be written")
	}
	return nil
}

// Arrive takes a file that holds a studio, or a bare studio file, checks all of
// it, and lays it among the copies under the name returned, to be looked at and
// restored. The studio is not touched, and a file that is refused leaves
// nothing, not a photo. Faults: Storage, with what is wrong.
func (k *Keeper) Arrive(ctx context.Context, from *os.File) (name string, in Inside, err error) {
	dir, err := k.room()
	if err != nil {
		return "", in, err
	}
	defer os.RemoveAll(dir) //nolint:errcheck // what is left over goes in a day
	photos, err := unpack(from, dir)
	if err != nil {
		return "", in, err
	}
	file := filepath.Join(dir, studioName)
	if in, err = k.look(ctx, file); err != nil {
		return "", in, err
	}
	in.Photos = photos
	if err := movePhotos(dir, filepath.Join(k.dir, photoFolder)); err != nil {
		return "", in, err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	name = k.free(Arrived)
	if err := os.Rename(file, filepath.Join(k.dir, name)); err != nil {
		return "", in, fault.Storage(err, "the studio that arrived could not be named")
	}
	return name, in, nil
}

// Receive is Arrive for what comes over a network.
func (k *Keeper) Receive(ctx context.Context, from io.Reader) (name string, in Inside, err error) {
	dir, err := k.room()
	if err != nil {
		return "", in, err
	}
	defer os.RemoveAll(dir) //nolint:errcheck // what is left over goes in a day
	file, err := os.Create(filepath.Join(dir, "received"))
	if err != nil {
		return "", in, fault.Storage(err, "the file cannot be written")
	}
	defer file.Close() //nolint:errcheck // it is only read by now
	if _, err := io.Copy(file, from); err != nil {
		return "", in, fault.Storage(err, "the file did not arrive whole; send it once more")
	}
	return k.Arrive(ctx, file)
}

// unpack puts the studio file and the photos into a folder and counts the
// photos; -1 of a bare studio file. Names inside only choose among what is
// expected: none becomes a path.
func unpack(from *os.File, dir string) (photos int, err error) {
	to := filepath.Join(dir, studioName)
	info, err := from.Stat()
	if err != nil {
		return 0, fault.Storage(err, "the file cannot be read")
	}
	z, err := zip.NewReader(from, info.Size())
	if err != nil {
		// No such arrangement: a bare studio file says so itself when looked at. What
		// stands in a log beside it would be lost.
		if log, err := os.Stat(from.Name() + "-wal"); err == nil && log.Size() > 0 {
			return 0, fault.Storage(nil, "%s has a log beside it, so it is not whole by itself; make a copy of that studio with vatside backup, and take that", filepath.Base(from.Name()))
		}
		if !isStudio(from) {
			return 0, damaged()
		}
		if err := CopyFile(from.Name(), to); err != nil {
			return 0, fault.Storage(err, "the file cannot be copied")
		}
		return -1, nil
	}
	m, inside, err := contents(z)
	if err != nil {
		return 0, err
	}
	for _, it := range m.Files {
		photo, isPhoto := strings.CutPrefix(it.Name, photoPrefix)
		switch {
		case it.Name == studioName:
			err = unpackOne(inside[it.Name], it, func(r io.Reader) error { return writeStudio(r, to) })
		case isPhoto && aPhoto.MatchString(photo):
			photos++
			err = unpackOne(inside[it.Name], it, func(r io.Reader) error { return writePhoto(r, dir, photo) })
		default:
			err = damaged()
		}
		if err != nil {
			return 0, err
		}
	}
	return photos, nil
}

// Marks at the head of a studio's file: the first sixteen bytes of every
// SQLite file, and the application id at byte 68 (SQLite, "Database File
// Format", 1.3).
const (
	head   = "SQLite format 3\x00"
	markAt = 68
	ours   = "Vats"
)

func isStudio(f io.ReaderAt) bool {
	b := make([]byte, markAt+len(ours))
	_, err := f.ReadAt(b, 0)
	return err == nil && strings.HasPrefix(string(b), head) && string(b[markAt:]) == ours
}

func damaged() error {
	return fault.Storage(nil, "this file is damaged, or holds no studio; nothing was changed")
}

// contents reads what a file says it holds, and refuses one that holds anything
// else, anything twice, or more than can be meant.
func contents(z *zip.Reader) (m manifest, inside map[string]*zip.File, err error) {
	inside = map[string]*zip.File{}
	total := uint64(0)
	for _, f := range z.File {
		total += f.UncompressedSize64
		if inside[f.Name] != nil || f.UncompressedSize64 > mostOpened || total > mostOpened {
			return m, nil, damaged()
		}
		inside[f.Name] = f
	}
	f := inside[manifestName]
	if f == nil {
		return m, nil, damaged()
	}
	r, err := f.Open()
	if err != nil {
		return m, nil, damaged()
	}
	defer r.Close() //nolint:errcheck // it is only read
	if err := json.NewDecoder(io.LimitReader(r, mostManifest)).Decode(&m); err != nil {
		return m, nil, damaged()
	}
	if m.Vatside > 1 {
		return m, nil, fault.Storage(nil, "this file was written by a newer Vatside; start the newer program")
	}
	studios := 0
	for _, it := range m.Files {
		if inside[it.Name] == nil || it.Name == manifestName {
			return m, nil, damaged()
		}
		if it.Name == studioName {
			studios++
		}
	}
	if m.Vatside != 1 || studios != 1 || len(m.Files)+1 != len(inside) {
		return m, nil, damaged()
	}
	return m, inside, nil
}

// unpackOne hands a file's content to take and holds it against what was said
// of it; it reads not a byte more than that.
func unpackOne(f *zip.File, said item, take func(io.Reader) error) error {
	r, err := f.Open()
	if err != nil {
		return damaged()
	}
	defer r.Close() //nolint:errcheck // it is only read
	sum := sha256.New()
	counted := &counter{r: io.TeeReader(io.LimitReader(r, said.Bytes+1), sum)}
	if err := take(counted); err != nil {
		if counted.err != nil || errors.Is(err, errRotten) {
			return damaged()
		}
		return err
	}
	if counted.n != said.Bytes || hex.EncodeToString(sum.Sum(nil)) != said.SHA256 {
		return damaged()
	}
	return nil
}

// counter counts what is read, and remembers a fault of reading.
type counter struct {
	r   io.Reader
	n   int64
	err error
}

func (c *counter) Read(b []byte) (int, error) {
	n, err := c.r.Read(b)
	c.n += int64(n)
	if err != nil && !errors.Is(err, io.EOF) {
		c.err = err
	}
	return n, err
}

func writeStudio(r io.Reader, to string) error {
	if err := writeAll(r, to); err != nil {
		return fault.Storage(err, "the studio that arrived cannot be written")
	}
	return nil
}
