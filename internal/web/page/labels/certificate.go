package labels

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"vatside/internal/measure"
	"vatside/internal/paperwork"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// certificate says what was measured and by which method, and what was not.
func (t told) certificate() paperwork.Statement {
	s := paperwork.Statement{Kind: "What was measured", Studio: t.studio, Paper: t.m.PaperName, Tag: t.m.Tag, Day: t.made()}
	for _, one := range []func() (paperwork.StatedLine, string){t.weight, t.sides, t.thickness, t.bulk, t.uptake, t.ink, t.wet} {
		line, missing := one()
		if line.Value == "" {
			s.Not = append(s.Not, missing)
		} else {
			s.Lines = append(s.Lines, line)
		}
	}
	s.Not = append(s.Not, "pH", "alkaline reserve", "strength", "folding", "colour and its fastness to light")
	s.Notes = []string{
		"Measured in the studio with its own scale, rule and gauge, not by an accredited laboratory. The standards named say how a laboratory would do it; where the studio did otherwise it is said.",
		"Nothing here says how long the paper lasts: ISO 9706 asks for pH, alkaline reserve, tear and oxidation besides.",
	}
	return s
}

func (t told) weight() (paperwork.StatedLine, string) {
	g, ok := studio.Grammage(t.m, t.st)
	if !ok {
		return paperwork.StatedLine{}, "weight"
	}
	n, humid := 0, true
	for _, d := range t.st.Dry {
		n, humid = n+d.Sheets, humid && d.RHPct > 0
	}
	how := fmt.Sprintf("%d sheets weighed; area by rule", n)
	if humid {
		how += "; reckoned to 50 % humidity from that of the room"
	} else {
		how += "; the humidity of the room was not written down"
	}
	return paperwork.StatedLine{What: "Grammage", Value: t.s.One(float64(g), "g/m²"), How: how + ". ISO 536 weighs single pieces in air of 23 °C and 50 %."}, ""
}

func (t told) sides() (paperwork.StatedLine, string) {
	if len(t.st.Sizes) == 0 {
		return paperwork.StatedLine{}, "size"
	}
	return paperwork.StatedLine{What: "Size", Value: t.s.SizeLine(t.size()), How: fmt.Sprintf("By rule, the mean of %d.", len(t.st.Sizes))}, ""
}

func (t told) thickness() (paperwork.StatedLine, string) {
	var all []float64
	for _, c := range t.st.Calipers {
		all = append(all, c.ThicknessMM...)
	}
	if len(all) == 0 {
		return paperwork.StatedLine{}, "thickness"
	}
	n, u := measure.ShowCaliper(measure.Length(stat.Mean(all, nil)), t.s.System)
	line := paperwork.StatedLine{What: "Thickness", Value: n + " " + u, How: fmt.Sprintf("Mean of %d readings.", len(all))}
	if len(all) > 1 {
		low, lu := measure.ShowCaliper(measure.Length(slices.Min(all)), t.s.System)
		high, _ := measure.ShowCaliper(measure.Length(slices.Max(all)), t.s.System)
		line.How = fmt.Sprintf("Mean of %d readings from %s to %s %s.", len(all), low, high, lu)
	}
	line.How += " ISO 534 reads under 100 kPa; a hand gauge presses otherwise."
	return line, ""
}

func (t told) bulk() (paperwork.StatedLine, string) {
	d, ok := studio.Density(t.m, t.st)
	if !ok {
		return paperwork.StatedLine{}, "density"
	}
	return paperwork.StatedLine{What: "Density", Value: t.s.One(float64(d), d.Unit()), How: "From weight, size and thickness."}, ""
}

func (t told) uptake() (paperwork.StatedLine, string) {
	if len(t.st.Cobbs) == 0 {
		return paperwork.StatedLine{}, "water it takes up"
	}
	c := t.st.Cobbs[len(t.st.Cobbs)-1]
	return paperwork.StatedLine{What: "Water it takes up", Value: t.s.One((c.WetG-c.DryG)/c.AreaCM2*1e4, "g/m²"),
		How: fmt.Sprintf("In %g s on %g cm², one piece. ISO 535 takes ten of 100 cm².", c.Seconds, c.AreaCM2)}, ""
}

func (t told) ink() (paperwork.StatedLine, string) {
	if len(t.st.Inks) == 0 {
		return paperwork.StatedLine{}, "how it takes ink"
	}
	i := t.st.Inks[len(t.st.Inks)-1]
	return paperwork.StatedLine{What: "Ink", Value: part.Upper(i.Says.String()), How: fmt.Sprintf("A line of ink, %d of 6; the studio's own scale.", int(i.Says))}, ""
}

func (t told) wet() (paperwork.StatedLine, string) {
	if len(t.st.Soaked) == 0 {
		return paperwork.StatedLine{}, "how it grows when damped"
	}
	z := t.st.Soaked[len(t.st.Soaked)-1]
	long, short := 100*(z.WetLongMM/z.BeforeLongMM-1), 100*(z.WetShortMM/z.BeforeShortMM-1)
	return paperwork.StatedLine{What: "Damped it grows by", Value: fmt.Sprintf("%.1f %% and %.1f %%", math.Max(0, long), math.Max(0, short)), How: "Long and short side, wet through, by rule."}, ""
}
