// Package demo fills an empty file with an invented studio.
//
// Nothing in it is real: no studio, no person, no order, no measurement. All
// goes through the same use cases as a studio's own entries, with a clock that
// is set back, so that the demo cannot hold what a studio could not enter.
// Numbers scatter from a fixed seed: the same day gives the same demo.
// Missing: photos, and everything the program cannot record yet.
package demo

import (
	"context"
	"fmt"
	"math/rand/v2"
	"time"

	"vatside/internal/fibre"
	"vatside/internal/plan"
	"vatside/internal/studio"
)

// seed makes every demo scatter alike. Ours: any number would do.
const seed = 20300503

// day is how far the clock is set back at a time.
const day = 24 * time.Hour

// filler enters the demo, at times of its own.
type filler struct {
	*studio.Service
	ctx   context.Context
	at    time.Time // what the clock shows
	draws *rand.Rand
	papers
	err error
}

// papers are the demo's papers by name.
type papers map[string]studio.Paper

// Fill enters the demo studio as it stands at now. The records must be empty.
func Fill(ctx context.Context, records studio.Store, now time.Time) error {
	f := &filler{ctx: ctx, draws: rand.New(rand.NewPCG(seed, 1)), papers: papers{}}
	f.Service = studio.New(records, func() time.Time { return f.at })
	chance := [32]byte{}
	copy(chance[:], fmt.Sprint(seed))
	f.Random = rand.NewChaCha8(chance)

	f.at = now.Add(-120 * day)
	f.profile(now)
	f.design()
	f.shelf(now)
	f.past(now)
	f.sized(now)
	f.present(now)
	f.promised(now)
	return f.err
}

// profile is the studio and its equipment.
func (f *filler) profile(now time.Time) {
	p, err := f.Profile(f.ctx)
	if err != nil {
		f.err = err
		return
	}
	p.Name, p.System, p.Currency, p.Answered = "Reedwater Demo Mill (invented)", studio.Metric, "EUR", true
	p.DefaultSheet = plan.Sheet{LongMM: 420, ShortMM: 297, Edges: "deckle"}
	p.Kit = plan.Studio{
		VatL: num(80.0), VatLeastL: num(58.0), StockGL: num(30.0), JugML: num(1000.0),
		Beaters: []plan.Beater{
			{Name: "big beater", Kind: "beater", RatedDryG: 700, WaterL: 30, Ground: now.Add(-200 * day).Format(time.DateOnly)},
			{Name: "kitchen blender", Kind: "blender", RatedDryG: 20, WaterL: 1.5},
		},
		Presses: []plan.Press{{Name: "jack press", Kind: "jack", ForceKN: 60}, {Name: "book press", Kind: "screw", ForceKN: 12}},
		Moulds: []plan.Mould{
			{Name: "A3 wove", LongMM: 427, ShortMM: 302},
			{Name: "A4 laid", LongMM: 302, ShortMM: 214},
			{Name: "square lamp", LongMM: 335, ShortMM: 335},
		},
		Felts: num(26), Dryers: []plan.Dryer{{Name: "stack", Kind: "stack", Places: 24, AirflowM3S: 0.035}}, Air: &plan.Air{TempC: 19, RHPct: 52},
		AltitudeM: num(240.0), RateHour: num(24.0), HandsADay: num(6.0),
		Fibres: []fibre.Own{{Name: "reedwater flax (invented)", Like: "flax", Note: "Invented: tow from a field that is not there."}},
	}
	_, f.err = f.SaveProfile(f.ctx, p)
}

// design saves the papers. Furnish and grammage are common practice for the
// use.
func (f *filler) design() {
	a3 := plan.Sheet{LongMM: 420, ShortMM: 297, Edges: "deckle"}
	a4 := plan.Sheet{LongMM: 297, ShortMM: 210, Edges: "deckle"}
	lamp := plan.Sheet{LongMM: 330, ShortMM: 330, Edges: "deckle"}
	for _, p := range []studio.Paper{
		{Name: "Reedwater text", Sheet: a3, Note: "Invented for the demo: sheets for a book.",
			Design: plan.Paper{Use: "book text", GrammageConditioned: 100, BeatingHours: num(3.0), Drying: "stack", Furnish: blend("cotton rag", 70, "abaca", 30)}},
		{Name: "Heron cover", Sheet: a3, Note: "Invented for the demo: soft covers.",
			Design: plan.Paper{Use: "cover", GrammageConditioned: 240, BeatingHours: num(2.5), Drying: "stack", Furnish: blend("cotton rag", 60, "abaca", 40)}},
		{Name: "Quill", Sheet: a4, Note: "Invented for the demo: for the pen, sized.",
			Design: plan.Paper{Use: "calligraphy", GrammageConditioned: 140, BeatingHours: num(4.0), Drying: "stack", SurfaceSize: "gelatin", Furnish: blend("cotton rag", 100)}},
		{Name: "Dusk lamp", Sheet: lamp, Note: "Invented for the demo: lets the light through.",
			Design: plan.Paper{Use: "lamp", GrammageConditioned: 80, BeatingHours: num(7.0), Drying: "board", Furnish: blend("abaca", 100)}},
		{Name: "Deckle print", Sheet: a3, Note: "Invented for the demo: for printing by hand.",
			Design: plan.Paper{Use: "print", GrammageConditioned: 250, BeatingHours: num(1.5), Drying: "stack", Furnish: blend("cotton linters", 70, "abaca", 30)}},
	} {
		if f.err != nil {
			return
		}
		p.Design.Forming = "western"
		f.papers[p.Name], f.err = f.SavePaper(f.ctx, p)
	}
}

// blend is fibre, share, fibre, share…
func blend(parts ...any) []plan.Part {
	var out []plan.Part
	for i := 0; i+1 < len(parts); i += 2 {
		out = append(out, plan.Part{Fibre: parts[i].(string), SharePct: float64(parts[i+1].(int))})
	}
	return out
}

func num[T any](v T) *T { return &v }

// brief saves a wish for a paper in its usual size.
func (f *filler) brief(paper string, good int, by time.Time, person, remarks string) studio.Brief {
	if f.err != nil {
		return studio.Brief{}
	}
	p := f.papers[paper]
	b := studio.Brief{PaperID: p.ID, GoodSheets: good, Sheet: p.Sheet, ConfidencePct: 90, Remarks: remarks, PersonID: person}
	if !by.IsZero() {
		b.WantedBy = by.Format(time.DateOnly)
	}
	b, f.err = f.SaveBrief(f.ctx, b)
	return b
}

// start plans a brief with what the studio knows by then and begins its making.
func (f *filler) start(b studio.Brief) studio.Making {
	if f.err != nil {
		return studio.Making{}
	}
	req, pl, err := f.PlanBrief(f.ctx, b)
	if err != nil {
		f.err = err
		return studio.Making{}
	}
	m, err := f.StartMaking(f.ctx, b.ID, req, pl)
	f.err = err
	return m
}
