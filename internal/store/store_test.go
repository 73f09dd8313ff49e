package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

var start = time.Date(2026, 11, 20, 8, 0, 0, 0, time.UTC)

func open(t *testing.T, path string) *Store {
	t.Helper()
	s, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

func useCases(s *Store) *studio.Service {
	return studio.New(s.Records(), func() time.Time { return start })
}

// seed writes one of each record and returns the making and the person.
func seed(t *testing.T, s *Store) (studio.Making, studio.Person) {
	t.Helper()
	ctx := t.Context()
	u := useCases(s)
	fail := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	_, err := u.SaveProfile(ctx, studio.NewProfile())
	fail(err)
	sheet := plan.Sheet{LongMM: 420, ShortMM: 297}
	p, err := u.SavePaper(ctx, studio.Paper{Name: "box cover", Sheet: sheet,
		Design: plan.Paper{Furnish: []plan.Part{{Fibre: "abaca", SharePct: 100}}, GrammageConditioned: 100}})
	fail(err)
	who, err := u.SavePerson(ctx, studio.Person{Name: "Quillon Marrowby", Contact: "quillon@marrowby.invalid"})
	fail(err)
	b, err := u.SaveBrief(ctx, studio.Brief{PaperID: p.ID, GoodSheets: 50, Sheet: sheet, ConfidencePct: 90, PersonID: who.ID})
	fail(err)
	m, err := u.StartMaking(ctx, b.ID, plan.Request{}, plan.Plan{})
	fail(err)
	_, err = u.Record(ctx, m.ID, studio.NewEvent("one", start, studio.Post{Post: 1, Pulled: 20}))
	fail(err)
	_, err = u.SaveLot(ctx, studio.Lot{What: "abaca", Form: studio.AsBought}, studio.Movement{ID: "first", MassG: 900})
	fail(err)
	return m, who
}

func TestPragmasOnEveryConnection(t *testing.T) {
	t.Parallel()
	s := open(t, filepath.Join(t.TempDir(), "studio.db"))
	for name, db := range map[string]*sql.DB{"write": s.w, "read": s.r} {
		var conns []*sql.Conn
		for range db.Stats().MaxOpenConnections {
			c, err := db.Conn(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			conns = append(conns, c)
			for pragma, want := range map[string]string{"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1",
				"busy_timeout": "5000", "recursive_triggers": "1", "secure_delete": "1",
				"query_only": map[string]string{"write": "0", "read": "1"}[name], "application_id": fmt.Sprint(applicationID)} {
				var got string
				if err := c.QueryRowContext(t.Context(), "PRAGMA "+pragma).Scan(&got); err != nil || got != want {
					t.Errorf("%s connection: %s is %s, %v; want %s", name, pragma, got, err, want)
				}
			}
		}
		for _, c := range conns {
			if err := c.Close(); err != nil {
				t.Error(err)
			}
		}
	}
}

func TestAppendOnly(t *testing.T) {
	t.Parallel()
	s := open(t, filepath.Join(t.TempDir(), "studio.db"))
	m, _ := seed(t, s)
	for _, stmt := range []string{
		`UPDATE making_event SET body_json = '{}'`,
		`DELETE FROM making_event`,
		`INSERT OR REPLACE INTO making_event (seq, id, making_id, kind, body_json, made_at, received_at)
			SELECT seq, id, making_id, 'remark', body_json, made_at, received_at FROM making_event`,
		`UPDATE lot_movement SET mass_g = 1`,
		`DELETE FROM lot_movement`,
		`INSERT OR REPLACE INTO lot_movement SELECT * FROM lot_movement`,
		`UPDATE paper_revision SET note = 'else'`,
		`DELETE FROM paper_revision`,
		`INSERT OR REPLACE INTO paper_revision SELECT * FROM paper_revision`,
		`UPDATE making SET plan_json = '{}'`,
	} {
		err := s.Write(t.Context(), func(tx *Tx) error { return tx.exec(t.Context(), stmt) })
		if fault.KindOf(err) != fault.KindInternal {
			t.Errorf("%s: got %v, want it refused", stmt, err)
		}
	}
	if got, err := useCases(s).State(t.Context(), m.ID); err != nil || got.Pulled != 20 {
		t.Errorf("pulled %d, %v; want 20", got.Pulled, err)
	}
}

func TestReferencesAndRangesHold(t *testing.T) {
	t.Parallel()
	s := open(t, filepath.Join(t.TempDir(), "studio.db"))
	m, _ := seed(t, s)
	for name, stmt := range map[string]string{
		"event of no making":         `INSERT INTO making_event (id, making_id, kind, body_json, made_at, received_at) VALUES ('x', 'none', 'closed', '{}', '2026-11-20T08:00:00.000Z', '2026-11-20T08:00:00Z')`,
		"event of unknown kind":      `INSERT INTO making_event (id, making_id, kind, body_json, made_at, received_at) VALUES ('x', '` + m.ID + `', 'mended', '{}', '2026-11-20T08:00:00.000Z', '2026-11-20T08:00:00Z')`,
		"event without JSON":         `INSERT INTO making_event (id, making_id, kind, body_json, made_at, received_at) VALUES ('x', '` + m.ID + `', 'closed', '{', '2026-11-20T08:00:00.000Z', '2026-11-20T08:00:00Z')`,
		"correction of nothing":      `INSERT INTO making_event (id, making_id, kind, body_json, made_at, received_at) VALUES ('x', '` + m.ID + `', 'correction', '{}', '2026-11-20T08:00:00.000Z', '2026-11-20T08:00:00Z')`,
		"time in no UTC text":        `INSERT INTO paper (id, created_at) VALUES ('x', '2026-11-20 08:00')`,
		"brief of no paper":          `UPDATE brief SET paper_id = 'none'`,
		"brief of no sheet":          `UPDATE brief SET good_sheets = 0`,
		"brief deleted under making": `DELETE FROM brief`,
		"paper deleted under brief":  `DELETE FROM paper`,
		"text in a number column":    `UPDATE brief SET confidence_pct = 'ninety'`,
		"amount of no lot":           `INSERT INTO lot_movement (id, lot_id, kind, mass_g, note, made_at, received_at) VALUES ('x', 'none', 'received', 5, '', '2026-11-20T08:00:00.000Z', '2026-11-20T08:00:00Z')`,
		"received less than nothing": `INSERT INTO lot_movement (id, lot_id, kind, mass_g, note, made_at, received_at) SELECT 'x', id, 'received', -5, '', '2026-11-20T08:00:00.000Z', '2026-11-20T08:00:00Z' FROM lot`,
		"used in no making":          `INSERT INTO lot_movement (id, lot_id, kind, mass_g, note, made_at, received_at) SELECT 'x', id, 'used', -5, '', '2026-11-20T08:00:00.000Z', '2026-11-20T08:00:00Z' FROM lot`,
		"lot of unknown form":        `UPDATE lot SET form = 'lost'`,
		"lot deleted under amounts":  `DELETE FROM lot`,
		"progress of unknown stage":  `UPDATE making_progress SET stage = 'lost'`,
	} {
		err := s.Write(t.Context(), func(tx *Tx) error { return tx.exec(t.Context(), stmt) })
		if err == nil {
			t.Errorf("%s was taken", name)
		}
	}
}

// An erased person is nowhere left, not in the file nor in its log.
func TestErasedIsOverwritten(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "studio.db")
	s := open(t, path)
	_, who := seed(t, s)
	holds := func() bool {
		for _, suffix := range []string{"", "-wal"} {
			b, err := os.ReadFile(path + suffix)
			if err != nil && !errors.Is(err, os.ErrNotExist) {
				t.Fatal(err)
			}
			if bytes.Contains(b, []byte("marrowby.invalid")) {
				return true
			}
		}
		return false
	}
	if !holds() {
		t.Fatal("the contact is not in the file before it is erased")
	}
	if err := useCases(s).ForgetPerson(t.Context(), who.ID); err != nil {
		t.Fatal(err)
	}
	if holds() {
		t.Error("the contact is still in the file")
	}
	if err := s.Check(t.Context()); err != nil {
		t.Error(err)
	}
}

func TestReadersCannotWrite(t *testing.T) {
	t.Parallel()
	s := open(t, filepath.Join(t.TempDir(), "studio.db"))
	err := s.Read(t.Context(), func(tx *Tx) error { return tx.exec(t.Context(), `DELETE FROM belief_pin`) })
	if err == nil {
		t.Error("a reader wrote")
	}
}

func TestErrorUndoesAll(t *testing.T) {
	t.Parallel()
	s := open(t, filepath.Join(t.TempDir(), "studio.db"))
	no := errors.New("no")
	err := s.Write(t.Context(), func(tx *Tx) error {
		if err := tx.PutPerson(t.Context(), studio.Person{ID: "a", Name: "A", Created: start}); err != nil {
			return err
		}
		return no
	})
	if !errors.Is(err, no) {
		t.Errorf("got %v", err)
	}
	if people, err := useCases(s).People(t.Context()); err != nil || len(people) != 0 {
		t.Errorf("kept %v, %v", people, err)
	}
}

func TestPathsWithSigns(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "my studio #1 100% ü")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "what now?.db")
	seed(t, open(t, path))
	if info, err := os.Stat(path); err != nil || info.Size() == 0 {
		t.Errorf("the file is not where it was asked for: %v", err)
	}
}

