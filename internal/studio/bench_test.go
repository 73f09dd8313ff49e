package studio_test

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"vatside/internal/store"
	"vatside/internal/studio"
	"vatside/internal/testkit/laps"
)

// sixty is a 60-sheet making counted sheet by sheet, with its recharges,
// weighings and a few corrections.
func sixty(prefix string) []studio.Event {
	var list []studio.Event
	at := start
	add := func(b studio.Body) string {
		at = at.Add(time.Minute)
		id := fmt.Sprintf("%s-%d", prefix, len(list))
		list = append(list, studio.NewEvent(id, at, b))
		return id
	}
	add(studio.TestWeighed{Sheets: 3, Grams: 37})
	for i := range 60 {
		id := add(studio.Post{Post: 1 + i/20, Pulled: 1})
		if i%4 == 3 {
			add(studio.Recharge{AfterSheet: ptr(i + 1), StockML: 800})
		}
		if i%20 == 19 {
			list = append(list, studio.Void(id+"-void", at, id))
			add(studio.WeighedAtParting{Post: 1 + i/20, Sheets: 10, Grams: 410})
		}
	}
	add(studio.WeighedDry{Sheets: 57, Grams: 710, RHPct: 50})
	add(studio.Graded{Good: 52, Retree: 3, Broke: 2})
	return list
}

func BenchmarkReplaySixtySheets(b *testing.B) {
	events := sixty("e")
	m := studio.Making{Request: aRequest(), Plan: aPlan()}
	b.ReportMetric(float64(len(events)), "events")
	l := laps.Start()
	for b.Loop() {
		l.Do(func() {
			if s := studio.Replay(m, events); s.Couched != 57 {
				b.Fatal(s.Couched)
			}
		})
	}
	l.Report(b)
}

// One entry at the vat: checked, appended, state and lists rebuilt, synced.
func BenchmarkRecordOne(b *testing.B) {
	st, err := store.Open(b.Context(), filepath.Join(b.TempDir(), "studio.db"))
	if err != nil {
		b.Fatal(err)
	}
	defer st.Close() //nolint:errcheck // the folder goes with it
	s := studio.New(st.Records(), time.Now)
	p, err := s.SavePaper(b.Context(), aPaper())
	if err != nil {
		b.Fatal(err)
	}
	br, err := s.SaveBrief(b.Context(), studio.Brief{PaperID: p.ID, GoodSheets: 50, Sheet: p.Sheet, ConfidencePct: 90})
	if err != nil {
		b.Fatal(err)
	}
	var m studio.Making
	n, l := 0, laps.Start()
	for b.Loop() {
		if n%100 == 0 { // a making has about a hundred entries
			if m, err = s.StartMaking(b.Context(), br.ID, aRequest(), aPlan()); err != nil {
				b.Fatal(err)
			}
		}
		n++
		l.Do(func() {
			if _, err := s.Record(b.Context(), m.ID, studio.NewEvent(fmt.Sprintf("e%d", n), start, studio.Post{Post: 1, Pulled: 1})); err != nil {
				b.Fatal(err)
			}
		})
	}
	l.Report(b)
}
