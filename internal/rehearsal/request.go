package rehearsal

import (
	"slices"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/run"
	"vatside/internal/vat"
)

// Policies are the ways of recharging.
var Policies = []string{"none", "by feel", "fixed dose", "plan", "advised"}

// Request asks how even the sheets of a run come. Grammage is bone-dry solids
// on formed area; what is not said is usual.
type Request struct {
	VatL             float64  `json:"vat_l"`
	FormedAreaM2     float64  `json:"formed_area_m2"`
	TargetFormed     float64  `json:"target_formed_g_m2"`
	Sheets           int      `json:"sheets"`
	Policy           string   `json:"policy"`
	RechargeEvery    *int     `json:"recharge_every,omitempty"`
	FirstWeighed     *int     `json:"first_weighed,omitempty"`
	WeighEvery       *int     `json:"weigh_every,omitempty"`
	WeighedTogether  *int     `json:"weighed_together,omitempty"`
	ResultDelay      *int     `json:"result_delay_sheets,omitempty"`
	EffectiveDepth   *float64 `json:"effective_depth_mm,omitempty"`
	StockGL          *float64 `json:"stock_g_l,omitempty"`
	SolidsCouchedPct *float64 `json:"solids_couched_pct,omitempty"`
	Runs             *int     `json:"runs,omitempty"`
	Seed             *int     `json:"seed,omitempty"`
	Hidden           *Hidden  `json:"hidden,omitempty"`
}

// Hidden is what the vat hides: standard deviations, but the drift, which is
// so large one way or the other, and the share of runs with a recharge forgotten.
type Hidden struct {
	DepthPct     *float64 `json:"depth_sd_pct,omitempty"`
	HandPct      *float64 `json:"hand_pct,omitempty"`
	StockPct     *float64 `json:"stock_pct,omitempty"`
	CarriedPct   *float64 `json:"carried_off_pct,omitempty"`
	DriftPct     *float64 `json:"drift_pct,omitempty"`
	PourPct      *float64 `json:"pour_pct,omitempty"`
	ForgottenPct *float64 `json:"forgotten_pct,omitempty"`
	ScaleG       *float64 `json:"scale_g,omitempty"`
}

// said reports whether the maker says all that is hidden.
func (h *Hidden) said() bool {
	return h != nil && !slices.Contains([]*float64{h.DepthPct, h.HandPct, h.StockPct, h.CarriedPct, h.DriftPct, h.PourPct, h.ForgottenPct, h.ScaleG}, nil)
}

// Answer is how the runs came out.
type Answer struct {
	Figures map[string]figure.Figure `json:"figures"`
	Hidden  Hidden                   `json:"hidden"`
	Runs    int                      `json:"runs"`
	Seed    int                      `json:"seed"`
}

// Usual values. Of what is hidden, the judgement of ours that plans rest on too;
// a maker's own come from the records, and doubts that a run has anyway from run.
const (
	usualDepth    = 20.0 // mm
	usualDepthPct = 15.0
	usualStock    = 30.0 // g/L
	usualCouched  = 10.0 // %
	usualHandPct  = 4.0
	usualScale    = 0.1 // g
	usualRuns     = 1000
	mostRuns      = 10000
	mostWork      = 1_000_000 // sheets in all runs together
)

// filled returns the request with everything said.
func (r Request) filled() Request {
	or := func(p **int, usual int) {
		if *p == nil {
			*p = &usual
		}
	}
	orf := func(p **float64, usual float64) {
		if *p == nil {
			*p = &usual
		}
	}
	or(&r.RechargeEvery, 1)
	or(&r.FirstWeighed, 3)
	or(&r.WeighEvery, 10)
	or(&r.WeighedTogether, max(1, *r.FirstWeighed)) // as many as the first
	or(&r.ResultDelay, 0)
	or(&r.Runs, usualRuns)
	or(&r.Seed, 1)
	orf(&r.EffectiveDepth, usualDepth)
	orf(&r.StockGL, usualStock)
	orf(&r.SolidsCouchedPct, usualCouched)
	h := Hidden{}
	if r.Hidden != nil {
		h = *r.Hidden
	}
	orf(&h.DepthPct, usualDepthPct)
	orf(&h.HandPct, usualHandPct)
	orf(&h.StockPct, 100*run.UsualStockDoubt)
	orf(&h.CarriedPct, 100*run.UsualWaterDoubt)
	orf(&h.DriftPct, 100*run.UsualDrift)
	orf(&h.PourPct, 100*run.UsualPour)
	orf(&h.ForgottenPct, 100*run.UsualForgetting)
	orf(&h.ScaleG, usualScale)
	r.Hidden = &h
	return r
}

