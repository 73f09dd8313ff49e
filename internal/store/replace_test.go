package store

import (
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"vatside/internal/belief"
	"vatside/internal/device"
	"vatside/internal/fault"
	"vatside/internal/studio"
)

// twoStudios returns an open studio and the path of another, which has a
// making more.
func twoStudios(t *testing.T) (here *Store, other string) {
	t.Helper()
	dir := t.TempDir()
	other = filepath.Join(dir, "other.vatside")
	s, err := Open(t.Context(), other)
	if err != nil {
		t.Fatal(err)
	}
	seed(t, s)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return open(t, filepath.Join(dir, "studio.vatside")), other
}

func makings(t *testing.T, s *Store) int {
	t.Helper()
	list, err := useCases(s).Makings(t.Context(), studio.MakingFilter{})
	if err != nil {
		t.Fatal(err)
	}
	return len(list)
}

// While another file takes the place, readers and writers wait and none fails;
// what they read is one studio or the other.
func TestReplaceUnderReadersAndWriters(t *testing.T) {
	t.Parallel()
	s, other := twoStudios(t)
	u := useCases(s)
	stop := make(chan struct{})
	var wait sync.WaitGroup
	for i := range 4 {
		wait.Go(func() {
			for {
				select {
				case <-stop:
					return
				default:
				}
				list, err := u.Makings(t.Context(), studio.MakingFilter{})
				if err != nil || len(list) > 1 {
					t.Errorf("a reader met %d makings, %v", len(list), err)
				}
				if i == 0 {
					p, err := u.Profile(t.Context())
					if err == nil {
						_, err = u.SaveProfile(t.Context(), p)
					}
					if err != nil && fault.KindOf(err) != fault.KindConflict {
						t.Errorf("a writer: %v", err)
					}
				}
			}
		})
	}
	for range 5 {
		incoming := filepath.Join(filepath.Dir(other), "incoming.vatside")
		copyOf(t, other, incoming)
		if err := s.Replace(t.Context(), incoming); err != nil {
			t.Error(err)
		}
		if n := makings(t, s); n != 1 {
			t.Errorf("%d makings after the replacing, want 1", n)
		}
	}
	close(stop)
	wait.Wait()
	if err := s.Check(t.Context()); err != nil {
		t.Error(err)
	}
}

// What is known is that of the file in place, though another has changed as
// often.
func TestKnownOfTheFileInPlace(t *testing.T) {
	t.Parallel()
	s := open(t, filepath.Join(t.TempDir(), "studio.vatside"))
	u, ctx := useCases(s), t.Context()
	pin := func(value float64) {
		t.Helper()
		if err := u.SetPin(ctx, "x", belief.Pin{Value: value}); err != nil {
			t.Fatal(err)
		}
	}
	want := func(value float64) {
		t.Helper()
		known, err := u.Known(ctx)
		if err != nil {
			t.Fatal(err)
		}
		if got := (belief.Belief{Key: "x", Link: belief.Plain, SD: 1, Making: 1}).With(known).Centre(); got != value {
			t.Errorf("known: %g, want %g", got, value)
		}
	}
	pin(1)
	older := filepath.Join(t.TempDir(), "older.vatside")
	if err := s.Backup(ctx, older); err != nil {
		t.Fatal(err)
	}
	pin(2)
	want(2)
	if err := s.Replace(ctx, older); err != nil {
		t.Fatal(err)
	}
	pin(3)
	want(3)
}

func copyOf(t *testing.T, from, to string) {
	t.Helper()
	b, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, b, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// What cannot take the place leaves the studio as it is, and open.
func TestReplaceRefuses(t *testing.T) {
	t.Parallel()
	s, other := twoStudios(t)
	dir := filepath.Dir(other)
	whole, err := os.ReadFile(other)
	if err != nil {
		t.Fatal(err)
	}
	broken := append([]byte{}, whole...)
	for i := 4096; i < len(broken); i++ {
		broken[i] ^= 0xa5
	}
	for name, content := range map[string][]byte{"cut": whole[:len(whole)/2], "broken": broken, "text": []byte(strings.Repeat("a letter ", 1000)), "head": whole[:80]} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, content, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := Look(t.Context(), path); fault.KindOf(err) != fault.KindStorage {
			t.Errorf("%s: looked at: %v", name, err)
		}
		if err := s.Replace(t.Context(), path); fault.KindOf(err) != fault.KindStorage {
			t.Errorf("%s: %v", name, err)
		}
		if n := makings(t, s); n != 0 {
			t.Errorf("%s: the studio has changed", name)
		}
	}
	if err := s.Replace(t.Context(), filepath.Join(dir, "new", "nowhere")); err == nil {
		t.Error("a file that is not there was taken")
	}
}

