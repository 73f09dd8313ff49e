package keeping_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"vatside/internal/keeping"
	"vatside/internal/store"
	"vatside/internal/studio"
)

func look(ctx context.Context, path string) (keeping.Inside, error) {
	g, err := store.Look(ctx, path)
	return keeping.Inside{Papers: g.Papers, Makings: g.Makings, Last: g.Last}, err
}

// aStudio is a studio with its keeper, and a clock that goes on by a minute
// whenever it is asked.
type aStudio struct {
	t      *testing.T
	file   *store.Store
	use    *studio.Service
	keep   *keeping.Keeper
	photos string
	now    time.Time
}

func newStudio(t *testing.T) *aStudio { return studioIn(t, t.TempDir()) }

func studioIn(t *testing.T, dir string) *aStudio {
	t.Helper()
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "studio.vatside")
	file, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { file.Close() })
	a := &aStudio{t: t, file: file, photos: path + ".photos", now: time.Date(2030, 5, 3, 9, 0, 0, 0, time.UTC)}
	clock := func() time.Time { a.now = a.now.Add(time.Minute); return a.now }
	a.use, a.keep = studio.New(file.Records(), clock), keeping.New(file, look, a.photos, clock)
	return a
}

// named saves the studio's name: what tells one state from another here.
func (a *aStudio) named(name string) {
	a.t.Helper()
	p, err := a.use.Profile(a.t.Context())
	if err == nil {
		p.Name = name
		_, err = a.use.SaveProfile(a.t.Context(), p)
	}
	if err != nil {
		a.t.Fatal(err)
	}
}

func (a *aStudio) name() string {
	a.t.Helper()
	p, err := a.use.Profile(a.t.Context())
	if err != nil {
		a.t.Fatal(err)
	}
	return p.Name
}

// photo lays a file among the photos, under its hash.
func (a *aStudio) photo(content string) string {
	a.t.Helper()
	sum := sha256.Sum256([]byte(content))
	name := hex.EncodeToString(sum[:]) + ".jpg"
	if err := os.MkdirAll(a.photos, 0o700); err != nil {
		a.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(a.photos, name), []byte(content), 0o600); err != nil {
		a.t.Fatal(err)
	}
	return name
}

func (a *aStudio) make(why string) keeping.Copy {
	a.t.Helper()
	c, err := a.keep.Make(a.t.Context(), why)
	if err != nil {
		a.t.Fatal(err)
	}
	return c
}

// packed is the studio as one file.
func (a *aStudio) packed() string {
	a.t.Helper()
	path := filepath.Join(a.t.TempDir(), "copy.zip")
	var b bytes.Buffer
	if err := a.keep.Pack(a.t.Context(), &b); err != nil {
		a.t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		a.t.Fatal(err)
	}
	return path
}

func (a *aStudio) arrive(path string) (string, keeping.Inside, error) {
	a.t.Helper()
	f, err := os.Open(path)
	if err != nil {
		a.t.Fatal(err)
	}
	defer f.Close()
	return a.keep.Arrive(a.t.Context(), f)
}

func (a *aStudio) copies() []keeping.Copy {
	a.t.Helper()
	list, err := a.keep.List()
	if err != nil {
		a.t.Fatal(err)
	}
	return list
}

// Back to a copy, and back from that: each state comes again, its photos too.
func TestRestoreAndUndo(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.named("before")
	name := a.photo("a post, pressed")
	first := a.make(keeping.Asked)
	a.named("after")
	if err := os.RemoveAll(a.photos); err != nil {
		t.Fatal(err)
	}
	kept, err := a.keep.Restore(t.Context(), first.Name)
	if err != nil || a.name() != "before" || kept.Why != keeping.BeforeRestore {
		t.Fatalf("restored: %q, %+v, %v", a.name(), kept, err)
	}
	if b, err := os.ReadFile(filepath.Join(a.photos, name)); err != nil || string(b) != "a post, pressed" {
		t.Errorf("the photo did not come back: %v", err)
	}
	if _, err := a.keep.Restore(t.Context(), kept.Name); err != nil || a.name() != "after" {
		t.Errorf("taken back: %q, %v", a.name(), err)
	}
	a.named("goes on")
	if err := a.file.Check(t.Context()); err != nil {
		t.Error(err)
	}
	if left, _ := filepath.Glob(a.file.Path() + ".incoming*"); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A copy of an older program comes back too, whatever the folder is called, and
// nothing stays beside the studio.
func TestRestoreOldCopy(t *testing.T) {
	t.Parallel()
	a := studioIn(t, filepath.Join(t.TempDir(), "paper [2030] *?"))
	schema, err := os.ReadFile("../store/testdata/schema_0001.sql")
	if err != nil {
		t.Fatal(err)
	}
	old := filepath.Join(t.TempDir(), "old.vatside")
	db, err := sql.Open("sqlite", old)
	if err == nil {
		_, err = db.Exec(string(schema))
	}
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	name, in, err := a.arrive(old)
	if err != nil || in.Makings != 1 {
		t.Fatalf("arrived: %+v, %v", in, err)
	}
	if _, err := a.keep.Restore(t.Context(), name); err != nil {
		t.Fatal(err)
	}
	if list, err := a.use.Makings(t.Context(), studio.MakingFilter{}); err != nil || len(list) != 1 {
		t.Errorf("%d makings, %v", len(list), err)
	}
	entries, err := os.ReadDir(filepath.Dir(a.file.Path()))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !slices.Contains([]string{"studio.vatside", "studio.vatside-wal", "studio.vatside-shm", "studio.vatside.copies"}, e.Name()) {
			t.Errorf("left behind: %s", e.Name())
		}
	}
}

