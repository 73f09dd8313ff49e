package store

import (
	"fmt"
	"path/filepath"
	"testing"

	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/testkit/laps"
)

// Appending one event, synced to the disk, without the use case around it.
func BenchmarkAppendEvent(b *testing.B) {
	ctx := b.Context()
	s, err := Open(ctx, filepath.Join(b.TempDir(), "studio.db"))
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close() //nolint:errcheck // the folder goes with it
	err = s.Write(ctx, func(tx *Tx) error {
		p := studio.Paper{ID: "p", Revision: 1, Name: "p", Design: plan.Paper{GrammageConditioned: 100}, Sheet: plan.Sheet{LongMM: 1, ShortMM: 1}, Created: start, Changed: start}
		if err := tx.AppendPaper(ctx, p); err != nil {
			return err
		}
		br := studio.Brief{ID: "b", Revision: 1, PaperID: "p", PaperRevision: 1, GoodSheets: 1, Sheet: p.Sheet, ConfidencePct: 90, Created: start, Changed: start}
		if err := tx.PutBrief(ctx, br); err != nil {
			return err
		}
		return tx.AppendMaking(ctx, studio.Making{ID: "m", Tag: "K7-3F", BriefID: "b", PaperID: "p", PaperRevision: 1, Created: start, Progress: studio.Progress{Stage: studio.Preparing}})
	})
	if err != nil {
		b.Fatal(err)
	}
	n, l := 0, laps.Start()
	for b.Loop() {
		n++
		l.Do(func() {
			err := s.Write(ctx, func(tx *Tx) error {
				e := studio.NewEvent(fmt.Sprintf("e%d", n), start, studio.Post{Post: 1, Pulled: 1})
				e.MakingID, e.Received = "m", start
				_, err := tx.AppendEvent(ctx, e)
				return err
			})
			if err != nil {
				b.Fatal(err)
			}
		})
	}
	l.Report(b)
}
