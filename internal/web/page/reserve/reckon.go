package reserve

import (
	"fmt"
	"strings"

	"vatside/internal/furnish"
	"vatside/internal/measure"
	"vatside/internal/plan"
	"vatside/internal/source"
	"vatside/internal/web/part"
)

// calcium is chalk by its name in the table of additives.
const calcium = "calcium carbonate"

// chalk is the dose of it on dry fibre; 0 where there is none.
func chalk(d plan.Paper) (dose measure.Dose) {
	for _, a := range d.Additives {
		if furnish.Any(a.Kind).Name == calcium {
			dose += measure.Dose(a.DosePct / 100)
		}
	}
	return dose
}

// reckon says what the chalk comes to and what the wanted share takes.
func (d *Data) reckon(dose measure.Dose, wanted measure.Share, kept source.Value) error {
	var in, need [3]float64 // low, middle, high, per cent
	for i, r := range []float64{kept.Low, kept.Mid, kept.High} {
		share, err := furnish.ReserveOf(dose, measure.Share(r))
		if err != nil {
			return err
		}
		takes, err := furnish.ReserveDose(wanted, measure.Share(r))
		if err != nil {
			return err
		}
		in[i], need[2-i] = 100*float64(share), 100*float64(takes)
	}
	alkalinity, err := furnish.AlkalinityOfChalk(measure.Share(in[1] / 100))
	if err != nil {
		return err
	}
	figure := func(key, name, on string, v [3]float64) part.Figure {
		f := part.Figure{Key: key, Name: name, Number: fmt.Sprintf("%.1f", v[1]), Unit: "% " + on, RestsOn: part.RestsOn(kept.Grade)}
		if v[0] < v[2] {
			f.Band = glued(fmt.Sprintf("nine times in ten %.1f–%.1f %%", v[0], v[2]))
			f.Bar = part.NewBar(v[1], v[0], v[2], f.Band)
		}
		return f
	}
	takes := figure("needed", glued(fmt.Sprintf("Chalk for %.3g %% in the paper", 100*wanted)), "on dry fibre", need)
	if dose > 0 {
		now := figure("now", "Chalk in the paper", "of the paper", in)
		now.Large = true
		d.Figures = []part.Figure{now, takes}
	} else {
		takes.Large = true
		d.Figures = []part.Figure{takes}
	}
	d.Kept = fmt.Sprintf("%.0f %% of the chalk stays in the sheet", 100*kept.Mid)
	if kept.Low < kept.High {
		d.Kept += fmt.Sprintf(", nine times in ten %.0f–%.0f %%", 100*kept.Low, 100*kept.High)
	}
	d.KeptFrom = part.Cite(kept.Source, kept.Grade)
	d.Kept = glued(d.Kept)
	d.Verdict = glued(verdict(dose, 100*float64(wanted), in, need, float64(alkalinity)))
	return nil
}

// glued keeps per cents on the line of their number.
func glued(text string) string { return strings.ReplaceAll(text, " %", "\u202f%") }

// enough says which dose is. The end of a band is passed one time in twenty.
func enough(need [3]float64) string {
	text := fmt.Sprintf("%.1f %% on dry fibre, %.0f g to a kilogram, is enough", need[2], 10*need[2])
	if need[0] < need[2] {
		text += " nineteen times in twenty"
	}
	return text + "."
}

// verdict says whether the dose is enough.
func verdict(dose measure.Dose, wanted float64, in, need [3]float64, alkalinity float64) string {
	safe := enough(need)
	switch {
	case dose == 0:
		return "There is no chalk in it. " + safe
	case in[0] >= wanted && in[0] < in[2]:
		return fmt.Sprintf("That is more than %.3g %% even where little stays, and can take up about %.2g mol of acid to a kilogram.", wanted, alkalinity)
	case in[0] >= wanted:
		return fmt.Sprintf("That is %.3g %% and more, and can take up about %.2g mol of acid to a kilogram.", wanted, alkalinity)
	case in[1] >= wanted:
		return fmt.Sprintf("That is %.3g %% where it stays as usual, but not where little stays. %s", wanted, safe)
	case in[2] >= wanted:
		return fmt.Sprintf("That is less than %.3g %%, unless more stays than usual. %s", wanted, safe)
	}
	return fmt.Sprintf("That does not come to %.3g %%. %s", wanted, safe)
}

// minded is what else in the design bears on it.
func minded(d plan.Paper) (list []string) {
	var added []furnish.Added
	for _, a := range d.Additives {
		row := furnish.Any(a.Kind)
		if row.Group == furnish.Reserve && row.Name != calcium {
			list = append(list, fmt.Sprintf("%s is a reserve too, which is not counted here.", part.Upper(row.Name)))
		}
		added = append(added, furnish.Added{Kind: a.Kind, Dose: measure.Dose(a.DosePct / 100)})
	}
	for _, c := range furnish.Clashes(added) {
		list = append(list, c.Text)
	}
	return append(list,
		"Chalk cannot make the paper too alkaline: water on it stands near pH 8.2 in air. Some dyes change colour all the same: try a swatch.",
		"A reserve takes up acid. It does not keep lignin from yellowing: that is the fibre's.")
}

// tests are how a reserve is seen, and from how much on.
func tests() []string {
	return []string{
		fmt.Sprintf("A drop of acid on the sheet fizzes from about %.0f %% chalk on: a sheet that does not fizz may still hold its share.", 100*furnish.LeastFizzing),
		fmt.Sprintf("A laboratory titrates it, from about %.0f %% on (TAPPI T 553, ISO 10716).", 100*furnish.LeastTitrated),
	}
}