// Check returns every fault of the request, by key.
func Check(r Request) error {
	r = r.filled()
	var l fault.List
	l.Inside("vat_l", r.VatL, 0.2, 5000, "L")
	l.Inside("formed_area_m2", r.FormedAreaM2, 0.0001, 9, "m²")
	l.Inside("target_formed_g_m2", r.TargetFormed, 0.5, 3000, "g/m²")
	l.WholeIf("sheets", &r.Sheets, 1, 500)
	if r.Policy == "" {
		l.Add(fault.Invalid("policy", "Say the way of recharging: one of %s.", strings.Join(Policies, ", ")))
	}
	l.OneOf("policy", r.Policy, Policies)
	l.WholeIf("recharge_every", r.RechargeEvery, 1, 20)
	l.WholeIf("first_weighed", r.FirstWeighed, 0, 20)
	l.WholeIf("weigh_every", r.WeighEvery, 0, 500)
	l.WholeIf("weighed_together", r.WeighedTogether, 1, 500)
	l.WholeIf("result_delay_sheets", r.ResultDelay, 0, 500)
	l.Inside("effective_depth_mm", *r.EffectiveDepth, 0.5, 200, "mm")
	l.Inside("stock_g_l", *r.StockGL, 0.1, 500, "g/L")
	l.Inside("solids_couched_pct", *r.SolidsCouchedPct, 2, 50, "%")
	l.WholeIf("runs", r.Runs, 1, mostRuns)
	l.WholeIf("seed", r.Seed, 0, 1<<31-1)
	h := r.Hidden
	l.InsideIf("hidden.depth_sd_pct", h.DepthPct, 0, 50, "%")
	l.InsideIf("hidden.hand_pct", h.HandPct, 0.1, 40, "%")
	l.InsideIf("hidden.stock_pct", h.StockPct, 0, 50, "%")
	l.InsideIf("hidden.carried_off_pct", h.CarriedPct, 0, 80, "%")
	l.InsideIf("hidden.drift_pct", h.DriftPct, 0, 50, "%")
	l.InsideIf("hidden.pour_pct", h.PourPct, 0, 50, "%")
	l.InsideIf("hidden.forgotten_pct", h.ForgottenPct, 0, 90, "%")
	l.InsideIf("hidden.scale_g", h.ScaleG, 0, 1000, "g")
	if work := r.Sheets * *r.Runs; l.OrNil() == nil && work > mostWork {
		l.Add(fault.OutOfRange("runs", "All runs together may have at most 1,000,000 sheets; these have %d.", work))
	}
	if l.OrNil() == nil {
		l.Add(r.possible())
	}
	return l.OrNil()
}

// possible says why such a run cannot be; nil: it can.
func (r Request) possible() error {
	c, b := r.TargetFormed / *r.EffectiveDepth, r.balance()
	if *r.StockGL < 2*c {
		return fault.Infeasible("stock_g_l", "The stock (%.3g g/L) must be at least twice as thick as the vat (%.3g g/L).", *r.StockGL, c)
	}
	if taken := r.FormedAreaM2 * *r.EffectiveDepth; taken > r.VatL/4 {
		return fault.Infeasible("vat_l", "One sheet takes the fibre of %.3g L, and the vat holds %.3g L: it needs four times a sheet.", taken, r.VatL)
	}
	if off := float64(b.Carried); off > r.VatL/4 {
		return fault.Infeasible("solids_couched_pct", "One sheet carries off %.3g L, and the vat holds %.3g L: it needs four times that.", off, r.VatL)
	}
	fill, err := r.fill()
	if err == nil && !(fill >= leastFill && fill <= r.VatL) {
		err = fault.Infeasible("stock_g_l", "With a recharge every %d sheets the vat starts with %.3g L of this stock: it must be from %g L to the vat's %.4g L.", r.every(), fill, leastFill, r.VatL)
	}
	return err
}

// leastFill is the least stock that fills a vat, L.
const leastFill = 0.001

// every is the number of sheets to a recharge.
func (r Request) every() int {
	if r.Policy == "by feel" {
		return lump
	}
	return *r.RechargeEvery
}

// balance is the vat as the maker believes it.
func (r Request) balance() vat.Balance {
	mass := r.TargetFormed * r.FormedAreaM2
	return vat.Balance{Area: measure.Area(r.FormedAreaM2), Depth: measure.Length(*r.EffectiveDepth), Carried: measure.Volume(mass * (100 / *r.SolidsCouchedPct - 1) / 1000)}
}

// fill is the stock to start with, L, so that the first round averages the
// target by what is believed.
func (r Request) fill() (float64, error) {
	high, err := r.balance().StartHigh(measure.Volume(r.VatL), r.every())
	return r.TargetFormed / *r.EffectiveDepth * r.VatL * float64(high) / *r.StockGL, err
}
