package cli

import (
	"bytes"
	"fmt"

	"vatside/internal/ask"
	"vatside/internal/cooking"
	"vatside/internal/measure"
)

// cookCmd answers fibre, alkali and liquor.
type cookCmd struct {
	computation
}

// Help tells more than the list of flags.
func (cookCmd) Help() string {
	return `Request: {"dry_g": 450, "alkali": "soda ash", "alkali_pct": 20, "liquor_l_per_kg": 15.6, "altitude_m": 0}. ` +
		`The alkali is weighed on bone-dry fibre. Wood-ash lye needs its measured "strength_g_l". Lye into hot water, lye over 10 % in any step and pots that alkali attacks are refused.`
}

// Run reckons the cook.
func (c cookCmd) Run(p *Program) error {
	if c.Schema {
		return printSchemas(p, ask.Cook.Schemas)
	}
	text, err := c.read(p)
	if err != nil {
		return err
	}
	req, err := ask.Cook.Read(text)
	if err != nil {
		return err
	}
	answer, err := req.Answer()
	if err != nil {
		return err
	}
	if c.JSON {
		return printJSON(p.Out, answer)
	}
	return print(p.Out, cookTable(req, answer, c.system()))
}

// cookTable is a cook for people: what must not go wrong stands first.
func cookTable(r ask.CookRequest, a ask.CookAnswer, sys measure.System) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s of dry fibre in %s, %.4g %% of it\n", show(r.DryG, "g", sys), r.Alkali, r.AlkaliPct)
	heed := func(title string, list []cooking.Caution) {
		section(&b, title)
		for _, c := range list {
			fmt.Fprintf(&b, "  %s\n", measure.Retell(c.Text, sys))
		}
	}
	lines := func(title string, list []string) {
		section(&b, title)
		for _, text := range list {
			fmt.Fprintf(&b, "  %s\n", measure.Retell(text, sys))
		}
	}
	heed("Heed", a.Cautions)
	section(&b, "Figures")
	figures(&b, a.Figures, ask.CookOrder, sys)
	lines("Into the pot", a.Order)
	lines("When it is done", a.EndTests)
	lines("After", a.After)
	if len(a.Recipes) > 0 {
		section(&b, "In print, and not agreed")
		cookRecipes(&b, a.Recipes)
	}
	heed("Waste liquor", a.Waste)
	lines("Notes", a.Notes)
	return b.Bytes()
}

func cookRecipes(b *bytes.Buffer, list []ask.CookRecipe) {
	table(b, func(add func(...string)) {
		for _, r := range list {
			add("  "+r.Plant+", "+r.Part, r.Alkali, printed(r.Low, r.High, "%"), printed(r.Liquor, r.Liquor, "L/kg"), printed(r.Least, r.Most, "h"), r.Source+" ("+r.Grade+")")
		}
	})
}

// printed is a band as printed, or a dash where it is not stated.
func printed(low, high float64, unit string) string {
	switch {
	case high == 0:
		return "–"
	case low == high:
		return fmt.Sprintf("%.4g %s", low, unit)
	}
	return fmt.Sprintf("%.4g–%.4g %s", low, high, unit)
}
