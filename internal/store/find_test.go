package store

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/testkit/laps"
	"vatside/internal/testkit/years"
)

// A sheet is found again by what is known of it: by words of its record, by
// fibre, weight, thickness, use, day and customer; the nearest first, and how
// far each is off is told.
func TestFind(t *testing.T) {
	t.Parallel()
	s := open(t, filepath.Join(t.TempDir(), "studio.db"))
	if err := years.Fill(t.Context(), s.Records(), years.Size{Papers: 10, Makings: 40, Sheets: 20}, start); err != nil {
		t.Fatal(err)
	}
	u := useCases(s)
	all, err := u.Makings(t.Context(), studio.MakingFilter{})
	if err != nil || len(all) != 40 {
		t.Fatalf("%d makings, %v", len(all), err)
	}
	m := all[17]
	e := studio.NewEvent("words", start, studio.Remark{Text: "Pétales d’iris, für Ürsel; 100% \"blue\""})
	if _, err := u.Record(t.Context(), m.ID, e); err != nil {
		t.Fatal(err)
	}
	first := func(w studio.Wanted) studio.Match {
		t.Helper()
		list, err := u.Find(t.Context(), w)
		if err != nil {
			t.Fatal(err)
		}
		if len(list) == 0 {
			return studio.Match{}
		}
		for i := range list[1:] {
			if list[i+1].Total < list[i].Total {
				t.Fatalf("%+v: match %d is nearer than the one before", w, i+1)
			}
		}
		return list[0]
	}
	for _, words := range [][]string{{"petales"}, {"URSEL"}, {"iris", "blue\""}, {"100%"}, {m.Tag, "blue"}} {
		got := first(studio.Wanted{Words: words})
		if got.Making.ID != m.ID {
			t.Errorf("%q finds %s first, want %s", words, got.Making.Tag, m.Tag)
		}
	}
	if got := first(studio.Wanted{Words: []string{"ürs", "nowhere"}}); got.Total != 1 || got.Off["word nowhere"] != 1 || got.Off["word ürs"] != 0 {
		t.Errorf("one of two words: off %v, total %g", got.Off, got.Total)
	}
	if got := first(studio.Wanted{Words: []string{"nowhere"}}); got.Making.ID != "" {
		t.Errorf("a word that stands nowhere finds %s", got.Making.Tag)
	}
	for colour, off := range map[string]float64{"blue": 0, "dark Blue": 0, "iris": 0, "red": 1, "blu": 1, "\" OR": 1} {
		if got := first(studio.Wanted{Colour: colour, Words: []string{"ürsel"}}); got.Making.ID != m.ID || got.Off[studio.OffColour] != off {
			t.Errorf("colour %q finds %q, off %v", colour, got.Making.Tag, got.Off)
		}
	}
	if got := first(studio.Wanted{Colour: "…", Words: []string{"ürsel"}}); got.Total != 0 {
		t.Errorf("no word for a colour: off %v", got.Off)
	}
	dyed := all[5]
	if _, err := u.Record(t.Context(), dyed.ID, studio.NewEvent("dyed", start, studio.Added{What: "Indigo, two dips", Grams: 20})); err != nil {
		t.Fatal(err)
	}
	if got := first(studio.Wanted{Colour: "pale blue", Words: []string{"dips"}}); got.Making.ID != dyed.ID || got.Total != 0 {
		t.Errorf("what was dyed with indigo is not found as blue: %v", got.Off)
	}
	g, c := *m.Progress.GrammageG, *m.Progress.CaliperMM
	if got := first(studio.Wanted{GrammageG: g, CaliperMM: c, Fibre: m.Progress.Furnish}); got.Making.ID != m.ID || got.Total != 0 {
		t.Errorf("its own weight, thickness and fibre find %s, off %v", got.Making.Tag, got.Off)
	}
	person := all[3]
	if got := first(studio.Wanted{Customer: "invented", From: person.Created.Add(-time.Hour), To: person.Created.Add(time.Hour)}); got.Making.ID != person.ID || got.Total != 0 {
		t.Errorf("made then, for someone: %v", got.Off)
	}
	list, err := u.Find(t.Context(), studio.Wanted{Use: "lamp", Limit: 3})
	if err != nil || len(list) == 0 || len(list) > 3 {
		t.Errorf("%d lamps, %v; want at most 3", len(list), err)
	}
	for _, l := range list {
		if l.Making.Progress.Use != "lamp" {
			t.Errorf("%s is for %q", l.Making.Tag, l.Making.Progress.Use)
		}
	}
}

