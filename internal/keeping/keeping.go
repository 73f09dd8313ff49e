// Package keeping keeps a studio safe: copies of it made by themselves and
// thinned out with time, one file that holds all of it, and the way back from
// either.
//
// A copy is a studio file; the photos of all copies stand once each, by their
// hash, in a folder beside them. A copy has its name only when it was read
// through; the newest is never taken away. Before a studio is brought back the
// present one is copied, so that the way back can itself be taken back. Photos
// are only ever added. Who opens and reads studio files is passed in.
//
// What is not kept safe: a disk that is lost whole. A copy belongs on another
// device, which this program does not know of.
package keeping

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"vatside/internal/fault"
)

// File is the open studio file. Backup writes a copy, reads it through and only
// then gives it its name; Replace puts a file in the place of the studio, whole
// or not at all.
type File interface {
	Path() string
	Backup(ctx context.Context, path string) error
	Replace(ctx context.Context, with string) error
}

// Inside is what a copy holds.
type Inside struct {
	Papers, Makings int
	Last            time.Time // of the last entry; zero: none
	Photos          int       // in a file that holds them; -1: they stand beside the copies
}

// Look reads a studio file through, without changing it, and says what is in
// it. Faults: Storage, with what is wrong.
type Look func(ctx context.Context, path string) (Inside, error)

// Why a copy was made.
const (
	Daily         = "daily"
	Asked         = "asked"
	BeforeRestore = "before-restore"
	BeforeImport  = "before-import"
	Arrived       = "arrived" // brought from elsewhere to be looked at; no copy of this studio
)

// Copy is one copy.
type Copy struct {
	Name  string // of its file
	At    time.Time
	Why   string
	Bytes int64
}

// Keeper keeps the copies of one studio.
type Keeper struct {
	file   File
	look   Look
	photos string // the studio's folder of photos
	dir    string // of the copies
	now    func() time.Time

	mu sync.Mutex // one copy or restoring at a time
}

// New returns the keeper of a studio whose photos lie in a folder; its copies
// lie beside its file.
func New(file File, look Look, photos string, now func() time.Time) *Keeper {
	return &Keeper{file: file, look: look, photos: photos, dir: file.Path() + ".copies", now: now}
}

// Dir is where the copies lie.
func (k *Keeper) Dir() string { return k.dir }

// photoFolder holds the photos of all copies, within the folder of the copies.
const photoFolder = "photos"

// stamp is the time in the name of a copy: UTC, to sort by.
const stamp = "20060102T150405.000Z"

const ending = ".vatside"

var named = regexp.MustCompile(`^(\d{8}T\d{6}\.\d{3}Z)-([a-z-]+)\.vatside$`)

// read reads a copy's name; ok is false for what is no copy.
func read(name string) (c Copy, ok bool) {
	m := named.FindStringSubmatch(name)
	if m == nil {
		return c, false
	}
	at, err := time.Parse(stamp, m[1])
	return Copy{Name: name, At: at, Why: m[2]}, err == nil
}

// List lists the copies, the newest first.
func (k *Keeper) List() ([]Copy, error) {
	list, _, err := k.list()
	return list, err
}

// list lists the copies, and besides them what only arrived and what a program
// that was killed had half written.
func (k *Keeper) list() (list, besides []Copy, err error) {
	entries, err := os.ReadDir(k.dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, nil, fault.Storage(err, "the folder of the copies cannot be read")
	}
	for _, e := range entries {
		name, _, half := strings.Cut(e.Name(), ".unfinished")
		c, ok := read(name)
		info, err := e.Info()
		if !ok || err != nil {
			continue
		}
		c.Name, c.Bytes = e.Name(), info.Size()
		if half || c.Why == Arrived {
			besides = append(besides, c)
			continue
		}
		list = append(list, c)
	}
	slices.SortFunc(list, func(a, b Copy) int { return strings.Compare(b.Name, a.Name) })
	return list, besides, nil
}

// Make makes a copy now, reads it through, and thins the older ones out.
// Faults: Storage; then all copies that were there still are.
func (k *Keeper) Make(ctx context.Context, why string) (Copy, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.make(ctx, why)
}

func (k *Keeper) make(ctx context.Context, why string) (Copy, error) {
	if err := os.MkdirAll(filepath.Join(k.dir, photoFolder), 0o700); err != nil {
		return Copy{}, fault.Storage(err, "the folder of the copies cannot be made")
	}
	// The photos first: what the copied record tells of is there already.
	if _, err := AddPhotos(k.photos, filepath.Join(k.dir, photoFolder)); err != nil {
		return Copy{}, err
	}
	c := Copy{Name: k.free(why)}
	path := filepath.Join(k.dir, c.Name)
	if err := k.file.Backup(ctx, path); err != nil {
		return Copy{}, err
	}
	c, _ = read(c.Name)
	if info, err := os.Stat(path); err == nil {
		c.Bytes = info.Size()
	}
	return c, k.thin()
}

// free is a name that is not taken: of now, or of the next moment that is free.
func (k *Keeper) free(why string) string {
	for at := k.now().UTC(); ; at = at.Add(time.Millisecond) {
		name := at.Format(stamp) + "-" + why + ending
		if _, err := os.Lstat(filepath.Join(k.dir, name)); err != nil {
			return name
		}
	}
}

