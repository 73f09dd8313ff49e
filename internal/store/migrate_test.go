package store

import (
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"vatside/internal/fault"
	"vatside/internal/studio"
)

// fixture makes a file from an old schema dump.
func fixture(t *testing.T, dump string) string {
	t.Helper()
	sqlText, err := os.ReadFile(dump)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "studio.db")
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(string(sqlText)); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// Every file an older program wrote opens, keeps what is in it, has the schema a
// new file has, and is found by its words.
func TestEveryOldFileOpens(t *testing.T) {
	t.Parallel()
	dumps, err := filepath.Glob("testdata/schema_*.sql")
	if err != nil || len(dumps) == 0 {
		t.Fatalf("no schema dumps: %v", err)
	}
	want := schema(t, open(t, filepath.Join(t.TempDir(), "new.db")))
	for _, dump := range dumps {
		s := open(t, fixture(t, dump))
		if got := schema(t, s); got != want {
			t.Errorf("%s leads to another schema:\n%s\nwant\n%s", dump, got, want)
		}
		if err := s.Check(t.Context()); err != nil {
			t.Errorf("%s: %v", dump, err)
		}
		u := useCases(s)
		for _, word := range []string{"cover", "k7"} {
			if list, err := u.Find(t.Context(), studio.Wanted{Words: []string{word}}); err != nil || len(list) != 1 || list[0].Making.Tag != "K7-3F" {
				t.Errorf("%s: %q finds %d makings, %v", dump, word, len(list), err)
			}
		}
		m, err := u.MakingByTag(t.Context(), "K7-3F")
		if err != nil {
			t.Fatalf("%s: %v", dump, err)
		}
		state, err := u.State(t.Context(), m.ID)
		if err != nil || state.Couched != 18 || state.Grades.Good != 17 {
			t.Errorf("%s: couched %d, good %d, %v; want 18, 17", dump, state.Couched, state.Grades.Good, err)
		}
	}
}

// Every row an older file had stands in the new one as it stood, column by
// column, the numbers of arrival too; and the old making goes on: it takes the
// new kinds of entry, and fibre from the new shelf.
func TestOldRecordsStayWhole(t *testing.T) {
	t.Parallel()
	dumps, err := filepath.Glob("testdata/schema_*.sql")
	if err != nil || len(dumps) == 0 {
		t.Fatalf("no schema dumps: %v", err)
	}
	for _, dump := range dumps {
		path := fixture(t, dump)
		was := rows(t, path, "")
		s := open(t, path)
		now := rows(t, path, was.columns)
		if was.text != now.text || !strings.Contains(was.text, "making_event") {
			t.Errorf("%s: the rows were\n%s\nand are\n%s", dump, was.text, now.text)
		}
		u, ctx := useCases(s), t.Context()
		m, err := u.MakingByTag(ctx, "K7-3F")
		if err != nil {
			t.Fatal(err)
		}
		l, err := u.SaveLot(ctx, studio.Lot{What: "abaca", Form: studio.AsBought}, studio.Movement{ID: "first", MassG: 900})
		if err != nil {
			t.Fatal(err)
		}
		events := []studio.Event{studio.NewEvent("ink", start, studio.InkStrip{Says: 4}),
			studio.NewEvent("fibre", start, studio.FibreWeighed{Grams: 700, Lots: []studio.FromLot{{Lot: l.ID, Grams: 700}}})}
		if _, err := u.Record(ctx, m.ID, events...); err != nil {
			t.Fatalf("%s: the old making takes no new entry: %v", dump, err)
		}
		stored, err := u.Events(ctx, m.ID)
		if n := len(stored); err != nil || n != 6 || stored[4].Seq != 5 {
			t.Errorf("%s: %d entries, %v; want the four old and two new ones, counted on", dump, n, err)
		}
		if l, _, err = u.Lot(ctx, l.ID); err != nil || l.AmountG != 200 {
			t.Errorf("%s: %g g are left in the lot, %v; want 200", dump, l.AmountG, err)
		}
		if err := s.Check(ctx); err != nil {
			t.Error(err)
		}
	}
}

