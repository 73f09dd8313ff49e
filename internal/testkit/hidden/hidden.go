// Package hidden plays makings of studios whose true numbers are hidden from
// the plan: the truth is drawn from what is believed, the making is run sheet
// by sheet with the plan's decisions and its printed tables, and what comes
// out is compared with what the plan said. For tests only.
//
// The arithmetic here is written apart from the plan's: one sheet after the
// other, with the water and the fibre in the tub counted.
package hidden

import (
	"math"
	"math/rand/v2"

	"vatside/internal/belief"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/plan"
)

// Truth is one studio's hidden numbers, for one making.
type Truth struct {
	ShrinkLong, ShrinkShort, Moisture, Retained, Lost, Depth, Hand, Couched, Loss, Lot float64
}

// Truths draws n hidden studios from the beliefs of a request.
func Truths(r plan.Request, known belief.Known, n int, seed uint64) ([]Truth, error) {
	list, err := plan.Beliefs(r, known)
	if err != nil {
		return nil, err
	}
	bk := figure.NewBook(n, seed)
	keys := plan.KnownKeys()
	cols := map[string]figure.Col[measure.Number]{}
	for i, k := range keys {
		cols[k] = belief.Draw[measure.Number](bk, list[i])
	}
	out := make([]Truth, n)
	for i := range out {
		at := func(k string) float64 { return float64(cols[k].At(i)) }
		mean, ratio := at("shrink_long_pct"), at("shrink_short_pct")
		out[i] = Truth{
			ShrinkLong: math.Min(mean*ratio, 0.55), ShrinkShort: math.Min(mean/ratio, 0.55),
			Moisture: at("moisture_conditioned_pct_dry_basis"), Retained: at("additive_retained_pct"), Lost: at("lost_later_pct"),
			Depth: at("effective_depth_mm"), Hand: at("hand_scatter_pct"), Couched: at("solids_couched_pct"),
			Loss: at("beater_loss_pct"), Lot: at("moisture_air_dry_pct_wet_basis"),
		}
		if p, ok := r.Known["shrink_long_pct"]; ok {
			out[i].ShrinkLong = p.Value / 100
		}
		if p, ok := r.Known["shrink_short_pct"]; ok {
			out[i].ShrinkShort = p.Value / 100
		}
	}
	return out, nil
}

// Result is what came out of one making.
type Result struct {
	Couched, Good     int
	DryLong, DryShort float64 // mm, mean of the run
	Grammage          float64 // conditioned, mean of the run's sheets, g/m²
	Within            float64 // share of the run's sheets within the brief's tolerance
	TestGrams         float64 // the test sheets together
	FibreUsed         float64 // bone-dry, beaten: in sheets and heel
	Sheets            []float64
}

// tub is the vat as it stands.
type tub struct{ litres, solids float64 }

// Play runs one western making with a plan's decisions. Every number the
// studio would have to know is said in the request's studio.
func Play(r plan.Request, p plan.Plan, t Truth, rng *rand.Rand) Result {
	value := func(k string) float64 { return p.Figures[k].Value }
	rest := func(k string) float64 { // what the maker reckons with
		for _, b := range p.RestsOn {
			if b.Key == k {
				return b.Value / 100
			}
		}
		return 0
	}
	dose := 0.0
	for _, a := range r.Paper.Additives {
		dose += a.DosePct / 100
	}
	// the stock: weighed, beaten, and made up with water by what is reckoned
	reckoned := value("fibre_air_dry_g") * (1 - rest("moisture_air_dry_pct_wet_basis")) * (1 - rest("beater_loss_pct"))
	real := value("fibre_air_dry_g") * (1 - t.Lot) * (1 - t.Loss)
	pail := reckoned * (1 + dose*rest("additive_retained_pct")) / *r.Studio.StockGL // L
	strength := real * (1 + dose*t.Retained) / pail                                 // g/L

	area := value("formed_long_mm") * value("formed_short_mm") / 1e6
	depth := t.Depth
	if r.Paper.Forming == "several dips" { // what is hidden is the weight over what was reckoned
		depth *= value("dry_solids_per_sheet_g") / area / value("vat_consistency_g_l")
	}
	vat := tub{litres: *r.Studio.VatL, solids: value("vat_first_fill_l") * strength}
	pail -= value("vat_first_fill_l")
	pull := func() float64 {
		g := vat.solids / vat.litres * depth * area * math.Max(0.2, 1+t.Hand*rng.NormFloat64())
		g = math.Min(g, vat.solids)
		vat.solids -= g
		vat.litres -= g * (1/t.Couched - 1) / 1000
		return g
	}
	res := Result{}
	tests := 0
	if r.TestSheets != nil {
		tests = *r.TestSheets
	}
	acts, next, want := p.Vat.Recharges, 0, int(value("sheets_couched"))
	for couched := 0; couched < want; couched++ {
		if couched == tests && tests > 0 {
			res.TestGrams *= 1 + 0.01*rng.NormFloat64()
			correct(p.Vat.Tests, res.TestGrams, &vat, &pail, strength)
		}
		for next < len(acts) && acts[next].BeforeSheet <= couched+1 {
			if !recharge(acts[next], &vat, &pail, strength, *r.Studio.VatLeastL) {
				want = couched // nothing left to work with
			}
			next++
		}
		if couched >= want {
			break
		}
		if g := pull(); couched < tests {
			res.TestGrams += g * (1 + t.Moisture)
		} else {
			res.Sheets = append(res.Sheets, g)
		}
	}
	res.finish(r, p, t, rng)
	return res
}