// Names are found in any case, with and without accents, and stand where their
// letters belong.
func TestNamesInAnyCase(t *testing.T) {
	t.Parallel()
	s := open(t, filepath.Join(t.TempDir(), "studio.db"))
	m, _ := seed(t, s)
	u, ctx := useCases(s), t.Context()
	for _, name := range []string{"Zoltan Invented", "Élodie Übermoor", "Ånund Pretend"} {
		if _, err := u.SavePerson(ctx, studio.Person{Name: name}); err != nil {
			t.Fatal(err)
		}
	}
	people, err := u.People(ctx)
	if err != nil || len(people) != 4 {
		t.Fatalf("%v, %v", people, err)
	}
	var names []string
	for _, p := range people {
		names = append(names, strings.Fields(p.Name)[0])
	}
	if got := strings.Join(names, " "); got != "Ånund Élodie Quillon Zoltan" {
		t.Errorf("in the order of their letters: %s", got)
	}
	b, err := u.Brief(ctx, m.BriefID)
	if err != nil {
		t.Fatal(err)
	}
	b.PersonID = people[1].ID
	if _, err := u.SaveBrief(ctx, b); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"élodie", "ELODIE", "e\u0301lodie ÜBER", "übermoor"} {
		if list, err := u.Find(ctx, studio.Wanted{Customer: name}); err != nil || len(list) != 1 {
			t.Errorf("%q: %d makings, %v", name, len(list), err)
		}
	}
	paper := studio.Paper{Name: "Dämmer", Design: plan.Paper{Furnish: []plan.Part{{Fibre: "Ölflachs", SharePct: 100}}, GrammageConditioned: 80}, Sheet: plan.Sheet{LongMM: 420, ShortMM: 297}}
	if _, err := u.SavePaper(ctx, paper); err != nil {
		t.Fatal(err)
	}
	if list, err := u.Papers(ctx, studio.PaperFilter{Name: "DÄMM"}); err != nil || len(list) != 1 {
		t.Errorf("%d papers, %v", len(list), err)
	}
}

