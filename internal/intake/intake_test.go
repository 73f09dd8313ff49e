package intake

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"vatside/internal/measure"
	"vatside/internal/store"
	"vatside/internal/studio"
)

var today = time.Date(2026, 11, 20, 8, 0, 0, 0, time.UTC)

func newStudio(t testing.TB) (*studio.Service, *store.Store) {
	t.Helper()
	file, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "studio.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { file.Close() }) //nolint:errcheck // the folder goes too
	return studio.New(file.Records(), func() time.Time { return today }), file
}

// open reads the only sheet of a text.
func open(t testing.TB, text string) Sheet {
	t.Helper()
	list, err := Open("notebook.csv", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return list[0]
}

func propose(t testing.TB, u *studio.Service, s Sheet, kind Kind) Proposal {
	t.Helper()
	p, err := Propose(t.Context(), u, Source{File: "notebook.csv", Sheet: s, Matching: Guess(s, kind, measure.Metric), System: measure.Metric, Now: today})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func take(t testing.TB, u *studio.Service, p Proposal) studio.Import {
	t.Helper()
	i, err := u.Import(t.Context(), p.Batch)
	if err != nil {
		t.Fatal(err)
	}
	return i
}

// contents is everything a studio holds, as text.
func contents(t testing.TB, u *studio.Service) string {
	t.Helper()
	var b strings.Builder
	err := u.Tables(t.Context(), func(table studio.Table) error {
		fmt.Fprintf(&b, "%s %q\n", table.Name, table.Columns)
		for _, r := range table.Rows {
			fmt.Fprintf(&b, "%q\n", r)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	seen, err := u.Observations(t.Context(), studio.ObservationFilter{})
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(&b, "%+v\n", seen)
	return b.String()
}

const notebook = `Invented notebook of a demo mill
,,,
Date,Paper,Fibre,g/m2,Beating (hrs),Mould,Sheet size (cm),Drying,Pulled,Good,Sheet wt (g),Caliper mm,For,Weather,Notes
3/5/2019,Heron text,"70% cotton rag, 30% abaca",100,3,430 x 305 mm,"42,1 x 29,8",stack,63,52,"12,4",0.21,Invented binder,wet,the first ones came thin
14.5.2019,Heron text,"70% cotton rag, 30% abaca",approx 100,2-3,430 x 305 mm,42 x 29.7,stack,60,50,12.6,,Invented binder,,"=SUM(A1)"
,,,,,,,,,,,,,,
2019-06-02,Dusk lamp,abaca,80 gsm,7 h,,A4,board,~40,35?,,,,,和紙
June 2020,Dusk lamp,abaca,,,,,,lots,12,,,,,
nonsense,Dusk lamp,abaca,80,,,,,,,,,,,
31/4/2021,Dusk lamp,abaca,80,,,,,,,,,,,
`

func TestNotebook(t *testing.T) {
	t.Parallel()
	u, _ := newStudio(t)
	before := contents(t, u)
	s := open(t, notebook)
	m := Guess(s, "", measure.Metric)
	if m.Kind != Makings {
		t.Fatalf("the sheet is taken for %s", m.Kind)
	}
	var got []string
	for _, c := range m.Columns {
		got = append(got, c.Field+" "+c.Unit)
	}
	want := []string{"date day/month/year", "paper ", "furnish ", "grammage g/m²", "beating h", "formed mm", "dry cm", "drying ", "pulled ", "good ", "each g", "caliper mm", "customer ", "remarks ", "remarks "}
	if !slices.Equal(got, want) {
		t.Errorf("columns %q\nwant %q", got, want)
	}
	p := propose(t, u, s, "")
	if a, c := len(p.Of(Adds)), len(p.Of(Cannot)); a != 4 || c != 2 {
		t.Fatalf("%d added, %d not read; want 4 and 2", a, c)
	}
	i := take(t, u, p)
	makings, err := u.Makings(t.Context(), studio.MakingFilter{})
	if err != nil || len(makings) != 4 {
		t.Fatalf("%d makings, %v", len(makings), err)
	}
	checkTaught(t, u, p)
	again := propose(t, u, s, "")
	if n := len(again.Of(Skips)); n != 4 {
		t.Errorf("the same file again: %d are there already; want 4: %+v", n, again.Rows)
	}
	if _, err := u.UndoImport(t.Context(), i.ID); err != nil {
		t.Fatal(err)
	}
	if after := contents(t, u); after != before {
		t.Errorf("after undoing the studio holds\n%s\nand held\n%s", after, before)
	}
}

// checkTaught: of a past making only that is learned of which its row says all:
// shrinkage where the formed size, the dry size, beating and drying are there,
// density where weight, size and caliper are, sheets lost where those pulled and
// those good are counted.
func checkTaught(t *testing.T, u *studio.Service, p Proposal) {
	t.Helper()
	seen, err := u.Observations(t.Context(), studio.ObservationFilter{})
	if err != nil {
		t.Fatal(err)
	}
	got, lost := map[string]string{}, map[string]string{}
	for _, o := range seen {
		kind, _, _ := strings.Cut(o.Belief, "/")
		got[o.Making] += kind + "; "
		if kind == "lost later" {
			lost[o.Making] = fmt.Sprintf("%g of %g", o.Hits, o.Trials)
		}
	}
	wants := []struct{ taught, lost string }{
		{"density; lost later; shrinkage ratio; shrinkage; ", "11 of 63"},
		{"lost later; shrinkage ratio; shrinkage; ", "10 of 60"}, // no caliper
		{"lost later; ", "5 of 40"},                              // no formed size, no weight
		{"", ""},                                                 // no sheets pulled that can be read
	}
	for i, m := range p.Batch.Makings {
		if id := m.Making.ID; got[id] != wants[i].taught || lost[id] != wants[i].lost {
			t.Errorf("%s teaches %s(lost %s), want %s(lost %s)", m.Making.Created.Format(time.DateOnly), got[id], lost[id], wants[i].taught, wants[i].lost)
		}
	}
}
