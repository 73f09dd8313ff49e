package labels

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/stat"

	"vatside/internal/measure"
	"vatside/internal/paperwork"
	"vatside/internal/sheet"
	"vatside/internal/sizing"
	"vatside/internal/studio"
	"vatside/internal/web/page"
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
		"Nothing here says how long the paper lasts; a laboratory can.",
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
	how := fmt.Sprintf("%d sheets weighed; area %s", n, t.byRule())
	if humid {
		how += "; reckoned to 50 % humidity from that of the room"
	} else {
		how += "; the humidity of the room was not written down"
	}
	return paperwork.StatedLine{What: "Grammage", Value: t.s.One(float64(g), "g/m²"), How: how + ". A laboratory weighs by ISO 536, in the air of ISO 187: 23 °C and 50 %."}, ""
}

// byRule says where the area of the sheets is from.
func (t told) byRule() string {
	if len(t.st.Sizes) == 0 {
		return "from the size wanted, for none was measured"
	}
	return "by rule"
}

func (t told) sides() (paperwork.StatedLine, string) {
	if len(t.st.Sizes) == 0 {
		return paperwork.StatedLine{}, "size"
	}
	return paperwork.StatedLine{What: "Size", Value: t.s.SizeLine(t.size()), How: fmt.Sprintf("By rule, the mean of %d.", len(t.st.Sizes))}, ""
}

func (t told) thickness() (paperwork.StatedLine, string) {
	all := t.st.Thicknesses()
	if len(all) == 0 {
		return paperwork.StatedLine{}, "thickness"
	}
	n, u := measure.ShowCaliper(measure.Length(stat.Mean(all, nil)), t.s.System)
	line := paperwork.StatedLine{What: "Thickness", Value: n + " " + u, How: "One reading."}
	if len(all) > 1 {
		low, lu := measure.ShowCaliper(measure.Length(slices.Min(all)), t.s.System)
		high, _ := measure.ShowCaliper(measure.Length(slices.Max(all)), t.s.System)
		line.How = fmt.Sprintf("Mean of %d readings from %s to %s %s.", len(all), low, high, lu)
	}
	line.How += " A laboratory reads it by ISO 534; a hand gauge may press otherwise."
	return line, ""
}

func (t told) bulk() (paperwork.StatedLine, string) {
	d, ok := studio.Density(t.m, t.st)
	if !ok {
		return paperwork.StatedLine{}, "density"
	}
	return paperwork.StatedLine{What: "Density", Value: t.s.One(float64(d), d.Unit()), How: "From weight and thickness; area " + t.byRule() + "."}, ""
}

func (t told) uptake() (paperwork.StatedLine, string) {
	const missing = "water it takes up"
	if len(t.st.Cobbs) == 0 {
		return paperwork.StatedLine{}, missing
	}
	c := t.st.Cobbs[len(t.st.Cobbs)-1]
	took, err := sizing.Cobb(measure.Mass(c.DryG), measure.Mass(c.WetG), measure.Area(c.AreaCM2/1e4))
	if err != nil {
		return paperwork.StatedLine{}, missing
	}
	how := fmt.Sprintf("In %g s on %g cm², one piece; a laboratory tests by ISO 535.", c.Seconds, c.AreaCM2)
	g, ok := studio.Grammage(t.m, t.st)
	if !ok {
		g = measure.GrammageConditioned(t.m.Request.Paper.GrammageConditioned)
	}
	if err := sizing.CobbApplies(g, part.Waterleaf(t.m.Request.Paper, len(t.st.Sized) > 0)); err != nil {
		how += " Outside the test: " + page.Sentence(err)
	}
	return paperwork.StatedLine{What: "Water it takes up", Value: t.s.One(float64(took), took.Unit()), How: how}, ""
}

func (t told) ink() (paperwork.StatedLine, string) {
	if len(t.st.Inks) == 0 {
		return paperwork.StatedLine{}, "how it takes ink"
	}
	i := t.st.Inks[len(t.st.Inks)-1]
	return paperwork.StatedLine{What: "Ink", Value: part.Upper(i.Says.String()), How: fmt.Sprintf("A line of ink, %d of 6; the studio's own scale.", int(i.Says))}, ""
}

func (t told) wet() (paperwork.StatedLine, string) {
	const missing = "how it grows when damped"
	if len(t.st.Soaked) == 0 {
		return paperwork.StatedLine{}, missing
	}
	z := t.st.Soaked[len(t.st.Soaked)-1]
	long, errLong := grown(z.BeforeLongMM, z.WetLongMM)
	short, errShort := grown(z.BeforeShortMM, z.WetShortMM)
	if errLong != nil || errShort != nil {
		return paperwork.StatedLine{}, missing
	}
	return paperwork.StatedLine{What: "Damped it grows by", Value: t.s.One(100*long, "%") + " and " + t.s.One(100*short, "%"),
		How: "Long and short side, wet through, by rule; below nothing it shrank."}, ""
}

// grown is the growth of one way of a sheet; it need not be dry again to be read.
func grown(before, wet float64) (float64, error) {
	share, err := sheet.Soaking{Before: measure.Length(before), Wet: measure.Length(wet), After: measure.Length(before)}.Expansion()
	return float64(share), err
}