// What a making is found by stays its own when the file is copied, whatever was
// taken out of it before.
func TestFindInACopy(t *testing.T) {
	t.Parallel()
	s := open(t, filepath.Join(t.TempDir(), "studio.db"))
	ctx := t.Context()
	if err := years.Fill(ctx, s.Records(), years.Size{Papers: 6, Makings: 12, Sheets: 20}, start); err != nil {
		t.Fatal(err)
	}
	u := useCases(s)
	all, err := u.Makings(ctx, studio.MakingFilter{Light: true})
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range all {
		if _, err := u.Record(ctx, m.ID, studio.NewEvent(m.ID, start, studio.Remark{Text: "marked " + "abcdefghijkl"[i:i+1] + "word"})); err != nil {
			t.Fatal(err)
		}
	}
	err = s.Write(ctx, func(tx *Tx) error { // the oldest, one of the midst: what undoing an import takes out
		err := tx.AppendImport(ctx, studio.Import{ID: "one", File: "makings.csv", Kind: "makings", At: start})
		if err == nil {
			err = tx.NoteImported(ctx, "one", studio.ImportedMaking, []string{all[len(all)-1].ID, all[5].ID})
		}
		if err == nil {
			err = tx.exec(ctx, `UPDATE import SET undoing = 1`)
		}
		for _, statement := range gone {
			if err == nil {
				err = tx.exec(ctx, statement, "one")
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "copy.db")
	if err := s.Backup(ctx, path); err != nil {
		t.Fatal(err)
	}
	copied := useCases(open(t, path))
	for i, m := range all {
		for _, u := range []*studio.Service{u, copied} {
			list, err := u.Find(ctx, studio.Wanted{Words: []string{"abcdefghijkl"[i:i+1] + "word"}})
			gone := i == 5 || i == len(all)-1
			if err != nil || gone != (len(list) == 0) || !gone && (len(list) != 1 || list[0].Making.ID != m.ID) {
				t.Errorf("making %d: %d found, %v", i, len(list), err)
			}
		}
	}
}

// Nothing of a person stands among the words, and a correction takes a word out.
func TestFindForgets(t *testing.T) {
	t.Parallel()
	s := open(t, filepath.Join(t.TempDir(), "studio.db"))
	m, _ := seed(t, s)
	u := useCases(s)
	find := func(w studio.Wanted) int {
		t.Helper()
		list, err := u.Find(t.Context(), w)
		if err != nil {
			t.Fatal(err)
		}
		return len(list)
	}
	if _, err := u.Record(t.Context(), m.ID, studio.NewEvent("r", start, studio.Remark{Text: "marigold"})); err != nil {
		t.Fatal(err)
	}
	if n := find(studio.Wanted{Words: []string{"marigold"}}); n != 1 {
		t.Fatalf("a remark is found in %d makings", n)
	}
	if _, err := u.Record(t.Context(), m.ID, studio.Void("v", start, "r")); err != nil {
		t.Fatal(err)
	}
	if n := find(studio.Wanted{Words: []string{"marigold"}}); n != 0 {
		t.Errorf("a remark taken back is still found")
	}
	people, err := u.People(t.Context())
	if err != nil || len(people) == 0 {
		t.Fatalf("people: %v, %v", people, err)
	}
	name := strings.Fields(people[0].Name)[0]
	if n := find(studio.Wanted{Words: []string{name}}); n != 0 {
		t.Errorf("%q, a customer, is found among the words", name)
	}
	if n := find(studio.Wanted{Customer: name}); n != 1 {
		t.Errorf("%q has %d makings, want 1", name, n)
	}
	if err := u.ForgetPerson(t.Context(), people[0].ID); err != nil {
		t.Fatal(err)
	}
	if n := find(studio.Wanted{Customer: name}); n != 0 {
		t.Errorf("an erased customer is still found")
	}
}

// A whole working life in one file: lists and searches of it.
func BenchmarkWholeLife(b *testing.B) {
	ctx := b.Context()
	s, err := Open(ctx, filepath.Join(b.TempDir(), "studio.db"))
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close() //nolint:errcheck // the folder goes with it
	if err := years.Fill(ctx, s.Records(), years.Whole, start); err != nil {
		b.Fatal(err)
	}
	if info, err := os.Stat(s.Path()); err == nil {
		b.Logf("the file has %d MB", info.Size()>>20)
	}
	u := useCases(s)
	for name, do := range map[string]func(context.Context) error{
		"list": func(ctx context.Context) error {
			_, err := u.Makings(ctx, studio.MakingFilter{Light: true, Limit: 101, Skip: 1000})
			return err
		},
		"words": func(ctx context.Context) error {
			_, err := u.Find(ctx, studio.Wanted{Words: []string{"iris", "petal", "moor"}})
			return err
		},
		"all": func(ctx context.Context) error {
			_, err := u.Find(ctx, studio.Wanted{Words: []string{"blue"}, Fibre: "abaca", GrammageG: 120, CaliperMM: 0.2, Customer: "bindery", From: start.AddDate(-5, 0, 0)})
			return err
		},
		"making": func(ctx context.Context) error {
			list, err := u.Makings(ctx, studio.MakingFilter{Light: true, Limit: 1, Skip: 1500})
			if err != nil {
				return err
			}
			_, err = u.State(ctx, list[0].ID)
			return err
		},
		"open": func(ctx context.Context) error {
			again, err := Open(ctx, s.Path())
			if err != nil {
				return err
			}
			return again.Close()
		},
		"copy": func(ctx context.Context) error {
			to := filepath.Join(b.TempDir(), "copy.db")
			defer os.Remove(to) //nolint:errcheck // the folder goes with it
			return s.Backup(ctx, to)
		},
		"anew":  func(ctx context.Context) error { return u.Relearn(ctx) },
		"bench": func(ctx context.Context) error { _, err := u.Bench(ctx); return err },
	} {
		b.Run(name, func(b *testing.B) {
			l := laps.Start()
			for b.Loop() {
				l.Do(func() {
					if err := do(ctx); err != nil {
						b.Fatal(err)
					}
				})
			}
			l.Report(b)
		})
	}
}