// thin takes away what time has made dispensable, and what nobody comes back
// to. Photos stay: each stands there once, and which copy tells of it is
// in the copy.
func (k *Keeper) thin() error {
	list, besides, err := k.list()
	if err != nil {
		return err
	}
	now := k.now()
	gone := slices.DeleteFunc(besides, func(c Copy) bool { return now.Sub(c.At) <= abandoned })
	for _, c := range append(gone, Spare(list, now.Location())...) {
		if err := os.Remove(filepath.Join(k.dir, c.Name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fault.Storage(err, "an old copy could not be taken away")
		}
	}
	return nil
}

// Kept of the past; ours: yesterday's slip is found within days, a wrong habit
// within a year.
const (
	keptDays   = 7
	keptWeeks  = 4
	keptMonths = 12
	keptActs   = 5 // made before an act or when asked, by the order of making
)

// Spare lists the copies that can go: all but the newest of each of the last
// seven days that have one, of the last four weeks and of the last twelve
// months, and the last five made for a reason. The newest copy never goes.
// Days are the studio's own.
func Spare(list []Copy, zone *time.Location) []Copy {
	list = slices.Clone(list)
	slices.SortFunc(list, func(a, b Copy) int { return strings.Compare(b.Name, a.Name) })
	keep := map[string]bool{}
	acts := 0
	for i, c := range list {
		if i == 0 {
			keep[c.Name] = true
		}
		if c.Why != Daily && acts < keptActs {
			keep[c.Name] = true
			acts++
		}
	}
	for _, span := range []struct {
		most int
		of   func(time.Time) string
	}{
		{keptDays, func(t time.Time) string { return t.Format(time.DateOnly) }},
		{keptWeeks, func(t time.Time) string { y, w := t.ISOWeek(); return fmt.Sprintf("%d week %d", y, w) }},
		{keptMonths, func(t time.Time) string { return t.Format("2006-01") }},
	} {
		seen := map[string]bool{}
		for _, c := range list {
			key := span.of(c.At.In(zone))
			if !seen[key] && len(seen) < span.most {
				seen[key], keep[c.Name] = true, true
			}
		}
	}
	return slices.DeleteFunc(list, func(c Copy) bool { return keep[c.Name] })
}

// due is how old the newest copy gets before another is made; ours: a program
// opened every morning copies every morning.
const due = 20 * time.Hour

// Run makes a copy whenever the newest is a day old, until ctx ends, and tells
// said of each and of what went wrong.
func (k *Keeper) Run(ctx context.Context, said func(Copy, error)) {
	for ctx.Err() == nil {
		list, err := k.List()
		if err != nil || len(list) == 0 || k.now().Sub(list[0].At) >= due || list[0].At.After(k.now().Add(due)) {
			said(k.Make(ctx, Daily))
		}
		select {
		case <-ctx.Done():
		case <-time.After(time.Hour):
		}
	}
}

// path is where a copy lies.
func (k *Keeper) path(name string) (string, error) {
	if _, ok := read(name); !ok {
		return "", fault.NotFound("there is no such copy")
	}
	path := filepath.Join(k.dir, name)
	if _, err := os.Stat(path); err != nil {
		return "", fault.NotFound("this copy is not there any more")
	}
	return path, nil
}

// Inside reads a copy through and says what is in it. Faults: NotFound;
// Storage, with what is wrong.
func (k *Keeper) Inside(ctx context.Context, name string) (Copy, Inside, error) {
	path, err := k.path(name)
	if err != nil {
		return Copy{}, Inside{}, err
	}
	c, _ := read(name)
	in, err := k.look(ctx, path)
	in.Photos = -1
	return c, in, err
}

// Restore brings the studio back to a copy. The present studio is copied first,
// and its copy returned: to restore that one undoes it. Faults: NotFound,
// Storage, Busy; then the studio is as it was.
func (k *Keeper) Restore(ctx context.Context, name string) (before Copy, err error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	path, err := k.path(name)
	if err != nil {
		return before, err
	}
	if _, err := k.look(ctx, path); err != nil {
		return before, err
	}
	// A copy of the copy takes the place: thinning out may take the copy itself.
	dir, err := room(k.file.Path() + ".incoming-")
	if err != nil {
		return before, err
	}
	defer os.RemoveAll(dir) //nolint:errcheck // what is left over goes in a day
	incoming := filepath.Join(dir, studioName)
	if err := CopyFile(path, incoming); err != nil {
		return before, fault.Storage(err, "the copy cannot be copied")
	}
	if before, err = k.make(ctx, BeforeRestore); err != nil {
		return before, err
	}
	if _, err := AddPhotos(filepath.Join(k.dir, photoFolder), k.photos); err != nil {
		return before, err
	}
	if err := k.file.Replace(ctx, incoming); err != nil {
		return before, err
	}
	if c, _ := read(name); c.Why == Arrived {
		os.Remove(path) //nolint:errcheck // it only lies there
	}
	return before, nil
}

// abandoned is how old a thing gets that is only on its way; ours: whoever made
// it was killed, or thought better of it.
const abandoned = 24 * time.Hour

// room makes a folder of its own, whose path begins so, for what is on its way:
// another program may be at the same work. What it holds goes with it; those
// left behind by a program that was killed go here.
func room(path string) (string, error) {
	in, begins := filepath.Split(path)
	dir, err := os.MkdirTemp(in, begins+"*")
	if err != nil {
		return "", fault.Storage(err, "there is no room for what is on its way")
	}
	made, err := os.Stat(dir)
	entries, err2 := os.ReadDir(in)
	if err := errors.Join(err, err2); err != nil {
		return dir, nil //nolint:nilerr // only what was left behind stays for now
	}
	for _, e := range entries {
		info, err := e.Info()
		if err == nil && strings.HasPrefix(e.Name(), begins) && made.ModTime().Sub(info.ModTime()) > abandoned {
			os.RemoveAll(filepath.Join(in, e.Name())) //nolint:errcheck // it goes next time
		}
	}
	return dir, nil
}
