package measure

import (
	"fmt"
	"slices"
	"strings"

	"vatside/internal/fault"
)

// express works parts out in the unit w, line by line: into the kind's own
// unit, over density and solids where they come in, into w.
func express(parts []part, w part, density *Span, solids Span) (Converted, error) {
	kind, last := parts[0].unit.kind, parts[0].unit
	for _, p := range parts {
		if err := p.possible(); err != nil {
			return Converted{}, at("value", err)
		}
	}
	v := total(parts)
	if v < 0 && !fields[kind].negative {
		return Converted{}, fault.Invalid("value", "%s cannot be below zero", article(kind))
	}
	c := Converted{Value: v, Low: v, High: v, Unit: own(kind)}
	if len(parts) > 1 || last.name != c.Unit {
		c.Steps = append(c.Steps, Step{spoken(parts), inOwn(parts), shortResult(v, c.Unit), sourceOf(last)})
	}
	c.noted(append(parts, w))
	if solids.High > 0 && w.unit.kind != OfMass {
		return Converted{}, fault.Invalid("to", "solids are a share of the mass; ask for a mass such as g, kg or lb")
	}
	if kind != w.unit.kind {
		if density == nil {
			return Converted{}, fault.Invalid("density_g_ml", "a %s is not a %s: say the density in g/mL under density_g_ml, or the product, or weigh it", plainKind(kind), plainKind(w.unit.kind))
		}
		c.Unit = own(w.unit.kind)
		c.times("at "+spanned(*density)+" g/mL", OfDensity, *density, kind == OfMass)
	}
	if solids.High > 0 {
		wet := c
		wet.into(w.unit)
		c.Wet = &wet.Value
		c.times("bone-dry, at "+percents(solids)+" solids", AsSaid, solids, false)
	}
	c.into(w.unit)
	if len(c.Steps) == 0 {
		c.Steps = []Step{{"as said", shortNumber(c.Value), shortResult(c.Value, c.Unit), "definition"}}
	}
	return c, nil
}

// times multiplies by a number that lies in a span, or divides by it.
func (c *Converted) times(what, source string, by Span, divide bool) {
	sign, working := "×", c.Value
	if divide {
		sign = "/"
		c.Value, c.Low, c.High = c.Value/by.Mid, c.Low/by.High, c.High/by.Low
	} else {
		c.Value, c.Low, c.High = c.Value*by.Mid, c.Low*by.Low, c.High*by.High
	}
	c.Steps = append(c.Steps, Step{what, fmt.Sprintf("%s %s %s", shortNumber(working), sign, shortNumber(by.Mid)), shortResult(c.Value, c.Unit), source})
}

// into takes a value in its kind's own unit to the unit asked for.
func (c *Converted) into(u unit) {
	if u.name == c.Unit {
		return
	}
	working := shortNumber(c.Value)
	if u.factor != 1 {
		working += " / " + bracketed(u)
	}
	if u.offset != 0 {
		working += " + " + shortNumber(u.offset)
	}
	c.Value, c.Low, c.High, c.Unit = u.shown(c.Value), u.shown(c.Low), u.shown(c.High), u.name
	c.Steps = append(c.Steps[:len(c.Steps):len(c.Steps)], Step{"in " + u.name, working, shortResult(c.Value, u.name), sourceOf(u)})
}

// noted says which units words were taken for that mean others elsewhere.
func (c *Converted) noted(parts []part) {
	for _, p := range parts {
		if p.unsure != "" {
			c.Notes = append(c.Notes, fmt.Sprintf("%s is taken as %s; say %s if you mean that.", p.unsure, p.unit.name, strings.Join(p.unit.rivals(), " or ")))
		}
	}
}

// inOwn is the arithmetic of parts in the kind's own unit.
func inOwn(parts []part) string {
	var out []string
	for _, p := range parts {
		number := shortNumber(p.value)
		if p.unit.offset != 0 {
			number = "(" + number + " − " + shortNumber(p.unit.offset) + ")"
		}
		if p.unit.factor != 1 {
			number += " × " + bracketed(p.unit)
		}
		out = append(out, number)
	}
	return strings.Join(out, " + ")
}

// bracketed is a factor as arithmetic that others can be set before.
func bracketed(u unit) string {
	if u.exact != "" {
		return "(" + u.exact + ")"
	}
	return shortNumber(u.factor)
}

// spoken is parts as they were said.
func spoken(parts []part) string {
	var out []string
	for _, p := range parts {
		n := shortNumber(p.value)
		out = append(out, n+" "+singular(n, p.unit.name))
	}
	return strings.Join(out, " ")
}

func shortResult(v float64, unit string) string {
	return strings.TrimSpace(shortNumber(v) + " " + unit)
}

func percents(s Span) string { return spanned(Span{Low: 100 * s.Low, High: 100 * s.High}) + " %" }

// spanned is a span for people: one number where its ends are one.
func spanned(s Span) string {
	if s.Low == s.High {
		return shortNumber(s.Low)
	}
	return shortNumber(s.Low) + "–" + shortNumber(s.High)
}

func plainKind(kind Kind) string {
	if kind == OfSmallVolume {
		return "volume"
	}
	return string(kind)
}

// sourceOf is the key of the source of a unit's factor.
func sourceOf(u unit) string {
	switch {
	case strings.HasPrefix(u.name, "US ") && u.kind == OfSmallVolume:
		return "us-gallon"
	case u.kind == OfGrammage && u.exact != "":
		return "us-basis-sizes"
	case u.kind == OfSheets:
		return "quires-reams"
	case slices.Contains([]string{"in", "ft", "pt", "sq in", "sq ft", "oz", "lb", "US tons", "long tons", "psi", "psi vacuum"}, u.name):
		return "inch-pound-1959"
	}
	return "definition"
}
