package studio

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"vatside/internal/plan"
)

// tally says how many things there are and between what they lie.
func tally[T any](c *reading, list []T, of func(T) float64, unit string) string {
	if len(list) == 0 {
		return "none listed"
	}
	values := make([]float64, len(list))
	for i, v := range list {
		values[i] = of(v)
	}
	low, high := c.One(slices.Min(values), unit), c.One(slices.Max(values), unit)
	if low == high {
		return fmt.Sprintf("%d, %s", len(list), low)
	}
	return fmt.Sprintf("%d, from %s to %s", len(list), low, high)
}

// idle says how many of a list are out of order.
func idle[T any](c *reading, list []T, name func(*T) *string) string {
	n := 0
	for i := range list {
		if isOut(c.now.Kit.Without, *name(&list[i])) {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d out of order", n)
}

func (c *reading) one(what string, v *float64, unit string) string {
	if v == nil {
		return ""
	}
	return what + c.One(*v, unit)
}

func vatLine(c *reading) []string {
	k := c.now.Kit
	return []string{tally(c, k.Vats, func(v plan.Vat) float64 { return v.VatL }, "L"), idle(c, k.Vats, vats.name), c.one("stock of ", k.StockGL, "g/L"), c.one("jug of ", k.JugML, "mL")}
}

func mouldLine(c *reading) []string {
	list := slices.Clone(c.now.Kit.Moulds)
	if len(list) == 0 {
		return []string{"none listed"}
	}
	slices.SortFunc(list, func(a, b plan.Mould) int { return cmp.Compare(a.LongMM*a.ShortMM, b.LongMM*b.ShortMM) })
	n := 0
	for _, m := range list {
		if n++; m.Count != nil {
			n += *m.Count - 1
		}
	}
	low, high := list[0], list[len(list)-1]
	text := fmt.Sprintf("%d, %s", n, c.SizeName(low.LongMM, low.ShortMM))
	if a, b := c.SizeName(low.LongMM, low.ShortMM), c.SizeName(high.LongMM, high.ShortMM); a != b {
		text = fmt.Sprintf("%d, from %s to %s", n, a, b)
	}
	return []string{text, idle(c, list, moulds.name)}
}

func beaterLine(c *reading) []string {
	list := c.now.Kit.Beaters
	return []string{tally(c, list, func(b plan.Beater) float64 { return b.RatedDryG }, "g"), idle(c, list, beaters.name)}
}

func pressLine(c *reading) []string {
	k := c.now.Kit
	forces := tally(c, k.Presses, func(p plan.Press) float64 { return p.ForceKN }, "kN")
	if len(k.Presses) == 1 {
		forces = "1, " + c.pull(k.Presses[0].ForceKN)
	}
	felts := ""
	if k.Felts != nil {
		felts = fmt.Sprintf("%d felts", *k.Felts)
	}
	return []string{forces, idle(c, k.Presses, presses.name), felts}
}

func dryerLine(c *reading) []string {
	var kinds []string
	for _, d := range c.now.Kit.Dryers {
		if kind := cmp.Or(d.Kind, "stack"); !slices.Contains(kinds, kind) {
			kinds = append(kinds, kind)
		}
	}
	if len(kinds) == 0 {
		return []string{"none listed"}
	}
	return []string{fmt.Sprintf("%d, %s", len(c.now.Kit.Dryers), strings.Join(kinds, ", ")), idle(c, c.now.Kit.Dryers, dryers.name)}
}

func scaleLine(c *reading) []string {
	list := c.now.Kit.Scales
	return []string{tally(c, list, func(s plan.Scale) float64 { return s.StepG }, "g"), idle(c, list, scales.name)}
}

func roomLine(c *reading) []string {
	k := c.now.Kit
	air := "not said"
	if k.Air != nil {
		air = c.One(k.Air.TempC, "°C") + " at " + c.One(k.Air.RHPct, "%")
	}
	switch n := len(k.Seasons); {
	case n > 0 && k.Air == nil:
		return []string{fmt.Sprintf("%d seasons", n)}
	case n > 0:
		return []string{air, fmt.Sprintf("%d seasons", n)}
	}
	return []string{air}
}

func waterLine(c *reading) []string {
	k := c.now.Kit
	out := []string{c.one("", k.AltitudeM, "m")}
	if w := k.Water; w != nil {
		out = append(out, c.one("hardness ", w.HardnessMGL, "mg/L"), c.one("pH ", w.PH, ""), c.one("iron ", w.IronMGL, "mg/L"))
	}
	if strings.Join(out, "") == "" {
		return []string{"not said"}
	}
	return out
}

func priceLine(c *reading) []string {
	k := c.now.Kit
	return []string{c.now.Currency, c.one("an hour ", k.RateHour, "money"), c.one("overhead ", k.Overhead, "%"), c.one("", k.HandsADay, "h") + day(k.HandsADay)}
}

func day(h *float64) string {
	if h == nil {
		return ""
	}
	return " a day"
}