// What is on its way in another program stays; what one that was killed left
// behind goes.
func TestAbandonedGoes(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.photo("one")
	a.make(keeping.Daily)
	a.photo("two")
	dir := a.keep.Dir()
	stays := []string{"arriving-new/received", "photos/arriving-new/half", a.now.Format("20060102T150405.000Z") + "-arrived.vatside", "notes"}
	goes := []string{"arriving-old/received", "photos/arriving-old", "20300401T090000.000Z-arrived.vatside", "20300401T090000.000Z-daily.vatside.unfinished"}
	for i, name := range append(stays, goes...) {
		path := filepath.Join(dir, name)
		err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o700), os.WriteFile(path, []byte("half"), 0o600))
		if old := time.Now().Add(-25 * time.Hour); i >= len(stays) {
			top := filepath.Join(dir, strings.TrimSuffix(name, "/received"))
			err = errors.Join(err, os.Chtimes(top, old, old))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if _, _, err := a.arrive(a.packed()); err != nil {
		t.Fatal(err)
	}
	a.make(keeping.Daily)
	for _, name := range stays {
		if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
			t.Errorf("%s is gone", name)
		}
	}
	for _, name := range goes {
		if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
			t.Errorf("%s stays", name)
		}
	}
}

// A copy that has rotted where it lies is told of and not restored.
func TestRottenCopyIsNotRestored(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.named("here")
	c := a.make(keeping.Asked)
	path := filepath.Join(a.keep.Dir(), c.Name)
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for i := 5000; i < len(b); i += 7 {
		b[i] ^= 0x11
	}
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, _, err := a.keep.Inside(t.Context(), c.Name); err == nil {
		t.Error("the rotten copy passes for whole")
	}
	if _, err := a.keep.Restore(t.Context(), c.Name); err == nil || a.name() != "here" {
		t.Errorf("restored: %q, %v", a.name(), err)
	}
}

// Copies are made while others write.
func TestCopyWhileWriting(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	stop, done := make(chan struct{}), make(chan struct{})
	u := studio.New(a.file.Records(), time.Now)
	go func() {
		defer close(done)
		for n := 0; ; n++ {
			select {
			case <-stop:
				return
			default:
			}
			p, err := u.Profile(t.Context())
			if err == nil {
				p.Name = fmt.Sprint("name ", n)
				_, err = u.SaveProfile(t.Context(), p)
			}
			if err != nil {
				t.Error(err)
			}
		}
	}()
	for range 5 {
		c := a.make(keeping.Daily)
		if _, _, err := a.keep.Inside(t.Context(), c.Name); err != nil {
			t.Error(err)
		}
	}
	close(stop)
	<-done
}

// Whatever copies there are, thinning out keeps the newest, the newest of each
// of the last seven days that have one, and no more than the rule needs.
func TestSpare(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		hours := rapid.SliceOfNDistinct(rapid.IntRange(0, 500*24), 1, 60, rapid.ID).Draw(t, "hours")
		var list []keeping.Copy
		for _, h := range hours {
			at := time.Date(2030, 1, 1, 0, 0, 0, 0, time.UTC).Add(time.Duration(h) * time.Hour)
			why := rapid.SampledFrom([]string{keeping.Daily, keeping.Daily, keeping.Daily, keeping.BeforeRestore}).Draw(t, "why")
			list = append(list, keeping.Copy{Name: at.Format("20060102T150405.000Z") + "-" + why + ".vatside", At: at, Why: why})
		}
		spare := keeping.Spare(list, time.UTC)
		gone := func(c keeping.Copy) bool {
			return slices.ContainsFunc(spare, func(s keeping.Copy) bool { return s.Name == c.Name })
		}
		slices.SortFunc(list, func(a, b keeping.Copy) int { return b.At.Compare(a.At) })
		if gone(list[0]) {
			t.Fatal("the newest goes")
		}
		days := map[string]bool{}
		for _, c := range list {
			day := c.At.Format(time.DateOnly)
			if !days[day] && len(days) < 7 && gone(c) {
				t.Fatalf("the newest of %s goes", day)
			}
			days[day] = true
		}
		left := len(list) - len(spare)
		if most := 7 + 4 + 12 + 5; left > most {
			t.Fatalf("%d stay, at most %d are needed", left, most)
		}
		var rest []keeping.Copy
		for _, c := range list {
			if !gone(c) {
				rest = append(rest, c)
			}
		}
		if again := keeping.Spare(rest, time.UTC); len(again) > 0 {
			t.Fatalf("thinned out twice, more goes: %v", again)
		}
	})
}
