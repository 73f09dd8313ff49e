package keeping_test

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"vatside/internal/fault"
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

// Who takes the studio away slowly holds nobody up, and two do not meet.
func TestPackSlowly(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.named("here")
	in, out := io.Pipe()
	done := make(chan error)
	go func() {
		err := a.keep.Pack(t.Context(), out)
		out.Close()
		done <- err
	}()
	if _, err := in.Read(make([]byte, 1)); err != nil {
		t.Fatal(err)
	}
	a.make(keeping.Daily)
	if _, _, err := a.arrive(a.packed()); err != nil {
		t.Error(err)
	}
	if _, err := io.Copy(io.Discard, in); err != nil {
		t.Error(err)
	}
	if err := <-done; err != nil {
		t.Error(err)
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

// One file holds the studio and its photos, and makes another folder the same.
func TestOneFileRoundTrip(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.named("here")
	for i := range 3 {
		a.photo(fmt.Sprint("photo ", i))
	}
	path := a.packed()
	b := newStudio(t)
	b.named("there")
	name, in, err := b.arrive(path)
	if err != nil || in.Photos != 3 || b.name() != "there" {
		t.Fatalf("arrived: %+v, %v; the studio is %q", in, err, b.name())
	}
	if len(b.copies()) != 0 {
		t.Error("what arrived is listed as a copy of this studio")
	}
	if _, err := b.keep.Restore(t.Context(), name); err != nil || b.name() != "here" {
		t.Fatalf("restored: %q, %v", b.name(), err)
	}
	if list, err := os.ReadDir(b.photos); err != nil || len(list) != 3 {
		t.Errorf("%d photos, %v", len(list), err)
	}
	if list := b.copies(); len(list) != 1 || list[0].Why != keeping.BeforeRestore {
		t.Errorf("copies: %+v", list)
	}
	bare := filepath.Join(t.TempDir(), "bare.vatside")
	if err := a.file.Backup(t.Context(), bare); err != nil {
		t.Fatal(err)
	}
	if _, in, err := b.arrive(bare); err != nil || in.Photos != -1 {
		t.Errorf("a bare studio file: %+v, %v", in, err)
	}
}

// A copy listed on the page can be carried away as one file.
func TestPackCopy(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.named("then")
	a.photo("x")
	c := a.make(keeping.Daily)
	a.named("now")
	var b bytes.Buffer
	if err := a.keep.PackCopy(t.Context(), c.Name, &b); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "then.zip")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	o := newStudio(t)
	name, in, err := o.arrive(path)
	if err == nil {
		_, err = o.keep.Restore(t.Context(), name)
	}
	if err != nil || in.Photos != 1 || o.name() != "then" {
		t.Errorf("%q, %+v, %v", o.name(), in, err)
	}
	for _, name := range []string{"", "..", "../studio.vatside", "studio.vatside", "20300503T090000.000Z-daily.vatside"} {
		if err := a.keep.PackCopy(t.Context(), name, &b); fault.KindOf(err) != fault.KindNotFound {
			t.Errorf("%q: %v", name, err)
		}
		if _, err := a.keep.Restore(t.Context(), name); fault.KindOf(err) != fault.KindNotFound {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// repacked writes a zip file anew, each file changed by change; nil leaves it out.
func repacked(t *testing.T, path string, change func(name string, content []byte) (string, []byte)) string {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		var content bytes.Buffer
		if _, err := content.ReadFrom(r); err != nil {
			t.Fatal(err)
		}
		name, now := change(f.Name, content.Bytes())
		if name == "" {
			continue
		}
		out, err := w.Create(name)
		if err == nil {
			_, err = out.Write(now)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "again.zip")
	if err := os.WriteFile(to, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return to
}

// What is damaged, strange or led astray is refused, and nothing is changed:
// neither the studio nor anything beside it.
func TestDamagedFilesAreRefused(t *testing.T) {
	t.Parallel()
	a := newStudio(t)
	a.named("here")
	photo := "photos/" + max(a.photo("a photo"), a.photo("a photo of another")) // after one that is whole
	whole := a.packed()
	raw, err := os.ReadFile(whole)
	if err != nil {
		t.Fatal(err)
	}
	rename := func(from, to string) func(string, []byte) (string, []byte) {
		return func(name string, b []byte) (string, []byte) {
			if name == "manifest.json" {
				was, now := fmt.Sprintf("%q", from), fmt.Sprintf("%q", to)
				if !bytes.Contains(b, []byte(was)) {
					t.Fatalf("the manifest does not name %s", was)
				}
				b = bytes.ReplaceAll(b, []byte(was), []byte(now))
			}
			if name == from {
				name = to
			}
			return name, b
		}
	}
	file := func(b []byte) string {
		to := filepath.Join(t.TempDir(), "file")
		if err := os.WriteFile(to, b, 0o600); err != nil {
			t.Fatal(err)
		}
		return to
	}
	flipped := bytes.Clone(raw)
	for i := range 200 { // more than the head of an entry, whose times nobody relies on
		flipped[len(flipped)/3+i] ^= 0xff
	}
	for name, path := range map[string]string{
		"cut":              file(raw[:len(raw)/2]),
		"bytes flipped":    file(flipped),
		"text":             file([]byte("a letter")),
		"empty":            file(nil),
		"climbs out":       repacked(t, whole, rename(photo, "photos/../../climbed.jpg")),
		"climbs to a root": repacked(t, whole, rename(photo, "/etc/climbed.jpg")),
		"climbs with a \\": repacked(t, whole, rename(photo, `photos/..\climbed.jpg`)),
		"another name":     repacked(t, whole, rename(photo, "photos/"+strings.Repeat("0", 64)+".jpg")),
		"no photo":         repacked(t, whole, func(n string, b []byte) (string, []byte) { return strings.TrimSuffix(n, photo), b }),
		"no studio":        repacked(t, whole, func(n string, b []byte) (string, []byte) { return strings.TrimSuffix(n, "studio.vatside"), b }),
		"no manifest":      repacked(t, whole, func(n string, b []byte) (string, []byte) { return strings.TrimSuffix(n, "manifest.json"), b }),
		"photo spoilt": repacked(t, whole, func(n string, b []byte) (string, []byte) {
			if n == photo {
				b = bytes.ToUpper(b)
			}
			return n, b
		}),
		"studio spoilt": repacked(t, whole, func(n string, b []byte) (string, []byte) {
			return n, bytes.ReplaceAll(b, []byte("here"), []byte("tehe"))
		}),
		"a newer manifest": repacked(t, whole, func(n string, b []byte) (string, []byte) {
			return n, bytes.Replace(b, []byte(`"vatside":1`), []byte(`"vatside":2`), 1)
		}),
		"manifest no JSON": repacked(t, whole, func(n string, b []byte) (string, []byte) {
			return n, bytes.Replace(b, []byte(`{"vatside"`), []byte(`x`), 1)
		}),
	} {
		around := t.TempDir()
		b := studioIn(t, filepath.Join(around, "studio"))
		b.named("untouched")
		if as, _, err := b.arrive(path); fault.KindOf(err) != fault.KindStorage || as != "" {
			t.Errorf("%s: taken as %q, %v", name, as, err)
		} else if name == "a newer manifest" && !strings.Contains(err.Error(), "newer Vatside") {
			t.Errorf("%s: %v", name, err)
		}
		if b.name() != "untouched" {
			t.Errorf("%s: the studio has changed", name)
		}
		for _, stray := range files(t, around) {
			if !strings.HasPrefix(filepath.Base(stray), "studio.vatside") {
				t.Errorf("%s: left behind %s", name, stray)
			}
		}
	}
}

// files lists the files within a folder.
func files(t *testing.T, dir string) (list []string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			list = append(list, path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
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
