package demo

import (
	"fmt"
	"time"

	"vatside/internal/sizing"
	"vatside/internal/studio"
)

// shelf puts down what lies in the store. All invented, and more of it than the
// demo's makings take.
func (f *filler) shelf(now time.Time) {
	for _, l := range []struct {
		studio.Lot
		grams float64
	}{
		{studio.Lot{Name: "white rag (invented)", What: "cotton rag", MoisturePct: num(7.0), PriceKg: num(9.5), Note: "Invented: cut and sorted."}, 14000},
		{studio.Lot{Name: "abaca bale (invented)", What: "abaca", MoisturePct: num(9.0), PriceKg: num(12.0)}, 9000},
		{studio.Lot{Name: "linters (invented)", What: "cotton linters", PriceKg: num(6.0)}, 6000},
		{studio.Lot{Name: "gelatin (invented)", What: "gelatin", KeepBy: now.Add(300 * day).Format(time.DateOnly)}, 900},
	} {
		if f.err != nil {
			return
		}
		l.Form = studio.AsBought
		_, f.err = f.SaveLot(f.ctx, l.Lot, studio.Movement{ID: "demo-" + l.Name, MassG: l.grams})
	}
}

// besides measures what a card has no blank for: thickness and diagonals of the
// dry sheets of a making.
func (f *filler) besides(m studio.Making, c studio.CardEntry) {
	fig := func(key string) float64 { return m.Plan.Figures[key].Value }
	long, short := c.Sizes[0].LongMM, c.Sizes[0].ShortMM
	var thick studio.Caliper
	for range 5 {
		thick.ThicknessMM = append(thick.ThicknessMM, round(fig("caliper_mm")*f.near(0.04), 0.005))
	}
	f.record(m, studio.NewEvent("demo-caliper-"+m.ID, f.at, thick),
		studio.NewEvent("demo-diagonals-"+m.ID, f.at, studio.Diagonals{FirstMM: round(diagonal(long, short)+1, 1), SecondMM: round(diagonal(long, short)-1, 1), LongMM: long, ShortMM: short}))
}

// sized enters a making whose sheets were sized, with what was seen of it.
func (f *filler) sized(now time.Time) {
	f.at = now.Add(-52 * day)
	b := f.brief("Quill", 16, time.Time{}, "", "Invented: a first batch for the pen.")
	m := f.start(b)
	if f.err != nil {
		return
	}
	f.at = now.Add(-49 * day)
	card := f.card(m, 0.98)
	card.FormID, card.At, card.Close = "demo-card-sized", f.at, true
	if f.err = f.FinishCard(f.ctx, m.ID, card); f.err != nil {
		return
	}
	f.besides(m, card)
	dry := card.Dry[0].Grams
	f.record(m, studio.NewEvent("demo-sized", f.at, studio.Sized{DryG: dry, WetG: round(dry*1.9*f.near(0.05), 1), BathPct: 4}),
		studio.NewEvent("demo-ink", f.at, studio.InkStrip{Says: sizing.Sharp}),
		studio.NewEvent("demo-hand", f.at, studio.HandSays{Handle: "firm", Rattle: "crisp", Remark: "Invented: a little loud."}))
	if f.err == nil {
		b.Settled = true
		_, f.err = f.SaveBrief(f.ctx, b)
	}
}

// beaten enters what the drain test said while the first load was beaten.
func (f *filler) beaten(m studio.Making, from time.Time) {
	var out []studio.Event
	for i, r := range []struct {
		hours, seconds float64
		roll           string
	}{{0.5, 8, "light"}, {1.5, 13, "down"}, {3, 26, "down, brushing at the end"}} {
		out = append(out, studio.NewEvent(fmt.Sprintf("demo-beat-%d", i+1), from.Add(time.Duration(r.hours*float64(time.Hour))),
			studio.BeatReading{Load: 1, Hours: r.hours, Roll: r.roll, Value: num(r.seconds), WaterC: num(17.0)}))
	}
	f.record(m, out...)
}