func TestStrangeFilesAreRefused(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	other := filepath.Join(dir, "other.db")
	db, err := sql.Open("sqlite", other)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(`CREATE TABLE recipes (name TEXT)`); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	text := filepath.Join(dir, "notes.txt")
	if err := os.WriteFile(text, []byte(strings.Repeat("not a database\n", 100)), 0o600); err != nil {
		t.Fatal(err)
	}
	for path, say := range map[string]string{other: "not a studio file", text: "not a studio file", dir: "is a folder",
		filepath.Join(dir, "none", "x.db"): "cannot be written"} {
		before, _ := os.ReadFile(path)
		s, err := Open(t.Context(), path)
		if s != nil || fault.KindOf(err) != fault.KindStorage || !strings.Contains(err.Error(), say) {
			t.Errorf("%s: got %v, want a sentence with %q", filepath.Base(path), err, say)
		}
		if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
			t.Errorf("%s was changed", filepath.Base(path))
		}
	}
}

func TestNewerFileIsRefused(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "studio.db")
	s, err := Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.w.Exec(`INSERT INTO goose_db_version (version_id, is_applied) VALUES (9001, 1)`); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s, err = Open(t.Context(), path)
	if s != nil || fault.KindOf(err) != fault.KindStorage || !strings.Contains(err.Error(), "written by a newer Vatside (file version 9001") {
		t.Errorf("got %v", err)
	}
}

