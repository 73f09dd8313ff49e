// Package years fills a studio with the records of many years: papers, briefs,
// makings and what happened in them, all invented, the same for one seed. It is
// for measuring how the program bears a long life.
package years

import (
	"context"
	"fmt"
	"math/rand/v2"
	"time"

	"vatside/internal/plan"
	"vatside/internal/studio"
)

// Size is how much there is.
type Size struct {
	Papers  int
	Makings int
	Sheets  int // of a making
	Photos  int // of a making: what is written of them, no files
}

// Whole is a studio's working life: 300,000 sheets in 3,000 makings, with
// 21,000 photos.
var Whole = Size{Papers: 60, Makings: 3000, Sheets: 100, Photos: 7}

// mostPlans is how many different plans stand behind the makings: a plan is
// large, and its numbers do not matter to a list.
const mostPlans = 12

var (
	furnishes = [][]plan.Part{
		{{Fibre: "abaca", SharePct: 100}}, {{Fibre: "cotton rag", SharePct: 100}}, {{Fibre: "flax", SharePct: 60}, {Fibre: "abaca", SharePct: 40}},
		{{Fibre: "cotton linters", SharePct: 70}, {Fibre: "abaca", SharePct: 30}}, {{Fibre: "hemp", SharePct: 50}, {Fibre: "cotton rag", SharePct: 50}},
	}
	names   = []string{"Moor", "Dusk", "Chalk", "Barley", "Rook", "Fern", "Ash", "Quarry"}
	kinds   = []string{"text", "print", "lamp", "cover", "wash"}
	said    = []string{"drained slowly", "two kissed off", "iris petals in the vat", "felt marks", "lovely rattle", "blue rags, faded", "a cold day", "press slipped"}
	persons = []string{"Invented Press", "Made-up Bindery", "Nobody Boxes", "Pretend Lamps"}
)

// one lets all use cases write in one transaction.
type one struct{ tx studio.Tx }

func (o one) Write(_ context.Context, do func(studio.Tx) error) error { return do(o.tx) }
func (o one) Read(_ context.Context, do func(studio.Tx) error) error  { return do(o.tx) }

// Fill writes so much into a store, in one transaction, the makings a day or
// two apart up to end. Nothing is learned from them on the way.
func Fill(ctx context.Context, store studio.Store, size Size, end time.Time) error {
	return store.Write(ctx, func(tx studio.Tx) error {
		rnd := rand.New(rand.NewPCG(7, 11))
		now := end.Add(-time.Duration(size.Makings) * 40 * time.Hour)
		u := studio.New(one{tx}, func() time.Time { return now })
		u.Learner = nil
		papers, err := papers(ctx, u, size.Papers, rnd)
		if err != nil {
			return err
		}
		var people []studio.Person
		for _, name := range persons {
			p, err := u.SavePerson(ctx, studio.Person{Name: name})
			if err != nil {
				return err
			}
			people = append(people, p)
		}
		var known []planned
		for i := range size.Makings {
			now = now.Add(40 * time.Hour)
			b := studio.Brief{PaperID: papers[rnd.IntN(len(papers))].ID, GoodSheets: size.Sheets, PersonID: people[i%len(people)].ID, ConfidencePct: 90}
			if err := making(ctx, u, b, i, size.Photos, &known, now, rnd); err != nil {
				return fmt.Errorf("making %d: %w", i, err)
			}
		}
		return nil
	})
}

func papers(ctx context.Context, u *studio.Service, n int, rnd *rand.Rand) ([]studio.Paper, error) {
	var list []studio.Paper
	for i := range n {
		hours := 1 + rnd.Float64()*5
		p, err := u.SavePaper(ctx, studio.Paper{
			Name: fmt.Sprintf("%s %s %d", names[i%len(names)], kinds[i%len(kinds)], i),
			Design: plan.Paper{Use: kinds[i%len(kinds)], Furnish: furnishes[i%len(furnishes)], GrammageConditioned: float64(60 + 10*(i%20)),
				BeatingHours: &hours, Finish: said[i%len(said)]},
			Sheet: plan.Sheet{LongMM: 420, ShortMM: 297, Edges: "deckle"},
		})
		if err != nil {
			return nil, err
		}
		list = append(list, p)
	}
	return list, nil
}

type planned struct {
	req plan.Request
	out plan.Plan
}

func making(ctx context.Context, u *studio.Service, b studio.Brief, i, photos int, known *[]planned, at time.Time, rnd *rand.Rand) error {
	p, err := u.Paper(ctx, b.PaperID)
	if err != nil {
		return err
	}
	b.Sheet = p.Sheet
	if b, err = u.SaveBrief(ctx, b); err != nil {
		return err
	}
	sheets := b.GoodSheets
	if len(*known) < mostPlans {
		var pl planned
		if pl.req, pl.out, err = u.PlanBrief(ctx, b); err != nil {
			return err
		}
		*known = append(*known, pl)
	}
	pl := (*known)[i%len(*known)]
	pl.req.Paper = p.Design
	m, err := u.StartMaking(ctx, b.ID, pl.req, pl.out)
	if err != nil {
		return err
	}
	each := p.Design.GrammageConditioned * p.Sheet.LongMM * p.Sheet.ShortMM / 1e6
	var events []studio.Event
	add := func(body studio.Body) {
		at = at.Add(time.Minute)
		events = append(events, studio.NewEvent(fmt.Sprintf("y%d-%d", i, len(events)), at, body))
	}
	for post := range 4 {
		add(studio.Post{Post: post + 1, Pulled: sheets / 4, KissedOff: rnd.IntN(3)})
	}
	add(studio.Recharge{Times: sheets - 1, StockML: float64(sheets) * 300})
	add(studio.WeighedDry{Sheets: 10, Grams: 10 * each * (0.95 + 0.1*rnd.Float64()), RHPct: 50})
	add(studio.DrySize{LongMM: 415 + 5*rnd.Float64(), ShortMM: 293 + 4*rnd.Float64()})
	add(studio.Caliper{ThicknessMM: []float64{each / 70, each / 68, each / 72}})
	add(studio.Graded{Good: sheets - 12, Retree: 6})
	add(studio.Remark{Text: said[rnd.IntN(len(said))]})
	for n := range photos {
		add(studio.Photo{Hash: fmt.Sprintf("%064x", i*1000+n), Format: "JPEG", Width: 4000, Height: 3000, Caption: said[n%len(said)]})
	}
	add(studio.Closed{})
	if _, err = u.Record(ctx, m.ID, events...); err != nil {
		return err
	}
	b.Settled = true
	_, err = u.SaveBrief(ctx, b)
	return err
}
