package vat

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/measure"
)

// MostInRound is the longest round between two recharges that is considered:
// beyond it a maker loses count.
const MostInRound = 20

// StartHigh returns how far above target a round of k sheets must start for
// its mean to be the target.
//
//	k / Σ_{i<k} r^i,  r = Ratio(V)
//
// Contract:
//
//   - Quantity: factor on the target consistency
//   - Inputs: V vat volume, L; k sheets in a round
//   - Valid: as Ratio; 1 ≤ k ≤ 20; outside: fault.OutOfRange or fault.Infeasible
//   - Assumes: the ratio of the round's first sheet holds through the round
//   - Error: below 0.1 % for sheets that take less than a tenth of the vat
//   - Source: derived, docs/models/vat.md
//   - Checked: worked value of docs/models/vat.md (1.0322 for three sheets); property: the round's mean is the target
func (b Balance) StartHigh(v measure.Volume, k int) (measure.Number, error) {
	if err := b.check(v); err != nil {
		return 0, err
	}
	if k < 1 || k > MostInRound {
		return 0, fault.OutOfRange("", "A round must have from 1 to %d sheets; this says %d.", MostInRound, k)
	}
	return measure.Number(startHigh(b.ratio(float64(v)), k)), nil
}

func startHigh(r float64, k int) float64 {
	sum, p := 0.0, 1.0
	for range k {
		sum += p
		p *= r
	}
	return float64(k) / sum
}

// ShareWithin returns the share of a round's sheets whose weight falls within
// the tolerance, the hand's scatter included.
//
//	mean over i<k of P(|b·s·r^i·(1 + ε) − 1| < τ),  ε ~ N(0, σ)
//
// Contract:
//
//   - Quantity: share of sheets
//   - Inputs: V vat volume, L; k sheets in a round; b bias of the mean, 1 for none; τ tolerance; σ hand scatter, fractions
//   - Valid: as StartHigh; 0 < b ≤ 10; 0 < τ < 1; 0 ≤ σ ≤ 0.5; outside: fault.OutOfRange or fault.Infeasible
//   - Assumes: the hand scatters normally and sheet by sheet
//   - Error: exact for the model; σ is uncertain by a third until sheets are weighed singly
//   - Source: derived, docs/models/vat.md
//   - Checked: 95.5, 93.7, 90.6, 86.2 % for rounds of 1 to 4 (docs/models/vat.md); limits σ → 0 and τ → ∞
func (b Balance) ShareWithin(v measure.Volume, k int, bias measure.Number, tolerance, scatter measure.Share) (measure.Share, error) {
	s, err := b.StartHigh(v, k)
	if err != nil {
		return 0, err
	}
	switch {
	case !measure.Finite(bias) || bias <= 0 || bias > 10:
		return 0, fault.OutOfRange("", "A bias must be above 0 and at most 10; this says %.4g.", float64(bias))
	case !measure.Finite(tolerance) || tolerance <= 0 || tolerance >= 1:
		return 0, fault.OutOfRange("tolerance_pct", "A tolerance must be above 0 and below 100 %%; this says %.4g %%.", float64(tolerance)*100)
	case !measure.Within(scatter, 0, 0.5):
		return 0, fault.OutOfRange("hand_scatter_pct", "The hand's scatter must be between 0 and 50 %%; this says %.4g %%.", float64(scatter)*100)
	}
	r, g, share := b.ratio(float64(v)), float64(bias)*float64(s), 0.0
	for range k {
		share += within(g, float64(tolerance), float64(scatter))
		g *= r
	}
	return measure.Share(share / float64(k)), nil
}

// within is the chance that a sheet of mean g (target 1) falls within ±τ.
func within(g, tolerance, scatter float64) float64 {
	if scatter == 0 {
		if math.Abs(g-1) <= tolerance {
			return 1
		}
		return 0
	}
	sd := g * scatter
	return normal((1+tolerance-g)/sd) - normal((1-tolerance-g)/sd)
}

// SheetsPerRecharge returns the most sheets to pull between two recharges that
// still keeps the wanted share of sheets within the tolerance, and whether
// even one sheet does.
//
//	largest k ≤ 20 with ShareWithin(k) ≥ wanted, else 1
//
// Contract:
//
//   - Quantity: sheets
//   - Inputs: V vat volume, L; τ tolerance; σ scatter of the hand and what else is not steered; wanted share
//   - Valid: as ShareWithin; 0 < wanted < 1; outside: fault.OutOfRange or fault.Infeasible
//   - Assumes: each round starts high so that its mean is the target
//   - Error: exact for the model
//   - Source: derived, docs/models/vat.md
//   - Checked: 3 for the worked making of docs/models/vat.md; property: fewer sheets for a tighter tolerance
func (b Balance) SheetsPerRecharge(v measure.Volume, tolerance, scatter, wanted measure.Share) (k measure.Sheets, kept bool, err error) {
	if !measure.Finite(wanted) || wanted <= 0 || wanted >= 1 {
		return 0, false, fault.OutOfRange("share_within_pct", "The share within tolerance must be above 0 and below 100 %%; this says %.4g %%.", float64(wanted)*100)
	}
	best, kept := 1, false
	for n := 1; n <= MostInRound; n++ {
		share, err := b.ShareWithin(v, n, 1, tolerance, scatter)
		if err != nil {
			return 0, false, err
		}
		if share < wanted {
			break
		}
		best, kept = n, true
	}
	return measure.Sheets(best), kept, nil
}
