// Package recharge answers what a vat does, sheet by sheet, under a rule of
// recharging: none, what is advised, a fixed dose, or the table of a plan.
//
// Assumed: the vat is well stirred, and one sheet is like the next. Sources:
// docs/models/vat.md. Missing: the hand's scatter from sheet to sheet, which
// only the shares count.
package recharge

import (
	"encoding/json"
	"fmt"

	"vatside/internal/fault"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/vat"
)

// Request asks what a vat does. Grammage here is bone-dry
// solids on formed area.
type Request struct {
	VatL            float64  `json:"vat_l"`
	FormedAreaM2    float64  `json:"formed_area_m2"`
	EffectiveDepth  float64  `json:"effective_depth_mm"`
	CarriedOffL     float64  `json:"carried_off_l"`
	GrammageFormed  float64  `json:"grammage_formed_g_m2"`
	Sheets          int      `json:"sheets"`
	TolerancePct    float64  `json:"tolerance_pct"`
	Recharge        Rule     `json:"recharge"`
	HandScatterPct  *float64 `json:"hand_scatter_pct,omitempty"`
	ShareWithinPct  *float64 `json:"share_within_pct,omitempty"`
	VatLeastL       *float64 `json:"vat_least_l,omitempty"`
	StockGL         *float64 `json:"stock_g_l,omitempty"`
	JugML           *float64 `json:"jug_ml,omitempty"`
	FirstFillSolids *float64 `json:"first_fill_solids_g,omitempty"`
}

// Rule is how a vat is recharged: "none", "advised", every so many
// sheets, or a table such as a plan's.
type Rule struct {
	Word    string
	Every   int
	SolidsG float64
	StockGL float64
	Table   []plan.Recharge
}

// fixedDose is the JSON of a recharge every so many sheets.
type fixedDose struct {
	Every   int     `json:"every"`
	SolidsG float64 `json:"solids_g"`
	StockGL float64 `json:"stock_g_l"`
}

// UnmarshalJSON reads "none", "advised", an object with every, solids_g and
// stock_g_l, or a list of recharges as a plan prints them.
func (r *Rule) UnmarshalJSON(b []byte) error {
	wrong := fault.Invalid("recharge", `It must be "none", "advised", {"every": 3, "solids_g": 35, "stock_g_l": 30}, or a list as a plan's vat.recharges.`)
	if err := json.Unmarshal(b, &r.Word); err == nil {
		if r.Word != "none" && r.Word != "advised" {
			return wrong
		}
		return nil
	}
	if err := json.Unmarshal(b, &r.Table); err == nil {
		r.Word = "table"
		return nil
	}
	var d fixedDose
	if err := json.Unmarshal(b, &d); err != nil || d.Every == 0 {
		return wrong
	}
	*r = Rule{Word: "fixed", Every: d.Every, SolidsG: d.SolidsG, StockGL: d.StockGL}
	return nil
}

// MarshalJSON writes what UnmarshalJSON reads.
func (r Rule) MarshalJSON() ([]byte, error) {
	switch r.Word {
	case "fixed":
		return json.Marshal(fixedDose{r.Every, r.SolidsG, r.StockGL})
	case "table":
		return json.Marshal(r.Table)
	case "":
		return json.Marshal("none")
	default:
		return json.Marshal(r.Word)
	}
}

// Sheet is one sheet of the answer.
type Sheet struct {
	N        int     `json:"n"`
	Grammage float64 `json:"grammage_formed_g_m2"`
	VatL     float64 `json:"vat_l"`
}

// Answer is what the vat does: each sheet, how many in a row stay within
// the tolerance without a recharge, and the figures of the run.
type Answer struct {
	Sheets            []Sheet                  `json:"sheets"`
	SheetsInTolerance figure.Figure            `json:"sheets_in_tolerance"`
	Figures           map[string]figure.Figure `json:"figures"`
	Recharges         []plan.Recharge          `json:"recharges"`
}

