package cook

import (
	"fmt"
	"strings"

	"vatside/internal/ask"
	"vatside/internal/cookery"
	"vatside/internal/cooking"
	"vatside/internal/fault"
	"vatside/internal/measure"
	"vatside/internal/web/page"
	"vatside/internal/web/part"
)

// charge reads the dose: a share of the dry fibre, or a mass or spoons of it,
// which are reckoned once the dry fibre is known.
func (q *asked) charge(f *page.Form) float64 {
	typed := f.Get("charge")
	if typed == "" {
		return 100 * float64(cookery.UsualCharge(q.fibre, q.alkali))
	}
	if v, err := q.speech.Read("charge", typed, measure.OfPercent); err == nil {
		return v
	}
	a, err := measure.ReadAmount(typed, q.speech.System)
	if err != nil {
		f.Refuse(fault.Invalid("charge", "write a share such as 20 %%, or: %s", fault.All(err)[0].Text))
		return 0
	}
	if a.Kind == measure.OfMass {
		q.doseG = a.Value
		return 0
	}
	bulk := cooking.Bulk(q.alkali.Name)
	if !bulk.Known() {
		f.Refuse(fault.Invalid("charge", "what a spoon of %s weighs is not known: weigh it", q.alkali.Name))
		return 0
	}
	q.doseG, q.spoon = a.Value*bulk.Mid, [2]float64{a.Value * bulk.Low, a.Value * bulk.High}
	return 0
}

// neverFibre says why a plant is never cooked; "" of one that the checked list
// does not forbid.
func neverFibre(name string) string {
	for _, p := range cooking.PlantsNamed(name) {
		if p.Verdict == cooking.Never {
			return part.Upper(p.Name) + ": never for fibre. " + p.Hazard + " " + p.Do
		}
	}
	return ""
}

// tablespoon is one level tablespoon, mL.
const tablespoon = 15.0

// spoons says a mass in tablespoons with how far that is off; nothing of what
// is not known by volume.
func spoons(alkali string, grams float64) []string {
	b := cooking.Bulk(alkali)
	if !b.Known() || grams <= 0 {
		return nil
	}
	say := func(bulk float64) string { return fmt.Sprintf("%.2g", grams/(bulk*tablespoon)) }
	return []string{fmt.Sprintf("By the spoon about %s level tablespoons of 15 mL, or anything from %s to %s, by the grade of the product: weigh it.", say(b.Mid), say(b.High), say(b.Low))}
}

// recipes are those in print, side by side.
func recipes(list []ask.CookRecipe) part.Table {
	t := part.Table{Caption: "Recipes in print, which disagree; none is the middle of the others", Columns: []part.Column{{Label: "Plant"}, {Label: "Alkali"}, {Label: "On dry fibre", Unit: "%", Number: true}, {Label: "Hours", Number: true}}}
	span := func(low, high float64) string {
		switch {
		case high == 0:
			return "not said"
		case low == high:
			return fmt.Sprintf("%.3g", low)
		}
		return fmt.Sprintf("%.3g–%.3g", low, high)
	}
	for _, r := range list {
		note := r.Source + "."
		if r.Liquor > 0 {
			note = fmt.Sprintf("%.3g L of liquor to a kilogram. ", r.Liquor) + note
		}
		if r.Note != "" {
			note = part.Upper(r.Note) + ". " + note
		}
		t.Rows = append(t.Rows, part.Row{Note: note, Cells: []string{strings.Trim(r.Plant+", "+r.Part, ", "), r.Alkali, span(r.Low, r.High), span(r.Least, r.Most)}})
	}
	return t
}
