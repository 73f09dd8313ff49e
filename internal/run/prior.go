package run

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// Prior is what is believed before the first sheet, and how the vat was filled.
// A doubt is a standard deviation, as a fraction.
type Prior struct {
	Area   measure.Area           // formed, m²
	Target measure.GrammageFormed // bone-dry solids on formed area, g/m²
	Sheets int                    // of the run, about: over so many the drift is meant

	Vat       measure.Volume // in the vat before the first sheet, and the level to hold, L
	FillStock measure.Volume // of it stock, L
	Jug       measure.Volume // advice counts in these, L
	Every     int            // sheets to a recharge

	Depth       measure.Length      // effective, mm
	DepthDoubt  float64             //
	Drift       float64             // of the depth over the whole run
	Stock       measure.Consistency // g/L
	StockDoubt  float64             //
	Couched     measure.Solids      // solids of a couched sheet
	WaterDoubt  float64             // of the water carried off
	Pressed     measure.Solids      // solids of a pressed sheet; 0: none is weighed from the press
	PressDoubt  float64             //
	Hand        float64             // scatter of the hand from sheet to sheet
	Pour        float64             // error of one pouring
	Scale       measure.Mass        // error of one reading, g
	Drying      float64             // what is left in weighed sheets beside the scale: moisture
	Forgetting  float64             // chance that some recharge of the run is noted and not poured
	LitreDoubt  float64             // of a strained litre: dipping it, losses through the strainer
	LevelDoubts float64             // of the level at the start
}

// Usual doubts, where the caller knows no better. Ours; the hand, couched solids
// and depth come from beliefs.
const (
	UsualStockDoubt = 0.05
	UsualWaterDoubt = 0.30
	UsualDrift      = 0.10
	UsualPour       = 0.02
	UsualForgetting = 0.20
	UsualLitreDoubt = 0.04
)

// Check returns every fault of a prior.
func (p Prior) Check() error {
	var l fault.List
	l.Inside("formed_area_m2", float64(p.Area), 0.0001, 9, "m²")
	l.Inside("target_formed_g_m2", float64(p.Target), 0.5, 3000, "g/m²")
	l.WholeIf("sheets", &p.Sheets, 1, mostSheets)
	l.WholeIf("recharge_every", &p.Every, 1, 20)
	l.Inside("vat_l", float64(p.Vat), 0.2, 5000, "L")
	l.Inside("fill_stock_l", float64(p.FillStock), 0.001, float64(p.Vat), "L")
	l.Inside("jug_l", float64(p.Jug), 0.02, 20, "L")
	l.Inside("effective_depth_mm", float64(p.Depth), 0.5, 200, "mm")
	l.Inside("stock_g_l", float64(p.Stock), 0.1, 500, "g/L")
	l.Inside("solids_couched", float64(p.Couched), 0.01, 0.6, "")
	l.Inside("solids_pressed", float64(p.Pressed), 0, 0.9, "")
	l.Inside("hand", p.Hand, 0, 0.4, "")
	l.Inside("scale_g", float64(p.Scale), 0, 1000, "g")
	for _, d := range []struct {
		key string
		v   float64
	}{{"depth_doubt", p.DepthDoubt}, {"stock_doubt", p.StockDoubt}, {"water_doubt", p.WaterDoubt}, {"press_doubt", p.PressDoubt}, {"drift", p.Drift}, {"pour", p.Pour},
		{"drying", p.Drying}, {"forgetting", p.Forgetting}, {"litre_doubt", p.LitreDoubt}, {"level_doubt", p.LevelDoubts}} {
		l.Inside(d.key, d.v, 0, 0.9, "")
	}
	if err := l.OrNil(); err != nil {
		return err
	}
	if taken := float64(p.Area) * float64(p.Depth); taken > float64(p.Vat)/2 {
		return fault.Infeasible("vat_l", "One sheet takes the fibre of %.3g L, and the vat holds %.3g L: a run cannot be followed in it.", taken, float64(p.Vat))
	}
	return nil
}

// mostSheets is the longest run that is followed: with every sheet remembered
// an event costs the square of their number.
const mostSheets = 600

// carried is the water that goes off with a gram of couched solids, L.
func (p Prior) carried() float64 { return (1/float64(p.Couched) - 1) / 1000 }

// dose is the stock that a round of the run takes by what was believed, L.
func (p Prior) dose() float64 {
	return float64(p.Every) * float64(p.Target) * float64(p.Area) / float64(p.Stock)
}

func ln(v float64) float64 { return math.Log(v) }
