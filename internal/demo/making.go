package demo

import (
	"fmt"
	"math"
	"time"

	"vatside/internal/studio"
)

// truth is what this studio's vat and hands are like, which its records show
// and it does not know. All invented.
var truth = struct {
	weight, hand, shrink, pressed, lost, kissed, slow float64
}{
	weight:  0.92,  // a sheet weighs this share of what the handbook's depth would give
	hand:    0.035, // scatter from sheet to sheet
	shrink:  0.016, // dried in the stack, both ways
	pressed: 0.31,  // solids out of this press
	lost:    0.07,  // of the sheets couched
	kissed:  0.03,
	slow:    1.1, // hands-on time over what is usual
}

// past enters four makings of one paper, each typed in from its card.
func (f *filler) past(now time.Time) {
	const paper = "Reedwater text"
	for i, ago := range []int{92, 61, 34, 13} {
		f.at = now.Add(-time.Duration(ago+3) * day)
		b := f.brief(paper, []int{30, 40, 25, 50}[i], time.Time{}, "", fmt.Sprintf("Invented: folios for demo book %d.", i+1))
		m := f.start(b)
		if f.err != nil {
			return
		}
		f.at = now.Add(-time.Duration(ago) * day)
		card := f.card(m, f.weight(m, i))
		card.FormID, card.At, card.Close = fmt.Sprintf("demo-card-%d", i+1), f.at, true
		card.Remarks = []string{[]string{
			"Invented: the first sheets came thin.", "Invented: one jug more at the start helped.",
			"Invented: a draught in the drying room.", "Invented: sheet 40 weighed what sheet 4 did.",
		}[i]}
		if f.err = f.FinishCard(f.ctx, m.ID, card); f.err != nil {
			return
		}
		if i == 3 {
			f.besides(m, card)
			f.sell(m)
		}
		b.Settled = true
		if _, f.err = f.SaveBrief(f.ctx, b); f.err != nil {
			return
		}
	}
}

// sell puts the good sheets of a making on the shelf, and sells some.
func (f *filler) sell(m studio.Making) {
	if f.err != nil {
		return
	}
	lot, err := f.KeepLeft(f.ctx, m.ID, studio.Sheets)
	if f.err = err; f.err == nil {
		f.err = f.GoOut(f.ctx, lot.ID, studio.Movement{ID: "demo-sold", MassG: 20 * lot.SheetG, At: f.at.Add(3 * day), Note: "Invented: to the binder."})
	}
}

// weight is a making's mean sheet over the weight aimed at: what the plan did
// not know yet is missing from the sheet.
func (f *filler) weight(m studio.Making, i int) float64 {
	reckoned := 1.0
	for _, r := range m.Plan.RestsOn {
		if r.Key == "effective_depth_mm" {
			reckoned = r.Value / 20 // the handbook's depth, mm
		}
	}
	return truth.weight / reckoned * (1 + 0.01*f.draws.NormFloat64()*float64(1+i%2))
}

// card writes the whole card of a making whose sheets weigh so much of the aim.
func (f *filler) card(m studio.Making, weight float64) studio.CardEntry {
	fig := func(key string) float64 { return m.Plan.Figures[key].Value }
	c := studio.CardEntry{Minutes: map[string]float64{}}
	pulls, couched := int(fig("sheets_to_pull")), 0
	post := max(int(fig("post_sheets")), 1)
	for n := 1; couched < int(fig("sheets_couched")); n++ {
		p := studio.Post{Post: n, Pulled: min(post, pulls)}
		p.KissedOff = int(math.Round(truth.kissed*float64(p.Pulled) + 0.5*f.draws.Float64()))
		c.Posts = append(c.Posts, p)
		couched += p.Pulled - p.KissedOff
		pulls = max(pulls-p.Pulled, post/4)
		wet := float64(min(10, p.Pulled-p.KissedOff))
		c.Parting = append(c.Parting, studio.WeighedAtParting{Post: n, Sheets: int(wet), Grams: round(wet*fig("dry_solids_per_sheet_g")*weight/truth.pressed*f.near(0.02), 1)})
	}
	for _, r := range m.Plan.Vat.Recharges {
		if round(r.StockML, 50) > 0 {
			c.Recharges = append(c.Recharges, studio.Recharge{AfterSheet: num(r.BeforeSheet - 1), StockML: round(r.StockML, 50)})
		}
	}
	tested := 3.0
	c.Tests = []studio.TestWeighed{{Sheets: 3, Grams: round(tested*fig("conditioned_mass_per_sheet_g")*weight*f.near(truth.hand/math.Sqrt(tested)), 0.1), RHPct: 52}}
	good := int(math.Round(float64(couched) * (1 - truth.lost - 0.03*f.draws.Float64())))
	rest := couched - good
	c.Grades = &studio.Graded{Good: good, Retree: rest / 2, Broken: rest / 4, Broke: rest - rest/2 - rest/4}
	dried := float64(good)
	c.Dry = []studio.WeighedDry{{Sheets: good, Grams: round(dried*fig("conditioned_mass_per_sheet_g")*weight*f.near(truth.hand/math.Sqrt(dried)), 1), RHPct: 50}}
	for range 3 {
		long, short := 1-truth.shrink*f.near(0.1), 1-truth.shrink*f.near(0.1)
		c.Sizes = append(c.Sizes, studio.DrySize{LongMM: round(fig("formed_long_mm")*long, 1), ShortMM: round(fig("formed_short_mm")*short, 1)})
	}
	for _, s := range m.Plan.Steps {
		if s.UsualMin > 0 {
			c.Minutes[s.Key] = round(s.UsualMin*truth.slow*f.near(0.08), 5)
		}
	}
	c.StockLeft = &studio.StockLeft{Litres: round(3+2*f.draws.Float64(), 0.5)}
	return c
}