// A file of a newer program is refused, to look at and to take, and stays as it
// is byte for byte.
func TestNewerFileTakesNoPlace(t *testing.T) {
	t.Parallel()
	s, other := twoStudios(t)
	db, err := sql.Open("sqlite", other)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec("INSERT INTO goose_db_version (version_id, is_applied) VALUES (9999, 1)"); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	was, err := os.ReadFile(other)
	if err != nil {
		t.Fatal(err)
	}
	_, looked := Look(t.Context(), other)
	_, opened := Open(t.Context(), other)
	for what, err := range map[string]error{"looked at": looked, "opened": opened, "put in place": s.Replace(t.Context(), other)} {
		if err == nil || !strings.Contains(err.Error(), "newer Vatside") {
			t.Errorf("%s: %v", what, err)
		}
	}
	if now, err := os.ReadFile(other); err != nil || string(now) != string(was) {
		t.Errorf("the newer file was touched: %v", err)
	}
}

// Another program that has the studio open keeps it where it is.
func TestReplaceIsBusyUnderAnother(t *testing.T) {
	t.Parallel()
	s, other := twoStudios(t)
	second, err := Open(t.Context(), s.Path())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := useCases(second).Profile(t.Context()); err != nil {
		t.Fatal(err)
	}
	var busy *fault.Error
	if err := s.Replace(t.Context(), other); !errors.As(err, &busy) || busy.Kind != fault.KindBusy {
		t.Errorf("under another program: %v", err)
	}
	if n := makings(t, s); n != 0 {
		t.Errorf("the studio has changed: %d makings", n)
	}
	if err := second.Close(); err != nil {
		t.Fatal(err)
	}
	if err := s.Replace(t.Context(), other); err != nil || makings(t, s) != 1 {
		t.Errorf("after it was closed: %v", err)
	}
}

func TestLook(t *testing.T) {
	t.Parallel()
	_, other := twoStudios(t)
	g, err := Look(t.Context(), other)
	if err != nil || g.Papers != 1 || g.Makings != 1 || g.Last.IsZero() {
		t.Errorf("%+v, %v", g, err)
	}
}

// Going back to a copy lets nobody in again who was shut out since, and keeps
// those who were let in since; nor does it open the way in.
func TestReplaceKeepsTheDevices(t *testing.T) {
	t.Parallel()
	ctx := t.Context()
	s := open(t, filepath.Join(t.TempDir(), "studio.vatside"))
	seed(t, s)
	one := func(id string) device.Device {
		return device.Device{ID: id, Name: "phone " + id, Hash: strings.Repeat(id, 64), Paired: start, Seen: start}
	}
	fail := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	fail(s.Devices().PutDevice(ctx, one("a")))
	fail(s.Devices().PutSwitch(ctx, device.Switch{AtStart: true, SecurePort: 8018}))
	copied := filepath.Join(t.TempDir(), "copy.vatside")
	fail(s.Backup(ctx, copied))
	fail(s.Devices().Forget(ctx, "a"))
	fail(s.Devices().PutDevice(ctx, one("b")))
	fail(s.Devices().PutSwitch(ctx, device.Switch{SecurePort: 8019}))
	fail(s.Replace(ctx, copied))
	list, err := s.Devices().Devices(ctx)
	if err != nil || len(list) != 1 || list[0] != one("b") {
		t.Errorf("let in are %+v, %v; want b alone", list, err)
	}
	if left, err := s.Devices().Switch(ctx); err != nil || left != (device.Switch{SecurePort: 8019}) {
		t.Errorf("the switch is left as %+v, %v", left, err)
	}
	fail(s.Devices().Forget(ctx, ""))
	if list, err := s.Devices().Devices(ctx); err != nil || len(list) != 0 {
		t.Errorf("all shut out, there are %+v, %v", list, err)
	}
}
