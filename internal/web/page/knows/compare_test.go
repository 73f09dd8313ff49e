package knows

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"vatside/internal/belief"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/store"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// counted counts the plans asked for.
type counted struct {
	*studio.Service
	plans int
}

func (c *counted) PlanBrief(ctx context.Context, b studio.Brief) (plan.Request, plan.Plan, error) {
	c.plans++
	return c.Service.PlanBrief(ctx, b)
}

// Of twenty papers those that are promised are planned, once; looked at again
// nothing is, until something they rest on changes.
func TestPlannedOnce(t *testing.T) {
	t.Parallel()
	const papers, promised = 20, 6
	ctx := t.Context()
	file, err := store.Open(ctx, filepath.Join(t.TempDir(), "studio.vatside"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { file.Close() })
	s := &counted{Service: studio.New(file.Records(), time.Now)}
	text := studio.StartingPapers()[0]
	for i := range papers {
		p, err := s.SavePaper(ctx, studio.Paper{Name: fmt.Sprintf("Paper %d", i+1), Design: text.Design, Sheet: text.Sheet})
		if err != nil {
			t.Fatal(err)
		}
		if i < promised {
			if _, err := s.SaveBrief(ctx, studio.Brief{PaperID: p.ID, GoodSheets: 20 + i, Sheet: text.Sheet, ConfidencePct: 90}); err != nil {
				t.Fatal(err)
			}
		}
	}
	page, speech := New(nil, s), part.Speech{System: measure.Metric}
	look := func(what string, plans, changes int) {
		t.Helper()
		s.plans = 0
		start := time.Now()
		g, err := page.gather(ctx, speech)
		t.Logf("%s: %v", what, time.Since(start))
		if err != nil || len(g.papers) != promised || len(g.unplanned) != papers-promised || len(g.numbers) == 0 {
			t.Fatalf("%s: %d papers planned, %d not, %v", what, len(g.papers), len(g.unplanned), err)
		}
		if s.plans != plans || len(g.papers[0].Changes) != changes {
			t.Errorf("%s: %d plans made, want %d; %d changes, want %d", what, s.plans, plans, len(g.papers[0].Changes), changes)
		}
	}
	look("first", promised, 0)
	look("again", 0, 0)
	if err := s.SetPin(ctx, "beater loss", belief.Pin{Value: 0.2, Grade: source.Measured}); err != nil {
		t.Fatal(err)
	}
	look("after a number was fixed", promised, 1)
	look("again after that", 0, 1)
}
