package bench

import (
	"strings"
	"testing"
	"time"

	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
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

// Wet stuff stands on the bench while there is time to do something with it,
// what is past its day first.
func TestSpoils(t *testing.T) {
	t.Parallel()
	now := time.Date(2030, 5, 3, 9, 0, 0, 0, time.UTC)
	wet := 88.0
	lot := func(id, by string, grams float64) studio.Lot {
		return studio.Lot{ID: id, Name: id, KeepBy: by, AmountG: grams, MoisturePct: &wet}
	}
	got := spoils(part.Speech{}, []studio.Lot{lot("dry", "", 900), lot("soon", "2030-05-05", 900), lot("later", "2030-05-20", 900), lot("gone", "2030-05-04", 0), lot("past", "2030-05-01", 500)}, now)
	if len(got) != 2 || got[0].Name != "past" || !got[0].Late || got[1].Name != "soon" || got[1].Late || !strings.Contains(got[1].Amount, "108\u00a0g dry") {
		t.Errorf("%+v", got)
	}
}