func TestBackup(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := open(t, filepath.Join(dir, "studio.db"))
	m, _ := seed(t, s)
	to := filepath.Join(dir, "copy.db")
	if err := os.WriteFile(to+".unfinished", []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := s.Backup(t.Context(), to); err != nil {
		t.Fatal(err)
	}
	if state, err := useCases(open(t, to)).State(t.Context(), m.ID); err != nil || state.Pulled != 20 {
		t.Errorf("the copy has %d pulled, %v; want 20", state.Pulled, err)
	}
	if err := s.Backup(t.Context(), to); fault.KindOf(err) != fault.KindConflict {
		t.Errorf("over a copy: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "*.unfinished*")); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

// Several programs may open one new file at the same moment, and write.
func TestManyOpenOneFile(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "studio.db")
	const programs, each = 4, 25
	var wg sync.WaitGroup
	for i := range programs {
		wg.Go(func() {
			s, err := Open(t.Context(), path)
			if err != nil {
				t.Error(err)
				return
			}
			defer s.Close() //nolint:errcheck // the test reads the file itself
			for n := range each {
				p := studio.Person{Name: fmt.Sprintf("P%d-%d", i, n)}
				if _, err := useCases(s).SavePerson(t.Context(), p); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	s := open(t, path)
	if people, err := useCases(s).People(t.Context()); err != nil || len(people) != programs*each {
		t.Errorf("%d people, %v; want %d", len(people), err, programs*each)
	}
	if err := s.Check(t.Context()); err != nil {
		t.Error(err)
	}
}

func TestBusyIsTold(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "studio.db")
	s, other := open(t, path), open(t, path)
	if _, err := other.w.Exec("PRAGMA busy_timeout = 20"); err != nil {
		t.Fatal(err)
	}
	err := s.Write(t.Context(), func(*Tx) error {
		return other.Write(context.Background(), func(*Tx) error { return nil })
	})
	if fault.KindOf(err) != fault.KindBusy {
		t.Errorf("got %v, want busy", err)
	}
}
