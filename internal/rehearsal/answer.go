package rehearsal

import (
	"math"

	"vatside/internal/fault"
	"vatside/internal/figure"
	"vatside/internal/measure"
	"vatside/internal/num"
	"vatside/internal/source"
)

// FigureOrder is the order in which people read the figures.
var FigureOrder = []string{"share_within_5_pct", "share_within_8_pct", "share_within_10_pct", "within_run_cv_over_hand", "rms_over_hand",
	"band_coverage_pct", "band_coverage_past_pct", "forgotten_noticed_pct", "falsely_noticed_pct"}

// Make plays the runs. Errors: a fault.List when a key is wrong, Infeasible
// when such a run cannot be.
func Make(r Request) (Answer, error) {
	if err := Check(r); err != nil {
		return Answer{}, err
	}
	grade := source.Memory
	if r.Hidden.said() {
		grade = source.Practice // the maker says all that is hidden
	}
	r = r.filled()
	runs := make([]result, *r.Runs)
	for i := range runs {
		var err error
		if runs[i], err = r.play(i); err != nil {
			return Answer{}, fault.Infeasible("hidden", "A vat so far from what is believed cannot be followed: %v", err)
		}
	}
	out := Answer{Hidden: *r.Hidden, Runs: *r.Runs, Seed: *r.Seed}
	var err error
	out.Figures, err = r.figures(runs, grade)
	return out, err
}

// figures pools the runs; a band is where nine of ten single runs fall, of a
// share of runs what so many runs leave open. They rest on what was taken to be
// hidden, of the grade.
func (r Request) figures(runs []result, grade source.Grade) (map[string]figure.Figure, error) {
	bk := figure.NewBook(len(runs), uint64(*r.Seed))
	defer bk.Release()
	out := map[string]figure.Figure{}
	ratio := func(what string, part, all int, col []float64) figure.Figure {
		a := figure.Given(bk, what+", counted", measure.Number(part), "derived", grade)
		b := figure.Given(bk, "of", measure.Number(all), "derived", grade)
		return figure.Simulated(bk, what, "{0} / {1}", nil, measure.Share(float64(part)/float64(all)), col, a, b).Figure()
	}
	sheets := func(key, what string, of func(result) (int, int)) {
		part, all, col := 0, 0, bk.Column()
		for i, one := range runs {
			p, a := of(one)
			part, all = part+p, all+a
			col[i] = float64(p) / math.Max(1, float64(a))
		}
		if all > 0 {
			f := ratio(what, part, all, col)
			f.Low, f.High = min(f.Low, f.Value), max(f.High, f.Value) // where few runs miss any
			out[key] = f.Percent()
		}
	}
	for i, pct := range [...]string{"5", "8", "10"} {
		sheets("share_within_"+pct+"_pct", "sheets within ±"+pct+" % of the target", func(one result) (int, int) { return one.within[i], one.sheets })
	}
	sheets("band_coverage_pct", "sheets inside the band told before they were pulled", func(one result) (int, int) { return one.covered, one.bands })
	sheets("band_coverage_past_pct", "sheets inside the band told at the end", func(one result) (int, int) { return one.past, one.pasts })
	counted := func(key, what string, among, is func(result) bool) {
		part, all := 0, 0
		for _, one := range runs {
			all += count(among(one))
			part += count(among(one) && is(one))
		}
		if all > 0 {
			f := ratio(what, part, all, nil)
			f.Low, f.High = num.ShareBand(part, all)
			out[key] = f.Percent()
		}
	}
	if r.Policy == "advised" {
		counted("forgotten_noticed_pct", "forgotten recharges noticed from the next two weighings", func(one result) bool { return one.forgot }, func(one result) bool { return one.noticed })
		counted("falsely_noticed_pct", "runs in which one was suspected that was poured", func(result) bool { return true }, func(one result) bool { return one.falsely })
	}
	hand := figure.Given(bk, "scatter of the hand", measure.Share(*r.Hidden.HandPct/100), "brief", grade)
	over := func(key, what string, square func(result) float64) {
		sum, n, col := 0.0, 0.0, bk.Column()
		for i, one := range runs {
			sum += square(one)
			n += float64(one.sheets)
			col[i] = math.Sqrt(square(one)/float64(one.sheets)) / float64(hand.Centre())
		}
		root := figure.Given(bk, what, measure.Share(math.Sqrt(sum/n)), "derived", grade)
		out[key] = figure.Simulated(bk, what+" over the hand's", "{0} / {1}", nil, measure.Number(float64(root.Centre()/hand.Centre())), col, root, hand).Figure()
	}
	over("within_run_cv_over_hand", "scatter within a run", func(one result) float64 { return one.ss })
	over("rms_over_hand", "distance from the target", func(one result) float64 { return one.square })
	return out, bk.Err()
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