// contents is what a file holds: the columns of its tables, and all rows of
// them as text.
type contents struct{ columns, text string }

// rows reads the columns that were named of every table, or all there are but of
// what the program itself brings.
func rows(t *testing.T, path, columns string) contents {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	list := func(query string) (out []string) {
		rows, err := db.QueryContext(t.Context(), query)
		if err != nil {
			t.Fatal(err)
		}
		defer rows.Close()
		for rows.Next() {
			var one string
			if err := rows.Scan(&one); err != nil {
				t.Fatal(err)
			}
			out = append(out, one)
		}
		if err := rows.Err(); err != nil {
			t.Fatal(err)
		}
		return out
	}
	if columns == "" {
		columns = strings.Join(list(`SELECT m.name || '|' || group_concat('quote(' || c.name || ')', '||'',''||') FROM sqlite_schema m, pragma_table_info(m.name) c
			WHERE m.type = 'table' AND m.name NOT LIKE 'goose%' AND m.name NOT LIKE 'sqlite%' AND m.name NOT LIKE 'making\_words%' ESCAPE '\' AND m.name <> 'event_kind' GROUP BY m.name`), "\n")
	}
	c := contents{columns: columns}
	for _, table := range strings.Split(columns, "\n") {
		name, quoted, _ := strings.Cut(table, "|")
		c.text += name + "\n" + strings.Join(list("SELECT "+quoted+" FROM "+name+" ORDER BY rowid"), "\n") + "\n"
	}
	return c
}

// schema returns the statements of a file, one a line, in the order of their
// names.
func schema(t *testing.T, s *Store) string {
	t.Helper()
	var all []string
	err := s.Read(t.Context(), func(tx *Tx) (err error) {
		all, err = collect(t.Context(), tx, func(rows *sql.Rows) (one string, err error) {
			err = rows.Scan(&one)
			return strings.Join(strings.Fields(one), " "), err
		}, `SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY type, name`)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(all, "\n")
}

// A migration that fails leaves the file as it was, and a copy beside it; one
// that succeeds keeps the records.
func TestMigrationCopiesFirst(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "studio.db")
	s := open(t, path)
	m, _ := seed(t, s)
	now, err := inspect(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	next := fmt.Sprintf("%04d", now+1)
	with := func(sqlText string) fstest.MapFS {
		folder := fstest.MapFS{next + "_more.sql": {Data: []byte("-- +goose Up\n" + sqlText)}}
		entries, err := embedded.ReadDir("migrations")
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			data, err := embedded.ReadFile("migrations/" + e.Name())
			if err != nil {
				t.Fatal(err)
			}
			folder[e.Name()] = &fstest.MapFile{Data: data}
		}
		return folder
	}
	broken := with("CREATE TABLE spare (id TEXT PRIMARY KEY) STRICT;\nINSERT INTO nothing VALUES (1);\n")
	if err := s.migrateWith(t.Context(), now, broken); fault.KindOf(err) != fault.KindStorage {
		t.Errorf("a broken migration: %v", err)
	}
	if strings.Contains(schema(t, s), "spare") {
		t.Error("half a migration was kept")
	}
	copies, _ := filepath.Glob(filepath.Join(filepath.Dir(path), "studio.before-"+next+"-*.db"))
	if len(copies) != 1 {
		t.Fatalf("copies made: %v", copies)
	}
	if err := s.migrateWith(t.Context(), now, with("CREATE TABLE spare (id TEXT PRIMARY KEY) STRICT;\n")); err != nil {
		t.Fatal(err)
	}
	for _, st := range []*Store{s, open(t, copies[0])} {
		if state, err := useCases(st).State(t.Context(), m.ID); err != nil || state.Pulled != 20 {
			t.Errorf("%s: pulled %d, %v; want 20", st.Path(), state.Pulled, err)
		}
	}
	if version, err := inspect(t.Context(), path); err != nil || version != now+1 {
		t.Errorf("version %d, %v; want %d", version, err, now+1)
	}
}