// correct does what the row of the test table says.
func correct(rows []plan.TestRow, grams float64, vat *tub, pail *float64, strength float64) {
	for _, row := range rows {
		if grams < row.FromG || (row.ToG > 0 && grams >= row.ToG) {
			continue
		}
		litres := math.Min(row.StockML/1000, *pail)
		*pail -= litres
		vat.solids += litres * strength // as much water comes off through the strainer
		vat.solids *= 1 - row.WaterInL/vat.litres
		return
	}
}

// recharge does one act of the table; with too little stock in the pail more
// water comes off instead, and it reports false once the level is too low.
func recharge(a plan.Recharge, vat *tub, pail *float64, strength, least float64) bool {
	before := vat.solids / vat.litres
	wanted := a.StockML / 1000
	litres := math.Min(wanted, *pail)
	*pail -= litres
	vat.solids += litres * strength
	vat.litres += litres + a.WaterInL - a.WaterOffL
	if litres < wanted-1e-9 { // keep the strength by letting the level fall
		share := (before*vat.litres + (wanted-litres)*strength) / vat.litres
		vat.litres = math.Min(vat.litres, vat.solids/math.Max(share, 1e-9))
		return vat.litres >= least*0.98
	}
	return true
}

func (res *Result) finish(r plan.Request, p plan.Plan, t Truth, rng *rand.Rand) {
	res.DryLong = p.Figures["formed_long_mm"].Value * (1 - t.ShrinkLong)
	res.DryShort = p.Figures["formed_short_mm"].Value * (1 - t.ShrinkShort)
	area := res.DryLong * res.DryShort / 1e6
	tolerance, target := 8.0, r.Paper.GrammageConditioned
	if r.Paper.TolerancePct != nil {
		tolerance = *r.Paper.TolerancePct
	}
	within := 0
	for _, g := range res.Sheets {
		if rng.Float64() >= t.Lost {
			res.Good++
		}
		w := g * (1 + t.Moisture) / area
		res.Grammage += w / float64(len(res.Sheets))
		if math.Abs(w/target-1) <= tolerance/100 {
			within++
		}
	}
	res.Couched = len(res.Sheets)
	if res.Couched > 0 {
		res.Within = float64(within) / float64(res.Couched)
	}
}

// Kept reports whether the making gave at least the good sheets asked, of the
// size, with their mean weight within the tolerance.
func (res Result) Kept(r plan.Request) bool {
	tolerance := 8.0
	if r.Paper.TolerancePct != nil {
		tolerance = *r.Paper.TolerancePct
	}
	if res.Good < *r.GoodSheets || math.Abs(res.Grammage/r.Paper.GrammageConditioned-1)*100 > tolerance {
		return false
	}
	tol := func(side float64) float64 {
		if r.Sheet.ToleranceMM != nil {
			return *r.Sheet.ToleranceMM
		}
		return math.Max(3, 0.02*side)
	}
	if r.Sheet.Edges == "trimmed" {
		trim := 5.0
		if r.Sheet.TrimMM != nil {
			trim = *r.Sheet.TrimMM
		}
		return res.DryLong >= r.Sheet.LongMM+trim && res.DryShort >= r.Sheet.ShortMM+trim
	}
	if res.DryLong < r.Sheet.LongMM-tol(r.Sheet.LongMM) || res.DryShort < r.Sheet.ShortMM-tol(r.Sheet.ShortMM) {
		return false
	}
	return len(r.Studio.Moulds) > 0 || res.DryLong <= r.Sheet.LongMM+tol(r.Sheet.LongMM) && res.DryShort <= r.Sheet.ShortMM+tol(r.Sheet.ShortMM)
}