// Check returns every fault of the request, by key.
func Check(r Request) error {
	var l fault.List
	l.Inside("vat_l", r.VatL, 0.2, 5000, "L")
	l.Inside("formed_area_m2", r.FormedAreaM2, 0.0001, 9, "m²")
	l.Inside("effective_depth_mm", r.EffectiveDepth, 0.5, 200, "mm")
	l.Inside("carried_off_l", r.CarriedOffL, 0, 500, "L")
	l.Inside("grammage_formed_g_m2", r.GrammageFormed, 0.5, 3000, "g/m²")
	l.WholeIf("sheets", &r.Sheets, 1, 20000)
	l.Inside("tolerance_pct", r.TolerancePct, 0.1, 90, "%")
	l.InsideIf("hand_scatter_pct", r.HandScatterPct, 0, 40, "%")
	l.InsideIf("share_within_pct", r.ShareWithinPct, 1, 99.9, "%")
	l.InsideIf("vat_least_l", r.VatLeastL, 0, r.VatL, "L")
	l.InsideIf("stock_g_l", r.StockGL, 0.1, 500, "g/L")
	l.InsideIf("jug_ml", r.JugML, 20, 20000, "mL")
	l.InsideIf("first_fill_solids_g", r.FirstFillSolids, 0.01, 1e6, "g")
	if r.Recharge.Word == "fixed" {
		l.WholeIf("recharge.every", &r.Recharge.Every, 1, 20000)
		l.Inside("recharge.solids_g", r.Recharge.SolidsG, 0, 1e5, "g")
		l.Inside("recharge.stock_g_l", r.Recharge.StockGL, 0.1, 500, "g/L")
	}
	for i, t := range r.Recharge.Table {
		at := fmt.Sprintf("recharge[%d]", i)
		l.WholeIf(at+".before_sheet", &t.BeforeSheet, 1, 20000)
		if i > 0 && t.BeforeSheet < r.Recharge.Table[i-1].BeforeSheet {
			l.Add(fault.Invalid(at+".before_sheet", "Give the recharges in order; this one, before sheet %d, stands after one before sheet %d.", t.BeforeSheet, r.Recharge.Table[i-1].BeforeSheet))
		}
		l.Inside(at+".solids_g", t.SolidsG, 0, 1e5, "g")
		l.Inside(at+".stock_ml", t.StockML, 0, 1e7, "mL")
		l.Inside(at+".water_off_l", t.WaterOffL, 0, 5000, "L")
		l.Inside(at+".water_in_l", t.WaterInL, 0, 5000, "L")
	}
	return l.OrNil()
}

// Make answers a request.
//
// Errors: a fault.List when a key is wrong; Infeasible when the vat cannot
// give such a sheet, or runs dry on the way.
func Make(r Request) (Answer, error) {
	if err := Check(r); err != nil {
		return Answer{}, err
	}
	b := vat.Balance{Area: measure.Area(r.FormedAreaM2), Depth: measure.Length(r.EffectiveDepth), Carried: measure.Volume(r.CarriedOffL)}
	v := measure.Volume(r.VatL)
	if _, err := b.Ratio(v); err != nil {
		return Answer{}, err
	}
	fill, acts, k, err := r.acts(b)
	if err != nil {
		return Answer{}, err
	}
	run, left, err := b.Run(v, fill, r.Sheets, acts)
	if err != nil {
		return Answer{}, err
	}
	out := Answer{Sheets: make([]Sheet, len(run))}
	within := 0
	for i, p := range run {
		out.Sheets[i] = Sheet{p.N, float64(p.Grammage), float64(p.Level)}
		if d := float64(p.Grammage)/r.GrammageFormed - 1; d <= r.TolerancePct/100+1e-9 && d >= -r.TolerancePct/100-1e-9 {
			within++
		}
	}
	out.Recharges = r.recharges(acts, run, fill)
	return r.figures(out, b, fill, left, within, k)
}

// recharges are the acts of the run with what the sheets before and after each
// weigh; acts after the last sheet are not done.
func (r Request) recharges(acts []vat.Act, run []vat.Pulled, fill measure.Mass) []plan.Recharge {
	out := []plan.Recharge{}
	for _, a := range acts {
		if a.Before > len(run) {
			break
		}
		before := float64(fill) / r.VatL * r.EffectiveDepth // of the sheet that is not pulled yet
		if a.Before > 1 {
			before = float64(run[a.Before-2].Grammage)
		}
		now := run[a.Before-1]
		out = append(out, plan.Recharge{BeforeSheet: a.Before, SolidsG: float64(a.Solids), StockML: float64(a.Stock) * 1000, Jugs: float64(a.Stock) * 1000 / deref(r.JugML, plan.UsualJug),
			WaterOffL: float64(a.WaterOff), WaterInL: float64(a.WaterIn), VatL: float64(now.Level), GrammageBefore: before, GrammageAfter: float64(now.Grammage), RunDown: a.RunDown})
	}
	return out
}

