package keeping_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"vatside/internal/fault"
	"vatside/internal/keeping"
)

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
