package history

import (
	"context"
	"fmt"

	"vatside/internal/fault"
	"vatside/internal/studio"
	"vatside/internal/watch"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// mostRuns is how many runs are looked back on: the newest. Ours: each is
// followed sheet by sheet when the page is asked for.
const mostRuns = 20

// runs says of each making how its sheets came from the vat, the newest first;
// one whose run was not followed, or of which nothing was weighed, stays out.
func (p *Page) runs(ctx context.Context, paper string) (part.Table, error) {
	t := part.Table{Caption: "At the vat, by all that was weighed", Columns: []part.Column{{Label: "Making"}, {Label: "Sheets", Number: true},
		{Label: "Within tolerance", Number: true}, {Label: "Scatter in the run", Number: true}, {Label: "Drift"}}}
	list, err := p.studio.Makings(ctx, studio.MakingFilter{PaperID: paper, With: studio.KindPost, NoSums: true, Limit: mostRuns})
	if err != nil {
		return t, err
	}
	for _, m := range list {
		events, err := p.studio.Events(ctx, m.ID)
		if err != nil {
			return t, err
		}
		past, err := watch.Back(m, events)
		if fault.KindOf(err) == fault.KindInfeasible {
			continue
		}
		if err != nil {
			return t, err
		}
		if past.Told() {
			drift := page.Drifts(past.Drifts)
			if n := len(past.Strange); n > 0 {
				drift += ", " + part.Many(n, "weighing") + " set aside"
			}
			t.Rows = append(t.Rows, part.Row{Cells: []string{m.Tag, fmt.Sprint(len(past.Sheets)),
				fmt.Sprintf("%.0f\u202f%% (±%.3g\u202f%%)", 100*past.Within, 100*past.Tolerance), fmt.Sprintf("%.2g\u202f%%", 100*past.Scatter), drift}})
		}
	}
	return t, nil
}
