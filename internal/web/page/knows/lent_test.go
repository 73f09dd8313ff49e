package knows

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/store"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// What one paper's making taught is lent to the other paper of its fibre, said
// in words, and changes its next plan; nothing of it counts as measured there.
func TestOtherPapersLend(t *testing.T) {
	t.Parallel()
	ctx := t.Context()
	file, err := store.Open(ctx, filepath.Join(t.TempDir(), "studio.vatside"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { file.Close() })
	s := studio.New(file.Records(), time.Now)
	var briefs []studio.Brief
	for _, hours := range []float64{2, 4} {
		design := plan.Paper{Use: "book text", Furnish: []plan.Part{{Fibre: "abaca", SharePct: 100}}, GrammageConditioned: 90, BeatingHours: &hours, Drying: "stack"}
		p, err := s.SavePaper(ctx, studio.Paper{Name: fmt.Sprintf("Abaca %g h", hours), Design: design, Sheet: plan.Sheet{LongMM: 300, ShortMM: 200}})
		if err != nil {
			t.Fatal(err)
		}
		b, err := s.SaveBrief(ctx, studio.Brief{PaperID: p.ID, GoodSheets: 20, Sheet: p.Sheet, ConfidencePct: 90})
		if err != nil {
			t.Fatal(err)
		}
		briefs = append(briefs, b)
	}
	req, pl, err := s.PlanBrief(ctx, briefs[0])
	if err != nil {
		t.Fatal(err)
	}
	m, err := s.StartMaking(ctx, briefs[0].ID, req, pl)
	if err != nil {
		t.Fatal(err)
	}
	heavy := studio.TestWeighed{Sheets: 3, Grams: pl.Figures["test_weight_g"].Value * 1.25, RHPct: 50}
	if _, err := s.Record(ctx, m.ID, studio.NewEvent("tests", time.Now(), heavy)); err != nil {
		t.Fatal(err)
	}
	g, err := New(nil, s).gather(ctx, part.Speech{System: measure.Metric})
	if err != nil {
		t.Fatal(err)
	}
	depth := func(hours string) part.Reckoned {
		i := slices.IndexFunc(g.numbers, func(n part.Reckoned) bool {
			return strings.HasPrefix(n.Key, "effective depth/") && strings.Contains(n.Key, hours+" h")
		})
		if i < 0 {
			t.Fatalf("no depth of the abaca beaten %s h", hours)
		}
		return g.numbers[i]
	}
	own, other := depth("2"), depth("4")
	if len(own.Seen) != 1 || own.Lent != "" {
		t.Errorf("the paper made has %d observations, and is lent %q", len(own.Seen), own.Lent)
	}
	if len(other.Seen) != 0 || !strings.HasPrefix(other.Lent, "1 making of other papers") || other.Now == other.Was {
		t.Errorf("the other paper: %d observations, lent %q, was %s, is %s", len(other.Seen), other.Lent, other.Was, other.Now)
	}
	for _, p := range g.papers {
		if len(p.Changes) == 0 {
			t.Errorf("nothing changed in the next plan of %s", p.Name)
		}
	}
}