// acts returns the first fill and the recharges asked for, and, advised, the
// sheets of a round.
func (r Request) acts(b vat.Balance) (measure.Mass, []vat.Act, int, error) {
	v := measure.Volume(r.VatL)
	c := measure.Consistency(r.GrammageFormed / r.EffectiveDepth)
	fill := measure.Mass(float64(c) * r.VatL)
	if r.FirstFillSolids != nil {
		fill = measure.Mass(*r.FirstFillSolids)
	}
	switch r.Recharge.Word {
	case "advised":
		k, _, err := b.SheetsPerRecharge(v, measure.Share(r.TolerancePct/100), measure.Share(deref(r.HandScatterPct, 0)/100), measure.Share(deref(r.ShareWithinPct, plan.UsualWithin)/100))
		if err != nil {
			return 0, nil, 0, err
		}
		least := measure.Volume(deref(r.VatLeastL, r.VatL)) // not said: the level is held to the end
		t, err := b.Keep(c, v, least, measure.Consistency(deref(r.StockGL, plan.UsualStock)), r.Sheets, int(k))
		return t.FirstFill, t.Acts, int(k), err
	case "fixed":
		var acts []vat.Act
		for n := r.Recharge.Every + 1; n <= r.Sheets; n += r.Recharge.Every {
			acts = append(acts, vat.Act{Before: n, Solids: measure.Mass(r.Recharge.SolidsG), Stock: measure.Volume(r.Recharge.SolidsG / r.Recharge.StockGL)})
		}
		return fill, acts, 0, nil
	case "table":
		acts := make([]vat.Act, len(r.Recharge.Table))
		for i, t := range r.Recharge.Table {
			acts[i] = vat.Act{Before: t.BeforeSheet, Solids: measure.Mass(t.SolidsG), Stock: measure.Volume(t.StockML / 1000), WaterOff: measure.Volume(t.WaterOffL), WaterIn: measure.Volume(t.WaterInL), RunDown: t.RunDown}
		}
		return fill, acts, 0, nil
	default:
		return fill, nil, 0, nil
	}
}

// figures adds the figures of the run.
func (r Request) figures(out Answer, b vat.Balance, fill, left measure.Mass, within, k int) (Answer, error) {
	bk := figure.NewBook(1, 0)
	vatL := figure.Given(bk, "vat", measure.Volume(r.VatL), "brief", source.Standard)
	row, err := b.SheetsInTolerance(measure.Volume(r.VatL), measure.Share(r.TolerancePct/100))
	if err != nil && fault.KindOf(err) != fault.KindInfeasible {
		return out, err
	}
	note := "the first made at the upper end of the tolerance, nothing added, counted sheet by sheet"
	if err != nil {
		row, note = measure.Sheets(r.Sheets), "the vat grows thicker, not thinner: no recharge is due"
	}
	out.SheetsInTolerance = figure.Choose(bk, "sheets in a row within tolerance", "{a}", []float64{float64(row)}, row, nil, vatL).Note(note).Figure()
	in := figure.Given(bk, "sheets within tolerance", measure.Sheets(within), "derived", source.Standard)
	all := figure.Given(bk, "sheets pulled", measure.Sheets(r.Sheets), "brief", source.Standard)
	share := figure.Map2(bk, "share of this run within tolerance", "{0} / {1}", func(a, b measure.Sheets) (measure.Share, error) { return measure.Share(a / b), nil }, in, all)
	out.Figures = map[string]figure.Figure{
		"share_within_pct":    share.Figure().Percent(),
		"first_fill_solids_g": figure.Given(bk, "solids at the start", fill, "derived", source.Standard).AsDecision(),
		"heel_solids_g":       figure.Given(bk, "solids left at the end", left, "derived", source.Standard).Figure(),
	}
	if k > 0 {
		out.Figures["sheets_per_recharge"] = figure.Given(bk, "sheets to a recharge", measure.Sheets(k), "derived", source.Standard).AsDecision()
	}
	return out, bk.Err()
}

func deref(v *float64, usual float64) float64 {
	if v == nil {
		return usual
	}
	return *v
}