// present enters one making that dries and one that is at the vat.
func (f *filler) present(now time.Time) {
	f.at = now.Add(-4 * day)
	binder := f.person("Invented binder (demo)")
	scribe := f.person("Invented scribe (demo)")
	drying := f.brief("Heron cover", 20, now.Add(9*day), binder, "Invented: covers for twenty demo books.")
	inking := f.brief("Quill", 40, now.Add(16*day), scribe, "Invented: forty sheets for the pen; approval sheet first.")
	m := f.start(drying)
	if f.err != nil {
		return
	}
	f.at = now.Add(-26 * time.Hour)
	c := f.card(m, 1.02)
	f.record(m, append(f.atVat(c, len(c.Posts), f.at), studio.NewEvent("demo-parting", f.at.Add(3*time.Hour), c.Parting[0]),
		studio.NewEvent("demo-left", f.at.Add(4*time.Hour), *c.StockLeft))...)
	if f.err == nil {
		_, f.err = f.KeepLeft(f.ctx, m.ID, studio.WetStock)
	}

	f.at = now.Add(-22 * time.Hour)
	m = f.start(inking)
	if f.err != nil {
		return
	}
	f.beaten(m, now.Add(-21*time.Hour))
	c = f.card(m, 0.97)
	f.record(m, f.atVat(c, 1, now.Add(-90*time.Minute))...)
}

// atVat is a card's lines up to a post, as they are entered at the vat: the
// last is ten minutes ago at most, for a start an hour and a half ago.
func (f *filler) atVat(c studio.CardEntry, posts int, from time.Time) []studio.Event {
	at := from
	var out []studio.Event
	add := func(b studio.Body) {
		out = append(out, studio.NewEvent(fmt.Sprintf("demo-%d-%d", from.Unix(), len(out)), at, b))
		at = at.Add(3 * time.Minute)
	}
	add(c.Tests[0])
	pulled := 0
	for _, p := range c.Posts[:posts] {
		pulled += p.Pulled
		for _, r := range c.Recharges {
			if *r.AfterSheet < pulled && *r.AfterSheet >= pulled-p.Pulled && len(out) < 12 {
				add(r)
			}
		}
		add(p)
	}
	return out
}

func (f *filler) record(m studio.Making, events ...studio.Event) {
	if f.err == nil {
		f.at = events[len(events)-1].At // entered when it had happened
		_, f.err = f.Record(f.ctx, m.ID, events...)
	}
}

// promised enters two wishes that are not begun.
func (f *filler) promised(now time.Time) {
	f.at = now.Add(-2 * day)
	lamps := f.person("Invented lamp maker (demo)")
	f.brief("Dusk lamp", 24, now.Add(23*day), lamps, "Invented: six demo lamps of four panels.")
	f.brief("Deckle print", 60, now.Add(37*day), "", "Invented: an edition of a demo print.")
}

func (f *filler) person(name string) string {
	if f.err != nil {
		return ""
	}
	p, err := f.SavePerson(f.ctx, studio.Person{Name: name, Contact: "nobody: this is a demo"})
	f.err = err
	return p.ID
}

// near is a factor around one.
func (f *filler) near(sd float64) float64 { return 1 + sd*f.draws.NormFloat64() }

// round rounds to a step, as a person writes it.
func round(v, step float64) float64 { return math.Round(v/step) * step }

func diagonal(long, short float64) float64 { return math.Hypot(long, short) }
