package paper

import (
	"cmp"
	"strconv"
	"strings"

	"vatside/internal/plan"
	"vatside/internal/sheet"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// design says a paper in short lines.
func design(s part.Speech, p studio.Paper) []Said {
	d := p.Design
	var list []Said
	add := func(name, value string) {
		if value != "" {
			list = append(list, Said{name, value})
		}
	}
	add("For", part.Upper(d.Use))
	add("Furnish", part.WriteFurnish(d.Furnish))
	grammage := s.One(d.GrammageConditioned, "g/m²")
	if d.TolerancePct != nil {
		grammage += " ± " + s.One(*d.TolerancePct, "%")
	}
	if d.ShareWithinPct != nil {
		grammage += ", " + s.One(*d.ShareWithinPct, "%") + " of the sheets within it"
	}
	add("Grammage, conditioned", grammage)
	add("Usual size", s.SizeLine(p.Sheet.LongMM, p.Sheet.ShortMM)+", "+label(edges, cmp.Or(p.Sheet.Edges, "deckle"))+" edges"+edge(s, p.Sheet))
	if sh := cmp.Or(p.Sheet.Shape, sheet.Rectangle); sh != sheet.Rectangle {
		if p.Sheet.FillsPct != nil {
			sh += ", " + s.One(*p.Sheet.FillsPct, "%") + " of its box"
		}
		add("Shape", part.Upper(sh))
	}
	if d.BeatingHours != nil {
		add("Beating", s.One(*d.BeatingHours, "h"))
	} else {
		add("Beating", "as the handbook has it")
	}
	add("Drying", part.Upper(label(dryings, cmp.Or(d.Drying, "stack"))))
	size := part.Upper(cmp.Or(d.SurfaceSize, "waterleaf"))
	if d.SurfaceBathPct != nil {
		size += ", a bath of " + s.One(*d.SurfaceBathPct, "%")
	}
	if d.SurfaceWay != "" {
		size += ", " + d.SurfaceWay
	}
	add("Size", size)
	if f := cmp.Or(d.Forming, "western"); f != "western" {
		text := part.Upper(label(formings, f))
		if d.Dips != nil {
			text += ", " + strconv.Itoa(*d.Dips)
		}
		add("Forming", text)
	}
	if d.PourG != nil {
		add("A sheet takes", s.One(*d.PourG, "g"))
	}
	add("Added to the stock", writeAdditives(d.Additives))
	add("Finish", d.Finish)
	return list
}

// edge says how much is cut off an edge, and how far a deckle one may fall.
func edge(s part.Speech, sh plan.Sheet) string {
	text := ""
	if sh.TrimMM != nil {
		text += ", " + s.One(*sh.TrimMM, "mm") + " cut off each"
	}
	if sh.ToleranceMM != nil {
		text += ", ± " + s.One(*sh.ToleranceMM, "mm")
	}
	return text
}

func label(options []part.Option, value string) string {
	for _, o := range options {
		if o.Value == value {
			return strings.ToLower(o.Label)
		}
	}
	return value
}

// differing names what a revision has otherwise than the one before it.
func differing(now, before []Said) []string {
	was := map[string]string{}
	for _, s := range before {
		was[s.Name] = s.Value
	}
	var list []string
	for _, s := range now {
		if old, had := was[s.Name]; !had {
			list = append(list, s.Name+": "+s.Value)
		} else if old != s.Value {
			list = append(list, s.Name+": "+s.Value+", was "+old)
		}
		delete(was, s.Name)
	}
	for _, s := range before {
		if _, gone := was[s.Name]; gone {
			list = append(list, s.Name+": nothing, was "+s.Value)
		}
	}
	return list
}
