package bench

import (
	"strings"
	"testing"
	"time"

	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
)

func TestToday(t *testing.T) {
	t.Parallel()
	now := time.Date(2030, 5, 3, 9, 0, 0, 0, time.UTC)
	left := func(days int) *int { return &days }
	making := studio.Making{ID: "m", Tag: "K7-3F", PaperName: "Book text"}
	brief := studio.Brief{ID: "b", GoodSheets: 50, Sheet: plan.Sheet{LongMM: 297, ShortMM: 210}}
	d := fill(page.Base{}, studio.Bench{
		Drying:   []studio.BenchItem{{Making: making, Since: now.Add(-30 * time.Hour), Next: "when dry: weigh"}},
		AtVat:    []studio.BenchItem{{Making: making, Since: now.Add(-time.Hour), Next: "12 of 30 sheets couched"}},
		Promised: []studio.Promise{{Brief: brief, PaperName: "Cover", Good: 12, DaysLeft: left(-2)}, {Brief: brief, PaperName: "Lamp", DaysLeft: left(9)}, {Brief: brief, PaperName: "Box"}},
	}, now)
	if len(d.Today) != 2 || !strings.Contains(d.Today[0], "Book text (K7-3F): it has been drying since yesterday") || !strings.Contains(d.Today[1], "Cover is 2 days late: 12 of 50") {
		t.Errorf("today: %q", d.Today)
	}
	if d.Promised[0].When != "2 days late" || !d.Promised[0].Late || d.Promised[1].When != "in 9 days" || d.Promised[2].When != "no date" {
		t.Errorf("promised: %+v", d.Promised)
	}
	if got := d.Columns[0].Items[0]; got.Next != "12 of 30 sheets couched" || got.Since != "since 08:00" {
		t.Errorf("at the vat: %+v", got)
	}
	if d.Quiet || !fill(page.Base{}, studio.Bench{}, now).Quiet {
		t.Error("an empty bench is told from a full one wrongly")
	}
}
