package paper

import (
	"strconv"
	"strings"

	"vatside/internal/fault"
	"vatside/internal/plan"
	"vatside/internal/studio"
	"vatside/internal/web/part"
)

// readAdditives reads additives as people write them: name and dose, parted by
// commas.
func readAdditives(typed string) ([]plan.Additive, error) {
	var list []plan.Additive
	for piece := range strings.FieldsFuncSeq(typed, func(r rune) bool { return r == ',' || r == ';' }) {
		words := strings.Fields(strings.ReplaceAll(piece, "%", " "))
		if len(words) == 0 {
			continue
		}
		dose, err := strconv.ParseFloat(words[len(words)-1], 64)
		if err != nil || len(words) < 2 || !(dose >= 0 && dose <= 100) {
			return nil, fault.Invalid("additives", "write each with its dose in per cent on bone-dry fibre, such as: calcium carbonate 5")
		}
		list = append(list, plan.Additive{Kind: strings.Join(words[:len(words)-1], " "), DosePct: dose})
	}
	return list, nil
}

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
	add("Grammage, conditioned", grammage)
	add("Usual size", s.SizeLine(p.Sheet.LongMM, p.Sheet.ShortMM)+", "+label(edges, or(p.Sheet.Edges, "deckle"))+" edges")
	if d.BeatingHours != nil {
		add("Beating", s.One(*d.BeatingHours, "h"))
	} else {
		add("Beating", "as the handbook has it")
	}
	add("Drying", part.Upper(label(dryings, or(d.Drying, "stack"))))
	add("Size", part.Upper(or(d.SurfaceSize, "waterleaf")))
	if f := or(d.Forming, "western"); f != "western" {
		text := part.Upper(label(formings, f))
		if d.Dips != nil {
			text += ", " + strconv.Itoa(*d.Dips)
		}
		add("Forming", text)
	}
	if d.PourG != nil {
		add("A sheet takes", s.One(*d.PourG, "g"))
	}
	add("Added to the stock", additives(d.Additives))
	add("Finish", d.Finish)
	return list
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
